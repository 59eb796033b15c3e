"""What a plan does for nothing, taken out: waiting at either end of a hand's day, kit and hands that go to come again.

The solver is not sure to see these in its time, as they weigh nothing until all else is settled. What is taken out
leaves all stages, and what is left of the crossings, where they were: the value is no worse, and no room is lost. Each
change is kept only where the checker passes it.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise

from planner.day import Day
from planner.plan.checker import broken_rules
from planner.plan.legs import legs
from planner.plan.plan import Attendance, Carried, Chore, Crossing, Plan, Rest, Stay, StayKey, Work

Change = Callable[[int], Plan]
"""The plan with something moved by so many minutes."""


def without_what_is_for_nothing(day: Day, plan: Plan) -> Plan:
    """A plan that holds, without what is for nothing in it; the same object where there is nothing.

    On a day under way what had begun by the plan's ``since`` is left alone.
    """
    return _Sparing(day, plan).plan()


_Gap = tuple[StayKey, StayKey]
"""The stays before and after it."""

_Joining = Callable[[Day, Plan, Stay, Stay], Plan]
"""A plan in which two stays of a kit, one after the other, are joined so that nobody carries it in between."""

LONG_IDLE = 15
"""Minutes with nothing to do from which on one comes so much later instead (common practice, no source)."""

MOST_CHECKS = 24
"""So many changed plans are checked at the most: of a large day each takes a tenth of a second."""


class _Sparing:
    """One plan being cleared of what is for nothing."""

    def __init__(self, day: Day, plan: Plan) -> None:
        self.day, self.best, self.checks = day, plan, MOST_CHECKS

    def plan(self) -> Plan:
        """The plan without all that could be spared."""
        self._leave_kit_standing()
        for attendance in self.best.attendances:
            self._come_later(attendance)
        for attendance in self.best.attendances:
            self._be_there_for_work(attendance)
        self._set_off_later()
        self._stay_on_the_ground()
        return self.best

    def _is_over(self, minute: int) -> bool:
        """Whether that was before now, on a day under way."""
        return self.best.since is not None and minute < self.best.since

    # --- kit --------------------------------------------------------------------------------------------------------

    def _leave_kit_standing(self) -> None:
        """Kit that is packed down, or carried out, only to come again to the same ground stays there set up.

        Where it must be taken up in between (sheets, a sprayer with another chemical) it lies there meanwhile.
        """
        self._change_at(_as_one)
        self._change_at(_lying)

    def _change_at(self, change: _Joining) -> None:
        """Change all gaps at once where that holds, as it mostly does, else by halves: each check takes its time."""
        groups = [list(self._gaps())]
        while groups:
            gaps = groups.pop()
            if gaps and not self._try(self._changed(gaps, change)) and len(gaps) > 1:
                groups += [gaps[len(gaps) // 2 :], gaps[: len(gaps) // 2]]

    def _gaps(self) -> Iterator[_Gap]:
        """Two stays of one kit on one ground, one after the other, where no other ground wants it meanwhile."""
        stays = sorted(self.best.stays, key=lambda s: (s.carried_in, s.carried_out))
        for n, one in enumerate(stays):
            later = [s for s in stays[n + 1 :] if s.kit == one.kit and s.carried_in >= one.carried_out]
            other = next((s for s in later if (s.job, s.ground) == (one.job, one.ground)), None)
            if other is None or self._is_over(self._packing(one)):
                continue
            meanwhile = [s for s in stays if s.kit == one.kit and s.carried_out > one.carried_out]
            if sum(s.carried_in < other.carried_in for s in meanwhile) < self.day.kit[one.kit].own:
                yield one.key, other.key

    def _changed(self, gaps: list[_Gap], change: _Joining) -> Plan:
        """The plan with the stays on both sides of some gaps joined, the last first: the others keep their numbers."""
        plan = self.best
        for one, other in reversed(gaps):
            stays = {s.key: s for s in plan.stays}
            if one in stays and other in stays:
                plan = change(self.day, plan, stays[one], stays[other])
        return plan

    def _packing(self, stay: Stay) -> int:
        """When the hands begin to take a stay's kit away."""
        begins = (c.start for c in self.best.chores if c.what == "pack down" and _is_of(c, stay))
        return min(begins, default=stay.carried_out)

    # --- hands ------------------------------------------------------------------------------------------------------

    def _stay_on_the_ground(self) -> None:
        """Who would walk out with nothing and in again with nothing, and does nothing else in between, stays there."""
        for one, other in pairwise(sorted(self.best.crossings, key=lambda c: (c.hand, c.start))):
            same_way = all(getattr(one, word) == getattr(other, word) for word in ("hand", "job", "visit", "ground"))
            if same_way and not one.carried_out and not other.carried_in and not self._is_over(one.end):
                self._try(self._staying(one, other))

    def _staying(self, one: Crossing, other: Crossing) -> Plan:
        """The plan in which the crossing that ends with one goes on until another ends."""
        first = next(c for c in self.best.crossings if (c.hand, c.end) == (one.hand, one.end))
        wheels = first.wheels or other.wheels
        whole = replace(first, end=other.end, carried_out=other.carried_out, wheels=wheels)
        crossings = (whole if c == first else c for c in self.best.crossings if c != other)
        return replace(self.best, crossings=tuple(crossings))

    def _be_there_for_work(self, there: Attendance) -> None:
        """Who comes by themselves comes to the first thing that they do at a visit, and goes after the last.

        A break before or after all of it is needed no more where the shorter day asks for none.
        """
        if self._is_over(there.leave):
            return
        done = list(_doings(self.best, there))
        first, last = self._shortest(there, done)
        if not done and first == last:
            gone = replace(self.best, attendances=tuple(a for a in self.best.attendances if not _is_same(a, there)))
            self._try(self._but_for_breaks_outside(gone, there, first, first))
        elif not self._try(
            self._attending(self._but_for_breaks_outside(self.best, there, first, last), there, first, last)
        ):
            first, last = self._shortest(there, [*done, *_breaks(self.best, there)])
            self._as_far_as_it_holds(
                lambda by: self._attending(self.best, there, there.arrive + by, there.leave), first - there.arrive
            )
            now = next(a for a in self.best.attendances if _is_same(a, there))
            self._as_far_as_it_holds(
                lambda by: self._attending(self.best, there, now.arrive, now.leave - by), now.leave - last
            )

    def _come_later(self, there: Attendance) -> None:
        """Who comes by themselves to carry and set up, and then has nothing to do for long, comes so much later.

        What is done before the first pause is done right before what comes after it; stages are left where they are.
        """
        done = sorted([*_steps(self.day, self.best, there), *_breaks(self.best, there)])
        reached = min((end for _, end in done), default=there.leave)
        for start, end in done:
            if start - reached >= LONG_IDLE:
                break
            reached = max(reached, end)
        else:
            return
        works = [w for w in self.best.works if there.hand in w.hands and there.arrive <= w.start < reached]
        if not works and not self._is_over(there.arrive):
            plan = self.best
            self._as_far_as_it_holds(lambda by: _done_later(self.day, plan, there, reached, by), start - reached)

    def _shortest(self, there: Attendance, done: list[tuple[int, int]]) -> tuple[int, int]:
        """From when to when one must be there for what is done; who has come has come, and nobody left before now."""
        begins, now = min((start for start, _ in done), default=there.arrive), self.best.since
        first = there.arrive if self._is_over(there.arrive) else begins
        last = max((end for _, end in done), default=first)
        return first, last if now is None else max(last, now)

    def _attending(self, plan: Plan, there: Attendance, arrive: int, leave: int) -> Plan:
        """A plan in which one is at a visit from and to other minutes."""
        changed = replace(there, arrive=arrive, leave=leave)
        return replace(plan, attendances=tuple(changed if _is_same(a, there) else a for a in plan.attendances))

    def _but_for_breaks_outside(self, plan: Plan, there: Attendance, first: int, last: int) -> Plan:
        """A plan without the breaks of one that lie in an attendance, but before or after some minutes of it."""
        outside = [r for r in plan.rests if _is_in(r, there) and (r.end <= first or r.start >= last)]
        return replace(plan, rests=tuple(r for r in plan.rests if r not in outside or self._is_over(r.start)))

    def _set_off_later(self) -> None:
        """The van sets off for the first thing that is done at the first job.

        Where that job has a window the room before its end is worth more than hours: there the plan stays as it is.
        """
        plan = self.best
        if not plan.visits or not plan.drives or self.day.fixed_start:
            return
        visit = min(plan.visits, key=lambda v: (v.arrive, v.depart))
        job = self.day.jobs[visit.job]
        things = (plan.works, plan.chores, plan.crossings)
        begins = [x.start for group in things for x in group if (x.job, x.visit) == (visit.job, visit.number)]
        begins += [r.start for r in plan.rests if visit.arrive <= r.start < visit.depart]
        if begins and job.arrive is None and not self._is_over(plan.leaves):
            self._as_far_as_it_holds(self._setting_off, min(begins) - job.arriving - visit.arrive)

    def _setting_off(self, by: int) -> Plan:
        """The plan in which the van sets off later, with what stands from its arrival on by ways that are no walk."""
        plan = self.best
        drive = min(plan.drives, key=lambda d: (d.start, d.end))
        visit = min(plan.visits, key=lambda v: (v.arrive, v.depart))
        arrive = visit.arrive + by
        later = replace(drive, start=drive.start + by, end=drive.end + by)
        at_it = (visit.job, visit.number)
        return replace(
            plan,
            drives=tuple(later if d is drive else d for d in plan.drives),
            visits=tuple(replace(v, arrive=arrive) if v is visit else v for v in plan.visits),
            stays=tuple(
                replace(s, carried_in=max(s.carried_in, arrive)) if (s.job, s.visit_in) == at_it else s
                for s in plan.stays
            ),
            attendances=tuple(
                replace(a, arrive=max(a.arrive, arrive)) if (a.job, a.visit) == at_it else a for a in plan.attendances
            ),
        )

    def _holds(self, changed: Plan) -> bool:
        self.checks -= 1
        return self.checks >= 0 and not broken_rules(self.day, changed)

    def _try(self, changed: Plan) -> bool:
        """Keep a changed plan if it holds; whether it does."""
        if changed == self.best:
            return True
        holds = self._holds(changed)
        self.best = changed if holds else self.best
        return holds

    def _as_far_as_it_holds(self, change: Change, most: int) -> None:
        """Move something by as many minutes as the plan holds with: all of them, or as many as halving finds."""
        kept, fits, too_far, by = self.best, 0, most + 1, most
        while fits < by:
            changed = change(by)
            if self._holds(changed):
                kept, fits = changed, by
            else:
                too_far = by
            by = (fits + too_far) // 2
        self.best = kept


