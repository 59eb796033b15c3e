"""Breaks against the Working Time Regulations 1998, reg. 12: 20 minutes when more than 6 hours are worked."""

from planner.trade.breaks import break_minutes, is_break_due, latest_break
from planner.trade.limits import limits

BREAKS = limits().breaks


def test_six_hours_need_none_and_a_minute_more_does() -> None:
    assert not is_break_due(6 * 60, BREAKS)
    assert is_break_due(6 * 60 + 1, BREAKS)
    assert [break_minutes(m, BREAKS) for m in (0, 360, 361, 600)] == [0, 0, 20, 20]


def test_nobody_works_longer_than_six_hours_without_one() -> None:
    assert latest_break(450, BREAKS) == 450 + 6 * 60
