"""The engine against an exact search that was written apart from it: the same best value on tiny days, proven so.

`tests.engine.bruteforce` says what it searches and why it is exact; some of its own values are worked out by hand.
"""

from collections.abc import Callable
from typing import Any

import pytest

from planner.day import Day
from planner.day.checks.all_checks import faults_in
from planner.day.drawn_together import shared_containers
from planner.engine import plan_day
from planner.engine.build import build
from planner.engine.mixing import beside_each_other
from tests.days import tiny_day
from tests.engine.bruteforce import Searched, best_value
from tests.engine.exactness import (
    APART,
    CHEMICALS,
    COMING,
    DRY,
    FRESH,
    LADDERS,
    MASSES,
    OWN_KIT,
    PARTED,
    PATCHES,
    PLAIN,
    SHARED,
    WAYS,
    disagreement,
)  # fmt: skip
from tests.engine.random_days import tiny
from tests.engine.rule_days import beneath_a_spray, day, stage

pytestmark = pytest.mark.usefixtures("untidied")

SAMPLE = (
    2, 13, 32, 54, 204, 210, 242, 402, 432, 608, 622, 684,
    804, 818, 830, 1201, 1207, 1235, 1405, 1420, 1448, 1610, 1622, 2017, 2023, 2053, 2106, 2117,
    110_011, 110_081, 110_207, 130_015, 130_031, 130_047,
    140_011, 140_028, 140_045,
)  # fmt: skip
"""Those of which the tests ask; ``python -m tests.engine.exactness --seeds`` asks of all."""


@pytest.mark.parametrize("seed", SAMPLE)
def test_the_engine_finds_and_proves_what_exact_search_finds(seed: int) -> None:
    day = tiny(seed)
    assert faults_in(day) == []
    assert disagreement(day) is None


def four_trips() -> Day:
    """Four bags, of which one goes on a trip through the house: 20 of driving, 4 times 2 of walking, 3 of work."""
    way = {"minutes": 1, "restricted": True, "load_limit": 1}
    return day({"lay": stage("patio", 3, uses={"bag": 4})}, way=way, materials={"bag": {"load": 1}})


def three_stays() -> Day:
    """One gun for rear and front in turn: 20 of driving, 5 works of 2, 5 set-ups of 1, and 3 trips of 2 to the rear."""
    rear = {"way_in": {"minutes": 1, "restricted": True, "load_limit": 1}}
    stages = {
        f"s{n}": stage(("patio", "drive")[n % 2], 2, "gun", after=[f"s{n - 1}"] if n else []) for n in range(5)
    }
    job = {
        "grounds": {"rear": rear, "front": {"way_in": {"minutes": 0}}},
        "surfaces": {"patio": {"ground": "rear"}, "drive": {"ground": "front"}},
    }
    return day(stages, job=job, kit={"gun": {"load": 1, "set_up": 1}})


@pytest.mark.parametrize(("make", "value"), [(four_trips, 31 + 4 * 6), (three_stays, 41 + 3 * 6)])
def test_many_trips_and_stays_are_what_exact_search_and_sums_by_hand_say(make: Callable[[], Day], value: int) -> None:
    assert best_value(make()).value == value
    assert disagreement(make()) is None


def test_a_disagreement_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """The best of the tiny day is 106, by hand below; an exact search that says 105 is told of."""
    monkeypatch.setattr("tests.engine.exactness.best_value", lambda day, most_states: Searched(105, 0))
    assert disagreement(without_hours()) == "exact 105, engine 106 with 106 proven"


def test_the_seeds_cover_hands_grounds_jobs_waits_and_lifts() -> None:
    days = [tiny(seed) for seed in (*PLAIN, *PATCHES, *MASSES)]
    assert len(days) >= 30
    assert {len(day.hands) for day in days} == {1, 2}
    assert {len(day.jobs) for day in days} == {1, 2}
    grounds = [len(job.grounds) for day in days for job in day.jobs.values()]
    assert set(grounds) == {1, 2}
    assert any(w.most is not None for day in days for job in day.jobs.values() for w in job.waits)
    orders = [{w.order for job in day.jobs.values() for w in job.waits} - {None} for day in days]
    assert sum(bool(found) for found in orders) >= 15
    assert set().union(*orders) == {"same", "reversed", "any"}
    assert sum(any(s.part is not None for _, _, s in day.stages()) for day in days) >= 8
    assert any(_takes_two_to_lift(day) for day in days)
    assert any(_does_not_fit_in_one_go(day) for day in days)


