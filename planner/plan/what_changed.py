"""What is another way in a plan of the rest than in the plan before, in one sentence."""

from itertools import pairwise

from planner.day import Day
from planner.day.names import Names
from planner.plan.plan import Plan, Work
from planner.trade.units import show_clock, show_minutes

MOVED_FROM = 5
"""A stage that starts at least so many minutes sooner or later has moved."""


def what_changed(day: Day, before: Plan, after: Plan, now: int) -> str:
    """The one sentence: when the van is home, what comes at another place in the order, what is out, what moved.

    Parameters
    ----------
    day
        The day as it went, of which ``after`` is a plan.
    before, after
        The plan that the day went by, and the one for what is left.
    now
        The minute from which it was planned again.
    """
    names, later = Names(day), after.home - before.home
    parts = [f"home at {show_clock(after.home)}" + (f", {_shift(later)}" if later else ", as before")]
    left = [w for w in sorted(after.works, key=lambda w: w.start) if w.start >= now]
    parts += [f"'{names.stage(*x)}' now before '{names.stage(*y)}'" for x, y in _swapped(before, left)][:2]
    moved = [(w, w.start - old.start) for w in left if (old := before.work(w.job, w.stage)) is not None]
    moved = [(w, by) for w, by in moved if abs(by) >= MOVED_FROM and by != later]
    if moved:
        work, by = moved[0]
        more = f" and {len(moved) - 1} more" if len(moved) > 1 else ""
        parts.append(f"'{names.stage(work.job, work.stage)}' {_shift(by)}{more}")
    if len(parts) == 1:
        parts.append("in the order as it was")
    return f"Planned again: {'; '.join(parts)}."


def _shift(by: int) -> str:
    return f"{show_minutes(abs(by))} {'later' if by > 0 else 'sooner'}"


def _swapped(before: Plan, left: list[Work]) -> list[tuple[tuple[str, str], tuple[str, str]]]:
    """Stages next to each other that were the other way round."""
    found = []
    for one, other in pairwise(left):
        first, second = before.work(one.job, one.stage), before.work(other.job, other.stage)
        if first is not None and second is not None and first.start > second.start:
            found.append(((one.job, one.stage), (other.job, other.stage)))
    return found
