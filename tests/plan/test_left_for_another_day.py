"""What is left of a day under way: a file that reads as the same day, in which each stage is plainly called."""

import random
import re
from dataclasses import replace
from pathlib import Path

import pytest

from planner.day import Day
from planner.day.file import write_day
from planner.day.reading import read_day
from planner.day.without import without_stages
from planner.engine import plan_day
from planner.plan.another_day import left_for_another_day
from planner.plan.pieces import with_pieces
from planner.plan.plan import Plan, Work
from planner.plan.progress import More, Noted, Progress
from tests.engine.random_days import small, tiny
from tests.plan import worked
from tests.plan.test_patches import drive_day

SECTION_OR_PIECE = re.compile(r"section|the rest|more of it|the first part")

Stage = tuple[str, str]
"""A job and a stage of it."""


def needs(day: Day, job: str, stage: str) -> set[Stage]:
    """What must be done before a stage."""
    place = day.jobs[job]
    waits = {wait.after for wait in place.waits if wait.before == stage}
    return {(job, other) for other in (*place.stages[stage].after, *waits)}


def told(day: Day, rng: random.Random) -> tuple[Plan, Progress]:
    """Some of a day done in an order that can be, up to two stages half done, and more of one wanted.

    One of what was done may turn out to have been given up, though what comes after it is done.
    """
    stages = [(j, s) for j, s, _ in day.stages()]
    done = rng.sample(stages, rng.randint(0, len(stages)))
    while early := [x for x in done if not needs(day, *x) <= set(done)]:
        done = [x for x in done if x not in early]
    gone = rng.sample(done, min(len(done), rng.randint(0, 1)))
    done = [x for x in done if x not in gone]
    half = rng.sample(done, min(len(done), rng.randint(0, 2)))
    noted = tuple(Noted(*x, 500, 510, part=0.5 if x in half else None) for x in done)
    works = tuple(Work(j, s, next(iter(day.jobs[j].stages[s].methods)), (), 1, 500, 510, ()) for j, s in done)
    more = More(*rng.choice(stages), 10)
    return replace(worked.tiny()[1], works=works), Progress(900, noted, tuple(gone)).with_more(more)


@pytest.mark.parametrize("seed", [*range(100_000, 100_060), 100_066, 1_200_087])
def test_what_is_left_is_read_from_its_file_as_it_is(seed: int, tmp_path: Path) -> None:
    """No stages wait for each other in a circle, no two stages have two waits: the file would be refused."""
    day, rng = (tiny, small)[seed % 2](seed), random.Random(seed)
    for _ in range(3):
        left = left_for_another_day(day, *told(day, rng))
        if left is not None:
            write_day(left, tmp_path / "left.toml")
            assert read_day(tmp_path / "left.toml") == left


@pytest.mark.parametrize("seed", [*range(100_000, 100_060), 100_066, 1_200_087])
def test_what_is_left_is_called_by_its_name_and_once_what_of_it_is_left(seed: int) -> None:
    day, rng = (tiny, small)[seed % 2](seed), random.Random(seed)
    for _ in range(3):
        plan, progress = told(day, rng)
        left = left_for_another_day(day, plan, progress)
        for key, job in () if left is None else left.jobs.items():
            names = [stage.name for stage in job.stages.values() if stage.name]
            assert len(set(names)) == len(names) or key in with_names_twice(day), names
            for name in names:
                pieces = SECTION_OR_PIECE.findall(name)
                assert len(pieces) == len(set(pieces)), name


def with_names_twice(day: Day) -> set[str]:
    """The jobs in which two stages were called the same already."""
    names = {key: [stage.name for stage in job.stages.values() if stage.name] for key, job in day.jobs.items()}
    return {key for key, called in names.items() if len(set(called)) < len(called)}


