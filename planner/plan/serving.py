"""What each thing in a plan is done for: the stages that walks, kit and sheets serve.

Where a stage was not done in its turn, what only served it need not have happened either; and nobody takes away what it
still needs.
"""

from collections.abc import Collection, Iterable

from planner.day import Day
from planner.plan.happening import NOT_YET, Happening
from planner.plan.legs import stays_moved
from planner.plan.plan import Carried, Chore, Crossing, Drive, Plan, Rest, Stay, StayKey, Work

Stage = tuple[str, str]
"""A job and a stage of it."""

Stages = frozenset[Stage]


class Serving:
    """The stages that each thing of a plan serves.

    ``skipped`` is work of the plan that was not done in its turn; of that, nothing is needed any more for what was
    ``dropped``, given up for today.
    """

    def __init__(
        self, day: Day, duties: Collection[Happening], plan: Plan, skipped: Collection[Work], dropped: Collection[Stage]
    ) -> None:
        self.day, self.plan, self.missed = day, plan, tuple(skipped)
        self.works = (*plan.works, *skipped)
        self.skipped, self.dropped = _stages(skipped), frozenset(dropped)
        told = [(d, d.item) for d in duties if isinstance(d.item, Work) and d.hands and d.note]
        self.noted = {(work.job, work.stage): _begun(d) for d, work in told}
        self.planned = {(w.job, w.stage): w.start for w in plan.works}
        self.open = {(d.item.job, d.item.stage): d.start for d in duties if isinstance(d.item, Work) and not d.is_fixed}
        self.walked = {id(c) for d in duties if d.settled and d.kind == "in" for c in d.crossings}
        self.together = _walked_together(duties)
        self.stands = {_place(d.item) for d in duties if d.settled and isinstance(d.item, Chore)}
        noted = [w for w in plan.works if (w.job, w.stage) in self.noted]
        self.moved: set[StayKey] = set()  # asked whether a stay has begun, none has been moved yet
        self.moved = {s.key for s in plan.stays if any(self._is_next(w, s) for w in noted) and self._has_begun(s)}

    def later_than(self, duty: Happening) -> Stages:
        """The stages that were not done before something in the plan.

        They are those skipped and those noted to begin later than the first of those that it serves, or the last where
        it takes something away; and where its hands have skipped something, what nobody said of the stages after it,
        for which they would have made ready by then.
        """
        mine = self._served(duty)
        noted = [self.noted[x] for x in mine if x in self.noted]
        since = max(noted, default=0) if _takes(duty) else min(noted, default=0)
        later = {x for x, begun in self.noted.items() if noted and begun > since and x not in mine}
        if _takes(duty):  # what comes after them in the plan too comes before this in its turn
            last = max((self.planned[x] for x in mine if x in self.noted), default=0)
            later = {x for x in later if self.planned[x] < last}
        if any(w.start < duty.start and not set(w.hands).isdisjoint(duty.hands) for w in self.missed):
            later |= {x for x, start in self.open.items() if start > duty.start}
        return self.skipped | later

    def begun(self, duty: Happening) -> int:
        """When the first of the stages that something in the plan makes ready for was begun, of those noted.

        What takes something away after them has no such minute.
        """
        if _takes(duty):
            return NOT_YET
        return min((self.noted[x] for x in self._served(duty) if x in self.noted), default=NOT_YET)

    def is_idle(self, duty: Happening, later: Stages, *, leaving: bool = False) -> bool:
        """Whether something serves nothing but stages that came later, or takes away what these need.

        Nothing is that is recorded, or that takes away what is known to be there before the van leaves (``leaving``).
        """
        item = duty.item
        if duty.is_fixed or not later or isinstance(item, Work | Drive):
            return False
        if isinstance(item, Rest):
            return any(item.hand in w.hands and w.start < item.start for w in self.missed)
        served = self._served(duty)
        if isinstance(item, Chore) and _takes(duty):
            was_never_up = served <= later and _place(item) not in self.stands
            is_needed = bool(served & later - self.dropped) and not leaving
            return bool(served) and not self._is_moved(item) and (was_never_up or is_needed)
        if isinstance(item, Chore):
            return bool(served) and served <= later
        walks = [c for own in duty.crossings for c in self.together.get(id(own), (own,))]
        return all(id(c) not in self.walked and self._is_idle_walk(c, later) for c in walks)

    def takes_too_soon(self, duty: Happening) -> bool:
        """Whether kit is packed down, or sheets are lifted, while stages that need them were not done in their turn."""
        chore = duty.item
        if not isinstance(chore, Chore) or not _takes(duty) or duty.is_fixed or self._is_moved(chore):
            return False
        return bool(self._by_chore(chore) & self.skipped - self.dropped)

    def left_in(self, duty: Happening) -> frozenset[str]:
        """What a walk out leaves where it is, as stages that were not done in their turn need it there."""
        if duty.kind != "out" or duty.is_fixed:
            return frozenset()
        carried = [(c, x) for c in duty.crossings for x in c.carried_out]
        to_come = self.skipped - self.dropped
        needed = [(c, x) for c, x in carried if self._by_carried(c, x, inward=False) & to_come]
        return frozenset(x.what for c, x in needed if not self._takes_moved(c, x))

    def _served(self, duty: Happening) -> Stages:
        item = duty.item
        if isinstance(item, Work):
            return frozenset([(item.job, item.stage)])
        if isinstance(item, Chore):
            return self._by_chore(item)
        found: set[Stage] = set()
        for c in duty.crossings:
            found.update(self._inside(c), *self._by_all_carried(c, inward=True), *self._readied(c))
            if duty.kind == "out" or not found:  # a walk in is for what it takes out only where it is for nothing else
                found.update(*self._by_all_carried(c, inward=False))
        return frozenset(found)

    def _is_idle_walk(self, c: Crossing, later: Stages) -> bool:
        """Whether a walk in and out serves nothing but what came later, and takes only what that needs."""
        if any(self._takes_moved(c, x) for x in c.carried_out):
            return False
        inside, needed = self._inside(c), self._by_all_carried(c, inward=False)
        for_them = [*self._by_all_carried(c, inward=True), *self._readied(c), *([inside] if inside else [])]
        return bool(for_them or needed) and all(x and x <= later for x in for_them) and all(x & later for x in needed)

    def _inside(self, c: Crossing) -> Stages:
        """What a hand does between a walk in and the walk out."""
        here = [w for w in self.works if c.hand in w.hands and c.start <= w.start < c.end]
        here = [w for w in here if (w.job, w.visit) == (c.job, c.visit)]
        return _stages(w for w in here if self.day.jobs[w.job].ground_of(w.stage) == c.ground)

    def _readied(self, c: Crossing) -> list[Stages]:
        """What kit serves that a hand sets up between a walk in and the walk out."""
        here = [x for x in self.plan.chores if x.what == "set up" and c.hand in x.hands and x.job == c.job]
        return [self._by_chore(x) for x in here if x.ground == c.ground and c.start <= x.start and x.end <= c.end]

    def _by_chore(self, chore: Chore) -> Stages:
        if chore.kit is None:
            there = [w for w in self.works if (w.job, w.visit) == (chore.job, chore.visit)]
            return _stages(w for w in there if self.day.jobs[w.job].ground_of(w.stage) == chore.ground)
        return self._by_kit(chore.job, chore.ground, chore.kit, chore.stay or 0)

    def _by_kit(self, job: str, ground: str, kit: str, number: int) -> Stages:
        there = [w for w in self.works if w.job == job and (kit, number) in w.stays]
        return _stages(w for w in there if self.day.jobs[job].ground_of(w.stage) == ground)

    def _by_carried(self, c: Crossing, carried: Carried, *, inward: bool) -> Stages:
        if carried.is_material:
            job = self.day.jobs[c.job]
            using = [w for w in self.works if w.job == c.job and job.ground_of(w.stage) == c.ground]
            return _stages(w for w in using if carried.what in job.stages[w.stage].methods[w.method].uses)
        found = self._stays(c, carried, inward=inward)
        return frozenset().union(*(self._by_kit(*s.key) for s in self._with_followers(found)))

    def _by_all_carried(self, c: Crossing, *, inward: bool) -> list[Stages]:
        carried = c.carried_in if inward else c.carried_out
        return [self._by_carried(c, x, inward=inward) for x in carried]

    def _stays(self, c: Crossing, carried: Carried, *, inward: bool) -> list[Stay]:
        """The stays of what is carried that begin or end with a walk."""
        return [s for s in stays_moved(self.day, self.plan, c, inward=inward) if s.kit == carried.what]

    def _has_begun(self, stay: Stay) -> bool:
        """Whether a stay has begun, as far as what was done in its turn says."""
        if any(x not in self.skipped for x in self._by_kit(*stay.key)) or stay.key in self.stands:
            return True
        brought = (c for c in self.plan.crossings if stay in stays_moved(self.day, self.plan, c, inward=True))
        return any(id(c) in self.walked or not self._is_idle_walk(c, self.skipped) for c in brought)

    def _is_next(self, work: Work, stay: Stay) -> bool:
        """Whether a stage is done with a kit after a stay of it elsewhere."""
        ground = self.day.jobs[work.job].ground_of(work.stage)
        keys = {(work.job, ground, kit, number) for kit, number in work.stays if kit == stay.kit}
        return bool(keys) and stay.key not in keys and stay.carried_out <= work.start

    def _takes_moved(self, c: Crossing, carried: Carried) -> bool:
        """Whether a walk takes out kit that was used elsewhere since."""
        return not carried.is_material and any(s.key in self.moved for s in self._stays(c, carried, inward=False))

    def _is_moved(self, chore: Chore) -> bool:
        """Whether a chore is on kit that was used elsewhere since."""
        return _place(chore) in self.moved

    def _with_followers(self, stays: list[Stay]) -> list[Stay]:
        keys = {s.key for s in stays}
        return [*stays, *(s for s in self.plan.stays if (s.job, s.ground, s.kit, s.follows) in keys)]


def _walked_together(duties: Collection[Happening]) -> dict[int, tuple[Crossing, ...]]:
    """For each crossing (by id) those that its hand walks in or out with, and theirs: who walked in walks out."""
    found: dict[int, tuple[Crossing, ...]] = {}
    for duty in duties:
        joined = {id(x): x for c in duty.crossings for x in found.get(id(c), (c,))}
        found |= dict.fromkeys(joined, tuple(joined.values()))
    return found


def _takes(duty: Happening) -> bool:
    """Whether something is done when the stages that it serves are over."""
    return duty.kind == "out" or (isinstance(duty.item, Chore) and duty.item.what in ("pack down", "lift"))


def _stages(works: Iterable[Work]) -> Stages:
    return frozenset((w.job, w.stage) for w in works)


def _begun(duty: Happening) -> int:
    """When a noted stage was begun, as far as it is known."""
    note = duty.note
    if note is None or (note.start is None and note.end is None):
        return duty.start
    return note.start if note.start is not None else (note.end or 0) - duty.minutes


def _place(chore: Chore) -> tuple[str, str, str | None, int | None]:
    return chore.job, chore.ground, chore.kit, chore.stay
