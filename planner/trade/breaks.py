"""Breaks: how long a break the law asks of a working day."""

from __future__ import annotations

from planner.trade.limits import BreakLimits


def break_minutes(worked_minutes: float, limits: BreakLimits) -> float:
    """The least break in minutes for so long a day; 0 unless more than the figure is worked, not at it."""
    return limits.least if worked_minutes > limits.over else 0.0
