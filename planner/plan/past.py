"""The past that a record makes: what has happened of a plan, with real times, and what is under way.

Noted times are kept. What was not noted happened in the order of the plan: later where something before it took
longer, sooner where a note says that what follows was done by then.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from planner.day import Day
from planner.plan.plan import Attendance, Chore, Crossing, Drive, Plan, Rest, Stay, Visit, Work
from planner.plan.progress import Noted, Progress, check_progress

NOT_YET = 10**6
"""Stands for the end of what is still under way."""

VAN = ""
"""Stands among the hands for the van itself: it drives one way at a time."""


@dataclass(frozen=True)
class Past:
    """The part of a plan that has happened, with its real times, and the stages taken as done without a note.

    Works, crossings, stays, visits and attendances under way end `NOT_YET`; chores, breaks, drives and walks under way
    end a little after now.
    """

    plan: Plan
    assumed: tuple[tuple[str, str], ...]

    def is_begun(self, job: str, stage: str) -> bool:
        """Whether a stage is over or under way."""
        return self.plan.work(job, stage) is not None

    def is_done(self, job: str, stage: str) -> bool:
        """Whether a stage is over."""
        work = self.plan.work(job, stage)
        return work is not None and work.end < NOT_YET


@dataclass(eq=False)
class _Duty:
    """One thing in the plan that hands do, with its real times as they become known."""

    item: Work | Chore | Rest | Drive | Crossing
    kind: str
    hands: tuple[str, ...]
    start: int
    end: int
    note: Noted | None = None
    settled: bool = False
    happened: bool = False
    crossings: tuple[Crossing, ...] = ()
    needs: list["_Duty"] = field(default_factory=list)
    follows: list["_Duty"] = field(default_factory=list)

    @property
    def minutes(self) -> int:
        return self.end - self.start

    @property
    def is_fixed(self) -> bool:
        """Whether its times are recorded."""
        return self.note is not None or self.settled


def past_of(day: Day, plan: Plan, progress: Progress) -> Past:
    """What has happened of a plan by ``progress.at``.

    Raises
    ------
    ProgressError
        When the record does not go with the day and the plan.
    """
    check_progress(day, plan, progress)
    duties = _Linking(day, plan, progress).duties
    arrivals = _arrivals(plan, progress)
    forced = _forced(duties, arrivals, progress)
    _run_forward(duties, forced, arrivals, day, progress)
    _bring_back(duties)
    happened = [d for d in duties if d.happened]
    assumed = tuple(
        (d.item.job, d.item.stage) for d in happened if isinstance(d.item, Work) and not d.is_fixed and d.end < NOT_YET
    )
    return Past(_Gathering(day, plan, happened, progress).plan(), assumed)


# --- what is done in which order -----------------------------------------------------------------------------------


class _Linking:
    """Everything that hands do in a plan, in its order, each linked to what it cannot have happened without."""

    def __init__(self, day: Day, plan: Plan, progress: Progress) -> None:
        self.day, self.plan = day, plan
        riders = tuple(h for h, hand in day.hands.items() if not hand.own_transport)
        duties = [_Duty(d, "drive", (*riders, VAN), d.start, d.end) for d in plan.drives]
        duties += [_Duty(w, "stage", w.hands, w.start, w.end, progress.of(w)) for w in plan.works]
        duties += [_Duty(c, "chore", c.hands, c.start, c.end) for c in plan.chores]
        duties += [_Duty(r, "rest", (r.hand,), r.start, r.end) for r in plan.rests]
        duties += self._legs(inward=True) + self._legs(inward=False)
        self.duties = sorted(duties, key=lambda d: (d.start, d.end, d.kind == "in"))
        for n, duty in enumerate(self.duties):
            duty.settled = duty.note is None and duty.start < progress.settled
            before = self.duties[:n]
            duty.needs = [d for d in before if set(d.hands) & set(duty.hands) or self._needs(duty, d)]
            duty.follows = [d for d in before if self._follows(duty, d)]

    def _legs(self, *, inward: bool) -> list[_Duty]:
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
            walk = self.day.jobs[c.job].grounds[c.ground].way_in.minutes
            start = c.start if inward else c.end - walk
            hands = tuple(x.hand for x in crossings)
            kind = "in" if inward else "out"
            duties.append(_Duty(c, kind, hands, start, start + walk, crossings=tuple(crossings)))
        return duties

    def _needs(self, duty: _Duty, before: _Duty) -> bool:
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
                (isinstance(other, Work) and other.stage in self._before(one))
                or (isinstance(other, Chore) and other.what == "set up" and (other.kit, other.stay) in one.stays)
                or (before.kind == "in" and isinstance(other, Crossing) and self._brings(other, one))
            )
        if isinstance(one, Chore) and one.what == "pack down":
            return isinstance(other, Work) and (one.kit, one.stay) in other.stays
        if duty.kind == "out":
            return not isinstance(other, Crossing) and self._is_with(other, self._taken_out(duty))
        if isinstance(other, Work) or (one.ground, one.visit) != (other.ground, other.visit):
            return False
        if isinstance(one, Chore) and one.what == "lift":
            return before.kind == "out"
        laid = isinstance(other, Chore) and other.what == "lay"
        brought = isinstance(one, Chore) and one.what == "set up" and before.kind == "in"
        return duty.kind != "out" and (laid or brought)

    def _taken_out(self, duty: _Duty) -> set[tuple[str, str, int]]:
        """The stays, by ground, kit and number, that end with a walk out."""
        carried = {x.what for c in duty.crossings for x in c.carried_out}
        place = duty.crossings[0]
        return {
            (s.ground, s.kit, s.number)
            for s in self.plan.stays
            if (s.job, s.ground, s.carried_out) == (place.job, place.ground, duty.start) and s.kit in carried
        }

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

    def _brings(self, crossing: Crossing, work: Work) -> bool:
        """Whether a crossing may bring what a work needs."""
        ground = self.day.jobs[work.job].ground_of(work.stage)
        return crossing.ground == ground and bool(crossing.carried_in)

    def _follows(self, duty: _Duty, before: _Duty) -> bool:
        """Whether it is taken to wait for another where neither is noted: both are work on one ground, one by one."""
        one, other = duty.item, before.item
        if not (isinstance(one, Work) and isinstance(other, Work)) or one.job != other.job or other.end > one.start:
            return False
        job = self.day.jobs[one.job]
        pair = {one.stage, other.stage}
        return job.ground_of(one.stage) == job.ground_of(other.stage) or any(pair == set(x) for x in job.apart)


def _arrivals(plan: Plan, progress: Progress) -> dict[int, int]:
    """When the van really got there, by the place of the visit in the plan: the visit nearest in time is meant."""
    found = {}
    for job, minute in progress.arrived.items():
        own = [n for n, visit in enumerate(plan.visits) if visit.job == job]
        found[min(own, key=lambda n: abs(plan.visits[n].arrive - minute))] = minute
    return found


def _forced(duties: list[_Duty], arrivals: dict[int, int], progress: Progress) -> set[int]:
    """What must have happened, whatever the clock says: what is recorded, and what that could not do without."""
    drives = [d for d in duties if d.kind == "drive"]
    forced = {id(d) for d in duties if d.is_fixed} | {id(drives[n]) for n in arrivals}
    for duty in reversed(duties):
        if id(duty) in forced:
            forced |= {id(d) for d in duty.needs}
    return forced


def _is_news(duty: _Duty, progress: Progress) -> bool:
    """Whether a note says something that the plan did not yet know."""
    note = duty.note
    if note is None:
        return False
    if max(duty.start if note.start is None else note.start, note.end or 0) > progress.settled:
        return True
    return note.start not in (None, duty.start) or note.end not in (None, duty.end) or duty.start >= progress.settled


# --- when it happened ----------------------------------------------------------------------------------------------


def _run_forward(duties: list[_Duty], forced: set[int], arrivals: dict[int, int], day: Day, progress: Progress) -> None:
    """Give each thing its time, and say of what nobody noted whether it has happened by the clock."""
    drives = [d for d in duties if d.kind == "drive"]
    watched = {h for d in duties if _is_news(d, progress) for h in d.hands}
    followed = {id(x) for d in duties if id(d) in forced for x in d.needs}
    for duty in duties:
        before = [*duty.needs, *(duty.follows if id(duty) not in forced else ())]
        ready = max((_free_from(d, duty, day, progress) for d in before if d.happened), default=0)
        if id(duty) in forced:
            duty.happened = True
            _time_forced(duty, ready, arrivals.get(_place(drives, duty)), progress, must_be_over=id(duty) in followed)
        elif not watched & set(duty.hands):
            start, end = max(duty.start, ready), max(duty.start, ready) + duty.minutes
            until = min([progress.at, *(progress.gone.get(h, NOT_YET) for h in duty.hands)])
            duty.happened = start < until and all(d.happened for d in before)
            if isinstance(duty.item, Work | Chore | Rest) and any(
                end > progress.gone.get(h, NOT_YET) for h in duty.hands
            ):
                duty.happened = False
            if duty.happened:
                duty.start, duty.end = start, end
                if isinstance(duty.item, Work) and end > progress.at:
                    duty.end = NOT_YET


def _place(drives: list[_Duty], duty: _Duty) -> int:
    return drives.index(duty) if duty in drives else -1


def _free_from(before: _Duty, duty: _Duty, day: Day, progress: Progress) -> int:
    """From when on something may follow what has happened before it."""
    end = before.end
    one, other = duty.item, before.item
    if isinstance(one, Work) and isinstance(other, Work) and one.job == other.job:
        waits = [w for w in day.jobs[one.job].waits if (w.after, w.before) == (other.stage, one.stage)]
        end += max((w.bounds(end)[0] for w in waits), default=0)
    return end


def _time_forced(duty: _Duty, ready: int, arrived: int | None, progress: Progress, *, must_be_over: bool) -> None:
    minutes, note = duty.minutes, duty.note
    if note is not None:
        start, end = note.start, note.end
        if end is None and must_be_over:
            end = min(max(start or 0, ready, duty.start) + minutes, progress.at)
        if start is None:
            planned = max(duty.start, min(ready, NOT_YET))
            start = min(planned, progress.at if end is None else max(end - minutes, min(ready, end)))
            start = min(start, progress.at if end is None else end)
        duty.start, duty.end = start, NOT_YET if end is None else max(start, end)
        return
    if arrived is not None:
        duty.start, duty.end = arrived - minutes, arrived
        return
    if duty.settled:
        if isinstance(duty.item, Work) and duty.end > progress.at:
            duty.end = progress.at if must_be_over else NOT_YET
        return
    start = max(duty.start, min(ready, progress.at))
    duty.start, duty.end = start, start + minutes
    if isinstance(duty.item, Work) and duty.end > progress.at:
        duty.end = progress.at


def _bring_back(duties: list[_Duty]) -> None:
    """What was not noted is brought forward where what could not do without it began sooner.

    All keep their minutes but works: these are squeezed into what time there was. What was settled is moved only where
    a later note gainsays it.
    """
    latest: dict[int, int] = {}
    for duty in reversed(duties):
        if not duty.happened:
            continue
        limit = latest.get(id(duty), NOT_YET)
        if duty.end > limit and duty.note is None:
            minutes, duty.end = duty.minutes, limit
            duty.start = min(duty.start, limit) if isinstance(duty.item, Work) else limit - minutes
        if duty.end == NOT_YET and limit < NOT_YET:
            duty.end = max(duty.start, limit)
        limit = min(limit, duty.start)
        for before in duty.needs:
            latest[id(before)] = min(latest.get(id(before), NOT_YET), limit)


# --- as a plan -----------------------------------------------------------------------------------------------------


class _Gathering:
    """The happened part of a plan as a plan of its own."""

    def __init__(self, day: Day, plan: Plan, happened: list[_Duty], progress: Progress) -> None:
        self.day, self.known, self.happened, self.progress = day, plan, happened, progress
        self.legs = {(id(c), d.kind): d for d in happened for c in d.crossings}
        self.chores = {
            (d.item.job, d.item.ground, d.item.kit, d.item.stay, d.item.what): d
            for d in happened
            if isinstance(d.item, Chore)
        }

    def plan(self) -> Plan:
        """All of it, each list in time order."""
        drives = self._timed(Drive)
        visits = tuple(self._visits(drives))
        stays = tuple(self._stays())
        return Plan(
            drives=drives,
            visits=visits,
            works=self._timed(Work),
            crossings=tuple(self._crossings(stays)),
            stays=stays,
            chores=self._timed(Chore),
            rests=self._timed(Rest),
            attendances=tuple(self._attendances(visits)),
        )

    def _timed(self, what: type) -> tuple:  # type: ignore[type-arg]
        found = [replace(d.item, start=d.start, end=d.end) for d in self.happened if isinstance(d.item, what)]
        return tuple(sorted(found, key=lambda x: (x.start, x.end)))

    def _visits(self, drives: tuple[Drive, ...]) -> Iterator[Visit]:
        """Visits that have begun: each is reached by a drive, and left by the next."""
        for n, (visit, drive) in enumerate(zip(self.known.visits, drives, strict=False)):
            depart = drives[n + 1].start if n + 1 < len(drives) else NOT_YET
            yield replace(visit, arrive=drive.end, depart=depart)

    def _crossings(self, stays: tuple[Stay, ...]) -> Iterator[Crossing]:
        """Crossings begun; one under way has carried nothing out, that of a hand who has gone ended when they went."""
        for c in self.known.crossings:
            into, out = self.legs.get((id(c), "in")), self.legs.get((id(c), "out"))
            if into is None:
                continue
            if out is not None:
                yield replace(c, start=into.start, end=out.end)
                continue
            gone = self.progress.gone.get(c.hand, NOT_YET)
            end = NOT_YET if gone > self.progress.at else max(gone, into.end + into.minutes)
            yield replace(c, start=into.start, end=end, carried_out=())

    def _stays(self) -> Iterator[Stay]:
        """Stays that have begun, from the legs and chores that have happened."""
        for stay in self.known.stays:
            way = self.day.jobs[stay.job].grounds[stay.ground].way_in
            key = (stay.job, stay.ground, stay.kit, stay.number)
            if way.is_open:
                came, left = self.chores.get((*key, "set up")), self.chores.get((*key, "pack down"))
                uses = [d for d in self.happened if isinstance(d.item, Work) and self._uses(d.item, stay)]
                carried_in = min((d.start for d in ([came] if came else uses)), default=None)
                carried_out = NOT_YET if left is None or left.end > self.progress.at else left.end
                if left is None and self._is_over_unpacked(stay):
                    carried_out = max([carried_in or 0, *(d.end for d in uses)])
            else:
                into, out = self._leg(stay, inward=True), self._leg(stay, inward=False)
                carried_in = None if into is None else into.end
                carried_out = NOT_YET if out is None else out.start
            if carried_in is not None:
                yield replace(stay, carried_in=carried_in, carried_out=carried_out)

    def _uses(self, work: Work, stay: Stay) -> bool:
        ground = self.day.jobs[work.job].ground_of(work.stage)
        return (work.job, ground) == (stay.job, stay.ground) and (stay.kit, stay.number) in work.stays

    def _is_over_unpacked(self, stay: Stay) -> bool:
        """Whether kit that needs no packing down has been used for the last time in its plan."""
        packs = any(
            (c.job, c.ground, c.kit, c.stay, c.what) == (stay.job, stay.ground, stay.kit, stay.number, "pack down")
            for c in self.known.chores
        )
        users = [w for w in self.known.works if self._uses(w, stay)]
        done = {(d.item.job, d.item.stage) for d in self.happened if isinstance(d.item, Work) and d.end < NOT_YET}
        return not packs and all((w.job, w.stage) in done for w in users)

    def _leg(self, stay: Stay, *, inward: bool) -> _Duty | None:
        """The leg that brought or took a stay's kit, if it has happened."""
        walk = self.day.jobs[stay.job].grounds[stay.ground].way_in.minutes
        for c in self.known.crossings:
            if (c.job, c.ground) != (stay.job, stay.ground):
                continue
            carried = c.carried_in if inward else c.carried_out
            when = c.start + walk == stay.carried_in if inward else c.end - walk == stay.carried_out
            if when and any(x.what == stay.kit for x in carried):
                return self.legs.get((id(c), "in" if inward else "out"))
        return None

    def _attendances(self, visits: tuple[Visit, ...]) -> Iterator[Attendance]:
        """When hands with their own transport came, and went."""
        at = self.progress.at
        for a in self.known.attendances:
            visit = next((v for v in visits if (v.job, v.number) == (a.job, a.visit)), None)
            if visit is None:
                continue
            done = [d for d in self.happened if a.hand in d.hands and self._is_in(d, a)]
            begun = min([d.start for d in done], default=NOT_YET)
            arrive = min(max(a.arrive, visit.arrive), begun)
            gone = self.progress.gone.get(a.hand, NOT_YET)
            if arrive >= min(at, gone) and not done:
                continue
            leave = NOT_YET
            if gone <= at or visit.depart < NOT_YET or (a.leave <= at and self._all_done(a)):
                ends = [d.end for d in done if d.end < NOT_YET]
                leave = max([arrive, *ends, min(a.leave, gone, visit.depart)])
            yield replace(a, arrive=arrive, leave=leave)

    def _is_in(self, duty: _Duty, a: Attendance) -> bool:
        return not isinstance(duty.item, Rest | Drive) and (duty.item.job, duty.item.visit) == (a.job, a.visit)

    def _all_done(self, a: Attendance) -> bool:
        """Whether a hand has done all that the plan has for them on a visit."""
        mine = [d for d in self.happened if a.hand in d.hands and self._is_in(d, a)]
        known: Iterable[Work | Chore] = (*self.known.works, *self.known.chores)
        wanted = sum(a.hand in x.hands and (x.job, x.visit) == (a.job, a.visit) for x in known)
        done = [d for d in mine if d.kind in ("stage", "chore") and d.end < NOT_YET]
        is_inside = sum(d.kind == "in" for d in mine) > sum(d.kind == "out" for d in mine)
        return len(done) == wanted and not is_inside