def test_the_seeds_cover_what_is_fresh_what_soils_what_covers_and_the_weather() -> None:
    days = [tiny(seed) for seed in FRESH]
    assert sum(any(s.spoiled_while_fresh_by for _, _, s in day.stages()) for day in days) >= 10
    assert any(s.fresh_for is not None for day in days for _, _, s in day.stages())
    assert sum(any(s.covers for _, _, s in day.stages()) for day in days) >= 3
    assert any(day.weather for day in days)
    surfaces = [surface for day in days for job in day.jobs.values() for surface in job.surfaces.values()]
    assert any("gutter0" in job.surfaces for day in days for job in day.jobs.values())
    assert any(surface.drains_to or surface.high for surface in surfaces)
    assert {len(day.hands) for day in days} == {1, 2}


def test_the_seeds_cover_masses_that_bind_waste_and_leftover() -> None:
    days = [tiny(seed) for seed in MASSES]
    assert len(days) >= 15
    methods = [[m for _, _, s in day.stages() for m in s.methods.values()] for day in days]
    assert sum(any(m.leaves for m in some) for some in methods) >= 15
    assert sum(any(m.expected for m in some) for some in methods) >= 5
    assert len({hand.lifts for day in days for hand in day.hands.values()}) > 1
    assert any(job.customer.keeps for day in days for job in day.jobs.values())


def test_the_seeds_cover_coming_and_going_meals_rinsing_out_and_water_in_cans() -> None:
    days = [tiny(seed) for seed in COMING]
    assert any(job.arriving and job.leaving for day in days for job in day.jobs.values())
    assert any(day.meal for day in days)
    assert any(day.kit["a"].rinsing and any(s.chemical for _, _, s in day.stages()) for day in days)
    assert any(s.mixing for day in days for _, _, s in day.stages())


def test_the_seeds_cover_sheets_on_paving_and_work_that_begins_dry() -> None:
    days = [tiny(seed) for seed in DRY]
    assert len(days) >= 40
    assert all(faults_in(day) == [] for day in days)
    stages = [[s for _, _, s in day.stages()] for day in days]
    assert sum(any(s.lies_on for s in some) for some in stages) >= 20
    assert sum(any(s.dry_for for s in some) and any(s.wets for s in some) for some in stages) >= 20
    assert sum(bool(day.weather) for day in days) >= 10
    assert {len(day.hands) for day in days} == {1, 2}


def test_the_seeds_cover_shared_cans_kit_in_turn_cutting_and_ladders() -> None:
    days = [tiny(seed) for seed in SHARED]
    assert all(any(material.shared for material in day.materials.values()) for day in days)
    assert sum(len(list(shared_containers(day))) > 0 for day in days) >= 5
    assert sum(any(kit.needs and kit.set_up for kit in day.kit.values()) for day in days) >= 5
    assert any(s.grinds for day in days for _, _, s in day.stages())
    assert any("ladder" in kit.tags for day in days for kit in day.kit.values())


def test_the_seeds_cover_ladders_in_wind_above_others_and_over_wet_steps() -> None:
    days = [tiny(seed) for seed in LADDERS]
    assert len(days) >= 40
    assert all(faults_in(day) == [] for day in days)
    up = [[s for _, _, s in day.stages() if day.is_from_ladder(s)] for day in days]
    assert all(up)
    assert sum("ladder" in s.tags for some in up for s in some) >= 10
    assert sum(len(s.methods) == 2 for some in up for s in some) >= 5
    assert sum(any(hour.wind > 30 for hour in day.weather) for day in days) >= 20
    ways = [g.way_in for day in days for job in day.jobs.values() for g in job.grounds.values()]
    assert sum("steps" in way.over for way in ways) >= 20
    assert {len(day.hands) for day in days} == {1, 2}
    assert sum(any(beneath.is_down for beneath in build(day).beneath) for day in days) >= 12


