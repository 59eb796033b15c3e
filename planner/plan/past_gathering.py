"""The part of a plan that has happened, gathered as a plan of its own."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace

from planner.day import Day
from planner.plan.fetching import fetch_of
from planner.plan.happening import NOT_YET, Happening
from planner.plan.legs import stays_moved
from planner.plan.past_times import is_to_come
from planner.plan.plan import Attendance, Chore, Crossing, Drive, Plan, Rest, Stay, StayKey, Visit, Work
from planner.plan.progress import Progress


class Gathering:
    """The happened part of a plan as a plan of its own; what was held back (`Happening`) still lies."""

    def __init__(
        self, day: Day, plan: Plan, duties: list[Happening], progress: Progress, skipped: Collection[Work]
    ) -> None:
        happened = [d for d in duties if d.happened]
        self.day, self.known, self.happened, self.progress = day, plan, happened, progress
        self.to_come = [w for w in skipped if (w.job, w.stage) not in progress.dropped]
        held = [d.item for d in duties if d.is_held_back]
        self.lying = {(c.job, c.ground, c.kit, c.stay) for c in held if isinstance(c, Chore)}
        self.brought_later: set[StayKey] = set()
        self.behind = {(x.job, x.kit): x.by for x in progress.behind}
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
        stays = tuple(self._gone_with_the_van(self._stays(), visits))
        return Plan(
            drives=drives,
            visits=visits,
            works=self._timed(Work),
            crossings=tuple(self._crossings(stays)),
            stays=stays,
            chores=self._timed(Chore),
            rests=self._timed(Rest),
            attendances=tuple(self._attendances(visits)),
            fetches=tuple(fetch_of(self.day, sent) for sent in self.progress.fetches if sent.job in self.day.jobs),
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
                left = {kit for job, ground, kit, _ in self.lying if (job, ground) == (c.job, c.ground)}
                left |= {kit for job, kit in self.behind if job == c.job}
                moved = stays_moved(self.day, self.known, c, inward=False)
                left |= {s.kit for s in moved if s.key in self.brought_later}
                taken = tuple(x for x in c.carried_out if x.is_material or x.what not in left)
                taken = tuple(x for x in taken if x.what not in out.leaves_in)
                yield replace(c, start=into.start, end=out.end, carried_out=taken)
                continue
            stops = self.progress.stops_at(c.hand)
            gone = NOT_YET if stops is None else stops
            inside = [d.end for d in self.happened if c.hand in d.hands and self._is_inside(d, c) and d.end < NOT_YET]
            end = NOT_YET if gone > self.progress.at else max([gone, *(x + into.minutes for x in [into.end, *inside])])
            yield replace(c, start=into.start, end=end, carried_out=())

    def _is_inside(self, duty: Happening, c: Crossing) -> bool:
        """Whether something on its ground was done in a crossing."""
        if not isinstance(duty.item, Work | Chore) or (duty.item.job, duty.item.visit) != (c.job, c.visit):
            return False
        return c.start <= duty.item.start and duty.item.end <= c.end

    def _stays(self) -> Iterator[Stay]:
        """Stays that have begun, from the legs and chores that have happened."""
        for stay in self.known.stays:
            way = self.day.jobs[stay.job].grounds[stay.ground].way_in
            key = stay.key
            if way.is_open:
                came, left = self.chores.get((*key, "set up")), self.chores.get((*key, "pack down"))
                uses = [d for d in self.happened if isinstance(d.item, Work) and self._uses(d.item, stay)]
                carried_in = min((d.start for d in ([came] if came else uses)), default=None)
                carried_out = NOT_YET if left is None or left.end > self.progress.at else left.end
                if left is None and self._is_over_unpacked(stay):
                    carried_out = max([carried_in or 0, *(d.end for d in uses)])
            else:
                into, out = self._leg(stay, inward=True), self._leg(stay, inward=False)
                out = None if key in self.lying or (out is not None and stay.kit in out.leaves_in) else out
                carried_in = None if into is None else into.end
                carried_out = NOT_YET if out is None else out.start
                if carried_in is not None and carried_out < carried_in:  # it came after the walk that was to take it
                    carried_out = NOT_YET
                    self.brought_later.add(key)
                if stay.follows is not None:
                    carried_in = self._begun_again(stay)
                if (after := self._following(stay)) is not None:
                    again = self._begun_again(after)
                    carried_out = NOT_YET if again is None else again
            by = self.behind.get((stay.job, stay.kit))
            if by is not None and carried_in is not None and not by > carried_out:
                used = [d.end for d in self.happened if d.end < NOT_YET and self._is_of(d, stay)]
                carried_out = NOT_YET if self._is_wanted(stay) else max([carried_in, by, *used])
            if carried_in is not None:
                yield replace(stay, carried_in=carried_in, carried_out=carried_out)

    def _gone_with_the_van(self, stays: Iterable[Stay], visits: tuple[Visit, ...]) -> Iterator[Stay]:
        """The stays; what may not stay while the van is away, and nobody was told to have packed up, went with it."""
        left = {(v.job, v.number): v.depart for v in visits if v.depart < NOT_YET}
        for stay in stays:
            departed = left.get((stay.job, stay.visit_in))
            is_gone = departed is not None and stay.carried_out == NOT_YET and not self.day.kit[stay.kit].may_be_left
            yield replace(stay, carried_out=departed) if is_gone and departed is not None else stay

    def _is_wanted(self, stay: Stay) -> bool:
        """Whether kit that stays, behind a way in, is still to be used where it stands."""
        way = self.day.jobs[stay.job].grounds[stay.ground].way_in
        if way.is_open or not self.progress.all_stays(stay.kit, self.day):
            return False
        over = {(d.item.job, d.item.stage) for d in self.happened if isinstance(d.item, Work) and d.end < NOT_YET}
        gone = over | set(self.progress.dropped)
        works = (*self.known.works, *self.to_come)
        return any((w.job, w.stage) not in gone and self._uses(w, stay) for w in works)

    def _is_of(self, duty: Happening, stay: Stay) -> bool:
        """Whether a stage was done with a stay, or a chore was on it."""
        item = duty.item
        if isinstance(item, Work):
            return self._uses(item, stay)
        return isinstance(item, Chore) and (item.job, item.ground, item.kit, item.stay) == stay.key

    def _following(self, stay: Stay) -> Stay | None:
        """The stay that follows one, where its kit lies on."""
        place = stay.key
        return next((s for s in self.known.stays if (s.job, s.ground, s.kit, s.follows) == place), None)

    def _begun_again(self, stay: Stay) -> int | None:
        """When kit that lay there was begun to be set up again, or first used; None where it lies there yet."""
        up = self.chores.get((stay.job, stay.ground, stay.kit, stay.number, "set up"))
        uses = [d for d in self.happened if isinstance(d.item, Work) and self._uses(d.item, stay)]
        return min((d.start for d in ([up] if up else uses)), default=None)

    def _uses(self, work: Work, stay: Stay) -> bool:
        ground = self.day.jobs[work.job].ground_of(work.stage)
        return (work.job, ground) == (stay.job, stay.ground) and (stay.kit, stay.number) in work.stays

    def _is_over_unpacked(self, stay: Stay) -> bool:
        """Whether kit that needs no packing down has been used for the last time in its plan."""
        if any(self._uses(work, stay) for work in self.to_come):
            return False
        packs = any(
            (c.job, c.ground, c.kit, c.stay, c.what) == (stay.job, stay.ground, stay.kit, stay.number, "pack down")
            for c in self.known.chores
        )
        users = [w for w in self.known.works if self._uses(w, stay)]
        done = {(d.item.job, d.item.stage) for d in self.happened if isinstance(d.item, Work) and d.end < NOT_YET}
        return not packs and all((w.job, w.stage) in done for w in users)

    def _leg(self, stay: Stay, *, inward: bool) -> Happening | None:
        """The leg that brought or took a stay's kit, if it has happened."""
        for c in self.known.crossings:
            if stay in stays_moved(self.day, self.known, c, inward=inward):
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
            arrive = min(max(a.arrive, visit.arrive, self.progress.comes_at(a.hand)), begun)
            gone = self.progress.gone.get(a.hand, NOT_YET)
            if arrive >= min(at, gone) and not done:
                continue
            leave = NOT_YET
            is_over = a.leave <= at and self._all_done(a) and not self._is_kept(a)
            if gone <= at or visit.depart < NOT_YET or is_over:
                ends = [d.end for d in done if d.end < NOT_YET]
                leave = max([arrive, *ends, min(a.leave, gone, visit.depart)])
            yield replace(a, arrive=arrive, leave=leave)

    def _is_kept(self, a: Attendance) -> bool:
        """Whether a stage there was told, after a hand should have left, not to have been begun."""
        said = [x for x in self.progress.not_yet if x.job == a.job and a.leave < x.by]
        return any(is_to_come(x, self.day, self.progress) for x in said)

    def _is_in(self, duty: Happening, a: Attendance) -> bool:
        return not isinstance(duty.item, Rest | Drive) and (duty.item.job, duty.item.visit) == (a.job, a.visit)

    def _all_done(self, a: Attendance) -> bool:
        """Whether a hand has done all that the plan has for them on a visit."""
        mine = [d for d in self.happened if a.hand in d.hands and self._is_in(d, a)]
        known: Iterable[Work | Chore] = (*self.known.works, *self.known.chores)
        wanted = sum(a.hand in x.hands and (x.job, x.visit) == (a.job, a.visit) for x in known)
        done = [d for d in mine if d.kind in ("stage", "chore") and d.end < NOT_YET]
        is_inside = sum(d.kind == "in" for d in mine) > sum(d.kind == "out" for d in mine)
        return len(done) == wanted and not is_inside
