"""On a day that says how sure it is to be, a plan leaves room for slow stages; each case reckoned by hand.

Sweeping takes 30 minutes, and in one day of ten 42 or more: a spread of 30, 30 and 60 is the beta distribution of PERT
with shapes 1 and 5, of which nine tenths lie below 1 - 0.1^(1/5) = 0.369 of the width (Johnson and Kotz: with first
shape 1 its distribution is 1 - (1 - x)^5). 30 + 30 x 0.369 = 41.07, so 12 whole minutes are wanted.
"""

from dataclasses import replace
from typing import Any

import pytest

from planner.day import Day
from planner.plan.checker import broken_rules
from planner.plan.plan import Drive, Plan, Visit, Work
from tests.engine.rule_days import day, stage

WANTED = 12


def swept(job: dict[str, Any] | None = None, *, sure: float | None = 0.9, **rinse: Any) -> Day:
    """A day on which the steps are swept before the patio is rinsed."""
    stages = {"treat": stage("patio", 10), "sweep": stage("steps", 30), "rinse": stage("patio", 10, **rinse)}
    for name, made in stages.items():
        made["methods"]["so"]["spread"] = [1.0, 1.0, 2.0 if name == "sweep" else 1.0]
    return day(stages, job=job, **({} if sure is None else {"sure": sure}))


def plan(rinse_at: int = 530) -> Plan:
    """Treated at 490, swept at 500, rinsed when it is said; ten minutes there and back."""
    works = [("treat", 490, 500), ("sweep", 500, 530), ("rinse", rinse_at, rinse_at + 10)]
    over = rinse_at + 10
    return Plan(
        drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", over, over + 10)),
        visits=(Visit("elm", 1, 490, over),),
        works=tuple(Work("elm", name, "so", ("ash",), 1, start, end) for name, start, end in works),
    )


def dwell(most: int, order: str | None = None) -> dict[str, Any]:
    """A wait from treating to rinsing."""
    wait = {"after": "treat", "before": "rinse", "kind": "dwell", "least": 20, "most": most, "closes": False}
    return {"waits": [wait | ({"order": order} if order else {})]}


def kept(day: Day, at: int = 530) -> bool:
    """Whether a plan breaks no rule; what it breaks is of the clock."""
    broken = broken_rules(day, plan(at))
    assert {b.rule for b in broken} <= {10}
    return not broken


@pytest.mark.parametrize("order", [None, "same"])
def test_a_wait_leaves_room_for_what_is_swept_meanwhile(order: str | None) -> None:
    """Rinsed 30 minutes after treating has ended; in the same order a patch waits 40: ten minutes of treating too."""
    waited = 30 if order is None else 40
    assert kept(swept(dwell(waited + WANTED, order)))
    assert not kept(swept(dwell(waited + WANTED - 1, order)))
    assert kept(swept(dwell(waited + WANTED - 1, order), sure=None))


def test_a_promise_leaves_room_for_all_that_comes_before() -> None:
    """The van leaves at 540."""
    assert kept(swept({"done_by": 540 + WANTED}))
    assert not kept(swept({"done_by": 540 + WANTED - 1}))
    assert kept(swept({"done_by": 540}, sure=None))


def test_a_closing_hour_leaves_room() -> None:
    """Rinsing is over at 540."""
    assert kept(swept(not_after=540 + WANTED))
    assert not kept(swept(not_after=540 + WANTED - 1))


def test_who_is_less_sure_wants_less_room() -> None:
    """1 - 0.5^(1/5) = 0.129: in half of all days 33.9 minutes, so 4 are wanted."""
    assert kept(swept({"done_by": 544}, sure=0.5))
    assert not kept(swept({"done_by": 543}, sure=0.5))


def test_on_a_day_under_way_room_may_be_eaten() -> None:
    day = swept({"done_by": 541})
    assert broken_rules(day, plan())
    assert not broken_rules(day, replace(plan(), since=485))


def rewetted(most: int) -> Day:
    """The day with a re-wet of a minute, if needed, that starts the count of the most anew."""
    tables = swept().model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["stages"]["wet"] = job["stages"]["treat"] | {"only_if_needed": True, "methods": {"so": {"minutes": 1}}}
    wait = {"after": "treat", "before": "rinse", "kind": "dwell", "least": 20, "most": most, "closes": False}
    job["waits"] = [wait | {"extended_by": "wet"}]
    return Day.model_validate(tables)


def test_a_re_wet_is_where_the_count_of_what_is_slow_begins() -> None:
    """Wetted from 500 to 501, swept until 531, rinsed then: 30 minutes, and 12 of room; without it none is asked."""
    made = plan(531)
    treat, sweep, rinse = made.works
    again = replace(treat, stage="wet", start=500, end=501)
    with_it = replace(made, works=(treat, again, replace(sweep, start=501, end=531), rinse))
    assert not broken_rules(rewetted(30 + WANTED), with_it)
    assert {b.rule for b in broken_rules(rewetted(30 + WANTED - 1), with_it)} == {10}
    assert not broken_rules(rewetted(31), made)