def test_the_seeds_cover_chemicals_that_must_never_meet() -> None:
    days = [tiny(seed) for seed in CHEMICALS]
    assert len(days) >= 40
    assert all(faults_in(day) == [] for day in days)
    assert sum(bool(build(day).unmixable) for day in days) >= 40
    assert sum(any(pair.off_one and pair.off_other for pair in build(day).unmixable) for day in days) >= 20
    assert sum(any(len(pair.off_one) > 1 for pair in build(day).unmixable) for day in days) >= 5
    assert sum(any(beside_each_other(job)) for day in days for job in day.jobs.values()) >= 3
    assert {len(day.hands) for day in days} == {1, 2}


def test_the_seeds_cover_ways_over_what_another_treats_coats_jets_or_sweeps() -> None:
    days = [tiny(seed) for seed in WAYS]
    assert len(days) >= 60
    assert all(faults_in(day) == [] for day in days)
    problems = [build(day) for day in days]
    assert sum(len(day.hands) == 2 for day in days) >= 40
    assert sum(any(closed.ways and closed.from_start for closed in problem.closed) for problem in problems) >= 30
    assert sum(any(closed.ways and not closed.from_start for closed in problem.closed) for problem in problems) >= 15
    stages = [[s for _, _, s in day.stages()] for day in days]
    assert sum(any(s.is_laid_on and s.chemical is None for s in some) for some in stages) >= 30
    assert sum(any(s.spoiled_meanwhile_by and o.nuisances for s in some for o in some) for some in stages) >= 15
    closing = [w for day in days for job in day.jobs.values() for w in job.waits if w.closes_surface]
    assert sum(w.least == 0 and w.before is not None for w in closing) >= 5, "some may take no minutes"


def test_the_seeds_cover_kit_of_which_the_day_does_not_say_how_it_is_rinsed_out() -> None:
    days = [tiny(seed) for seed in OWN_KIT]
    assert all(faults_in(day) == [] for day in days)
    rinsed = [day for day in days if any(kit.rinsing for kit in day.kit.values())]
    assert 10 <= len(rinsed) < len(days)
    assert sum(len({s.chemical for _, _, s in day.stages()} - {None}) > 1 for day in rinsed) >= 10
    assert sum("pole" in day.kit and day.kit["pole"].rinsing > 0 for day in days) >= 3
    assert {len(day.hands) for day in days} == {1, 2}


def test_the_seeds_cover_one_surface_in_sections_of_different_counts() -> None:
    days = [tiny(seed) for seed in PARTED]
    assert all(faults_in(day) == [] for day in days)
    parts = [[s.part for _, _, s in day.stages() if s.part is not None] for day in days]
    pairs = [[(a, b) for a in some for b in some if a.count < b.count] for some in parts]
    assert sum(any(a.is_beside(b) for a, b in some) for some in pairs) >= 10
    assert sum(any(a.number != b.number and not a.is_beside(b) for a, b in some) for some in pairs) >= 10
    assert {len(day.hands) for day in days} == {1, 2}


def test_by_hand_a_third_that_lies_over_a_half_waits_for_it() -> None:
    """With 20 of driving: the first half of a path is treated for 2 minutes, dwells for 10, and is rinsed for 2. The
    third third is swept for 5 minutes meanwhile, the second, which lies over both halves, before or after it."""
    treat, rinse = (stage("patio", minutes, part={"of": of, "number": 1, "count": 2}, makes=[], kind=of)
                    for of, minutes in (("treat", 4), ("rinse", 4)))  # fmt: skip
    wait = {"after": "treat", "before": "rinse", "kind": "dwell", "least": 10, "most": 12}
    for number, value in ((3, 34), (2, 39)):
        sweep = stage("patio", 15, part={"of": "sweep", "number": number, "count": 3}, makes=[])
        made = day({"treat": treat, "rinse": rinse, "sweep": sweep}, job={"waits": [wait]})
        assert best_value(made).value == value
        assert disagreement(made) is None


