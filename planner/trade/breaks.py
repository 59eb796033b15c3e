"""Breaks: whether one is due, and when it must have begun."""

from __future__ import annotations

from planner.trade.limits import BreakLimits


def is_break_due(worked_minutes: float, limits: BreakLimits) -> bool:
    """Whether a hand who works so long must have a break: when that is more than the figure, not at it."""
    return worked_minutes > limits.over


def break_minutes(worked_minutes: float, limits: BreakLimits) -> float:
    """The least break in minutes for so long a day; 0 when none is due."""
    return limits.least if is_break_due(worked_minutes, limits) else 0.0


def latest_break(start: float, limits: BreakLimits) -> float:
    """The minute of the day by which a due break should have begun, for a hand who starts work at `start`.

    The law asks for a break within the day; that nobody works longer than its figure without one is how it is
    commonly read (common practice, no source).
    """
    return start + limits.over
