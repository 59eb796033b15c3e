"""In which turn a hand did what was not done in the order of the plan, so that nobody is in two places in any past.

What only later stages needed (`Happening.passed`), and happened, came either before what passed it, as planned, or
after it. It came first where there was time for it; else after, where it fits there; else first all the same, and what
was not noted began that much sooner.
"""

import heapq
from collections.abc import Iterable, Iterator
from itertools import combinations

from planner.plan.happening import NOT_YET, Happening
from planner.plan.plan import Chore, Crossing, Drive, Work
from planner.plan.progress import Progress


def take_turns(duties: list[Happening], progress: Progress) -> None:
    """Give what has happened times by which each hand did one thing after the other, as far as the notes let it."""
    as_given = {id(d): (d.start, d.end) for d in duties}
    groups = list(_groups(duties))
    late = [g for g in groups if not g.is_first()]
    while True:
        for duty in duties:
            duty.start, duty.end = as_given[id(duty)]
        links = _links(duties, groups, late)
        ordered, amiss = _in_order(duties, links)
        if not amiss:
            soonest = _soonest(ordered, links, progress)
            _push_on(ordered, links, soonest, progress)
            _bring_back(ordered, links, soonest)
            amiss = set(_amiss(ordered, links))
        at_fault = [g for g in late if any({id(d) for d in pair} <= amiss for pair in g.links(late=True))]
        at_fault = at_fault or [g for g in late if any(id(d) in amiss for d in (*g.passed, *g.by))]
        if not at_fault and not (amiss and late):
            _hurry(ordered, links)
            return
        late.remove((at_fault or late)[0])


class _Passed:
    """Things of a hand that belong together, a crossing and what was done in it, and all that passed any of them."""

    def __init__(self, passed: list[Happening], by: list[Happening], place: dict[int, int], *, is_out: bool) -> None:
        self.passed, self.by, self.place, self.is_out = passed, by, place, is_out

    def is_first(self) -> bool:
        """Whether there was time for all of it before what passed it, or its hand is not out of there yet."""
        pairs = [(p, d) for p in self.passed for d in self.by if p in d.passed]
        return not self.is_out or all(p.end + d.makes_ready <= d.begun for p, d in pairs)

    def links(self, *, late: bool) -> Iterator[tuple[Happening, Happening]]:
        """Each two of which the one comes before the other."""
        for duty in self.by:
            for one in self.passed:
                if one in duty.passed or (duty.crossings and not set(one.hands).isdisjoint(duty.hands)):
                    is_later = late or self.place[id(duty)] < self.place[id(one)]  # a leg of what passed it
                    yield (duty, one) if is_later else (one, duty)


def _groups(duties: list[Happening]) -> Iterator[_Passed]:
    """What was passed and has happened, what was done inside one crossing with that; a walk in is walked out again."""
    passing: dict[int, list[Happening]] = {}
    for duty in duties:
        if duty.happened:
            for one in duty.passed:
                passing.setdefault(id(one), []).append(duty)
    inside, place = _crossings_of(duties), {id(d): n for n, d in enumerate(duties)}
    for duty in duties:
        duty.happened |= id(duty) in passing and _is_walked_out(duty, duties)
    for passed in _together([d for d in duties if d.happened and id(d) in passing], inside):
        mine = frozenset().union(*(inside[id(d)] for d in passed))
        by = {id(d): d for one in passed for d in passing[id(one)] if d not in passed}
        by = {n: d for n, d in by.items() if not (d.kind == "out" and inside[n] & mine)}
        around = frozenset().union(*(inside[n] for n in by)) - mine
        legs = [d for d in duties if d.crossings and inside[id(d)] & around and d not in passed]
        by |= {id(d): d for d in legs if d.happened}
        entered = frozenset().union(*(inside[id(d)] for d in passed if d.kind == "in"))
        has_begun = any(d.kind == "out" and inside[id(d)] - entered for d in passed)  # its walk in came in its turn
        yield _Passed(passed, list(by.values()), place, is_out=all(d.happened for d in legs) and not has_begun)


