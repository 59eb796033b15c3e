"""Containers loaded into the van, counted by hand: what is left in one goes on to the next ground.

The trade's own way (common practice, no source): 0.97 of a can used is one can and a spare, wherever it is used.
"""

from typing import Any

import pytest

from planner.day import Day
from planner.plan.containers_taken import containers_taken
from planner.plan.loading import loads
from planner.plan.out_again import out_again
from planner.plan.plan import Carried, Crossing, Plan, Visit, Work

OPEN = {"minutes": 1}
HALL = {"minutes": 2, "restricted": True}


def day_of(ways: list[dict[str, Any]], used: list[tuple[int, float]], **customer: Any) -> Day:
    """One stage on each ground, which takes so many cans and is reckoned to use up so much of them."""
    stages = {}
    for n, (count, part) in enumerate(used):
        method = {"minutes": 10, "uses": {"can": count}, "expected": {"can": part}}
        stages[f"s{n}"] = {"surface": f"f{n % len(ways)}", "methods": {"by": method}}
    return Day.model_validate(
        {
            "format": 1,
            "date": "2026-06-16",
            "van": {"starts_at": "yard", "ends_at": "yard"},
            "places": {"yard": {}},
            "hands": {"ash": {}, "rowan": {}},
            "materials": {"can": {"mass": 6, "holds_litres": 5}},
            "jobs": {
                "elm": {
                    "place": "yard",
                    "grounds": {f"g{n}": {"way_in": way} for n, way in enumerate(ways)},
                    "surfaces": {f"f{n}": {"ground": f"g{n}"} for n in range(len(ways))},
                    "stages": stages,
                    "customer": customer,
                }
            },
        }
    )


def plan_of(*starts: int) -> Plan:
    works = tuple(Work("elm", f"s{n}", "by", ("ash",), 1, start, start + 10) for n, start in enumerate(starts))
    return Plan((), (Visit("elm", 1, 480, 900),), works)


@pytest.mark.parametrize(
    ("used", "loaded"),
    [
        # 0.3 + 0.3 + 0.37 = 0.97: the first can has 0.4 left for the third, which wants 0.37 and a spare of 15 %, 0.43.
        ([(1, 0.3), (1, 0.3), (1, 0.37)], 2),
        ([(1, 0.3), (1, 0.3), (1, 0.3)], 1),  # 0.4 left, and 0.345 is asked of it
        ([(2, 0.97)], 2),
        ([(2, 0.97), (1, 0.5)], 2),  # the spare was not opened
        ([(1, 0.8), (1, 0.8)], 2),
    ],
)
def test_one_can_goes_from_ground_to_ground(used: list[tuple[int, float]], loaded: int) -> None:
    day = day_of([OPEN] * len(used), used)
    plan = plan_of(*(500 + 20 * n for n in range(len(used))))
    assert containers_taken(day, plan, "can") == loaded
    assert [load.count for load in loads(day, plan) if load.kind == "material"] == [loaded]


def test_at_once_on_two_grounds_each_has_its_own() -> None:
    day = day_of([OPEN, OPEN], [(1, 0.1), (1, 0.1)])
    assert containers_taken(day, plan_of(500, 505), "can") == 2
    assert containers_taken(day, plan_of(500, 510), "can") == 1


def test_what_the_customer_keeps_does_not_come_back() -> None:
    day = day_of([OPEN, OPEN], [(1, 0.1), (1, 0.1)], keeps=["can"])
    assert containers_taken(day, plan_of(500, 520), "can") == 2


@pytest.mark.parametrize(("used", "loaded"), [([0.3, 0.3, 0.2], 1), ([0.4, 0.4, 0.17], 2), ([0.9, 0.9, 0.9], 4)])
def test_by_an_open_way_stages_share_whichever_comes_first(used: list[float], loaded: int) -> None:
    # 0.97 of a can, and 15 %: 1.12, so two. 2.7 with 15 %: 3.1, so four; each alone takes 0.9 x 1.15, two of them.
    day = day_of([OPEN], [(1 if part * 1.15 <= 1 else 2, part) for part in used])
    plan = plan_of(500, 510, 520)
    assert containers_taken(day, plan, "can") == loaded
    assert sum(one.count for one in out_again(day, plan)) == loaded


def test_through_a_house_it_is_there_again_when_the_leg_that_brings_it_is_over() -> None:
    day = day_of([HALL, HALL], [(1, 0.1), (1, 0.1)])
    can = (Carried("can", 1, is_material=True),)
    back = (Carried("can", 1, is_material=True, rest=0.9),)

    def loaded(second: int) -> int:
        crossings = (
            Crossing("elm", 1, "g0", "ash", 495, 515, can, back),
            Crossing("elm", 1, "g1", "ash", second, second + 20, can, back),
        )
        return containers_taken(day, Plan((), (), plan_of(497, second + 2).works, crossings=crossings), "can")

    assert loaded(515) == 1
    assert loaded(514) == 2
