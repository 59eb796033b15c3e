"""What each thing in a plan is done for: the stages that walks, kit and sheets serve.

Where a stage was not done in its turn, what only served it need not have happened either; and nobody takes away what it
still needs.
"""

from collections.abc import Collection, Iterable

from planner.day import Day
from planner.plan.happening import Happening
from planner.plan.legs import legs
from planner.plan.plan import Carried, Chore, Crossing, Drive, Plan, Rest, Stay, Work

Stages = frozenset[tuple[str, str]]
"""Stages, each as (job, stage)."""


class Serving:
    """The stages that each thing of a plan serves; ``skipped`` is work of the plan that was not done in its turn."""

    def __init__(self, day: Day, duties: Collection[Happening], plan: Plan, skipped: Collection[Work]) -> None:
        self.day, self.plan, self.missed = day, plan, tuple(skipped)
        self.works = (*plan.works, *skipped)
        self.skipped = _stages(skipped)
        self.noted = {(d.item.job, d.item.stage): _begun(d) for d in duties if isinstance(d.item, Work) and d.note}
        self.walked = {id(c) for d in duties if d.settled and d.kind == "in" for c in d.crossings}
        self.stands = {_place(d.item) for d in duties if d.settled and isinstance(d.item, Chore)}

    def later_than(self, duty: Happening) -> Stages:
        """The stages that were not done before something in the plan: those skipped, and those noted to begin later."""
        mine = self._served(duty)
        noted = [self.noted[x] for x in mine if x in self.noted]
        if not noted:
            return self.skipped
        return self.skipped | {x for x, begun in self.noted.items() if begun > min(noted) and x not in mine}

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
        if isinstance(item, Chore) and item.what in ("pack down", "lift"):
            return bool(served & later) and not (leaving and (_place(item) in self.stands or not served <= later))
        if isinstance(item, Chore):
            return bool(served) and served <= later
        return all(id(c) not in self.walked and self._is_idle_walk(c, later) for c in duty.crossings)

    def takes_too_soon(self, duty: Happening) -> bool:
        """Whether kit is packed down, or sheets are lifted, while stages that need them were not done in their turn."""
        is_taking = isinstance(duty.item, Chore) and duty.item.what in ("pack down", "lift")
        return is_taking and not duty.is_fixed and bool(self._served(duty) & self.skipped)

    def left_in(self, duty: Happening) -> frozenset[str]:
        """What a walk out leaves where it is, as stages that were not done in their turn need it there."""
        if duty.kind != "out" or duty.is_fixed:
            return frozenset()
        carried = [(c, x) for c in duty.crossings for x in c.carried_out]
        return frozenset(x.what for c, x in carried if self._by_carried(c, x, inward=False) & self.skipped)

    def _served(self, duty: Happening) -> Stages:
        item = duty.item
        if isinstance(item, Work):
            return frozenset([(item.job, item.stage)])
        if isinstance(item, Chore):
            return self._by_chore(item)
        both = [(c, x, inward) for c in duty.crossings for inward in (True, False) for x in _carried(c, inward=inward)]
        return frozenset().union(*(self._by_carried(c, x, inward=inward) for c, x, inward in both))

    def _is_idle_walk(self, c: Crossing, later: Stages) -> bool:
        inside = frozenset(
            (w.job, w.stage) for w in self.works if c.hand in w.hands and self._is_inside(w, c)
        )
        brought = [self._by_carried(c, x, inward=True) for x in c.carried_in]
        taken = [self._by_carried(c, x, inward=False) for x in c.carried_out]
        for_nothing = all(served and served <= later for served in (*brought, *([inside] if inside else ())))
        return bool(inside or brought or taken) and for_nothing and all(served & later for served in taken)

    def _is_inside(self, work: Work, c: Crossing) -> bool:
        here = (work.job, work.visit, self.day.jobs[work.job].ground_of(work.stage)) == (c.job, c.visit, c.ground)
        return here and c.start <= work.start < c.end

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
        (_, there), (leaves, _) = legs(self.day, c)
        stays = [s for s in self.plan.stays if (s.job, s.ground, s.kit) == (c.job, c.ground, carried.what)]
        found = [s for s in stays if (s.carried_in == there if inward else s.carried_out == leaves)]
        return frozenset().union(*(self._by_kit(*s.key) for s in self._with_followers(found)))

    def _with_followers(self, stays: list[Stay]) -> list[Stay]:
        keys = {s.key for s in stays}
        return [*stays, *(s for s in self.plan.stays if (s.job, s.ground, s.kit, s.follows) in keys)]


def _stages(works: Iterable[Work]) -> Stages:
    return frozenset((w.job, w.stage) for w in works)


def _carried(c: Crossing, *, inward: bool) -> tuple[Carried, ...]:
    return c.carried_in if inward else c.carried_out


def _begun(duty: Happening) -> int:
    """When a noted stage was begun, as far as it is known."""
    note = duty.note
    if note is None or (note.start is None and note.end is None):
        return duty.start
    return note.start if note.start is not None else (note.end or 0) - duty.minutes


def _place(chore: Chore) -> tuple[str, str, str | None, int | None]:
    return chore.job, chore.ground, chore.kit, chore.stay