def test_sections_that_are_left_are_the_rest_of_their_stage() -> None:
    """A rinse in two sections: one is done and more of it wanted, of the other half is left. None of a section."""
    day = drive_day(most=29, sections=2, least=10)
    done = [Work("elm", f"{name}_{n}", "by", (), 1, 500, 510, ()) for name in ("treat", "rinse") for n in (1, 2)]
    noted = tuple(Noted("elm", w.stage, 500, 510, part=0.5 if w.stage == "rinse_2" else None) for w in done)
    plan = replace(worked.tiny()[1], works=tuple(done))
    left = left_for_another_day(day, plan, Progress(600, noted, more=(More("elm", "rinse_1", 4),)))
    assert left is not None
    rinses = {re.sub(r", section \d of \d$", "", x.name) for s, x in left.jobs["elm"].stages.items() if "rinse" in s}
    assert rinses == {"rinse, the rest", "rinse, more of it"}


def test_what_is_left_whole_keeps_its_name() -> None:
    day, plan = worked.tiny()
    left = left_for_another_day(day, replace(plan, works=()), Progress(600))
    assert left is not None
    assert {s: x.name for s, x in left.jobs["elm"].stages.items()} == {
        s: x.name for s, x in day.jobs["elm"].stages.items()
    }


def test_a_wait_that_goes_on_past_a_stage_given_up_does_not_stand_beside_another() -> None:
    """What dries for an hour before the seal, and for two before what follows that, dries for two."""
    day, _ = worked.tiny()
    job = day.jobs["elm"]
    tables = job.model_dump(by_alias=True)
    tables["stages"]["rinse"]["after"] = ["sweep"]
    tables["waits"] = [
        {"after": "treat", "before": "sweep", "kind": "dry", "least": 120},
        {"after": "treat", "before": "rinse", "kind": "dry", "least": 60},
    ]
    left = without_stages(type(job).model_validate(tables), ["sweep"])
    assert [(w.after, w.before, w.least) for w in left.waits] == [("treat", "rinse", 120)]


def test_more_of_what_ends_a_dwell_does_not_wait_for_its_own_rest() -> None:
    """Rinse and treatment both half done, and more rinsing wanted: nothing waits for itself, in whatever order told."""
    day, _ = worked.tiny()
    half = (Noted("elm", "rinse", 500, 510, part=0.5), Noted("elm", "treat", 496, 510, part=0.5))
    job = with_pieces(day, Progress(600, half, more=(More("elm", "rinse", 5),))).jobs["elm"]
    known: set[str] = set()
    while ready := {s for s, stage in job.stages.items() if s not in known and set(stage.after) <= known}:
        known |= ready
    assert known == set(job.stages)


def test_more_of_a_stage_leaves_the_order_in_which_it_is_gone_over() -> None:
    """Ten minutes more of a treatment: what was planned of it and what is more each have a rinse, from the same end."""
    day = drive_day(most=30, sections=1, least=10)
    (planned,) = day.jobs["elm"].waits
    cut = with_pieces(day, Progress(600, more=(More("elm", "treat", 10),))).jobs["elm"].waits
    assert [w.order for w in cut if (w.after, w.before) == (planned.after, planned.before)] == ["same"]
    assert [w.order for w in cut if w.after != planned.after] == ["same"]


def test_what_takes_off_a_section_again_takes_what_a_section_takes() -> None:
    """A rinse of 30 minutes in two sections, the first told half done though its treatment was not: both come again."""
    day = drive_day(most=29, sections=2, least=10)
    done = [Work("elm", "rinse_1", "by", (), 1, 500, 510, ())]
    told = Progress(600, (Noted("elm", "rinse_1", 500, 510, part=0.5),))
    left = left_for_another_day(day, replace(worked.tiny()[1], works=tuple(done)), told)
    assert left is not None
    assert left.jobs["elm"].likely_minutes("rinse_1", "by") == 15


@pytest.mark.parametrize("rest_is_done", [False, True])
def test_what_takes_off_a_treatment_again_is_not_done_again_in_its_pieces(*, rest_is_done: bool) -> None:
    """A treatment that was never put on, a rinse told half done: no more of it is left than there was, and can be.

    In pieces the one would be worked where the other's dwell keeps everybody off.
    """
    day = drive_day(most=60, least=10)
    keys = ["rinse", "rinse-rest"] if rest_is_done else ["rinse"]
    done = tuple(Work("elm", key, "by", (), 1, 500, 510, ()) for key in keys)
    told = Progress(600, (Noted("elm", "rinse", 500, 510, part=0.5),), dropped=(("elm", "treat"),))
    left = left_for_another_day(day, replace(worked.tiny()[1], works=done), told)
    assert left is not None
    job, before = left.jobs["elm"], day.jobs["elm"]
    rinses = [key for key, stage in job.stages.items() if "spray" in (stage.makes or ())]
    assert sum(job.likely_minutes(key, "by") for key in rinses) <= before.likely_minutes("rinse", "by")
    assert all(any(wait.before == key for wait in job.waits) for key in rinses)
    assert plan_day(left, seconds=5, workers=1).plan is not None


