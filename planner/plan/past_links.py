"""Everything that hands do in a plan, in its order, each linked to what it cannot have happened without."""

from collections.abc import Collection, Iterator
from dataclasses import replace

from planner.day import Day
from planner.plan.covering import covers_for
from planner.plan.happening import VAN, Happening
from planner.plan.legs import legs, stays_moved
from planner.plan.plan import Chore, Crossing, Drive, Plan, Rest, Work
from planner.plan.progress import Noted, Progress
from planner.plan.serving import Serving, Stages


class Linking:
    """The duties of a plan, each with what it needs and what it is taken to follow.

    A hand's duties are taken to have been done one after the other; but what serves nothing except stages that were
    ``skipped``, or begun later than what came after them in the plan, may not have been done.
    """

    def __init__(self, day: Day, plan: Plan, progress: Progress, skipped: Collection[Work] = ()) -> None:
        self.day, self.plan, self.progress = day, plan, progress
        duties = [Happening(d, "drive", (*self._riders(d), VAN), d.start, d.end) for d in plan.drives]
        duties += [Happening(w, "stage", w.hands, w.start, w.end, progress.of(w)) for w in plan.works]
        duties += [_came_off(w, note) for w in skipped if (note := progress.of(w)) is not None and note.end is not None]
        duties += [Happening(c, "chore", c.hands, c.start, c.end) for c in plan.chores]
        duties += [Happening(r, "rest", (r.hand,), r.start, r.end) for r in plan.rests]
        duties += self._legs(inward=True) + self._legs(inward=False)
        self.duties = sorted(duties, key=_in_plan_order)
        for duty in self.duties:
            duty.settled = duty.note is None and duty.start < progress.settled
            work = duty.item
            duty.is_given_up = isinstance(work, Work) and (work.job, work.stage) in progress.dropped
            duty.is_broken_off = _is_broken_off(duty, progress)
            duty.is_on_what_stays = self._is_on_what_stays(duty.item)
        self.serving = Serving(day, self.duties, plan, skipped, progress.dropped)
        for n, duty in enumerate(self.duties):
            before, later = self.duties[:n], self.serving.later_than(duty)
            idle = {id(d) for d in before if self.serving.is_idle(d, later, leaving=isinstance(duty.item, Drive))}
            # what still went on was not needed
            over = [d for d in before if d.end <= duty.start or self._packs_after(duty, d) or _is_by_another(d, duty)]
            in_turn = [d for d in over if id(d) not in idle]
            duty.needs = [d for d in in_turn if self._is_in_turn(d, duty, later) or self._needs(duty, d)]
            duty.passed = [d for d in before if self._is_passed(d, duty, idle, later)]
            duty.begun = self.serving.begun(duty)
            duty.entered = [d for d in before if self._is_walked_in_for(d, duty)]
            duty.there_by = self._there_by(duty, before)
            duty.takes_too_soon = self.serving.takes_too_soon(duty)
            duty.leaves_in = self.serving.left_in(duty)
            duty.follows = [d for d in before if self._follows(duty, d)]
            duty.covers_still = tuple(self._covers_still(duty))

    def _riders(self, drive: Drive) -> Iterator[str]:
        """Who rides in the van: not who has gone home before."""
        for h, hand in self.day.hands.items():
            gone = self.progress.gone.get(h)
            if not hand.own_transport and (gone is None or gone > drive.start):
                yield h

    def _is_on_what_stays(self, item: object) -> bool:
        """Whether it is a chore on kit that nobody carries out of where it stands by the plan, as that stays there."""
        if not isinstance(item, Chore) or item.kit is None:
            return False
        is_open = self.day.jobs[item.job].grounds[item.ground].way_in.is_open
        carried = ((c.job, x.what) for c in self.plan.crossings for x in c.carried_out)
        return not is_open and (item.job, item.kit) not in carried

    def _is_in_turn(self, before: Happening, duty: Happening, later: Stages) -> bool:
        """Whether the hands of both did the one before the other."""
        is_later = isinstance(before.item, Work) and (before.item.job, before.item.stage) in later
        return not set(before.hands).isdisjoint(duty.hands) and not is_later and not _was_after(before, duty)

    def _is_passed(self, before: Happening, duty: Happening, idle: set[int], later: Stages) -> bool:
        """Whether the hands of both may have left the one, which the plan has first, for later."""
        is_later = isinstance(before.item, Work) and (before.item.job, before.item.stage) in later
        is_after = _was_after(before, duty) and before not in duty.needs
        return (id(before) in idle or is_later or is_after) and not set(before.hands).isdisjoint(duty.hands)

    def _is_walked_in_for(self, before: Happening, duty: Happening) -> bool:
        """Whether what hands do behind a way in was done between a walk in and the walk out."""
        item = duty.item
        if before.kind != "in" or not isinstance(item, Work | Chore) or (isinstance(item, Chore) and item.kit is None):
            return False
        ground = item.ground if isinstance(item, Chore) else self.day.jobs[item.job].ground_of(item.stage)
        mine = [c for c in before.crossings if c.hand in duty.hands and (c.job, c.ground) == (item.job, ground)]
        return any(c.start <= item.start and item.end <= c.end for c in mine)

    def _there_by(self, duty: Happening, before: list[Happening]) -> list[Happening] | None:
        """What shows that the kit of a chore was there; None where the chore itself brings it, by an open way."""
        chore = duty.item
        if not isinstance(chore, Chore) or chore.kit is None:
            return None
        stay = (chore.ground, chore.kit, chore.stay or 0)
        used = {stay}
        if chore.what == "set up":
            if self.day.jobs[chore.job].grounds[chore.ground].way_in.is_open:
                return None
            here = [s for s in self.plan.stays if s.key == (chore.job, *stay)]
            used = {(s.ground, s.kit, s.follows) for s in here if s.follows is not None}
        there = [d for d in before if not isinstance(d.item, Rest | Drive) and d.item.job == chore.job]
        with_it = [d for d in there if isinstance(d.item, Work | Chore) and self._is_with(d.item, used)]
        if chore.what == "pack down" and any(isinstance(d.item, Chore) and d.item.what == "set up" for d in with_it):
            return with_it  # what was brought and never set up is not packed down
        return with_it + [
            d for d in there if d.kind == "in" and not self._moved(d, inward=True).isdisjoint({stay, *used})
        ]

    def _covers_still(self, duty: Happening) -> Iterator[str]:
        """The stages whose covers are taken up by packing down, though what they cover for has not been begun."""
        chore = duty.item
        if not isinstance(chore, Chore) or chore.what != "pack down":
            return
        for work in self.plan.works:
            is_with_it = self._is_with(work, {(chore.ground, chore.kit or "", chore.stay or 0)})
            if work.job == chore.job and is_with_it:
                covered = covers_for(self.day.jobs[work.job], work.stage)
                taken_up = min(chore.start, self.progress.at - 1)  # perhaps sooner than planned
                lies = self.progress.is_not_up(work.job, work.stage, taken_up)
                if any(self._is_still_to_come(work.job, stage, told=lies) for stage in covered):
                    yield work.stage

    def _is_still_to_come(self, job: str, stage: str, *, told: bool) -> bool:
        """Whether a stage was told not to have been begun, or its covers to lie, and it is not given up."""
        is_told = told or any((n.job, n.stage) == (job, stage) for n in self.progress.not_yet)
        return is_told and (job, stage) not in self.progress.dropped and self.plan.work(job, stage) is None

    def _legs(self, *, inward: bool) -> list[Happening]:
        """Walks in, or out; hands who carry something together walk as one."""
        together: dict[tuple[object, ...], list[Crossing]] = {}
        for n, c in enumerate(self.plan.crossings):
            shared = [x.what for x in (c.carried_in if inward else c.carried_out) if x.share < 1]
            minute = c.start if inward else c.end
            key = (c.job, c.ground, c.visit, minute, min(shared)) if shared else (n,)
            together.setdefault(key, []).append(c)
        duties = []
        for crossings in together.values():
            c = crossings[0]
            start, end = legs(self.day, c)[0 if inward else 1]
            hands = tuple(x.hand for x in crossings)
            kind = "in" if inward else "out"
            duties.append(Happening(c, kind, hands, start, end, crossings=tuple(crossings)))
        return duties

    def _needs(self, duty: Happening, before: Happening) -> bool:
        """Whether one thing cannot have happened without another that other hands do before it."""
        one, other = duty.item, before.item
        if isinstance(one, Rest) or isinstance(other, Rest):
            return False
        if isinstance(one, Drive) or isinstance(other, Drive):
            return True
        if one.job != other.job:
            return False
        if isinstance(one, Work):
            return (
                (isinstance(other, Work) and (other.stage in self._before(one) or self._takes_its_kit(one, other)))
                or (isinstance(other, Chore) and other.what == "set up" and (other.kit, other.stay) in one.stays)
                or (before.kind == "in" and isinstance(other, Crossing) and self._brings(other, one))
            )
        if isinstance(one, Chore) and one.what == "pack down":
            return isinstance(other, Work) and (one.kit, one.stay) in other.stays
        if duty.kind == "out":
            taken = self._moved(duty, inward=False)
            if isinstance(other, Crossing):
                return before.kind == "in" and not taken.isdisjoint(self._moved(before, inward=True))
            return self._is_with(other, taken)
        if isinstance(other, Work) or (one.ground, one.visit) != (other.ground, other.visit):
            return False
        if isinstance(one, Chore) and one.what == "lift":
            return before.kind == "out"
        laid = isinstance(other, Chore) and other.what == "lay"
        brought = isinstance(one, Chore) and one.what == "set up" and before.kind == "in"
        return duty.kind != "out" and (laid or brought or self._lay_there(one, other))

    def _packs_after(self, duty: Happening, before: Happening) -> bool:
        """Whether kit is packed down that a stage was done with, though a record that was wrong has that end later."""
        is_packing = isinstance(duty.item, Chore) and duty.item.what == "pack down"
        return is_packing and isinstance(before.item, Work) and self._needs(duty, before)

    def _lay_there(self, one: Crossing | Chore, other: Crossing | Chore) -> bool:
        """Whether the one sets up again what the other packed down, and what lay there in between."""
        if not (isinstance(one, Chore) and isinstance(other, Chore)) or one.kit != other.kit:
            return False
        place = (one.job, one.ground, one.kit, one.stay)
        follows = [s.follows for s in self.plan.stays if s.key == place]
        return (one.what, other.what) == ("set up", "pack down") and other.stay in follows

    def _moved(self, duty: Happening, *, inward: bool) -> set[tuple[str, str, int]]:
        """The stays, by ground, kit and number, that begin with a walk in, or end with a walk out."""
        found = [s for c in duty.crossings for s in stays_moved(self.day, self.plan, c, inward=inward)]
        return {(s.ground, s.kit, s.number) for s in found}

    def _is_with(self, item: Work | Chore, stays: set[tuple[str, str, int]]) -> bool:
        """Whether a stage or chore is done with one of these stays."""
        if isinstance(item, Chore):
            return (item.ground, item.kit, item.stay) in stays
        ground = self.day.jobs[item.job].ground_of(item.stage)
        return any((ground, kit, number) in stays for kit, number in item.stays)

    def _before(self, work: Work) -> set[str]:
        job = self.day.jobs[work.job]
        waits = {w.after for w in job.waits if work.stage in (w.before, w.extended_by)}
        return (
            waits
            | {w.extended_by or "" for w in job.waits if w.before == work.stage}
            | set(job.stages[work.stage].after)
        )

    def _takes_its_kit(self, one: Work, other: Work) -> bool:
        """Whether a stage that was told to have begun is done with the kit of another, as that serves one at a time.

        One that is only told to be over may have been done with anything.
        """
        note = self.progress.of(one)
        if note is None or note.start is None:
            return False
        on_one_ground = self.day.jobs[one.job].ground_of(one.stage) == self.day.jobs[one.job].ground_of(other.stage)
        return on_one_ground and one.visit == other.visit and not set(one.stays).isdisjoint(other.stays)

    def _brings(self, crossing: Crossing, work: Work) -> bool:
        """Whether a crossing may bring what a work needs; what came off by itself needs nothing."""
        ground = self.day.jobs[work.job].ground_of(work.stage)
        return crossing.ground == ground and bool(crossing.carried_in) and bool(work.hands)

    def _follows(self, duty: Happening, before: Happening) -> bool:
        """Whether it is taken to wait for another where neither is noted: both are work on one ground, one by one."""
        one, other = duty.item, before.item
        if not (isinstance(one, Work) and isinstance(other, Work)) or one.job != other.job or other.end > one.start:
            return False
        job = self.day.jobs[one.job]
        pair = {one.stage, other.stage}
        return job.ground_of(one.stage) == job.ground_of(other.stage) or any(pair == set(x) for x in job.apart)


