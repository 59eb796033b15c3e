"""On a day under way: from when to when a second hand who comes yet would have the van home in time."""

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass

from planner.day import Day
from planner.engine import plan_rest
from planner.fit.second_hand import STEP, Help, Span, Stretch, goal_of, last_on_grid, priced, used, with_helper
from planner.fit.side_by_side import Done
from planner.plan.measures import latest_finish
from planner.plan.pieces import with_pieces
from planner.plan.plan import Plan
from planner.plan.progress import Progress
from planner.trade.units import show_clock, show_minutes

LEAST_SECONDS = 2.0
"""What a rest with one more hand gets at the least: its first plan and some search."""

TRIES = 8
"""Among so many rests the time is shared."""


def help_from_now(
    day: Day,
    plan: Plan,
    progress: Progress,
    rest: Plan,
    *,
    save: int | None = None,
    step: int = STEP,
    seconds: float = 60.0,
    stop: threading.Event | None = None,
    on_done: Callable[[int, int, Done], None] | None = None,
) -> Help:
    """A short stretch of one extra hand that has the rest of a day home by a goal; no shorter one is ruled out.

    At first the rest is planned with a second hand from the next step of the grid to its end. What that plan uses of
    it is then made shorter, a step at a time from either end, for as long as a rest home in time is found.

    Parameters
    ----------
    day, plan, progress
        The day as its file says, the plan it went by, and what was told of it, as for `plan_rest`.
    rest
        The plan of the rest without help.
    save
        Minutes to be home sooner than that; when it is left out the goal is the latest finish; where the rest fits
        already, an hour sooner, or by half of what is left of it.
    step
        Minutes between the times from and to which help is thought of.
    seconds
        For all of it.
    stop, on_done
        An event that ends it, and who hears how far it is.

    Raises
    ------
    ProgressError
        When the record does not go with the day and the plan.
    """
    if save is None and rest.home <= latest_finish(day):  # an hour sooner may be over already
        save = min(60, (rest.home - progress.at) // 2)
    goal, until = goal_of(day, rest, save), time.monotonic() + seconds
    search = _RestWithHelp(day, plan, progress, goal, step, max(LEAST_SECONDS, seconds / TRIES), stop)
    first, last = (progress.at // step + 1) * step, last_on_grid(day, rest, step)
    best = search.with_help((first, last)) if first < last else None
    told: list[Done] = []
    while best is not None and best.paid > step and time.monotonic() < until and not search.is_stopped:
        told.append(Done(f"{show_minutes(best.paid)} from {show_clock(best.start)}"))
        if on_done is not None:
            on_done(len(told), len(told) + 1, told[-1])
        spans = ((best.start + step, best.end), (best.start, best.end - step))
        shorter = next((found for span in spans if (found := search.with_help(span)) is not None), None)
        if shorter is None:
            break
        best = shorter
    if best is None:
        return Help(goal, 0, None, is_proven=False, step=step)
    return priced(with_pieces(day, progress), rest, best, goal, step=step)


@dataclass(frozen=True)
class _RestWithHelp:
    """One rest of a day, planned with help of one stretch or another."""

    day: Day
    plan: Plan
    progress: Progress
    goal: int
    step: int
    seconds: float
    stop: threading.Event | None

    @property
    def is_stopped(self) -> bool:
        """Whether somebody ended it."""
        return self.stop is not None and self.stop.is_set()

    def with_help(self, span: Span) -> Stretch | None:
        """The part of a stretch that a rest home in time uses, out to the grid; None where none is found."""
        helped = with_helper(self.day, *span).model_copy(update={"finish": self.goal})
        found = plan_rest(helped, self.plan, self.progress, seconds=self.seconds, stop=self.stop).plan
        return None if found is None or found.home > self.goal else used(span, found, self.step)
