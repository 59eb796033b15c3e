"""Hands who are not needed: before the van leaves, at all, for an hour and longer, or for no more than carrying."""

from itertools import pairwise

from planner.day import Day
from planner.day.names import Names
from planner.plan.coming_and_going import coming_and_going
from planner.plan.legs import legs
from planner.plan.plan import Plan
from planner.trade.units import show_clock, show_minutes

WORTH_SAYING = 20
"""Minutes with nothing more to do, before the van leaves for home, from which on it is said (common practice, no
source)."""

IDLE_WORTH_SAYING = 60
"""Minutes in one stretch with nothing to do, between two things, from which on it is said: long enough to come later,
or do something elsewhere (common practice, no source)."""


def not_needed_from(day: Day, plan: Plan) -> dict[str, int]:
    """From which minute on each hand who rides has nothing more to do; those needed to the end are left out.

    A hand who does nothing all day is not needed from the minute at which the van leaves. One with their own transport
    goes when their work is done, so nothing need be said of when; but if there is none, they need not come. A break is
    no work.
    """
    if len(day.hands) < 2 or not plan.visits:
        return {}
    last = max(visit.depart for visit in plan.visits)
    found = {}
    for key, hand in day.hands.items():
        if hand.own_transport:
            if all(there.hand != key for there in plan.attendances):
                found[key] = plan.leaves
            continue
        ends = [work.end for work in plan.works if key in work.hands]
        ends += [chore.end for chore in plan.chores if key in chore.hands]
        ends += [crossing.end for crossing in plan.crossings if crossing.hand == key]
        done = max(ends, default=plan.leaves)
        if last - done >= WORTH_SAYING:
            found[key] = done
    return found


def not_needed_words(day: Day, plan: Plan) -> list[str]:
    """What is worth saying of hands who are not needed, a sentence each: 'Rowan free from 10:40.'."""
    names, free_from = Names(day), not_needed_from(day, plan)
    free = [
        f"{names.hand(key)} not needed all day."
        if minute == plan.leaves
        else f"{names.hand(key)} free from {show_clock(minute)}."
        for key, minute in free_from.items()
    ]
    only = [
        f"{names.hand(key)} comes to {names.job(job)} for {show_minutes(minutes)} only to carry, set up and pack down."
        for (key, job), minutes in _comes_only_to_carry(day, plan).items()
    ]
    idle = [
        f"{names.hand(key)} has nothing to do from {show_clock(a)} to {show_clock(b)} ({show_minutes(b - a)})."
        for key in day.hands
        if free_from.get(key) != plan.leaves
        for a, b in idle_for_long(day, plan, key)
    ]
    return [*free, *only, *idle]


def idle_for_long(day: Day, plan: Plan, key: str) -> list[tuple[int, int]]:
    """Stretches, in minutes of the day, of an hour and longer for which one of several hands waits between two things.

    What is past on a day under way is not told any more.
    """
    if len(day.hands) < 2:
        return []
    since = plan.since or 0
    busy = sorted(_busy(day, plan, key))
    reached, found = 0, []
    for (_, end), (start, _) in pairwise(busy):
        reached = max(reached, end, since)
        if start - reached >= IDLE_WORTH_SAYING and _is_there(day, plan, key, reached, start):
            found.append((reached, start))
    return found


def _busy(day: Day, plan: Plan, key: str) -> list[tuple[int, int]]:
    """All that a hand does, rides and rests, from and to."""
    spans = [(work.start, work.end) for work in plan.works if key in work.hands]
    spans += [(chore.start, chore.end) for chore in plan.chores if key in chore.hands]
    spans += [leg for crossing in plan.crossings if crossing.hand == key for leg in legs(day, crossing)]
    spans += [(rest.start, rest.end) for rest in plan.rests if rest.hand == key]
    if not day.hands[key].own_transport:
        spans += [(drive.start, drive.end) for drive in plan.drives]
        spans += [(start, end) for visit in plan.visits for _, start, end in coming_and_going(day, plan, visit)]
    return spans


def _is_there(day: Day, plan: Plan, key: str, start: int, end: int) -> bool:
    """Whether a hand is out all the time: who rides always is, others while they attend."""
    return not day.hands[key].own_transport or any(
        there.hand == key and there.arrive <= start and end <= there.leave for there in plan.attendances
    )


def _comes_only_to_carry(day: Day, plan: Plan) -> dict[tuple[str, str], int]:
    """Who comes to which job by their own transport and does no stage there, and for how many minutes.

    Nobody on a day under way.
    """
    if plan.since is not None or len(day.hands) < 2:
        return {}
    there: dict[tuple[str, str], int] = {}
    for one in plan.attendances:
        if all(one.hand not in work.hands or work.job != one.job for work in plan.works):
            there[one.hand, one.job] = there.get((one.hand, one.job), 0) + one.leave - one.arrive
    return there