def _came_off(work: Work, note: Noted) -> Happening:
    """What a skipped stage was to take off came off without it: no hand and no kit were needed for that."""
    over = note.end or 0
    return Happening(replace(work, hands=(), stays=(), start=over, end=over), "off", (), over, over, note)


def _is_by_another(before: Happening, duty: Happening) -> bool:
    """Whether two things that one hand did go on at once in the plan only as another was to do one of them."""
    told = [d.note is not None and bool(d.note.hands) for d in (before, duty)]
    return any(told) and not set(before.hands).isdisjoint(duty.hands) and before.start <= duty.start


def _was_after(before: Happening, duty: Happening) -> bool:
    """Whether the plan's own record has something after what was told of another, which the plan has after it."""
    if not before.settled or duty.note is None or duty.note.start is duty.note.end is None:
        return False
    return before.start >= (duty.note.end if duty.note.end is not None else (duty.note.start or 0) + 1)


def _is_broken_off(duty: Happening, progress: Progress) -> bool:
    """Whether it was given up under way, and only the plan's own record says when its hands had gone on."""
    is_open = duty.note is not None and duty.note.end is None
    return duty.is_given_up and is_open and duty.item.end <= progress.settled


def _in_plan_order(duty: Happening) -> tuple[int, int, bool, tuple[int, int], bool]:
    """By when it is planned; of walks in one minute those out of where a hand was first, then each in and out again."""
    spans = [(c.start, c.end) for c in duty.crossings]
    begins = duty.kind == "in" or any(start == duty.start for start, _ in spans)
    return duty.start, duty.end, begins, min(spans, default=(0, 0)), duty.kind == "out"
