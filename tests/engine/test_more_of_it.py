"""A customer asks for more when all that draw from the same can are begun: another can is brought, by whoever does it.

The day of `tests.plan.test_sharing`: steps and wall are treated from one can, ten minutes each. By the file ten minutes
of the wall take a can where it has one of its own; fifteen minutes more take two, one of which is there.
"""

from typing import Any

import pytest

from planner.day import Day
from planner.engine import plan_rest
from planner.plan.checker import broken_rules
from planner.plan.progress import More, Noted, Progress
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
