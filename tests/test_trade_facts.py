"""Facts of the trade that the shipped rates must bear out, asked of the planner itself.

All of them are common practice, with no source. None has a rule of its own in the planner: each follows from rates,
loads, set-ups and ways in, so these tests hold the shipped figures to what a practitioner knows. The search is given a
budget in the solver's own measure of work, so that a slow machine finds the same.
"""

from functools import lru_cache
from itertools import pairwise
from typing import Any

import pytest

from planner.day import Day
from planner.day.sections import in_sections
from planner.day.words import FILE
from planner.engine import plan_day
from planner.engine.result import Result
from planner.plan.loading import reckoned, uses
from planner.plan.measures import measure
from planner.plan.plan import Plan, Proof, Work
from planner.trade.recipes.laying_out import expand

OPEN = {"minutes": "1 min"}
HOUSE = {"minutes": "2 min", "restricted": True, "through": "the house", "protection": "ours"}


def day_of(job: dict[str, Any], *, hands: int = 1, finish: str = "18:00") -> Day:
    """A day with one job by the shipped recipes, twenty minutes' drive away."""
    tables = {
        "format": 1,
        "date": "2026-06-16",
        "start": "07:30",
        "finish": finish,
        "van": {"starts_at": "yard", "ends_at": "yard"},
        "places": {"yard": {}, "elm": {}},
        "travel": {"trips": [{"from": "yard", "to": "elm", "minutes": "20 min"}]},
        "hands": {f"hand-{n + 1}": {} for n in range(hands)},
        "jobs": {"elm": {"place": "elm", **job}},
    }
    return in_sections(Day.model_validate(expand(tables), context=FILE))


def repoint_day(
    area: float, way: dict[str, Any], *, hands: int = 1, drop: tuple[str, ...] = (), joint: str = "15 mm"
) -> Day:
    """Clean and repoint so many m2 of 900 x 600 slabs, from 07:30 to 18:00."""
    job = {
        "grounds": {"paved": {"supplies": {"tap": 1, "socket": 2}, "way_in": way}},
        "drop": list(drop),
        "recipe": "clean-and-repoint-patio",
        "measures": {"area": f"{area} m2", "slab": "900 x 600 mm", "joint_width": joint},
    }
    return day_of(job, hands=hands)


def small_day_behind_the_house(way: dict[str, Any]) -> Day:
    """A patio of 7 by 3.5 m to repoint, the green walls beside it, and the gutters front and rear, until 20:30."""
    patio = {"recipe": "clean-and-repoint-patio", "area": "24.5 m2", "slab": "900 x 600 mm", "joint_width": "15 mm"}
    walls = {
        "recipe": "treat-wall",
        "prefix": "wall",
        "area": "48 m2",
        "worked_from": ["patio"],
        "drains_to": ["patio"],
    }
    gutters = {"recipe": "clear-gutters", "run": "11 m"}
    job = {
        "grounds": {
            "rear": {"supplies": {"tap": 1, "socket": 2}, "way_in": way},
            "front": {"supplies": {"socket": 1}, "way_in": OPEN},
        },
        "recipes": [
            {**patio, "ground": "rear"},
            {**walls, "ground": "rear", "before": ["wash"]},
            {**gutters, "ground": "rear", "prefix": "rear"},
            {**gutters, "ground": "front", "prefix": "front"},
        ],
    }
    return day_of(job, finish="20:30")


def planned(day: Day) -> tuple[Plan, Proof]:
    result: Result = plan_day(day, seconds=2.0, deterministic=True)
    assert result.plan is not None
    assert result.plan.proof is not None
    return result.plan, result.plan.proof


def work(plan: Plan, stage: str) -> Work:
    found = plan.work("elm", stage)
    assert found is not None
    return found


def sections(day: Day, plan: Plan, stage: str) -> list[Work]:
    """The work on a stage in its order in the plan, section by section where it is cut into any."""
    stages = day.jobs["elm"].stages
    parts = {key: found.part.of if found.part else key for key, found in stages.items()}
    return sorted((done for done in plan.works if parts[done.stage] == stage), key=lambda done: done.start)


def patch_waits(before: Work, after: Work) -> tuple[int, int]:
    """What the first and the last patch wait where both go over a surface the same way, each at an even pace."""
    return after.start - before.start, after.end - before.end


@lru_cache(maxsize=1)
def behind_the_house() -> tuple[Day, Plan, Proof]:
    day = small_day_behind_the_house({**HOUSE, "minutes": "3 min"})
    return day, *planned(day)


def test_about_fifty_square_metres_are_where_one_hands_day_ends() -> None:
    """Joints of 10 mm, one pass of a disc: 42 m2 fit, 54 do not.

    The day ends near 45 m2, a tenth below what practitioners say; with joints of 15 mm, which take two passes at 80 m
    an hour, near 38. The doubtful figures are the second pass and compacting (75 m an hour, twice): they add up to
    seven hours of a day for 50 m2. Neither is bent to the fact.
    """
    fits, _ = planned(repoint_day(42, OPEN, joint="10 mm"))
    assert measure(repoint_day(42, OPEN, joint="10 mm"), fits).overrun == 0
    _, proof = planned(repoint_day(54, OPEN, joint="10 mm"))
    assert proof.overrun_bound > 0  # proven: no plan at all fits


