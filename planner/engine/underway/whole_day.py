"""From a solution of the rest of a day to the plan of the whole of it: what happened, then what is to come."""

from dataclasses import replace

from planner.day import Day
from planner.engine.solution import SolutionReader, Value
from planner.engine.underway.held import Held
from planner.engine.variables import Variables
from planner.plan.past import NOT_YET, Past
from planner.plan.plan import Attendance, Chore, Crossing, Drive, Plan, Rest, Stay, Visit, Work
from planner.plan.progress import Progress


class RestReading(SolutionReader):
    """A solution read as the plan of what is left; visits and crossings begun are in it whatever they still do."""

    def __init__(self, day: Day, past: Past, variables: Variables, value: Value, progress: Progress) -> None:
        self.past, self.held = past.plan, Held(day, past, variables, progress)
        self.begun_visits = {(v.job, v.number) for v in past.plan.visits}
        super().__init__(day, variables, value)

    def _is_used(self, n: int) -> bool:
        visit = self.v.visits[n]
        return (self.index.jobs[visit.job], visit.number + 1) in self.begun_visits or super()._is_used(n)

    def _used_slots(self) -> list[int]:
        return sorted({*super()._used_slots(), *self.held.crossings})

    # --- joined to the past -------------------------------------------------------------------------------------

    def whole(self) -> Plan:
        """The plan of the whole day, each list in time order."""
        rest = self.plan()
        return Plan(
            drives=self._drives_joined(rest),
            visits=self._visits_joined(rest),
            works=tuple(sorted((self._work(w) for w in rest.works), key=lambda w: (w.start, w.job, w.stage))),
            crossings=tuple(sorted(self._crossings_joined(), key=lambda c: (c.start, c.hand))),
            stays=tuple(sorted(self._stays_joined(rest), key=lambda s: (s.carried_in, s.kit))),
            chores=tuple(sorted(self._chores_joined(rest), key=lambda c: (c.start, c.what, c.kit or ""))),
            rests=tuple(sorted(self._rests_joined(rest), key=lambda r: r.start)),
            attendances=self._attendances_joined(rest),
            fetches=self.past.fetches,
        )

    def _drives_joined(self, rest: Plan) -> tuple[Drive, ...]:
        return (*self.past.drives, *rest.drives[len(self.past.drives) :])

    def _visits_joined(self, rest: Plan) -> tuple[Visit, ...]:
        known = {(v.job, v.number): v for v in self.past.visits}
        joined = []
        for visit in rest.visits:
            past = known.get((visit.job, visit.number), visit)
            joined.append(replace(past, depart=visit.depart) if past.depart == NOT_YET else past)
        return tuple(joined)

    def _work(self, work: Work) -> Work:
        known = self.past.work(work.job, work.stage)
        if known is None:
            ground = self.day.jobs[work.job].ground_of(work.stage)
            stays = tuple((kit, self._number(work.job, ground, kit, number)) for kit, number in work.stays)
            return replace(work, stays=stays)
        return replace(known, end=work.end) if known.end == NOT_YET else known

    def _number(self, job: str, ground: str, kit: str, number: int) -> int:
        """The number in the whole day of a stay that bears another among what is left."""
        begun = [s for s in self.past.stays if (s.job, s.ground, s.kit) == (job, ground, kit)]
        standing = [s.number for s in begun if s.carried_out == NOT_YET]
        if number <= len(standing):
            return standing[number - 1]
        return number - len(standing) + max((s.number for s in begun), default=0)

    def _crossings_joined(self) -> list[Crossing]:
        joined = [c for c in self.past.crossings if c.end <= self.held.now]
        for n in self._used_slots():
            known, stays = self.held.crossings.get(n), self._main_crossing(n)
            if known is None:
                joined += self._crossings_in(n)
            elif known.end < NOT_YET:
                joined.append(known)
            else:
                joined.append(replace(stays, start=known.start, carried_in=known.carried_in, wheels=known.wheels))
                joined += [x for x in self._crossings_in(n) if x.start >= stays.end]
        return joined

    def _stays_joined(self, rest: Plan) -> list[Stay]:
        joined = [s for s in self.past.stays if s.carried_out < NOT_YET]
        known = {s.key: s for s in self.past.stays if s.carried_out == NOT_YET}
        for stay in rest.stays:
            number = self._number(*stay.key)
            begun = known.get((stay.job, stay.ground, stay.kit, number))
            if begun is None:
                before = stay.follows
                if before is not None:
                    before = self._number(stay.job, stay.ground, stay.kit, before)
                joined.append(replace(stay, number=number, follows=before))
            else:
                joined.append(replace(begun, carried_out=stay.carried_out, visit_out=stay.visit_out))
        return joined

    def _chores_joined(self, rest: Plan) -> list[Chore]:
        joined = list(self.past.chores)
        done = {(c.job, c.ground, c.visit, c.what, c.kit, c.stay) for c in joined if c.end > self.held.now}
        for chore in rest.chores:
            stay = None
            if chore.kit is not None and chore.stay is not None:
                stay = self._number(chore.job, chore.ground, chore.kit, chore.stay)
            if (chore.job, chore.ground, chore.visit, chore.what, chore.kit, stay) not in done:
                joined.append(replace(chore, stay=stay))
        return joined

    def _rests_joined(self, rest: Plan) -> list[Rest]:
        had = {(r.hand, r.end - r.start) for r in self.past.rests}
        return [*self.past.rests, *(r for r in rest.rests if (r.hand, r.end - r.start) not in had)]

    def _attendances_joined(self, rest: Plan) -> tuple[Attendance, ...]:
        known = {(a.hand, a.job, a.visit): a for a in self.past.attendances}
        joined = []
        for a in rest.attendances:
            past = known.get((a.hand, a.job, a.visit), a)
            joined.append(replace(past, leave=a.leave) if past.leave == NOT_YET else past)
        return tuple(joined)
