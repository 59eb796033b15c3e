"""Planning that is stopped, or whose time is over, begins nothing any more that takes long on a large day."""

import threading

import pytest

from planner.day import Break, Day
from planner.engine import first_plan, plan_day
from planner.engine.build import build
from planner.engine.conflict import LATE_SECONDS, conflict_of, facts
from planner.engine.ranking import Budget
from planner.engine.serial.sought import sought_serial_plan
from planner.engine.several_jobs.composing import Composing, with_breaks
from planner.engine.variables import Variables
from planner.plan.plan import Plan
from tests.days import tiny_day
from tests.faults.large import large_day


@pytest.fixture
def stopped() -> threading.Event:
    stop = threading.Event()
    stop.set()
    return stop


def test_a_stopped_day_is_shown_as_it_is_known_without_another_model(
    monkeypatch: pytest.MonkeyPatch, stopped: threading.Event
) -> None:
    def made(*_: object, **__: object) -> None:
        raise AssertionError("a model is made")

    monkeypatch.setattr(Variables, "__init__", made)
    day = large_day(20, 2)
    result = plan_day(day, stop=stopped)
    assert result.stopped
    assert result.plan is not None
    assert result.plan.works == result.serial.works if result.serial else False


def test_a_stopped_day_without_a_plan_so_far_has_none(
    monkeypatch: pytest.MonkeyPatch, stopped: threading.Event
) -> None:
    monkeypatch.setattr("planner.engine.serial.careful.checked_serial_plan", lambda *_: None)
    result = plan_day(tiny_day(), stop=stopped)
    assert result.stopped
    assert result.plan is None
    assert not result.is_impossible


def test_no_serial_order_is_sought_past_its_time(stopped: threading.Event) -> None:
    day = tiny_day()
    assert sought_serial_plan(day, build(day)) is not None
    assert sought_serial_plan(day, build(day), until=0.0) is None
    assert sought_serial_plan(day, build(day), stop=stopped) is None


def test_no_day_is_put_together_once_it_is_stopped() -> None:
    day = large_day(8, 2)
    own = {job: first_plan(day.model_copy(update={"jobs": {job: one}})) for job, one in day.jobs.items()}
    plans = {job: plan for job, plan in own.items() if plan is not None}
    asked: list[int] = []

    def is_stopped() -> bool:
        asked.append(1)
        return True

    def in_place(_: Day) -> Plan | None:
        raise AssertionError("a job is planned anew")

    assert Composing(day, plans, in_place).plan() is not None
    assert Composing(day, plans, in_place, is_stopped).plan() is None
    assert asked


def test_no_break_is_looked_for_once_it_is_stopped() -> None:
    day = large_day(20, 2).model_copy(update={"rest": None})
    plan = first_plan(day)
    assert plan is not None
    owed = day.model_copy(update={"rest": Break(length=30, once_over=(plan.home - plan.leaves) // 2, soonest=0)})
    assert with_breaks(owed, plan) is not None
    assert with_breaks(owed, plan, lambda: True) is None


def test_why_there_is_no_plan_is_not_looked_into_past_its_time(stopped: threading.Event) -> None:
    def tried(*_: object) -> bool:
        raise AssertionError("the solver is asked")

    day = tiny_day()
    every = [fact.words for fact in facts(day)]
    for told in (
        conflict_of(day, Budget(seconds=-10.0), is_impossible=tried),
        conflict_of(day, Budget(), stopped, is_impossible=tried),
    ):
        assert list(told[:-2]) == every
        assert "given longer, they may be fewer" in told[-2]


def test_what_is_not_settled_takes_of_the_work_there_is_for_telling_why() -> None:
    """Nothing of a day is settled: with six seconds of work by the solver's count it is not asked about every fact."""
    asked: list[float] = []

    def unsettled(_: object, budget: Budget, __: object) -> None:
        asked.append(budget.seconds)

    day = tiny_day()
    told = conflict_of(day, Budget(seconds=6.0, deterministic=True), is_impossible=unsettled)
    assert sum(asked) <= 6.0 + LATE_SECONDS
    assert 0 < len(asked) < len(list(facts(day)))
    assert "given longer, they may be fewer" in told[-2]
