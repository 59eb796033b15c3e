"""Each number of restricted crossings is looked at until it is known that none of its plans beats the best."""

from dataclasses import replace
from typing import Any

import pytest

from planner.day import Day
from planner.engine import by_number, plan_day
from planner.engine.build import build
from planner.engine.dominance import interchangeable
from planner.engine.ranking import Budget, Range, Score
from planner.engine.variables import Variables
from planner.plan.measures import measure
from tests.days import tiny_day
from tests.engine.exactness import disagreement
from tests.engine.random_days import tiny

HOME, CROSSINGS = 9 * 60 + 34, 2
"""The tiny day's best plan, worked out on paper in `test_planning`."""


@pytest.fixture
def no_first_look(monkeypatch: pytest.MonkeyPatch) -> None:
    """First looks end before they have begun: all is left to the later ones."""
    monkeypatch.setattr(by_number, "FIRST_LOOK", 0.001)


@pytest.mark.parametrize("crossing_price", [0, 6, 60])
@pytest.mark.parametrize("finish", [HOME, HOME - 14], ids=["in time", "late"])
def test_what_first_looks_leave_open_is_settled_by_later_ones(
    no_first_look: None, finish: int, crossing_price: int
) -> None:
    # Late, a number whose bound is higher may be open while the one with the lowest bound is settled.
    day = tiny_day(finish=finish, crossing_price=crossing_price)
    plan = plan_day(day, seconds=60).plan
    assert plan is not None
    assert plan.proof is not None
    assert plan.proof.is_best
    assert (plan.home, measure(day, plan).restricted_crossings) == (HOME, CROSSINGS)


@pytest.mark.parametrize("finish", [HOME, HOME - 14], ids=["in time", "late"])
def test_what_looks_left_open_in_vain_is_settled_by_rungs(
    no_first_look: None, finish: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    # In vain are looks of no time; those after them are for plans in half of the gap, or in less of it.
    aims = []
    look = by_number.ByNumber._aim

    def noted(search: by_number.ByNumber, crossings: Range, best: Score) -> int:
        aims.append(search.goal(crossings, best) - look(search, crossings, best))
        return look(search, crossings, best)

    monkeypatch.setattr(by_number.ByNumber, "_aim", noted)
    plan = plan_day(tiny_day(finish=finish, crossing_price=6), seconds=60).plan
    assert plan is not None
    assert plan.proof is not None
    assert plan.proof.is_best
    assert plan.home == HOME
    assert any(aims)


@pytest.mark.parametrize("value", [33, 94, 600])
def test_every_look_is_after_more_than_is_known_and_no_more_than_the_goal(value: int) -> None:
    # A look after what is known already takes no time, finds nothing out, and is begun again for ever.
    best, number = Score(0, value, 0), Range(0, 0)
    search = by_number.ByNumber(build(tiny_day()), Budget(), known=best)
    search.by_halves = {number}
    for low in range(1, value):
        for in_vain in (0, 1, 2, 5, 20):
            search.lows[number], search.in_vain[number] = low, in_vain
            assert low < search._aim(number, best) <= search.goal(number)


def test_who_joins_a_look_that_is_about_to_end_begins_a_longer_one() -> None:
    # Else two cores at the last open number take turns to join each other's look, each for the least time, for ever.
    search = by_number.ByNumber(build(tiny_day()), Budget(60.0, 2), known=Score(0, 94, 3))
    search.lows = {Range(2, 2): search.floor}
    first = search._next_of_one_core()
    assert first is not None
    joined = search._next_of_one_core()
    assert joined is not None
    assert (joined.until, joined.ended) == (first.until, first.ended)
    assert joined.way != first.way
    search.under_way = [replace(first, until=search.clock() + 0.1)]
    longer = search._next_of_one_core()
    assert longer is not None
    assert longer.until > search.clock() + by_number.FIRST_LOOK
    assert longer.ended is first.ended  # whoever settles it ends both
    first.ended.set()
    search.under_way = [first]
    anew = search._next_of_one_core()
    assert anew is not None
    assert not anew.ended.is_set()


@pytest.mark.parametrize("seed", [1, 77, 1603])
def test_hands_who_are_alike_are_told_apart_by_who_crosses_more_often(no_first_look: None, seed: int) -> None:
    day = tiny(seed)
    assert interchangeable(build(day)) == [(0, 1)]
    assert disagreement(day) is None


@pytest.mark.parametrize("seed", [27, 83, 91])
def test_looks_that_leave_out_what_costs_nothing_refute_no_plan_that_there_is(
    no_first_look: None, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Days with restricted ways and others: all later looks leave the crossings of those others out, while they may."""
    begun: list[bool] = []
    beating = by_number.ByNumber._beating

    def noted(search: by_number.ByNumber, crossings: Range, aim: int, look: by_number.Look | None) -> Variables:
        begun.append(look is not None and look.refutes)
        return beating(search, crossings, aim, look)

    monkeypatch.setattr(by_number.ByNumber, "_beating", noted)
    assert disagreement(tiny(seed)) is None
    assert any(begun)


def test_hands_are_alike_who_differ_in_their_names_alone() -> None:
    two: dict[str, Any] = {"ash": {}, "bo": {}}
    assert interchangeable(build(tiny_day(hands=two))) == [(0, 1)]
    by_himself = {"own_transport": True, "hours": (9 * 60, 15 * 60)}
    assert interchangeable(build(tiny_day(hands=two | {"bo": by_himself}))) == []
    given = tiny_day(hands=two).model_dump(by_alias=True)
    given["jobs"]["elm"]["stages"]["sweep"]["by_hand"] = "bo"
    assert interchangeable(build(Day.model_validate(given))) == []


def test_of_late_plans_one_with_fewer_crossings_is_settled_only_a_minute_later() -> None:
    known = by_number.ByNumber(build(tiny_day(finish=HOME - 14)), Budget(), known=Score(14, 94, 3))
    price = known.problem.price
    assert known.goal(Range(2, 2)) == 95 + 2 * price
    assert known.goal(Range(3, 3)) == 94 + 3 * price
    assert known.goal(Range(2, 4)) == 94 + 3 * price
    assert known.goal(Range(4, None)) == 94 + 4 * price


def test_of_late_plans_fewer_crossings_without_a_price_are_no_better() -> None:
    # The tiny day's best takes 94 minutes and two crossings; one as soon home with three is as good.
    number = Range(2, 2)
    search = by_number.ByNumber(build(tiny_day(finish=HOME - 14, crossing_price=0)), Budget(), known=Score(14, 94, 3))
    assert search.goal(number) == 94
    search.lows[number] = search.floor
    search._look_at(number)
    assert number not in search._open_yet()  # else it is looked at again and again


def test_of_plans_in_time_the_value_alone_settles_a_number() -> None:
    known = by_number.ByNumber(build(tiny_day()), Budget(), known=Score(0, 94, 2))
    assert known.goal(Range(1, 1)) == known.goal(Range(3, None)) == 94 + 2 * known.problem.price