def _together(passed: list[Happening], inside: dict[int, frozenset[int]]) -> list[list[Happening]]:
    """Walks and what was done between them, each crossing with all that shares a leg of it; each stage by itself."""
    found: list[tuple[set[int], list[Happening]]] = []
    for duty in passed:
        mine = set() if isinstance(duty.item, Work) else set(inside[id(duty)])
        same = [f for f in found if f[0] & mine]
        found = [f for f in found if f not in same]
        found.append((mine.union(*(f[0] for f in same)), [*(d for f in same for d in f[1]), duty]))
    place = {id(d): n for n, d in enumerate(passed)}
    return [sorted(together, key=lambda d: place[id(d)]) for _, together in found]


def _is_walked_out(duty: Happening, duties: list[Happening]) -> bool:
    """Whether a walk out is that of a walk in that has happened, and its hand has walked in elsewhere since."""
    if duty.kind != "out":
        return False
    mine = {id(c) for c in duty.crossings}
    return any(d.happened and d.kind == "in" and any(id(c) in mine for c in d.crossings) for d in duties)


def _crossings_of(duties: list[Happening]) -> dict[int, frozenset[int]]:
    """By duty the crossings whose leg it is, or in which its hands did it."""
    inside: dict[str, Crossing] = {}
    found = {}
    for duty in duties:
        if duty.kind == "in":
            inside |= {c.hand: c for c in duty.crossings}
        there = [inside[h] for h in duty.hands if h in inside and inside[h].end >= duty.item.end]
        is_at_van = isinstance(duty.item, Drive) or (isinstance(duty.item, Chore) and duty.item.kit is None)
        found[id(duty)] = frozenset(id(c) for c in duty.crossings or (() if is_at_van else there))
    return found


Links = dict[int, list[Happening]]
"""By duty what comes before it."""


def _links(duties: list[Happening], groups: Iterable[_Passed], late: list[_Passed]) -> Links:
    links: Links = {id(d): [b for b in d.needs if b.happened] for d in duties if d.happened}
    inside = _crossings_of(duties)
    for leg in (d for d in duties if d.crossings and d.happened):
        mine = inside[id(leg)]
        for duty in (d for d in duties if d.happened and d is not leg and inside[id(d)] & mine):
            if leg.kind == "out" and duty.kind != "out":
                links[id(leg)].append(duty)
            elif leg.kind == "in" and not duty.crossings:
                links[id(duty)].append(leg)
    drives = [d for d in duties if d.kind == "drive" and d.happened]
    for group in groups:
        for one in group.passed:  # nobody is back there once the van has left
            for away in (d for d in drives if d.item.start >= one.item.end):
                links[id(away)].append(one)
        for one, then in combinations(group.passed, 2):
            links[id(then)].append(one)
        for one, then in group.links(late=group in late):
            links[id(then)].append(one)
    return links


def _in_order(duties: list[Happening], links: Links) -> tuple[list[Happening], set[int]]:
    """What has happened, each after all that comes before it, else as planned; and what goes round in circles."""
    place = {id(d): n for n, d in enumerate(duties) if d.happened}
    before = {place[n]: {place[id(b)] for b in links[n]} for n in place}
    after: dict[int, list[int]] = {}
    for n, those in before.items():
        for b in those:
            after.setdefault(b, []).append(n)
    free = [n for n, those in before.items() if not those]
    ordered = []
    while free:
        n = heapq.heappop(free)
        ordered.append(duties[n])
        del before[n]
        for then in after.get(n, ()):
            before[then].discard(n)
            if not before[then]:
                heapq.heappush(free, then)
    while ends := [n for n in before if before.keys().isdisjoint(after.get(n, ()))]:
        for n in ends:
            del before[n]
    return ordered, {id(duties[n]) for n in before}


def _push_on(ordered: list[Happening], links: Links, soonest: dict[int, int], progress: Progress) -> None:
    """What was not noted begins when what comes before it is over, as far as that is known.

    So does what is only noted to be over, as long as that leaves it half its time, or a minute where what was told of
    what comes before it leaves no more.
    """
    for duty in ordered:
        ready = max([duty.start, *(b.end for b in links[id(duty)] if b.end < NOT_YET)])
        if not duty.is_fixed:
            start = max(duty.start, min(ready, progress.at))
            duty.start, duty.end = start, duty.end if duty.end == NOT_YET else start + duty.minutes
        elif duty.note is not None and duty.note.start is None and duty.note.end is not None:
            known = soonest[id(duty)] if soonest[id(duty)] < duty.end else 0
            duty.start = max(duty.start, min(ready, duty.end - duty.shortest), known)


