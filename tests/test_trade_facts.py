"""Facts of the trade that the shipped rates must bear out, asked of the planner itself.

All of them are common practice, with no source. None has a rule of its own in the planner: each follows from rates,
loads, set-ups and ways in, so these tests hold the shipped figures to what a practitioner knows.
"""

from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from planner.day import Day
from planner.day.file import read_day
from planner.day.words import FILE
from planner.engine import plan_day
from planner.engine.result import Result
from planner.plan.measures import measure
from planner.trade.recipes import expand

SAMPLES = Path(__file__).parent.parent / "sample_days"
OPEN = {"minutes": "1 min"}
HOUSE = {"minutes": "2 min", "restricted": True, "through": "the house", "protection": "ours"}


def repoint_day(area: int, way: dict[str, Any], *, hands: int = 1, drop: tuple[str, ...] = ()) -> Day:
    """Clean and repoint so many m2 of 900 x 600 slabs, from 07:30 to 18:00, twenty minutes' drive away."""
    tables = {
        "format": 1,
        "date": "2026-06-16",
        "start": "07:30",
        "finish": "18:00",
        "van": {"starts_at": "yard", "ends_at": "yard"},
        "places": {"yard": {}, "elm": {}},
        "travel": {"trips": [{"from": "yard", "to": "elm", "minutes": "20 min"}]},
        "hands": {f"hand-{n + 1}": {} for n in range(hands)},
        "jobs": {
            "elm": {
                "place": "elm",
                "grounds": {"paved": {"supplies": {"tap": 1, "socket": 2}, "way_in": way}},
                "drop": list(drop),
                "recipe": "clean-and-repoint-patio",
                "measures": {"area": f"{area} m2", "slab": "900 x 600 mm", "joint_width": "15 mm"},
            }
        },
    }
    return Day.model_validate(expand(tables), context=FILE)


def planned(day: Day, seconds: float = 8.0) -> Result:
    result = plan_day(day, seconds=seconds)
    assert result.plan is not None
    assert result.plan.proof is not None
    return result


def method(result: Result, stage: str) -> str:
    assert result.plan is not None
    work = result.plan.work("elm", stage)
    assert work is not None
    return work.method


@lru_cache(maxsize=1)
def rear_patio() -> tuple[Day, Result]:
    day = read_day(SAMPLES / "rear_patio.toml")
    return day, planned(day, 15.0)


def test_forty_square_metres_are_a_day_for_one_hand() -> None:
    day = repoint_day(40, OPEN)
    result = planned(day)
    assert result.plan is not None
    assert measure(day, result.plan).overrun == 0


def test_well_over_fifty_square_metres_are_not() -> None:
    result = planned(repoint_day(56, OPEN))
    assert result.plan is not None
    assert result.plan.proof is not None
    assert result.plan.proof.overrun_bound > 0  # proven: no plan at all fits


def test_a_second_hand_brings_them_into_the_day() -> None:
    day = repoint_day(56, OPEN, hands=2)
    result = planned(day)
    assert result.plan is not None
    assert measure(day, result.plan).overrun == 0


def test_a_small_one_behind_a_house_with_walls_and_gutters_is_one_long_day_for_one_hand() -> None:
    day, result = rear_patio()
    assert result.plan is not None
    found = measure(day, result.plan)
    assert len(day.hands) == 1
    assert found.overrun == 0
    assert 9.5 * 60 <= found.minutes_home <= 11 * 60


def test_the_side_gate_saves_time_and_every_crossing() -> None:
    _, house = rear_patio()
    day = read_day(SAMPLES / "side_gate.toml")
    gate = planned(day)
    assert house.plan is not None
    assert house.plan.proof is not None
    assert gate.plan is not None
    found = measure(day, gate.plan)
    assert found.restricted_crossings == 0
    assert found.value < house.plan.proof.bound  # better than anything through the house can be


def test_a_surface_cleaner_halves_the_washing_and_does_not_pay_on_a_small_area_through_the_house() -> None:
    day = repoint_day(12, HOUSE)
    job = day.jobs["elm"]
    # By hand: 12 m2 by lance at 30 m2/h are 24 min; by surface cleaner 4 min and 12/75 h, 13.6 min; at 24 m2 48 and 23.
    assert job.likely_minutes("wash", "surface-cleaner") <= 0.6 * job.likely_minutes("wash", "lance")
    larger = repoint_day(24, HOUSE).jobs["elm"]
    assert larger.likely_minutes("wash", "surface-cleaner") <= 0.5 * larger.likely_minutes("wash", "lance")

    free = planned(day)
    forced = planned(repoint_day(12, HOUSE, drop=("wash.lance",)))
    assert method(free, "wash") == "lance"
    assert free.plan is not None
    assert forced.plan is not None
    assert forced.plan.proof is not None
    assert measure(day, free.plan).value < forced.plan.proof.bound


def test_on_a_large_area_from_the_front_it_pays() -> None:
    assert method(planned(repoint_day(40, OPEN)), "wash") == "surface-cleaner"


@pytest.mark.parametrize(("area", "chosen"), [(2, "rake"), (20, "grinder")])
def test_a_few_joints_are_raked_and_many_are_ground(area: int, chosen: str) -> None:
    assert method(planned(repoint_day(area, HOUSE)), "grind") == chosen


def test_compacting_is_the_longest_part_of_the_filling_in_the_plan() -> None:
    day, result = rear_patio()
    assert result.plan is not None
    spent = {"fill": 0, "compact": 0, "wet": 0}
    for work in result.plan.works:
        kind = day.jobs[work.job].stages[work.stage].kind
        if kind in spent:
            spent[kind] += work.end - work.start
    assert spent["compact"] > spent["fill"] + spent["wet"]


def test_the_dwell_on_the_walls_is_about_half_an_hour_and_is_used() -> None:
    day, result = rear_patio()
    assert result.plan is not None
    treat, rinse = result.plan.work("larch", "treat-walls"), result.plan.work("larch", "rinse-walls")
    assert treat is not None
    assert rinse is not None
    assert 30 <= rinse.start - treat.end <= 50
    assert measure(day, result.plan).unfilled < 10