def _doings(plan: Plan, there: Attendance) -> Iterator[tuple[int, int]]:
    """From when to when one does what they do at a visit, but for breaks."""
    yield from _but_walks(plan, there)
    yield from ((c.start, c.end) for c in _crossings(plan, there))


def _steps(day: Day, plan: Plan, there: Attendance) -> Iterator[tuple[int, int]]:
    """The same, of crossings only the two walks."""
    yield from _but_walks(plan, there)
    yield from (leg for c in _crossings(plan, there) for leg in legs(day, c))


def _but_walks(plan: Plan, there: Attendance) -> Iterator[tuple[int, int]]:
    at, hand = (there.job, there.visit), there.hand
    yield from ((w.start, w.end) for w in plan.works if hand in w.hands and (w.job, w.visit) == at)
    yield from ((c.start, c.end) for c in plan.chores if hand in c.hands and (c.job, c.visit) == at)
    yield from ((f.leaves, f.back) for f in plan.fetches if (f.hand, f.job) == (hand, there.job))


def _crossings(plan: Plan, there: Attendance) -> Iterator[Crossing]:
    return (c for c in plan.crossings if (c.hand, c.job, c.visit) == (there.hand, there.job, there.visit))


def _done_later(day: Day, plan: Plan, there: Attendance, until: int, by: int) -> Plan:
    """The plan in which all that one walks and sees to before a minute, from their coming on, is so much later."""
    at = (there.job, there.visit)
    moved: dict[tuple[str, str, int], int] = {}  # when what comes to a ground, or goes from it, did so
    chores: list[Chore] = []
    for chore in plan.chores:
        is_early = chore.hands == (there.hand,) and (chore.job, chore.visit) == at
        is_early = is_early and there.arrive <= chore.start < until
        chores.append(replace(chore, start=chore.start + by, end=chore.end + by) if is_early else chore)
        if is_early and chore.kit is not None and day.jobs[chore.job].grounds[chore.ground].way_in.is_open:
            moved[chore.ground, chore.kit, chore.start if chore.what == "set up" else chore.end] = by
    crossings: list[Crossing] = []
    for c in plan.crossings:
        leg_in, leg_out = legs(day, c)
        is_in = c.hand == there.hand and (c.job, c.visit) == at and there.arrive <= leg_in[0] < until
        is_out = is_in and leg_out[1] <= until
        crossings.append(replace(c, start=c.start + by * is_in, end=c.end + by * is_out))
        moved |= {(c.ground, x.what, leg_in[1]): by for x in c.carried_in if is_in and not x.is_material}
        moved |= {(c.ground, x.what, leg_out[0]): by for x in c.carried_out if is_out and not x.is_material}
    stays = tuple(
        replace(
            s,
            carried_in=s.carried_in + moved.get((s.ground, s.kit, s.carried_in), 0),
            carried_out=s.carried_out + moved.get((s.ground, s.kit, s.carried_out), 0),
        )
        if s.job == there.job
        else s
        for s in plan.stays
    )
    attendances = tuple(replace(a, arrive=a.arrive + by) if _is_same(a, there) else a for a in plan.attendances)
    return replace(plan, chores=tuple(chores), crossings=tuple(crossings), stays=stays, attendances=attendances)