def _soonest(ordered: list[Happening], links: Links, progress: Progress) -> dict[int, int]:
    """By duty the minute before which it cannot have begun, by what was told of what comes before it."""
    soonest: dict[int, int] = {}
    told = set(progress.arrived.values())
    for duty in ordered:
        soonest[id(duty)] = max((_over(b, soonest[id(b)], told) for b in links[id(duty)]), default=0)
    return soonest


def _over(before: Happening, soonest: int, arrived: set[int]) -> int:
    """The minute by which something cannot have been over; a stage takes a minute at the least."""
    if before.note is not None:
        known = before.note.end if before.note.start is None else (before.note.end or before.note.start + 1)
        return before.start + 1 if known is None else known
    if before.kind == "drive" and before.end in arrived:
        return before.end
    if isinstance(before.item, Work):
        return soonest + 1
    return soonest + (before.shortest if isinstance(before.item, Chore) else before.minutes)


def _bring_back(ordered: list[Happening], links: Links, soonest: dict[int, int]) -> None:
    """What was not noted is brought forward where what could not do without it began sooner.

    All keep their minutes but works: these are squeezed into what time there was, those begun at a known minute from
    then on, the others to a minute at the least where what comes before them can give way. What was settled is moved
    only where a later note gainsays it.
    """
    latest: dict[int, int] = {}
    for duty in reversed(ordered):
        limit = latest.get(id(duty), NOT_YET)
        if duty.end > limit and duty.note is None:
            minutes, duty.end = duty.minutes, limit
            if isinstance(duty.item, Work):
                minutes = max(limit - duty.start, min(1, limit - soonest[id(duty)]), 0)
            duty.start = limit - minutes
        if duty.end > limit and duty.note is not None and duty.note.end is None:
            duty.end = max(duty.start, limit)
        if duty.end == NOT_YET and limit < NOT_YET:
            duty.end = max(duty.start, limit)
        limit = min(limit, duty.start)
        for before in links[id(duty)]:
            latest[id(before)] = min(latest.get(id(before), NOT_YET), limit)


def _hurry(ordered: list[Happening], links: Links) -> None:
    """Chores that told times leave too little time for were done in less, and what follows them began later.

    Each has at least half its time, as far as what is told to have come then leaves it that. Where no minute is left
    for a way, or two stages were told at once, nothing of this could be, and all stays as it was.
    """
    as_given = [(duty.start, duty.end) for duty in ordered]
    latest: dict[int, int] = {}
    for duty in reversed(ordered):
        limit = latest.get(id(duty), NOT_YET)
        if duty.note is not None or isinstance(duty.item, Work):
            limit = duty.start
        elif not isinstance(duty.item, Chore) and limit < NOT_YET:
            limit -= duty.minutes
        for before in links[id(duty)]:
            latest[id(before)] = min(latest.get(id(before), NOT_YET), limit)
    for duty in ordered:
        limit, minutes = latest.get(id(duty), NOT_YET), duty.minutes
        ready = max((b.end for b in links[id(duty)] if _are_amiss(b, duty)), default=duty.start)
        if duty.note is None and not isinstance(duty.item, Work) and duty.start < ready <= limit < NOT_YET:
            if isinstance(duty.item, Chore):
                minutes = min(max(duty.shortest, duty.end - ready), limit - ready)
            duty.start, duty.end = ready, ready + minutes
    if any(_amiss(ordered, links)):
        for duty, (start, end) in zip(ordered, as_given, strict=True):
            duty.start, duty.end = start, end


def _are_amiss(before: Happening, duty: Happening) -> bool:
    """Whether a hand of both began the one before the other, which comes first, was over."""
    return before.end > duty.start and not set(before.hands).isdisjoint(duty.hands)


def _amiss(ordered: list[Happening], links: Links) -> Iterator[int]:
    """What a hand began before something else of theirs that comes first was over."""
    for duty in ordered:
        for before in links[id(duty)]:
            if _are_amiss(before, duty):
                yield id(duty)
                yield id(before)
