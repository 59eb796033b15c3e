"""A customer asks for more when all that draw from the same can are begun: another can is brought, by whoever does it.

The day of `tests.plan.test_sharing`: steps and wall are treated from one can, ten minutes each. By the file ten minutes
of the wall take a can where it has one of its own; fifteen minutes more take two, one of which is there.
"""

from typing import Any

import pytest

from planner.day import Day
from planner.engine import plan_rest
from planner.plan.checker import broken_rules
from planner.plan.doubts import asked_of
from planner.plan.progress import More, Noted, Progress
from planner.plan.went import day_as_it_went
from tests.plan import worked
from tests.plan.test_sharing import PLAN, tables

OVER = tuple(Noted(work.job, work.stage, work.start, work.end) for work in PLAN.works)


@pytest.mark.parametrize("other", [{}, {"dry": {"minutes": 30}}], ids=["one way to do it", "another way without"])
def test_more_of_what_stages_share_is_brought_when_all_are_begun(other: dict[str, Any]) -> None:
    told = tables()
    told["jobs"]["elm"]["stages"]["treat-wall"]["methods"] |= other
    day = Day.model_validate(told)
    assert broken_rules(day, PLAN) == []
    progress = Progress(529, OVER, more=(More("elm", "treat-wall", 15),), said=529)
    result = plan_rest(day, PLAN, progress, seconds=20)
    assert result.refused == ()
    assert result.plan is not None
    assert result.day is not None
    assert broken_rules(result.day, result.plan, since=529) == []
    cans = [x.count for c in result.plan.crossings if c.start >= 529 for x in c.carried_in if x.what == "can"]
    assert cans == [1]
    assert result.plan.works[-1].end - result.plan.works[-1].start == 15


def test_what_was_begun_with_too_little_is_over() -> None:
    """The steps are under way when more of the wall is asked for: what they began with is not held against the rest."""
    day = Day.model_validate(tables(0.6, 0.6))
    assert any("2 in all, and 1 are there at 08:18" in x.text for x in broken_rules(day, PLAN, since=498))
    assert not any("at 08:18" in x.text for x in broken_rules(day, PLAN, since=499))


@pytest.mark.parametrize("at", [512, 558], ids=["while it dwells", "when it is off"])
def test_more_of_a_treatment_is_taken_off_by_itself(at: int) -> None:
    """The wall is treated until 08:28 (508), and is rinsed 30 to 45 minutes after that. Six minutes more, half as much
    again, dwell as long and take half as long to rinse, 8 minutes; what is on comes off in its own time meanwhile."""
    day, plan = worked.tiny()
    told = Progress(at, tuple(Noted(w.job, w.stage, w.start, w.end) for w in plan.works if w.end <= at), said=at)
    told = told.with_more(More("elm", "treat", 6))
    result = plan_rest(day, plan, told, seconds=20)
    assert result.refused == ()
    assert result.plan is not None
    assert result.progress is not None
    assert result.progress.over == ()
    works = {w.stage: w for w in result.plan.works}
    assert 508 + 30 <= works["rinse"].start <= 508 + 45
    more, off = works["treat-more"], works["rinse-later"]
    assert more.end + 30 <= off.start <= more.end + 45
    assert off.end - off.start == 8


def test_more_of_a_treatment_that_is_given_up_is_not_taken_off() -> None:
    day, plan = worked.tiny()
    told = Progress(512, (Noted("elm", "treat", 496, 508),), said=512).with_more(More("elm", "treat", 6))
    told = told.without("elm", "treat-more")
    assert asked_of(day, plan, told) == ()
    went, _ = day_as_it_went(day, plan, told)
    assert set(went.jobs["elm"].stages) == {"treat", "rinse", "sweep"}
