"""Breaks against the Working Time Regulations 1998, reg. 12: 20 minutes when more than 6 hours are worked."""

from planner.trade.breaks import break_minutes
from planner.trade.limits import limits


def test_six_hours_need_none_and_a_minute_more_does() -> None:
    assert [break_minutes(m, limits().breaks) for m in (0, 360, 361, 600)] == [0, 0, 20, 20]
