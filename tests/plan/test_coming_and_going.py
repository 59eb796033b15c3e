"""Arriving, leaving and the meal of a long day: plans that keep them, and changes that break them, by hand."""

from dataclasses import replace

import pytest

from planner.day import Day, Meal
from planner.engine import first_plan, plan_day
from planner.plan.checker import broken_rules
from planner.plan.coming_and_going import coming_and_going, is_meal
from planner.plan.plan import Plan, Rest
from tests.days import tiny_day
from tests.plan.worked import tiny


def coming(day: Day, *, arriving: int = 0, leaving: int = 0) -> Day:
    changes = {"arriving": arriving, "leaving": leaving}
    return day.model_copy(update={"jobs": {k: job.model_copy(update=changes) for k, job in day.jobs.items()}})


def said(day: Day, plan: Plan) -> str:
    return "; ".join(breach.text for breach in broken_rules(day, plan))


def longer(plan: Plan, *, sooner: int = 0, later: int = 0) -> Plan:
    """The tiny plan with the van there so much sooner and longer: 490 to 564, and its crossings fill all of that."""
    visit, (out, back) = plan.visits[0], plan.drives
    return replace(
        plan,
        visits=(replace(visit, arrive=visit.arrive - sooner, depart=visit.depart + later),),
        drives=(
            replace(out, start=out.start - sooner, end=out.end - sooner),
            replace(back, start=back.start + later, end=back.end + later),
        ),
    )


def test_nothing_else_is_done_while_arriving_and_leaving() -> None:
    day, plan = tiny()
    hands = {key: hand.model_copy(update={"hours": (450, 800)}) for key, hand in day.hands.items()}
    day = day.model_copy(update={"start": 450, "hands": hands})
    assert said(day, plan) == ""
    assert "arriving takes until" in said(coming(day, arriving=10), plan)
    assert "leaving takes from" in said(coming(day, leaving=12), plan)
    both = coming(day, arriving=10, leaving=12)
    kept = longer(plan, sooner=10, later=12)
    assert said(both, kept) == ""
    assert list(coming_and_going(both, kept, kept.visits[0])) == [("arrive", 480, 490), ("leave", 564, 576)]
    assert said(both, longer(plan, sooner=9, later=12)) != ""
    assert said(both, longer(plan, sooner=10, later=11)) != ""


@pytest.mark.parametrize("seconds", [5])
def test_the_engine_keeps_them_and_they_cost_their_minutes(seconds: float) -> None:
    """One job, one hand: twenty minutes more of nothing else make the best day twenty minutes longer, at the most."""
    plain = plan_day(tiny_day(), seconds=seconds).plan
    day = coming(tiny_day(), arriving=8, leaving=12)
    first, found = first_plan(day), plan_day(day, seconds=seconds).plan
    assert plain is not None
    assert first is not None
    assert found is not None
    assert said(day, first) == said(day, found) == ""
    assert found.home - found.leaves == plain.home - plain.leaves + 20


LUNCH = Meal(length=30, once_over=60, earliest=520, latest=540)


def test_a_long_day_has_a_meal_at_its_hour() -> None:
    """The tiny plan is out from 480 to 574; between its crossings there is no room for half an hour."""
    day, plan = tiny()
    day = day.model_copy(update={"meal": LUNCH, "rest": None})
    assert "without a meal" in said(day, plan)
    assert said(day.model_copy(update={"meal": LUNCH.model_copy(update={"once_over": 94})}), plan) == ""
    found = plan_day(day, seconds=5).plan
    assert found is not None
    assert said(day, found) == ""
    (meal,) = found.rests
    assert is_meal(day, meal)
    assert not is_meal(day, replace(meal, end=meal.end - 1))


def test_the_meal_is_the_break_too() -> None:
    day = tiny_day()
    rest = day.rest
    assert rest is not None
    due = rest.model_copy(update={"length": 20, "once_over": 80, "soonest": 10})
    found = plan_day(day.model_copy(update={"meal": LUNCH, "rest": due}), seconds=5).plan
    assert found is not None
    assert [x.end - x.start for x in found.rests] == [30]


def test_a_break_is_no_meal() -> None:
    day, plan = tiny()
    day = day.model_copy(update={"meal": LUNCH, "rest": None})
    with_break = replace(plan, rests=(Rest("ash", 520, 535),))
    assert "without a meal" in said(day, with_break)