def _breaks(plan: Plan, there: Attendance) -> Iterator[tuple[int, int]]:
    return ((r.start, r.end) for r in plan.rests if _is_in(r, there))


def _is_in(rest: Rest, there: Attendance) -> bool:
    return rest.hand == there.hand and there.arrive <= rest.start and rest.end <= there.leave


def _is_same(one: Attendance, other: Attendance) -> bool:
    return (one.hand, one.job, one.visit) == (other.hand, other.job, other.visit)


# --- two stays joined ---------------------------------------------------------------------------------------------


def _as_one(day: Day, plan: Plan, one: Stay, other: Stay) -> Plan:
    """The plan in which one stay of a kit lasts until the end of the next, and nobody sees to it in between."""
    carried = replace(one, carried_out=other.carried_out, visit_out=other.visit_out)
    at, lift = (one.job, one.ground, one.kit), day.kit[one.kit].lift

    def number(job: str, ground: str, kit: str | None, was: int) -> int:
        if (job, ground, kit) != at or was < other.number:
            return was
        return one.number if was == other.number else was - 1

    def renumbered(stay: Stay) -> Stay:
        follows = stay.follows and number(stay.job, stay.ground, stay.kit, stay.follows)
        return replace(stay, number=number(*stay.key), follows=follows)

    stays = [carried if s == one else s for s in plan.stays if s != other]
    chores = [c for c in plan.chores if not (_is_of(c, one) and c.what == "pack down")]
    chores = [c for c in chores if not (_is_of(c, other) and c.what == "set up")]
    return replace(
        plan,
        stays=tuple(renumbered(s) for s in stays),
        chores=tuple(c if c.stay is None else replace(c, stay=number(c.job, c.ground, c.kit, c.stay)) for c in chores),
        works=tuple(
            replace(w, stays=tuple((k, number(w.job, day.jobs[w.job].ground_of(w.stage), k, n)) for k, n in w.stays))
            for w in plan.works
        ),
        crossings=tuple(_not_carried(day, plan, one, other, lift)),
    )


