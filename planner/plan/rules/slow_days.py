"""Rule 10 on a day that says how sure it is to be: what must not come too late is kept when stages are slow."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.day import Wait
from planner.plan.plan import Work
from planner.plan.rules.day_and_plan import Breaches, BrokenRule, DayAndPlan, hand_words, job_words
from planner.plan.rules.times import shut_to
from planner.trade.units import show_clock, show_minutes


@dataclass(frozen=True)
class _Deadline:
    """Something at minute ``at`` that may come no later than ``last``, and counts what is slow from ``since`` on."""

    words: str
    job: str
    at: int
    last: int
    hands: Iterable[str]
    since: int = 0


def room_is_kept(r: DayAndPlan) -> Breaches:
    """Rule 10: before each promise, window, most of a wait and closing hour there is room for one hand's slow stages.

    What a stage takes longer, but for the slowest days, is summed over all that one hand does before the moment (of a
    wait: since it began, or since its re-wet). Where a re-wet may yet be done there is room; a day under way asks none.
    """
    if r.day.sure is None or r.plan.since is not None:
        return
    for deadline in (*_visits(r), *_waits(r), *_closing(r)):
        for hand in deadline.hands:
            done = [w for w in r.plan.works if hand in w.hands and deadline.since <= w.start and w.end <= deadline.at]
            needed, there = sum(_slow(r, work, r.day.sure) for work in done), deadline.last - deadline.at
            if needed > there:
                room = f"{deadline.words} at {show_clock(deadline.at)} has {show_minutes(there)} of room"
                slow = f"slow stages of {hand_words(r.day, hand)} would take {show_minutes(needed)} longer"
                yield BrokenRule(10, f"{room}, and {slow}", deadline.job, deadline.at, deadline.at)


def _slow(r: DayAndPlan, work: Work, sure: float) -> int:
    """Minutes by which a work takes longer than planned where it takes as long as in so many days."""
    slowest = r.day.jobs[work.job].minutes(work.stage, work.method).within(sure)
    return max(0, math.ceil(slowest - 1e-6) - (work.end - work.start))


def _visits(r: DayAndPlan) -> Iterator[_Deadline]:
    """The first arrival to work in its window, and the van gone when it was promised; anyone may keep it back."""
    for key, job in r.day.jobs.items():
        visits = [v for v in r.visits if v.job == key]
        worked = {w.visit for w in r.plan.works if w.job == key}
        first = next((v.arrive for v in visits if v.number in worked), None)
        if job.arrive is not None and first is not None:
            yield _Deadline(f"arrival at {job_words(r.day, key)}", key, first, job.arrive[1], r.day.hands)
        if job.done_by is not None and visits:
            yield _Deadline(f"leaving {job_words(r.day, key)}", key, visits[-1].depart, job.done_by, r.day.hands)


def _waits(r: DayAndPlan) -> Iterator[_Deadline]:
    """What ends each wait that has a most: begun by those who do it."""
    for key, job in r.day.jobs.items():
        for wait in job.waits:
            first, second = r.work(key, wait.after), None if wait.before is None else r.work(key, wait.before)
            if wait.extended_by is not None:  # counted from the re-wet; until there is one, that is the room
                first = None if wait.by_hour else r.work(key, wait.extended_by)
            if first is not None and second is not None:
                for since, at, last in _patches(wait, first, second):
                    yield _Deadline(f"the end of a wait, {r.words(second)},", key, at, last, second.hands, since)


def _patches(wait: Wait, first: Work, second: Work) -> Iterator[tuple[int, int, int]]:
    """From when, until when, and when at the latest a patch waits; where no order is said, the stages as wholes."""
    if wait.order is None:
        most, ways = wait.bounds(first.end)[1], [(first.end, second.start)]
    else:
        most = wait.bounds_while(first.start, first.end)[1]
        ways = [(first.start, second.end)]
        if wait.order == "same":
            ways = [(first.start, second.start), (first.end, second.end)]
    if most is not None:
        yield from ((since, at, since + most) for since, at in ways)


def _closing(r: DayAndPlan) -> Iterator[_Deadline]:
    """Each stage that is done before it is shut out, by dark, weather, quiet hours or its own latest time."""
    for work in r.plan.works:
        for start, _, why in shut_to(r, work):
            if work.end <= start:
                yield _Deadline(f"{r.words(work)} ({why})", work.job, work.end, start, work.hands)