def test_the_seeds_cover_breaks_that_fall_due_and_hands_who_come_by_themselves() -> None:
    days = [tiny(seed) for seed in APART]
    assert sum(any(hand.own_transport and hand.hours for hand in day.hands.values()) for day in days) >= 5
    assert sum(day.rest is not None and day.rest.once_over < 60 for day in days) >= 5


def _used(day: Day, job: str, ground: str) -> set[str]:
    of = day.jobs[job]
    methods = [m for s, stage in of.stages.items() if of.ground_of(s) == ground for m in stage.methods.values()]
    return {kit for method in methods for kit in day.kit_closure(method.kit)}


def _takes_two_to_lift(day: Day) -> bool:
    return any(day.kit[k].lift > 1 for j, job in day.jobs.items() for g in job.grounds for k in _used(day, j, g))


def _does_not_fit_in_one_go(day: Day) -> bool:
    return any(
        sum(day.kit[k].load for k in _used(day, j, g)) > ground.way_in.load_limit
        for j, job in day.jobs.items()
        for g, ground in job.grounds.items()
        if not ground.way_in.is_open
    )


# --- the exact search itself, by hand ----------------------------------------------------------------------


def without_hours(**changes: Any) -> Day:
    return tiny_day(hands={"ash": {}}, **changes)


def test_by_hand_a_dwell_that_a_sweep_fills() -> None:
    """Work 12 + 15 + 20, chores 4 + 4 + 6 + 5, two crossings (3.5 armfuls, 2 a leg) of 4 min walking, 20 min driving:
    94 minutes without one idle, and 2 x 6 for the crossings."""
    assert best_value(without_hours()).value == 106


def test_by_hand_a_price_of_nothing() -> None:
    assert best_value(without_hours(crossing_price=0)).value == 94


def test_by_hand_a_dwell_that_nothing_fills() -> None:
    """Driving 20; walk in 2, set up 4, treat 12; dwell 30, in which the sprayer is packed down and the washer fetched;
    rinse 15, pack down 5, walk out 2: 90, and 12 for two crossings."""
    tables = without_hours().model_dump(by_alias=True)
    del tables["jobs"]["elm"]["stages"]["sweep"]
    assert best_value(Day.model_validate(tables)).value == 102


def test_by_hand_two_hands_carry_what_one_cannot() -> None:
    """A washer of 3 armfuls that two must lift, limit 2: driving 20, in 2, set up 6, rinse 15, pack down 5, out 2: 50;
    two hands cross once each: 12."""
    tables = without_hours().model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["stages"] = {"rinse": job["stages"]["rinse"]}
    job["waits"] = []
    tables["hands"]["bo"] = {}
    tables["kit"]["washer"] |= {"load": 3, "lift": 2}
    assert best_value(Day.model_validate(tables)).value == 62


def test_by_hand_a_way_out_over_what_never_dries_in_the_day() -> None:
    """The path that the only way out goes over cures for good, so nobody can leave."""
    tables = without_hours().model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["waits"] = [{"after": "sweep", "kind": "cure", "least": 1000}]
    assert best_value(Day.model_validate(tables)).value is not None
    job["grounds"]["rear"]["way_in"]["over"] = ["path"]
    day = Day.model_validate(tables)
    assert best_value(day).value is None
    assert plan_day(day, seconds=20).plan is None


def test_by_hand_a_rinse_that_must_follow_at_once() -> None:
    """Sprayer and washer (3 armfuls, 2 a leg) must stand ready together, so they come by two in-legs and go by two
    out-legs: three crossings, as the first out-leg and the last in-leg are empty. 66 minutes of work and chores, 12 of
    walking, 20 of driving: 98, and 18 for the crossings."""
    tables = without_hours().model_dump(by_alias=True)
    tables["jobs"]["elm"]["waits"] = [{"after": "treat", "before": "rinse", "most": 0}]
    assert best_value(Day.model_validate(tables)).value == 116


