"""The program that compares plans of one day sees two plans for what they are."""

import pytest

from planner.day import Day
from planner.engine import plan_day, search
from tests import one_plan
from tests.days import tiny_day
from tests.engine.told_otherwise import named


def test_a_day_is_planned_in_every_way_and_is_one_plan() -> None:
    found = one_plan.seen("tiny", named(tiny_day()), 60)
    assert len(found.plans) == len(one_plan.TRIED)
    assert not found.differs
    assert search.last_word is one_plan.search.last_word


def test_two_plans_are_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the last word is left out, some day shows what its threads came upon first; here it is made to."""

    def other(day: Day, **words: object) -> object:
        result = plan_day(day, seconds=60, workers=1)
        assert result.plan is not None
        return result if words["seed"] == 0 else type(result)(plan_day(later(day), seconds=60, workers=1).plan)

    def later(day: Day) -> Day:
        return day.model_copy(update={"start": day.start + 1})

    monkeypatch.setattr(one_plan, "plan_day", other)
    assert one_plan.seen("tiny", named(tiny_day()), 60).differs
