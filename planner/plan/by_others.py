"""What other hands did than the plan has: the plan in which they do it, as it was told.

With a stage goes what only its own hand did for it: the crossing in which it lies, and what is done in that. Where that
hand does something else in there too, who did it walked in and out for it alone, unless they were there. Of a hand who
had gone home, or was not there yet, all that was done for the stage is done by who did it. Where by the plan these were
behind a way in elsewhere meanwhile, on the road or at their break, it is not known how they came to it: who did it
stays noted, and what was done beside it is as the plan has it.
"""

from dataclasses import replace

from planner.day import Day
from planner.plan.plan import Attendance, Chore, Crossing, Plan, Work
from planner.plan.progress import Progress


def as_done(day: Day, plan: Plan, progress: Progress) -> Plan:
    """The plan with what was told to be done by others than it has, done by them; hands the day has no more are none.

    Parameters
    ----------
    day
        The day with all its stages, also those left half done.
    plan
        The plan that it went by.
    progress
        What was told.

    Returns
    -------
    Plan
        The plan itself where nobody did what another was to do.
    """
    for note in progress.noted:
        work, hands = plan.work(note.job, note.stage), tuple(h for h in note.hands if h in day.hands)
        if work is not None and hands and set(hands) != set(work.hands):
            plan = _Swap(day, plan, progress, work, hands).plan()
    return plan


class _Swap:
    """One stage of a plan that other hands did."""

    def __init__(self, day: Day, plan: Plan, progress: Progress, work: Work, hands: tuple[str, ...]) -> None:
        self.day, self.known, self.progress, self.work, self.hands = day, plan, progress, work, hands
        self.ground = day.jobs[work.job].ground_of(work.stage)
        self.way = day.jobs[work.job].grounds[self.ground].way_in
        out = [h for h in work.hands if h not in hands]
        into = [h for h in hands if h not in work.hands]
        self.for_another = dict(zip(out, into, strict=False))
        self.besides = into[len(out) :]

    def plan(self) -> Plan:
        """The plan in which they do it; as it is where by it they could not have."""
        if any(not self._could(hand) for hand in (*self.for_another.values(), *self.besides)):
            return self.known
        works = tuple(replace(w, hands=self.hands) if w is self.work else w for w in self.known.works)
        plan = replace(self.known, works=works)
        for hand, other in self.for_another.items():
            walk = None if self._is_in_a_crossing(other) else self._walk_of(hand)
            whole = walk if walk is not None and not self._does_else(hand, walk) else None
            plan = replace(
                plan,
                crossings=tuple(self._crossing(c, hand, other, whole) for c in plan.crossings),
                chores=tuple(self._chore(c, hand, other, whole) for c in plan.chores),
            )
        for hand in (*self.for_another.values(), *self.besides):
            plan = self._there(self._walked(plan, hand), hand)
        return plan

    def _could(self, hand: str) -> bool:
        """Whether a hand is neither on the road, nor at a break, nor behind a way in elsewhere when it is done."""
        start, end = self._span
        away = [(r.start, r.end) for r in self.known.rests if r.hand == hand]
        if not self.day.hands[hand].own_transport:
            away += [(d.start, d.end) for d in self.known.drives]
        own = self._on_the_ground(hand)
        span = (min(start, own.start), max(end, own.end)) if own is not None else (start, end)
        away += [(c.start, c.end) for c in self.known.crossings if c.hand == hand and c is not own]
        return not any(first < span[1] and span[0] < last for first, last in away)

    @property
    def _span(self) -> tuple[int, int]:
        """From the way in to the stage to the way out of it."""
        way = 0 if self.way.is_open else self.way.minutes
        return self.work.start - way, self.work.end + way

    def _on_the_ground(self, hand: str) -> Crossing | None:
        """The crossing of a hand to the ground of the stage that touches it in time, where just one does."""
        start, end = self._span
        touching = [
            c
            for c in self.known.crossings
            if c.hand == hand
            and (c.job, c.ground, c.visit) == (self.work.job, self.ground, self.work.visit)
            and c.start <= end
            and start <= c.end
        ]
        return touching[0] if len(touching) == 1 else None

    def _walk_of(self, hand: str) -> Crossing | None:
        """The crossing in which a hand was to do it; None by an open way."""
        return next((c for c in self.known.crossings if c.hand == hand and self._is_around(c)), None)

    def _is_in_a_crossing(self, hand: str) -> bool:
        """Whether by the plan a hand is in a crossing of their own in any minute of it, there or elsewhere."""
        start, end = self._span
        return any(c.hand == hand and c.start < end and start < c.end for c in self.known.crossings)

    def _is_around(self, c: Crossing) -> bool:
        return (
            (c.job, c.ground) == (self.work.job, self.ground) and c.start <= self.work.start and self.work.end <= c.end
        )

    def _does_else(self, hand: str, c: Crossing) -> bool:
        """Whether a hand does another stage in a crossing."""
        others = [w for w in self.known.works if hand in w.hands and w is not self.work and w.job == c.job]
        return any(c.start <= w.start and w.end <= c.end for w in others)

    def _is_for_it(self, hand: str, x: Crossing | Chore) -> bool:
        """Whether something of a hand who was not there then was done before the stage, at its job."""
        gone, comes = self.progress.gone.get(hand), self.progress.comes_at(hand)
        was_away = (gone is not None and gone <= x.start) or self.progress.settled <= x.start < comes
        return was_away and (x.job, x.visit) == (self.work.job, self.work.visit) and x.start < self.work.end

    def _crossing(self, c: Crossing, hand: str, other: str, whole: Crossing | None) -> Crossing:
        is_theirs = c.hand == hand and (c is whole or self._is_for_it(hand, c))
        mine = [x for x in self.known.crossings if x.hand == other and x.start < c.end and c.start < x.end]
        return replace(c, hand=other) if is_theirs and not mine else c

    def _chore(self, c: Chore, hand: str, other: str, whole: Crossing | None) -> Chore:
        if hand not in c.hands or other in c.hands:
            return c
        is_inside = (
            whole is not None
            and c.kit is not None
            and (c.job, c.ground) == (whole.job, whole.ground)
            and whole.start <= c.start
            and c.end <= whole.end
        )
        if not (is_inside or self._is_for_it(hand, c)):
            return c
        return replace(c, hands=tuple(other if h == hand else h for h in c.hands))

    def _walked(self, plan: Plan, hand: str) -> Plan:
        """The plan with a crossing of a hand for the stage, where its way in is no open one and they have none."""
        is_there = any(c.hand == hand and self._is_around(c) for c in plan.crossings)
        if self.way.is_open or is_there:
            return plan
        (start, end), own = self._span, self._on_the_ground(hand)
        if own is not None:
            longer = replace(own, start=min(start, own.start), end=max(end, own.end))
            return replace(plan, crossings=tuple(longer if c is own else c for c in plan.crossings))
        walk = Crossing(self.work.job, self.work.visit, self.ground, hand, start, end)
        return replace(plan, crossings=tuple(sorted((*plan.crossings, walk), key=lambda c: (c.start, c.hand))))

    def _there(self, plan: Plan, hand: str) -> Plan:
        """The plan with a hand who does not ride in the van at the visit."""
        visit = (self.work.job, self.work.visit)
        is_there = any(a.hand == hand and (a.job, a.visit) == visit for a in plan.attendances)
        if is_there or not self.day.hands[hand].own_transport:
            return plan
        return replace(plan, attendances=(*plan.attendances, Attendance(hand, *visit, *self._span)))
