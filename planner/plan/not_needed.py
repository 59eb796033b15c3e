"""Hands who are not needed any more before the van leaves for home: they could go, or not come at all."""

from planner.day import Day
from planner.day.names import Names
from planner.plan.plan import Plan
from planner.trade.units import show_clock

WORTH_SAYING = 20
"""Minutes with nothing more to do, before the van leaves for home, from which on it is said (common practice, no
source)."""


def not_needed_from(day: Day, plan: Plan) -> dict[str, int]:
    """From which minute on each hand who rides has nothing more to do; those needed to the end are left out.

    A hand who does nothing all day is not needed from the minute at which the van leaves. One with their own transport
    goes when their work is done, so nothing need be said of them. A break is no work.
    """
    if len(day.hands) < 2 or not plan.visits:
        return {}
    last = max(visit.depart for visit in plan.visits)
    found = {}
    for key, hand in day.hands.items():
        if hand.own_transport:
            continue
        ends = [work.end for work in plan.works if key in work.hands]
        ends += [chore.end for chore in plan.chores if key in chore.hands]
        ends += [crossing.end for crossing in plan.crossings if crossing.hand == key]
        done = max(ends, default=plan.leaves)
        if last - done >= WORTH_SAYING:
            found[key] = done
    return found


def not_needed_words(day: Day, plan: Plan) -> list[str]:
    """A sentence for each hand who is not needed to the end: 'Rowan free from 10:40.'."""
    names = Names(day)
    return [
        f"{names.hand(key)} not needed all day."
        if minute == plan.leaves
        else f"{names.hand(key)} free from {show_clock(minute)}."
        for key, minute in not_needed_from(day, plan).items()
    ]
