"""Waits of patches in the engine: relations worked by hand, brute force, and days by what must not happen in them."""

import itertools
import random
from pathlib import Path

import pytest

from planner.day import Day
from planner.day.file import day_from_text
from planner.engine import Result, plan_day
from planner.engine.problem import Activity, Lag, Mode, Problem, Resource
from planner.engine.projects.list_scheduling import schedule
from planner.engine.search import Budget, Search
from planner.plan.plan import Plan
from tests.engine.planned_samples import FOLDER, planned_sample


def project(minutes: list[int], lags: list[Lag], capacity: int = 9) -> Problem:
    """Activities that each take one of a resource."""
    activities = tuple(Activity(str(n), (Mode("only", m, demands=((0, 1),)),)) for n, m in enumerate(minutes))
    horizon = sum(minutes) + sum(max(0, lag.least or 0) for lag in lags) + 1
    return Problem(activities, horizon, lags=tuple(lags), resources=(Resource("hands", capacity),))


def least_makespan(problem: Problem) -> int | None:
    outcome = Search(problem, Budget(seconds=20)).run()
    assert outcome.best is None or outcome.best.standing.minutes == outcome.bound
    return None if outcome.best is None else outcome.best.standing.minutes


def ss(first: int, second: int, least: int | None = 0, most: int | None = None) -> Lag:
    return Lag(first, second, least, most, from_start=True)


def ff(first: int, second: int, least: int | None = 0, most: int | None = None) -> Lag:
    return Lag(first, second, least, most, to_end=True)


def sf(first: int, second: int, least: int | None = 0, most: int | None = None) -> Lag:
    return Lag(first, second, least, most, from_start=True, to_end=True)


@pytest.mark.parametrize(
    ("minutes", "lags", "makespan"),
    [
        # B begins 2 after A begins and ends 3 after A ends: A 0 to 10, B ends at 13, begins at 9.
        ([10, 4], [ss(0, 1, 2), ff(0, 1, 3)], 13),
        # The longer B is bound by its start: A 0 to 10, B begins at 2 and ends at 22.
        ([10, 20], [ss(0, 1, 2), ff(0, 1, 3)], 22),
        # Finish to start, then start to finish: A 0 to 5, B 8 to 10; C ends 9 after B begins, at 17.
        ([5, 2, 3], [Lag(0, 1, 3), sf(1, 2, 9)], 17),
        # Elmaghraby and Kamburowski 1992: an activity may be reverse-critical. A takes 8, B ends 1 after A ends, C of 4
        # begins 1 after B begins. B of 2: begins at 7, C 8 to 12. B of 5 is longer and the project is shorter: B begins
        # at 4, C 5 to 9, and B ends at 9.
        ([8, 2, 4], [ff(0, 1, 1), ss(1, 2, 1)], 12),
        ([8, 5, 4], [ff(0, 1, 1), ss(1, 2, 1)], 9),
    ],
)
def test_generalized_relations_worked_by_hand(minutes: list[int], lags: list[Lag], makespan: int) -> None:
    problem = project(minutes, lags)
    assert least_makespan(problem) == makespan
    listed = schedule(problem)
    assert listed is not None
    starts, bound = listed
    assert max(s + m for s, m in zip(starts, minutes, strict=True)) == makespan
    assert bound <= makespan


def test_a_most_from_start_to_end_binds_by_the_sum() -> None:
    """One hand: A takes 4 and B 3, and B ends at most 7 after A begins, so nothing of 2 comes between: 9, as C may come
    first or last; with a most of 6 there is no way."""
    lags = [Lag(0, 1), sf(0, 1, None, 7)]
    assert least_makespan(project([4, 3, 2], lags, capacity=1)) == 9
    assert least_makespan(project([4, 3, 2], [*lags, Lag(0, 2), Lag(2, 1)], capacity=1)) is None
    assert least_makespan(project([4, 3, 2], [Lag(0, 1), sf(0, 1, None, 6)], capacity=1)) is None


def _brute_force(minutes: list[int], lags: list[Lag], capacity: int, latest: int) -> int | None:
    best = None
    for starts in itertools.product(range(latest + 1), repeat=len(minutes)):
        spans = [(s, s + m) for s, m in zip(starts, minutes, strict=True)]
        makespan = max(end for _, end in spans)
        if best is not None and makespan >= best:
            continue
        counted = [(spans[x.second][x.to_end] - spans[x.first][not x.from_start], x.least, x.most) for x in lags]
        if any((least is not None and n < least) or (most is not None and n > most) for n, least, most in counted):
            continue
        if all(sum(a <= t < b for a, b in spans) <= capacity for t in range(makespan)):
            best = makespan
    return best


@pytest.mark.parametrize("seed", range(12))
def test_relations_of_every_kind_agree_with_brute_force(seed: int) -> None:
    dice = random.Random(seed)
    minutes = [dice.randint(1, 4) for _ in range(4)]
    lags = []
    for one, other in itertools.combinations(range(4), 2):
        if dice.random() < 0.6:
            least = dice.randint(-2, 3)
            most = least + dice.randint(0, 4) if dice.random() < 0.6 else None
            kind = dice.choice(((False, False), (True, False), (False, True), (True, True)))
            lags.append(Lag(one, other, least, most, from_start=kind[0], to_end=kind[1]))
    capacity = dice.choice((1, 2))
    latest = sum(minutes) + 6
    assert least_makespan(project(minutes, lags, capacity)) == _brute_force(minutes, lags, capacity, latest)


# --- days, by what must not happen ---------------------------------------------------------------------------------