def _lying(day: Day, plan: Plan, one: Stay, other: Stay) -> Plan:
    """The plan in which kit, packed down, lies on its ground from one stay of it to the next."""
    if other.follows is not None or day.jobs[one.job].grounds[one.ground].way_in.is_open:
        return plan
    ups = (c.start for c in plan.chores if c.what == "set up" and _is_of(c, other))
    uses = (w.start for w in plan.works if (other.kit, other.number) in w.stays and _is_on(day, w, other))
    again = min([*ups, *uses], default=other.carried_in)
    until = replace(one, carried_out=again, visit_out=other.visit_in)
    since = replace(other, carried_in=again, follows=one.number)
    stays = tuple(until if s == one else since if s == other else s for s in plan.stays)
    crossings = tuple(_not_carried(day, plan, one, other, day.kit[one.kit].lift))
    return replace(plan, stays=stays, crossings=crossings)


def _is_on(day: Day, work: Work, stay: Stay) -> bool:
    return (work.job, day.jobs[work.job].ground_of(work.stage)) == (stay.job, stay.ground)


def _not_carried(day: Day, plan: Plan, one: Stay, other: Stay, lift: int) -> Iterator[Crossing]:
    """The crossings without the kit between two stays; without those that then carry nothing and hold no work."""
    out_by, in_by = (lift, lift) if other.follows is None else (0, 0)  # what lay there nobody carried
    for c in plan.crossings:
        leg_in, leg_out = legs(day, c)
        is_there, changed = (c.job, c.ground) == (one.job, one.ground), c
        if is_there and out_by and leg_out[0] == one.carried_out and _carries(c.carried_out, one.kit):
            changed, out_by = replace(changed, carried_out=_less(c.carried_out, one.kit)), out_by - 1
        if is_there and in_by and leg_in[1] == other.carried_in and _carries(c.carried_in, one.kit):
            changed, in_by = replace(changed, carried_in=_less(c.carried_in, one.kit)), in_by - 1
        if changed == c or changed.carried_in or changed.carried_out or _holds_work(day, plan, c):
            yield changed


def _carries(load: tuple[Carried, ...], kit: str) -> bool:
    return any(x.what == kit and not x.is_material for x in load)


def _less(load: tuple[Carried, ...], kit: str) -> tuple[Carried, ...]:
    """A load with one of a kit less."""
    changed = (replace(x, count=x.count - 1) if x.what == kit and not x.is_material else x for x in load)
    return tuple(x for x in changed if x.count)


def _holds_work(day: Day, plan: Plan, crossing: Crossing) -> bool:
    """Whether somebody stands on the ground, for work or a chore, inside a crossing of theirs."""
    works = [w for w in plan.works if (w.job, day.jobs[w.job].ground_of(w.stage)) == (crossing.job, crossing.ground)]
    chores = [c for c in plan.chores if (c.job, c.ground) == (crossing.job, crossing.ground) and c.kit is not None]
    done = [(x.start, x.end) for x in works if crossing.hand in x.hands]
    done += [(x.start, x.end) for x in chores if crossing.hand in x.hands]
    return any(crossing.start <= start and end <= crossing.end for start, end in done)


def _is_of(chore: Chore, stay: Stay) -> bool:
    return (chore.job, chore.ground, chore.kit, chore.stay) == stay.key