def of_elm(**changes: dict[str, object]) -> Day:
    """The tiny day with something else said of its stages."""
    tables = worked.tiny()[0].model_dump(by_alias=True)
    for stage, said in changes.items():
        tables["jobs"]["elm"]["stages"].setdefault(stage, {}).update(said)
    return Day.model_validate(tables)


def left_of(day: Day, done: dict[str, float | None], dropped: tuple[str, ...] = ()) -> dict[str, int]:
    """The minutes of each stage that is left at Elm, where these are done, or so much of them, in this order."""
    noted = tuple(Noted("elm", s, 500 + n, 510 + n, part) for n, (s, part) in enumerate(done.items()))
    begun = tuple(replace(n, end=None) if n.stage in dropped else n for n in noted)
    works = tuple(Work("elm", n.stage, "by", (), 1, 500, 510, ()) for n in noted)
    told = Progress(600, begun, tuple(("elm", s) for s in dropped))
    left = left_for_another_day(day, replace(worked.tiny()[1], works=works), told)
    assert left is not None
    job = left.jobs["elm"]
    return {s: job.likely_minutes(s, next(iter(stage.methods))) for s, stage in job.stages.items()}


@pytest.mark.parametrize(
    "changes",
    [{"rinse": {"after": ["sweep"]}, "sweep": {"after": ["treat"]}}, {"rinse": {"surface": "path"}}],
    ids=["between", "elsewhere"],
)
def test_where_the_rinse_is_not_cut_only_the_rest_is_left(changes: dict[str, dict[str, object]]) -> None:
    """A quarter of 12 minutes is 3, and of the rinse of 15, which took off the rest of it today, 4."""
    assert left_of(of_elm(**changes), {"treat": 0.75, "sweep": None, "rinse": None}) == {"treat-rest": 3, "rinse": 4}


def test_what_is_left_of_a_rinse_by_itself_is_done_with_what_it_takes_off_again() -> None:
    """Half of the rinse, 8 minutes, is left, and a quarter of the treatment, for which the rinse takes 4."""
    day = of_elm(rinse={"surface": "path"})
    assert left_of(day, {"treat": 0.75, "sweep": None, "rinse": 0.5}) == {"treat-rest": 3, "rinse": 12}


@pytest.mark.parametrize("half", [None, 0.5])
def test_what_takes_off_nothing_but_a_rest_is_done_again_as_a_whole_with_it(half: float | None) -> None:
    """The rest of the treatment was begun and given up, its own 3 minutes of rinsing done or half done: 3 again."""
    done = {"treat": 0.75, "sweep": None, "rinse": None, "treat-rest": None, "rinse-later": half}
    left = left_of(of_elm(), done, ("treat-rest",))
    assert left == {"treat-rest": 3, "rinse-later": 3}


@pytest.mark.parametrize("first", ["treat", "coat"])
def test_what_takes_off_two_treatments_is_as_much_as_the_more_that_is_left_of_one(first: str) -> None:
    """Of one treatment half is left, of the other a quarter: half of the rinse comes again, whichever is told first."""
    tables = of_elm(rinse={"surface": "path"}).model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["stages"]["coat"] = job["stages"]["treat"] | {"chemical": None}
    waits = [{**job["waits"][0], "after": after} for after in ("treat", "coat")]
    job["waits"] = waits if first == "treat" else waits[::-1]
    second = {"treat": "coat", "coat": "treat"}[first]
    left = left_of(Day.model_validate(tables), {first: 0.5, second: 0.75, "rinse": None, "sweep": None})
    assert left["rinse"] == 8