def planned(result: Result) -> Plan:
    assert result.refused == ()
    assert result.plan is not None
    return result.plan


def spans(day: Day, plan: Plan, job: str, stage: str) -> list[tuple[int, int]]:
    """When the sections of a stage run, in their order; its own time where it is not cut."""
    found = [
        (work.start, work.end)
        for key, one in day.jobs[job].stages.items()
        if key == stage or (one.part is not None and one.part.of == stage)
        for work in [plan.work(job, key)]
        if work is not None
    ]
    assert found
    return sorted(found)


def waited(day: Day, plan: Plan, job: str, first: str, second: str) -> list[int]:
    """What patches wait, where both begin at one end and go on evenly: at the ends of each section."""
    pairs = list(zip(spans(day, plan, job, first), spans(day, plan, job, second), strict=True))
    assert all(b[0] >= a[1] for a, b in pairs)
    return [b[n] - a[n] for a, b in pairs for n in (0, 1)]


def test_no_patch_of_the_treated_drive_stands_longer_than_the_label_says() -> None:
    """45 m2 sprayed in 27 minutes and washed in 52, to stand 30 to 50: in one pass every patch stood 57 to 82."""
    day, result = planned_sample("three_jobs_two_hands")
    plan = planned(result)
    waits = waited(day, plan, "kiln", "treat", "wash")
    assert len(waits) > 2
    assert all(30 <= minutes <= 50 for minutes in waits)
    kit = [chore.kit for chore in plan.chores if chore.what == "set up" and chore.job == "kiln"]
    assert len(kit) == len(set(kit))  # set up once for all sections


def patio_day() -> Day:
    text = """
format = 1
date = 2026-06-16
start = "07:30"
finish = "18:30"
rest = "none"
[van]
starts_at = "yard"
ends_at = "yard"
[places]
yard = {}
elm = {}
[travel]
trips = [{ from = "yard", to = "elm", minutes = "10 min" }]
[hands.ash]
[jobs.elm]
place = "elm"
recipe = "clean-and-repoint-patio"
[jobs.elm.measures]
area = "12 m2"
slab = "450 x 450 mm"
joint_width = "15 mm"
conditions = ["loose slabs"]
[jobs.elm.grounds.rear]
supplies = { tap = 1, socket = 2 }
"""
    return day_from_text(text, Path("patio.toml"))


@pytest.fixture(scope="module")
def patio() -> tuple[Day, Plan]:
    day = patio_day()
    return day, planned(plan_day(day, seconds=3))


def test_bedded_slabs_are_neither_ground_swept_nor_wetted_before_they_have_set(patio: tuple[Day, Plan]) -> None:
    day, plan = patio
    [(_, bedded)] = spans(day, plan, "elm", "rebed")
    for stage in ("grind-bedded", "sweep", "wash", "wet"):
        assert spans(day, plan, "elm", stage)[0][0] >= bedded + 120


def test_the_other_joints_are_cut_while_bedded_slabs_set(patio: tuple[Day, Plan]) -> None:
    """Half a square metre is no reason to stand about for two hours."""
    day, plan = patio
    [(_, bedded)] = spans(day, plan, "elm", "rebed")
    assert bedded <= spans(day, plan, "elm", "grind")[0][0] < bedded + 120


def test_joints_are_not_wetted_minutes_after_washing(patio: tuple[Day, Plan]) -> None:
    day, plan = patio
    assert spans(day, plan, "elm", "wet")[0][0] >= spans(day, plan, "elm", "wash")[-1][1] + 20


@pytest.mark.parametrize(("fill", "compact"), [("fill-1", "compact-1"), ("fill-2", "compact-2")])
def test_filler_is_compacted_while_it_can_be_worked(patio: tuple[Day, Plan], fill: str, compact: str) -> None:
    """53 m take 27 and 43 minutes, 45 is how long filler can be worked: in halves, with no break of 20 between."""
    day, plan = patio
    assert max(waited(day, plan, "elm", fill, compact)) <= 45
    filled, compacted = spans(day, plan, "elm", fill), spans(day, plan, "elm", compact)
    assert len(filled) == len(compacted) == 2
    seen_to = [(work.start, work.end) for work in plan.works]
    for one, two in zip(filled, compacted, strict=True):
        assert two[0] - one[1] - sum(end - start for start, end in seen_to if one[1] <= start and end <= two[0]) < 20


def test_the_second_layer_follows_the_first_within_its_time(patio: tuple[Day, Plan]) -> None:
    day, plan = patio
    assert max(waited(day, plan, "elm", "compact-1", "fill-2")) <= 90


def test_a_day_that_no_section_can_keep_says_so_with_line_and_numbers() -> None:
    text = (FOLDER / "three_jobs_two_hands.toml").read_text(encoding="utf-8")
    with pytest.raises(ValueError, match=r"kiln.*'treat' takes .* and 'wash' .*: that takes \d+ sections, and 4 are"):
        day_from_text(text.replace('area = "45 m2"', 'area = "250 m2"'), Path("drive.toml"))


def test_nobody_rests_between_filling_and_compacting() -> None:
    """68 m take 34 and 54 minutes: within the hour that this filler can be worked a break of 20 has no room."""
    day, result = planned_sample("rear_patio")
    plan = planned(result)
    for fill, compact in (("fill-1", "compact-1"), ("fill-2", "compact-2")):
        assert max(waited(day, plan, "larch", fill, compact)) <= 60
        (filled,), (compacted,) = spans(day, plan, "larch", fill), spans(day, plan, "larch", compact)
        assert not any(rest.start < compacted[0] and rest.end > filled[1] for rest in plan.rests)
