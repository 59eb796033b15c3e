"""The last levels of what is best: fewest set-ups, shortest waiting, nearest to the order before, no dawdling."""

import itertools
from collections.abc import Sequence

from planner.engine.variables import Expr, Variables

SHAKEN_WEIGHT = 1_000_000
SET_UP_WEIGHT = 10_000
WAITING_WEIGHT = 10


def untidiness(v: Variables, order: Sequence[int]) -> Expr:
    """What is made least once minutes and crossings are settled.

    Hands shaken past the action value weigh most, then set-ups, then the minutes that waits last, then neighbours in
    ``order`` (activities as they followed each other in the plan before) that change places.
    """
    shaken = []
    if v.problem.shake_action is not None and len(v.problem.hands) > 1:
        for taken in v.shaken.values():
            over = v.literal("shaken past the action value")
            v.model.add(taken <= v.problem.shake_action).only_enforce_if(~over)
            shaken.append(over)
    set_ups = sum(s.present for s in v.stays if s.set_up is not None)
    waiting = []
    for one, other in sorted({(lag.first, lag.second) for lag in v.problem.lags if lag.binds}):
        span = v.model.new_int_var(0, v.end_of_time, "span")
        v.model.add(span >= v.activities[other].start - v.activities[one].end)
        waiting.append(span)
    swapped = []
    for one, other in itertools.pairwise(order):
        swap = v.literal("swapped")
        v.model.add(v.activities[one].start <= v.activities[other].start).only_enforce_if(~swap)
        swapped.append(swap)
    return SHAKEN_WEIGHT * sum(shaken) + SET_UP_WEIGHT * set_ups + WAITING_WEIGHT * sum(waiting) + sum(swapped)


def dawdling(v: Variables) -> Expr:
    """What is made least last, with every choice fixed: late starts, long crossings, late breaks left alone."""
    early = sum(t.start for t in v.activities) + sum(s.length for s in v.slots)
    chores = [t for s in v.stays for t in (s.set_up, s.pack_down) if t is not None]
    return 2 * early + sum(t.start for t in chores)