def test_by_hand_two_waits_that_cannot_both_be_kept() -> None:
    """One hand cannot begin to rinse and to sweep at the very minute at which they end treating."""
    tables = without_hours().model_dump(by_alias=True)
    tables["jobs"]["elm"]["waits"] = [{"after": "treat", "before": b, "most": 0} for b in ("rinse", "sweep")]
    day = Day.model_validate(tables)
    assert best_value(day).value is None
    assert plan_day(day, seconds=20).plan is None


def up_a_ladder(wind: int, **stage: Any) -> Day:
    """Sweep the path for 20 minutes, then look at the wall from a ladder for 10; in wind until nine."""
    look = {"surface": "wall", "methods": {"up": {"minutes": 10}}, "after": ["sweep"]} | stage
    stages = {"sweep": {"surface": "patio", "methods": {"so": {"minutes": 20}}}, "look": look}
    weather = [{"minute": at, "air": 15, "humidity": 0.6, "wind": w} for at, w in ((480, wind), (540, 5))]
    return day(stages, weather=weather)


@pytest.mark.parametrize(
    ("wind", "stage", "value"),
    [(35, {"tags": ["ladder"]}, 80), (35, {}, 50), (30, {"tags": ["ladder"]}, 50),
     (35, {"tags": ["ladder"], "windiest": 40.0}, 50)],
)  # fmt: skip
def test_by_hand_a_ladder_waits_for_the_wind(wind: int, stage: dict[str, Any], value: int) -> None:
    """There at 08:10 and swept by 08:30: home at 08:50, or, where the ladder waits for nine, at 09:20."""
    made = up_a_ladder(wind, **stage)
    assert best_value(made).value == value
    assert disagreement(made) is None


@pytest.mark.parametrize(("surface", "also", "value"), [("patio", "", 65), ("steps", "", 45), ("patio", "steps", 55)])
def test_by_hand_nobody_sets_up_below_anothers_spray(surface: str, also: str, value: int) -> None:
    """With 20 of driving: the wall is treated for 20 minutes, and the saw set up for 10 and used for 15. Of two hands
    the one begins with the saw while the other treats, unless all that it is for lies below the wall: where it is for
    five minutes at the steps as well it is set up and used there first."""
    tables = beneath_a_spray().model_dump(by_alias=True, exclude_none=True)
    stages = tables["jobs"]["elm"]["stages"]
    stages["cut"]["surface"] = surface
    if also:
        stages["trim"] = stage(also, 5, "saw", kind="work")
    made = Day.model_validate(tables)
    assert best_value(made).value == value
    assert disagreement(made) is None


@pytest.mark.parametrize(("once_over", "value"), [(80, 80), (79, 85), (10, 85)])
def test_by_hand_a_break_that_falls_due(once_over: int, value: int) -> None:
    """Driving 20 and work 60: 80 minutes out, and 5 more where a break is owed for less. It begins at the job, between
    the fifth minute out and when it is owed: for ten minutes that is on arrival."""
    rest = {"length": 5, "once_over": once_over, "soonest": 5}
    made = day({"sweep": stage("patio", 30), "brush": stage("steps", 30)}, rest=rest)
    assert best_value(made).value == value
    assert disagreement(made) is None


def with_a_helper(*hours: int) -> Day:
    """Two lift for 20 minutes, and one sweeps for 15; the second hand is there at these hours."""
    lift = stage("patio", 20)
    lift["methods"]["so"]["hands"] = 2
    helper = {"own_transport": True, "hours": hours}
    return day({"lift": lift, "sweep": stage("steps", 15)}, hands={"ash": {}, "bo": helper})


@pytest.mark.parametrize(("hours", "value"), [((480, 600), 55), ((510, 530), 60)])
def test_by_hand_a_helper_who_comes_and_goes(hours: tuple[int, int], value: int) -> None:
    """With 20 of driving 55 minutes where both are there from the start; from half past eight they lift until 08:50,
    when the helper must go: home at nine."""
    made = with_a_helper(*hours)
    assert best_value(made).value == value
    assert disagreement(made) is None


def test_by_hand_a_helper_who_goes_a_minute_too_soon() -> None:
    assert plan_day(with_a_helper(510, 529), seconds=20).is_impossible
