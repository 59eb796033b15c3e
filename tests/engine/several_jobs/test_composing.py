"""Breaks in a plan that is put together: what idle time there is counts, the rest is a pause."""

from planner.day import Day
from planner.engine.several_jobs.composing import with_breaks
from planner.plan.checker import broken_rules
from planner.plan.plan import Attendance, Drive, Plan, Rest, Visit, Work
from tests.days import at_elm

TREATED_AND_RINSED = {
    "grounds": {"front": {"way_in": {"minutes": 0}}},
    "surfaces": {"path": {"ground": "front"}},
    "stages": {
        "treat": {"kind": "treat", "surface": "path", "methods": {"by-hand": {"minutes": 30}}},
        "rinse": {"kind": "rinse", "surface": "path", "methods": {"by-hand": {"minutes": 60}}},
    },
    "waits": [{"after": "treat", "before": "rinse", "kind": "dwell", "least": 12, "most": 40}],
}


def test_a_pause_is_only_as_long_as_idle_time_falls_short_of_the_break() -> None:
    """Treated from 08:10 to 08:40, rinsed after a dwell of 12 minutes; a break of 20, owed by 09:00, takes 8 more."""
    rest = {"length": 20, "once_over": 60, "soonest": 0}
    day = Day.model_validate(at_elm(TREATED_AND_RINSED, start=480, finish=1080, hands={"ash": {"rest": rest}}))
    plan = Plan(
        drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", 592, 602)),
        visits=(Visit("elm", 1, 490, 592),),
        works=(
            Work("elm", "treat", "by-hand", ("ash",), 1, 490, 520),
            Work("elm", "rinse", "by-hand", ("ash",), 1, 532, 592),
        ),
    )
    assert [b.rule for b in broken_rules(day, plan)] == [11]
    rested = with_breaks(day, plan)
    assert rested is not None
    assert broken_rules(day, rested) == []
    assert rested.rests == (Rest("ash", 520, 540),)
    assert rested.home == plan.home + 8


def test_one_with_their_own_transport_has_a_break_too_where_the_day_is_put_together() -> None:
    """Out from 08:30 to 10:12, owed 20 minutes by 09:30, with 12 of a dwell to spare: all pause for 8 more."""
    bo = {"own_transport": True, "hours": [510, 1080], "rest": {"length": 20, "once_over": 60, "soonest": 0}}
    day = Day.model_validate(at_elm(TREATED_AND_RINSED, start=480, finish=1080, hands={"ash": {}, "bo": bo}))
    plan = Plan(
        drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", 612, 622)),
        visits=(Visit("elm", 1, 490, 612),),
        attendances=(Attendance("bo", "elm", 1, 510, 612),),
        works=(
            Work("elm", "treat", "by-hand", ("bo",), 1, 510, 540),
            Work("elm", "rinse", "by-hand", ("bo",), 1, 552, 612),
        ),
    )
    assert [b.rule for b in broken_rules(day, plan)] == [11]
    rested = with_breaks(day, plan)
    assert rested is not None
    assert broken_rules(day, rested) == []
    assert rested.rests == (Rest("bo", 540, 560),)
    assert rested.home == plan.home + 8


def test_a_break_and_a_meal_at_different_hours_are_both_put_in() -> None:
    """Out from 08:00: a break of 10 by 09:00, in the dwell; a meal of 30 begun from 09:40 on, between two tasks."""
    job = TREATED_AND_RINSED | {
        "stages": TREATED_AND_RINSED["stages"]
        | {"edge": {"kind": "point", "surface": "path", "after": ["rinse"], "methods": {"by-hand": {"minutes": 60}}}}
    }
    hands = {"ash": {"rest": {"length": 10, "once_over": 60, "soonest": 0}}}
    tables = at_elm(job, start=480, finish=1080, hands=hands)
    tables["meal"] = {"length": 30, "once_over": 60, "earliest": 580, "latest": 640}
    day = Day.model_validate(tables)
    plan = Plan(
        drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", 652, 662)),
        visits=(Visit("elm", 1, 490, 652),),
        works=(
            Work("elm", "treat", "by-hand", ("ash",), 1, 490, 520),
            Work("elm", "rinse", "by-hand", ("ash",), 1, 532, 592),
            Work("elm", "edge", "by-hand", ("ash",), 1, 592, 652),
        ),
    )
    assert {b.rule for b in broken_rules(day, plan)} == {11}
    rested = with_breaks(day, plan)
    assert rested is not None
    assert broken_rules(day, rested) == []
    assert rested.rests == (Rest("ash", 520, 530), Rest("ash", 592, 622))
    assert rested.home == plan.home + 30
