"""What must hold of every past that a record makes, whatever was told and however late: asked by tests and the season.

``told_late`` are records of a random day: slipped, in odd order, given up, not begun, gone home, half of it never told.
"""

import random
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from typing import NamedTuple

from planner.day import Day
from planner.plan.legs import legs
from planner.plan.past import NOT_YET
from planner.plan.plan import Crossing, Plan, Work
from planner.plan.progress import Noted, Progress


class Spell(NamedTuple):
    """What a hand did, where (None: anywhere), and from when to when."""

    start: int
    end: int
    words: str
    ground: tuple[str, str] | None = None


def faults_of_past(day: Day, plan: Plan, progress: Progress, *, lets_be: bool = True) -> list[str]:
    """What cannot have been in the happened part of a plan, by what was told; empty where all of it can.

    Two stages of a hand that were told so that no time is left for the ways and drives between them, as the plan has it
    (over at 08:45, the next begun at 08:45, out of the house and in again in between), leave nothing that could be
    true: told times hold, and where this hand was between the start of the one and the start of the other is let be.

    Parameters
    ----------
    day
        The day as it went.
    plan
        The past of its plan, in which what is under way ends `NOT_YET`.
    progress
        What was told.
    lets_be
        Whether what was told without time for the ways is let be; else it is among the faults.
    """
    let_be = {hand: _no_way(day, plan, hand, progress) if lets_be else [] for hand in day.hands}
    found = [words for hand in day.hands for words in _of_hand(day, plan, hand, let_be[hand])]
    off = {(n.job, n.stage) for n in progress.noted if n.start is None} & set(progress.dropped)  # nobody took it off
    for w in plan.works:
        if w.end <= w.start and (w.job, w.stage) not in off:
            found.append(f"{w.job}.{w.stage} took no time at {w.start}")
    for s in plan.stays:
        if s.carried_in > s.carried_out:
            found.append(f"{s.kit} {s.number} went at {s.carried_out}, and came at {s.carried_in}")
    there = {s.key for s in plan.stays}
    for c in plan.chores:
        if c.kit is not None and (c.job, c.ground, c.kit, c.stay or 0) not in there:
            found.append(f"{c.what} of {c.kit} {c.stay}, which was never there")
    return found + list(_of_kit(day, plan))


def _of_kit(day: Day, plan: Plan) -> Iterator[str]:
    """Kit that was packed down and never set up, or while a stage was done with it."""
    for c in (c for c in plan.chores if c.what == "pack down" and c.kit is not None):
        place = (c.job, c.ground, c.kit, c.stay)
        own = [x for x in plan.chores if (x.job, x.ground, x.kit, x.stay) == place and x.what == "set up"]
        if day.kit[c.kit].set_up and not own:
            yield f"{c.kit} {c.stay} was packed down at {c.start}, and never set up"
        for w in plan.works:
            is_with_it = (c.job, c.ground) == (w.job, day.jobs[w.job].ground_of(w.stage)) and (c.kit, c.stay) in w.stays
            if is_with_it and c.start < w.end:
                yield f"{c.kit} {c.stay} was packed down at {c.start}, while {w.stage} was done with it until {w.end}"


def _of_hand(day: Day, plan: Plan, hand: str, no_way: list[tuple[int, int]]) -> Iterator[str]:
    def is_let_be(start: int, end: int) -> bool:
        return any(first <= start and end <= last for first, last in no_way)

    for one, two in combinations(sorted(_spells(day, plan, hand)), 2):
        if two.start < one.end and one.start < two.end and not is_let_be(two.start, min(one.end, two.end)):
            yield f"{hand} has {one.words} {one.start}-{one.end} and {two.words} {two.start}-{two.end} at once"
    crossings = [c for c in plan.crossings if c.hand == hand]
    for c, other in combinations(sorted(crossings, key=lambda c: c.start), 2):
        if other.start < c.end:
            yield f"{hand} is in two crossings at once: {c.start}-{c.end} and {other.start}-{other.end}"
    for spell in _spells(day, plan, hand):
        if spell.ground is None or day.jobs[spell.ground[0]].grounds[spell.ground[1]].way_in.is_open:
            continue
        inside = [_inside(day, c) for c in crossings if (c.job, c.ground) == spell.ground]
        is_there = any(start <= spell.start and spell.end <= end for start, end in inside)
        if not is_there and not is_let_be(spell.start, spell.end):
            yield f"{hand} is not on {spell.ground} for {spell.words} {spell.start}-{spell.end}: {inside}"


