"""Hours paid for doing nothing: among plans of one value, each hand's day is the shortest."""

from typing import Any

import pytest

from planner.day import Day
from planner.engine import plan_day
from planner.plan.plan import Plan
from tests.days import tiny_day


def afternoon(**hands: Any) -> Plan:
    """The tiny day's plan where sweeping begins at 15:00 sharp; treating and rinsing keep their dwell of 30 minutes."""
    tables = tiny_day().model_dump(by_alias=True)
    tables["finish"] = "18:00"
    job = tables["jobs"]["elm"]
    job["stages"]["sweep"]["starts_at"] = "15:00"
    tables["hands"] = {"ash": {}, **hands}
    plan = plan_day(Day.model_validate(tables), seconds=20).plan
    assert plan is not None
    return plan


def test_the_van_does_not_leave_hours_before_there_is_something_to_do() -> None:
    """Work 12 + 15 before the sweep, its wait 30, chores 4 + 4 + 6 + 5, walks, 10 minutes of driving: about an hour and
    a half before 15:00 it has all been begun; the day opens at 08:00."""
    plan = afternoon()
    assert plan.leaves >= 13 * 60
    assert plan.home - plan.leaves <= 4 * 60


def test_one_with_their_own_transport_is_there_only_for_what_they_do() -> None:
    plan = afternoon(bo={"own_transport": True})
    for at in plan.attendances:
        done = [(work.start, work.end) for work in plan.works if at.hand in work.hands]
        done += [(crossing.start, crossing.end) for crossing in plan.crossings if crossing.hand == at.hand]
        done += [(chore.start, chore.end) for chore in plan.chores if at.hand in chore.hands]
        assert at.arrive == min(start for start, _ in done)
        assert at.leave == max(end for _, end in done)


def test_idle_hours_are_seen_though_the_search_among_equals_has_no_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """With all choices held there is nothing to search: hours that can be moved are a matter of times alone."""
    monkeypatch.setattr("planner.engine.last_word.FIRST_WORK", 0.00001)
    monkeypatch.setattr("planner.engine.planning.without_what_is_for_nothing", lambda day, plan: plan)
    plan = afternoon(bo={"own_transport": True})
    assert plan.leaves >= 12 * 60
    assert all(at.leave - at.arrive <= 3 * 60 for at in plan.attendances)
