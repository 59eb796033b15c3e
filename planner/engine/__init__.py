"""Turns a day into a constraint problem, solves it, explains it. The only package that imports OR-Tools.

Read it in this order: ``problem`` (what is to be solved), ``build`` (from a day), ``serial`` (a first plan without a
solver), ``variables`` and ``rules`` (what the solver decides, and what binds it), ``search`` (the levels of what is
best), ``solution`` (back to a plan), ``several_jobs`` (job by job), ``outset`` and ``planning`` (all of it),
``conflict`` (why there is none).
"""

import math
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace

from planner.day import Day
from planner.engine.asked import Answer, Attending
from planner.engine.build import build
from planner.engine.order_asked import OrderAsked
from planner.engine.outset import FreshDay
from planner.engine.planning import Planning
from planner.engine.ranking import LEAST_SECONDS, Budget
from planner.engine.result import Result, saving
from planner.engine.several_jobs.first_plan import first_plan_of
from planner.plan.checker import broken_rules
from planner.plan.plan import Plan
from planner.plan.progress import Progress

__all__ = [
    "Answer", "Attending", "Result", "first_plan", "first_rest", "fits_in_time", "load_solver", "plan_day", "plan_near",
    "plan_rest", "saving",
]  # fmt: skip


def first_plan(day: Day) -> Plan | None:
    """One thing after another, checked, at once; None where no plan is found in a moment, not even by the solver."""
    problem = build(day)
    return first_plan_of(day, problem, OrderAsked(problem))


def first_rest(day: Day, plan: Plan, progress: Progress, *, seconds: float = 2.0) -> Result:
    """The rest of a day under way with the choices of its plan as far as they go, checked, and no search for better.

    Parameters
    ----------
    day, plan, progress
        As for `plan_rest`.
    seconds : float
        How long is looked at the most.

    Raises
    ------
    ProgressError
        When the record does not go with the day and the plan.
    """
    from planner.engine.underway.replanning import Underway

    outset = Underway(day, plan, progress.as_told(), Budget(seconds, 1, 0, False))
    known = outset.known()
    holds = known and not broken_rules(outset.day, known[0], since=progress.at)
    return Result(
        known[0] if holds else None, urgent=outset.urgent, day=outset.day, progress=outset.held_to
    )


def load_solver() -> None:
    """Load the solver ahead of the first question: it takes a second."""
    from planner.engine import search as search


def plan_day(
    day: Day,
    *,
    seconds: float = 20.0,
    workers: int = 2,
    seed: int = 0,
    deterministic: bool = False,
    previous: Plan | None = None,
    on_better: Callable[[Plan], None] | None = None,
    stop: threading.Event | None = None,
    most_crossings: int | None = None,
) -> Result:
    """Plan a day as well as the time allows; every plan given out has passed the checker.

    Parameters
    ----------
    day : Day
        A validated day.
    seconds : float
        The budget; the search ends sooner when the plan is proven best. With ``deterministic`` it is the solver's own
        measure of work, so that equal calls give equal plans on any machine.
    workers, seed : int
        For the solver.
    previous : Plan, optional
        A plan before: a warm start, and the order to stay near where it costs nothing.
    on_better : callable, optional
        Called with each better plan as it is found, from a thread of the solver.
    stop : threading.Event, optional
        Set it to end the search; the best so far is kept.
    most_crossings : int, optional
        At most so many restricted crossings.

    Returns
    -------
    Result
        With the plan and its proof, or with the facts that cannot hold together.
    """
    began = time.monotonic()
    outset = FreshDay(day, previous, math.inf if deterministic else began + seconds, stop)
    if not deterministic:  # a serial order that had to be sought has taken its part of the time
        seconds = max(LEAST_SECONDS, seconds - (time.monotonic() - began))
    budget = Budget(seconds, workers, seed, deterministic)
    return Planning(outset, budget, on_better=on_better, stop=stop, most_crossings=most_crossings).run()


def fits_in_time(
    day: Day,
    *,
    seconds: float,
    workers: int = 2,
    previous: Plan | None = None,
    stop: threading.Event | None = None,
    attending: Attending | None = None,
    spares: Sequence[int] = (1, 4),
) -> tuple[Answer, Plan | None]:
    """Whether some plan of a day is home by its latest finish.

    Parameters
    ----------
    day
        The day.
    seconds, workers
        How long it may take, and on how many threads.
    previous
        A plan that holds for the day, or nearly so: from where the search begins.
    stop
        Set it to end.
    attending
        How long one of the hands may be there.
    spares
        Restricted crossings beyond those that the loads need, of which the models of few crossings have room.

    Returns
    -------
    tuple
        "yes" with a checked plan, "no" where it is proven that there is none, or "unknown".
    """
    from planner.engine.fitting import Fitting

    return Fitting(day, Budget(seconds, workers), previous, stop, attending, spares).answer()


def plan_near(day: Day, before: Plan, *, seconds: float, workers: int = 1) -> Plan | None:
    """A changed day planned from the plan it had before: soon, never worse than that where it holds, and not proven.

    Parameters
    ----------
    day : Day
        The day as it is now.
    before : Plan
        The plan before the change; it need not hold any more.
    seconds, workers : float, int
        How long it may take. A day of several jobs, or a large one, is planned as any other, on so many threads.
    """
    if len(day.jobs) > 1 or build(day).is_large:
        return plan_day(day, seconds=seconds, workers=workers, previous=before).plan
    from planner.engine.near import Near

    return Near(day, before, Budget(seconds, 1)).plan()


def plan_rest(
    day: Day,
    plan: Plan,
    progress: Progress,
    *,
    seconds: float = 10.0,
    workers: int = 2,
    seed: int = 0,
    deterministic: bool = False,
    on_better: Callable[[Plan], None] | None = None,
    stop: threading.Event | None = None,
) -> Result:
    """Plan the rest of a day under way.

    The past is fixed as ``progress`` notes it, waits that run keep their clocks, kit and hands are where the record has
    them; what is still to come is planned again and stays near the old order unless time is gained.

    Parameters
    ----------
    day, plan : Day, Plan
        The day, and the plan it went by.
    progress : Progress
        What has happened by now.

    Returns
    -------
    Result
        Its plan is the whole day, with the real times of what has happened; ``urgent`` is to be said first.

    Raises
    ------
    ValueError
        When the record names what the plan does not have, or times that are still to come.
    """
    from planner.engine.underway.replanning import Underway

    budget, began = Budget(seconds, workers, seed, deterministic), time.monotonic()
    outset = Underway(day, plan, progress.as_told(), budget)
    result = Planning(outset, budget, on_better=on_better, stop=stop, began=began).run()
    assumed = outset.past.assumed
    # Where there is no plan at all, it is not a promise that stands in the way: nobody is to be rung for it.
    urgent = outset.urgent_without_plan if result.plan is None else outset.urgent
    return replace(result, urgent=urgent, assumed=assumed, day=outset.day, progress=outset.held_to)
