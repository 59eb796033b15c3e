"""The last levels of what is best: fewest paid hours, shaking and carrying shared, fewest set-ups, no dawdling."""

import itertools
from collections.abc import Sequence

from ortools.sat.python import cp_model

from planner.engine.variables import Expr, Variables

MOST_CARRIED = 1_000_000
"""More than anyone carries in a day, in hundredths of an armful."""

PAID_WEIGHT = 10**10
SHAKEN_WEIGHT = 10**9
CARRIED_WEIGHT = 10**4
SET_UP_WEIGHT = 10**5
WAITING_WEIGHT = 10
"""Each outweighs all that there can be of those after it, but for carrying: a set-up is worth ten hundredths of an
armful carried, so that nothing is set up once more only to even out small loads."""

CHANGED_PLACES = 1_000
"""When the rest of a day is planned: minutes of trouble for two stages that change places in the plan before."""


def untidiness(v: Variables) -> Expr:
    """What is made least once minutes, crossings and room are settled.

    Minutes that hands are paid for weigh most, then hands shaken past the action value, then what the hand who carries
    most carries, then set-ups, then the minutes that waits last.
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
    return (
        PAID_WEIGHT * paid_minutes(v, v.model)
        + SHAKEN_WEIGHT * sum(shaken)
        + CARRIED_WEIGHT * most_carried(v)
        + SET_UP_WEIGHT * set_ups
        + WAITING_WEIGHT * sum(waiting)
    )


def swapped(v: Variables, order: Sequence[int]) -> Expr:
    """Neighbours in the order of the plan before that change places."""
    places = []
    for one, other in itertools.pairwise(order):
        swap = v.literal("swapped")
        v.model.add(v.activities[one].start <= v.activities[other].start).only_enforce_if(~swap)
        places.append(swap)
    return CHANGED_PLACES * sum(places)


def paid_minutes(v: Variables, model: cp_model.CpModel) -> Expr:
    """Minutes that hands are paid for: from leaving to home in the van, from first coming to last going otherwise."""
    riders = sum(hand.rides for hand in v.problem.hands)
    paid: list[Expr] = [riders * (v.home - v.leave)]
    for h, hand in enumerate(v.problem.hands):
        if not hand.rides:
            here = [v.attendances[h, n] for n in range(len(v.visits))]
            span = model.new_int_var(0, v.end_of_time, f"hand {h} is paid for")
            for first, last in itertools.product(here, repeat=2):
                model.add(span >= last.leave - first.arrive).only_enforce_if([first.present, last.present])
            paid.append(span)
    return sum(paid)


def most_carried(v: Variables) -> Expr:
    """What the hand who carries most carries, in and out along ways that are walked, in hundredths of an armful."""
    if len(v.problem.hands) < 2 or not any(slot.in_loads or slot.out_loads for slot in v.slots):
        return 0
    most = v.model.new_int_var(0, MOST_CARRIED, "most carried")
    for h in range(len(v.problem.hands)):
        loads = [load for slot in v.slots if slot.hand == h for load in (*slot.in_loads, *slot.out_loads)]
        v.model.add(most >= sum(loads))
    return most
