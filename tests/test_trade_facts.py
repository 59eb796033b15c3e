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
from planner.day.words import FILE
from planner.engine import first_plan, plan_day
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
    return Day.model_validate(expand(tables), context=FILE)


def repoint_day(area: int, way: dict[str, Any], *, hands: int = 1, drop: tuple[str, ...] = ()) -> Day:
    """Clean and repoint so many m2 of 900 x 600 slabs, from 07:30 to 18:00."""
    job = {
        "grounds": {"paved": {"supplies": {"tap": 1, "socket": 2}, "way_in": way}},
        "drop": list(drop),
        "recipe": "clean-and-repoint-patio",
        "measures": {"area": f"{area} m2", "slab": "900 x 600 mm", "joint_width": "15 mm"},
    }
    return day_of(job, hands=hands)


def small_day_behind_the_house(way: dict[str, Any]) -> Day:
    """A patio of 7 by 3.5 m to repoint, the green walls beside it, and the gutters front and rear, until 18:30."""
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
    return day_of(job, finish="18:30")


def planned(day: Day) -> tuple[Plan, Proof]:
    result: Result = plan_day(day, seconds=2.0, deterministic=True)
    assert result.plan is not None
    assert result.plan.proof is not None
    return result.plan, result.plan.proof


def work(plan: Plan, stage: str) -> Work:
    found = plan.work("elm", stage)
    assert found is not None
    return found


@lru_cache(maxsize=1)
def behind_the_house() -> tuple[Day, Plan, Proof]:
    day = small_day_behind_the_house({**HOUSE, "minutes": "3 min"})
    return day, *planned(day)


def test_forty_square_metres_are_a_day_for_one_hand() -> None:
    day = repoint_day(40, OPEN)
    plan = first_plan(day)  # even in the serial order
    assert plan is not None
    assert measure(day, plan).overrun == 0


def test_well_over_fifty_square_metres_are_not() -> None:
    _, proof = planned(repoint_day(56, OPEN))
    assert proof.overrun_bound > 0  # proven: no plan at all fits


def test_a_second_hand_brings_them_into_the_day() -> None:
    day = repoint_day(56, OPEN, hands=2)
    plan, _ = planned(day)
    assert measure(day, plan).overrun == 0


def test_a_small_one_behind_a_house_with_walls_and_gutters_is_one_long_day_for_one_hand() -> None:
    day, plan, _ = behind_the_house()
    found = measure(day, plan)
    assert len(day.hands) == 1
    assert found.overrun == 0
    assert 9.5 * 60 <= found.minutes_home <= 11 * 60


def test_a_side_gate_saves_time_and_every_crossing() -> None:
    _, _, house = behind_the_house()
    day = small_day_behind_the_house(OPEN)
    gate, _ = planned(day)
    found = measure(day, gate)
    assert found.restricted_crossings == 0
    assert found.value < house.bound  # better than anything through the house can be


def test_a_surface_cleaner_halves_the_washing_and_does_not_pay_on_a_small_area_through_the_house() -> None:
    day = repoint_day(12, HOUSE)
    job = day.jobs["elm"]
    # By hand: 12 m2 by lance at 30 m2/h are 24 min; by surface cleaner 4 min and 12/75 h, 13.6 min; at 24 m2 48 and 23.
    assert job.likely_minutes("wash", "surface-cleaner") <= 0.6 * job.likely_minutes("wash", "lance")
    larger = repoint_day(24, HOUSE).jobs["elm"]
    assert larger.likely_minutes("wash", "surface-cleaner") <= 0.5 * larger.likely_minutes("wash", "lance")

    free, _ = planned(day)
    assert work(free, "wash").method == "lance"
    _, forced = planned(repoint_day(12, HOUSE, drop=("wash.lance",)))
    assert measure(day, free).value < forced.bound


def test_on_a_large_area_from_the_front_it_pays() -> None:
    plan, _ = planned(repoint_day(40, OPEN))
    assert work(plan, "wash").method == "surface-cleaner"


@pytest.mark.parametrize(("area", "chosen"), [(1, "rake"), (20, "grinder")])
def test_a_few_joints_are_raked_and_many_are_ground(area: int, chosen: str) -> None:
    plan, _ = planned(repoint_day(area, HOUSE))
    assert work(plan, "grind").method == chosen


def test_filler_goes_in_as_two_layers_each_compacted_on_a_wetted_surface() -> None:
    _, plan, _ = behind_the_house()
    steps = [work(plan, stage) for stage in ("grind", "wash", "wet", "fill-1", "compact-1", "fill-2", "compact-2")]
    assert all(before.end <= after.start for before, after in pairwise(steps))
    wet, fill = steps[2:4]
    assert fill.start - wet.end <= 30  # while it is damp


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


def test_a_mix_of_one_to_one_dwells_about_half_an_hour_on_the_walls_and_the_wait_is_used() -> None:
    day, plan, _ = behind_the_house()
    assert "1 part to 1." in day.jobs["elm"].stages["wall-treat"].mixing
    assert 30 <= work(plan, "wall-rinse").start - work(plan, "wall-treat").end <= 50
    assert measure(day, plan).unfilled < 10
