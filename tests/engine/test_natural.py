"""What is natural among equals: each preference on a day where it alone decides, and the file's order says otherwise.

All are common practice, no source. Each day is proven best, so what is shown is the last word and not what was found.
"""

from itertools import pairwise
from typing import Any

from planner.plan.plan import Plan, Work
from tests.engine.rule_days import TWO, stage
from tests.engine.rule_days import day as house
from tests.engine.test_fresh_work import by_hand
from tests.engine.test_what_the_day_says import best

Tables = dict[str, Any]

OWN: Tables = {"one": {}, "two": {}, "three": {}, "four": {}}


def in_order(plan: Plan) -> list[str]:
    return [work.stage for work in sorted(plan.works, key=lambda work: work.start)]


def work_of(plan: Plan, stage: str) -> Work:
    found = plan.work("elm", stage)
    assert found is not None
    return found


def test_what_is_above_is_worked_first() -> None:
    stages = {"low": {"kind": "look", "surface": "patio"}, "up": {"kind": "count", "surface": "wall"}}
    plan = best(by_hand(stages, patio={}, wall={"stood_on": False, "worked_from": ["patio"]}))
    assert in_order(plan) == ["up", "low"]


def test_kit_is_set_up_shortly_before_it_is_used_and_packed_down_soon_after() -> None:
    stages = {
        "first": stage("steps", 20),
        "wash": stage("patio", 20, "washer", after=["first"], makes=[]),
        "last": stage("steps", 20, after=["wash"]),
    }
    plan = best(house(stages, kit={"washer": {"load": 1, "set_up": 5, "pack_down": 5}}))
    [up, down] = sorted(plan.chores, key=lambda chore: chore.start)
    assert work_of(plan, "first").end <= up.start
    assert down.end <= work_of(plan, "last").start


def test_like_work_is_done_together() -> None:
    """Both counts, then both looks, though the file has one of each and again one of each."""
    kinds = ("look", "count", "look", "count")
    stages = {
        f"{kind}-{surface}": {"kind": kind, "surface": surface} for kind, surface in zip(kinds, OWN, strict=True)
    }
    order = [key.partition("-")[0] for key in in_order(best(by_hand(stages, **OWN)))]
    assert sum(one != two for one, two in pairwise(order)) == 1


def test_work_on_one_surface_is_not_cut_up() -> None:
    stages = {
        "a": {"kind": "look", "surface": "one"},
        "b": {"kind": "count", "surface": "two"},
        "c": {"kind": "paint", "surface": "one"},
        "d": {"kind": "brush", "surface": "two"},
    }
    order = in_order(best(by_hand(stages, one={}, two={})))
    assert {frozenset(order[:2]), frozenset(order[2:])} == {frozenset("ac"), frozenset("bd")}


def test_a_break_is_between_noon_and_one() -> None:
    """Six hours of work from 08:10, one at a time: the break may begin at ten past any hour from nine on."""
    stages = {f"s{n}": stage("patio", 60, kind=f"work{n}") for n in range(6)}
    rest = {"length": 20, "once_over": 350, "soonest": 30}
    plan = best(house(stages, rest=rest))
    [pause] = plan.rests
    assert 720 <= pause.start <= 780


def test_nobody_crosses_sooner_nor_stays_longer_than_for_work() -> None:
    """Bo is at the front for two hours; Ash prunes behind the house for ten minutes, and is there no longer."""
    way = {"minutes": 3, "load_limit": 2}
    job = {
        "grounds": {"rear": {"way_in": way}, "front": {"way_in": {"minutes": 0}}},
        "surfaces": {"lawn": {"ground": "rear"}, "drive": {"ground": "front"}},
    }
    stages = {"prune": stage("lawn", 10, hand="ash"), "wash": stage("drive", 120, hand="bo", makes=[])}
    plan = best(house(stages, job=job, hands=TWO))
    [crossing] = plan.crossings
    assert crossing.end - crossing.start == 3 + 10 + 3


def test_among_equals_the_order_of_the_file_and_as_early_as_can_be() -> None:
    stages = {key: {"kind": f"work{n}", "surface": key} for n, key in enumerate(reversed(OWN))}
    plan = best(by_hand(stages, **OWN))
    assert in_order(plan) == list(stages)
    assert min(work.start for work in plan.works) == plan.visits[0].arrive