def test_a_second_hand_brings_them_into_the_day() -> None:
    day = repoint_day(54, OPEN, joint="10 mm", hands=2)
    plan, _ = planned(day)
    assert measure(day, plan).overrun == 0


def test_a_small_one_behind_a_house_with_walls_and_gutters_is_one_long_day_for_one_hand() -> None:
    day, plan, _ = behind_the_house()
    found = measure(day, plan)
    assert len(day.hands) == 1
    assert found.overrun == 0
    # One long day: practitioners say eleven hours. Cutting 68 m of 15 mm joints in two passes takes 102 min, twice what
    # was reckoned before: that is what it is over, and the second pass is the doubtful figure.
    assert 9.5 * 60 <= found.minutes_home <= 13 * 60


def test_a_side_gate_saves_time_and_every_crossing() -> None:
    _, _, house = behind_the_house()
    day = small_day_behind_the_house(OPEN)
    gate, _ = planned(day)
    found = measure(day, gate)
    assert found.restricted_crossings == 0
    assert found.value < house.bound  # better than anything through the house can be


def test_a_surface_cleaner_halves_the_washing_and_does_not_pay_on_a_small_area_through_the_house() -> None:
    # By hand: 24.5 m2 by lance at 30 m2/h are 49 min; by surface cleaner 14 min of edges and rinsing and 24.5 / 75 h,
    # 34: 15 saved, for 16 of setting it up and packing it down dry. At 60 m2 120 and 62 min.
    small, large = (repoint_day(area, {**HOUSE, "minutes": "3 min"}).jobs["elm"] for area in (24.5, 60))
    assert sum_of(small, "lance") - sum_of(small, "surface-cleaner") < 16
    assert sum_of(large, "surface-cleaner") <= 0.55 * sum_of(large, "lance")
    free, _ = planned(repoint_day(24.5, {**HOUSE, "minutes": "3 min"}))
    assert work(free, "wash").method == "lance"


def sum_of(job: Any, method: str) -> int:
    """Minutes of washing by a method, over all its sections."""
    return sum(job.likely_minutes(key, method) for key, stage in job.stages.items() if stage.kind == "wash")


def test_on_a_large_area_from_the_front_it_pays() -> None:
    plan, _ = planned(repoint_day(40, OPEN))
    assert work(plan, "wash").method == "surface-cleaner"


@pytest.mark.parametrize(("area", "chosen"), [(1, "rake"), (20, "grinder")])
def test_a_few_joints_are_raked_and_many_are_ground(area: int, chosen: str) -> None:
    plan, _ = planned(repoint_day(area, HOUSE))
    assert work(plan, "grind").method == chosen


def test_filler_goes_in_as_two_layers_each_compacted_on_a_wetted_surface() -> None:
    day, plan, _ = behind_the_house()
    cut, swept, washed = (sections(day, plan, stage) for stage in ("grind", "sweep", "wash"))
    layers = [sections(day, plan, stage) for stage in ("wet", "fill-1", "compact-1", "fill-2", "compact-2")]
    assert cut[-1].end <= swept[0].start
    assert swept[-1].end <= washed[0].start
    assert washed[-1].end <= layers[0][0].start
    assert len({len(works) for works in layers}) == 1  # each section has its own wetting, both layers, both compactings
    for wet, fill, tamp, fill_again, tamp_again in zip(*layers, strict=True):
        assert all(before.end <= after.start for before, after in pairwise((wet, fill, tamp, fill_again, tamp_again)))
        assert max(patch_waits(wet, fill)) <= 30  # while it is damp
        # The mix can be worked for three quarters of an hour.
        assert max(*patch_waits(fill, tamp), *patch_waits(fill_again, tamp_again)) <= 45


def test_compacting_is_the_longest_part_of_the_filling_in_the_plan() -> None:
    day, plan, _ = behind_the_house()
    spent = {"fill": 0, "compact": 0, "wet": 0}
    for done in plan.works:
        kind = day.jobs["elm"].stages[done.stage].kind
        if kind in spent:
            spent[kind] += done.end - done.start
    assert spent["compact"] > spent["fill"] + spent["wet"]


def test_joints_are_cut_to_25_mm_and_take_three_tubs_of_which_two_and_a_quarter_are_used() -> None:
    # By hand: 68.06 m x 15 x 25 mm x 1600 kg/m3 and a tenth lost are 44.9 kg, 2.25 tubs of 20 kg; at 20 mm 1.8.
    day, plan, _ = behind_the_house()
    tubs = [used for used in uses(day, plan) if used.material == "filler"]
    assert sum(used.count for used in tubs) == 3
    assert reckoned(tubs) == pytest.approx(2.25, abs=0.02)


def test_the_mix_dwells_about_half_an_hour_on_every_patch_of_the_walls_and_the_wait_is_used() -> None:
    day, plan, _ = behind_the_house()
    for treated, rinsed in zip(sections(day, plan, "wall-treat"), sections(day, plan, "wall-rinse"), strict=True):
        assert treated.end <= rinsed.start
        assert all(30 <= minutes <= 50 for minutes in patch_waits(treated, rinsed))
    assert measure(day, plan).unfilled < 10