def _no_way(day: Day, plan: Plan, hand: str, progress: Progress) -> list[tuple[int, int]]:
    """The spans from the start of a stage to that of a later one, told so that the ways in between have no time.

    The later one is this hand's, or that of another who rode in the van to it with them.
    """
    told = [(w, n) for w in plan.works if (n := progress.of(w)) is not None]
    told = sorted(told, key=lambda x: (x[0].start, x[0].end))
    found = []
    for (one, first), (other, second) in combinations(told, 2):
        by = second.end if second.start is None else second.start
        if hand not in one.hands or first.end is None or by is None:
            continue
        drives = [d for d in plan.drives if one.start < d.start and d.end <= other.start and one.job != other.job]
        driven = sum(d.end - d.start for d in drives)
        if hand in other.hands:
            walked = max(_walked(day, plan, hand, one.start, other.start), _way_over(day, one, other))
        elif drives and not any(day.hands[h].own_transport for h in (hand, *other.hands)):
            after = [_walked(day, plan, h, drives[-1].end, other.start) for h in other.hands]
            walked = _walked(day, plan, hand, one.start, drives[0].start) + max(after)
        else:
            continue
        if by - first.end < walked + driven:
            found.append((one.start, other.start))
    return found


def _walked(day: Day, plan: Plan, hand: str, since: int, until: int) -> int:
    """The minutes that a hand walks in and out between two minutes, by what the plan has."""
    ways = [leg for c in plan.crossings if c.hand == hand for leg in legs(day, c)]
    return sum(end - start for start, end in ways if since < start and end <= until)


def _way_over(day: Day, one: Work, other: Work) -> int:
    """So many minutes it takes at the least from where one stage of a job is done to where another is."""
    places = {day.jobs[w.job].ground_of(w.stage) for w in (one, other)}
    if one.job != other.job or len(places) < 2:
        return 0
    ways = [day.jobs[one.job].grounds[ground].way_in for ground in places]
    return sum(way.minutes for way in ways if not way.is_open)


def _inside(day: Day, c: Crossing) -> tuple[int, int]:
    into, out = legs(day, c)
    return into[1], NOT_YET if c.end == NOT_YET else out[0]


def _spells(day: Day, plan: Plan, hand: str) -> Iterator[Spell]:
    """All that a hand did, walks and drives too."""
    for w in plan.works:
        if hand in w.hands:
            yield Spell(w.start, w.end, w.stage, (w.job, day.jobs[w.job].ground_of(w.stage)))
    for c in plan.chores:
        if hand in c.hands:
            ground = (c.job, c.ground) if c.kit is not None else None
            yield Spell(c.start, c.end, f"{c.what} {c.kit}", ground)
    for x in plan.crossings:
        if x.hand == hand:
            into, out = legs(day, x)
            yield Spell(*into, "the way in")
            if x.end < NOT_YET:
                yield Spell(*out, "the way out")
    for r in plan.rests:
        if r.hand == hand:
            yield Spell(r.start, r.end, "a break")
    if not day.hands[hand].own_transport:
        for drive in plan.drives:
            yield Spell(drive.start, drive.end, f"the drive to {drive.to_place}")


SLIPS = (0, 5, 15, 40, -4)
"""So many minutes later than planned all of a day may be told, or sooner."""


def told_late(plan: Plan, rng: random.Random) -> Progress:
    """A record of a day at a random minute: each stage that was planned before it is told, given up, or neither."""
    mode, slip = rng.choice(("late", "mixed", "sparse", "mixed")), rng.choice(SLIPS)
    at = rng.randint(plan.leaves, plan.home + 60)
    told = Progress(at)
    for work in (w for w in plan.works if w.start + slip < at):
        chance, start, end = rng.random(), max(0, work.start + slip), work.end + slip
        both = Noted(work.job, work.stage, start, end if end <= at else None)
        one = Noted(work.job, work.stage, None, end) if end <= at else both
        if mode == "mixed" and chance < 0.3:
            is_given_up = chance < 0.15
            told = told.without(*_of(work)) if is_given_up else told.with_not_yet(*_of(work))
        elif chance < {"late": 0.5, "mixed": 0.6, "sparse": 0.25}[mode]:
            told = told.with_note(one if mode == "sparse" else both)
    hands = sorted({h for w in plan.works for h in w.hands})
    if len(hands) > 1 and rng.random() < 0.15:
        told = replace(told, gone={rng.choice(hands): at})
    return replace(told, at=at)


def _of(work: Work) -> tuple[str, str]:
    return work.job, work.stage
