"""The serial order's duties, with their times, as a plan."""

from collections.abc import Iterator

from planner.day import Day
from planner.engine.bearing import wheels_for
from planner.engine.index import Index
from planner.engine.problem import Problem
from planner.engine.serial.duties import Duty, riders
from planner.plan.plan import Attendance, Chore, Crossing, Drive, Plan, Rest, Stay, Visit, Work


class SerialReading:
    """Reads duties as a plan; ``rests`` are when all who owe one have a break or a meal: start and minutes."""

    def __init__(self, day: Day, problem: Problem, duties: list[Duty], rests: list[tuple[int, int]]) -> None:
        self.day, self.problem, self.index = day, problem, Index.of(day)
        self.duties, self.rests = duties, rests

    def plan(self) -> Plan:
        """The whole of it, each job in one visit."""
        drives = [d for d in self.duties if d.what == "drive"]
        jobs = [d.job for d in drives if d.job is not None]
        places = [
            self.day.van.starts_at,
            *(self.day.jobs[self.index.jobs[j]].place for j in jobs),
            self.day.van.ends_at,
        ]
        visits = [
            Visit(self.index.jobs[job], 1, into.end, out.start)
            for job, into, out in zip(jobs, drives, drives[1:], strict=False)
        ]
        crossings = tuple(self._crossings())
        stays, chores, named = self._stays()
        rests = tuple(rest for begin, length in self.rests for rest in self._rests(begin, length))
        return Plan(
            drives=tuple(Drive(a, b, d.start, d.end) for a, b, d in zip(places, places[1:], drives, strict=False)),
            visits=tuple(visits),
            works=tuple(self._works(named)),
            crossings=crossings,
            stays=tuple(stays),
            chores=(*chores, *self._protection()),
            rests=rests,
            attendances=tuple(self._attendances(visits)),
        )

    def _walkers(self) -> list[int]:
        """Those with their own transport who are needed at all; they are at every job for as long as the van is."""
        needed = {h for d in self.duties for h in d.hands}
        return [h for h in sorted(needed) if not self.problem.hands[h].rides]

    def _attendances(self, visits: list[Visit]) -> Iterator[Attendance]:
        for h in self._walkers():
            for visit in visits:
                yield Attendance(self.index.hands[h], visit.job, visit.number, visit.arrive, visit.depart)

    def _names(self, hands: tuple[int, ...]) -> tuple[str, ...]:
        return tuple(self.index.hands[h] for h in hands)

    def _rests(self, begin: int, length: int) -> Iterator[Rest]:
        for h in (*riders(self.problem), *self._walkers()):
            if self.problem.hands[h].rest is not None or self.problem.hands[h].meal is not None:
                yield Rest(self.index.hands[h], begin, begin + length)

    def _crossings(self) -> Iterator[Crossing]:
        into: Duty | None = None
        for duty in self.duties:
            if duty.what == "walk in":
                into = duty
            elif duty.what == "walk out" and into is not None:
                job, ground = self.index.grounds[into.ground or 0]
                for n, h in enumerate(into.hands):
                    carried_in, carried_out = (
                        tuple(c for c in load if n == 0 or (c.share < 1 and n < round(1 / c.share)))
                        for load in (into.load, duty.load)
                    )
                    is_loaded = n == 0 and bool(carried_in or carried_out)
                    truck = wheels_for(self.problem, into.ground or 0) if is_loaded else None
                    wheels = None if truck is None else self.index.kit[truck]
                    hand, start, end = self.index.hands[h], into.start, duty.end
                    yield Crossing(job, 1, ground, hand, start, end, carried_in, carried_out, wheels)

    def _stays(self) -> tuple[list[Stay], list[Chore], dict[tuple[int, int, int], int]]:
        """Stays and their chores, and which stay (ground, kit, minute) -> number each stage finds."""
        stays, chores = [], []
        counts: dict[tuple[int, int], int] = {}
        standing: dict[tuple[int, int], tuple[int, int]] = {}
        named: dict[tuple[int, int, int], int] = {}
        for n, duty in enumerate(self.duties):
            if duty.kit is None or duty.ground is None:
                continue
            at = (duty.ground, duty.kit)
            job, ground = self.index.grounds[duty.ground]
            slots = self.problem.grounds[duty.ground].slots
            if duty.what == "set up":
                counts[at] = counts.get(at, 0) + 1
                standing[at] = (self._came(n, duty) if slots else duty.start, counts[at])
            else:
                came, number = standing.pop(at)
                left = self._left(n, duty) if slots else duty.end
                stays.append(Stay(job, ground, self.index.kit[duty.kit], number, 1, 1, came, left))
                for other in self.duties:
                    if other.activity is not None and other.ground == duty.ground and came <= other.start <= left:
                        named[duty.ground, duty.kit, other.activity] = number
            if duty.minutes:
                chores.append(self._chore(duty, counts[at]))
        return stays, chores, named

    def _came(self, n: int, duty: Duty) -> int:
        """When the in-leg that carried a kit ended."""
        name = self.index.kit[duty.kit or 0]
        for before in reversed(self.duties[:n]):
            if before.what == "walk in" and before.ground == duty.ground and any(c.what == name for c in before.load):
                return before.end
        return duty.start

    def _left(self, n: int, duty: Duty) -> int:
        """When the out-leg that carried a kit began."""
        name = self.index.kit[duty.kit or 0]
        for later in self.duties[n:]:
            if later.what == "walk out" and later.ground == duty.ground and any(c.what == name for c in later.load):
                return later.start
        return duty.end

    def _works(self, named: dict[tuple[int, int, int], int]) -> Iterator[Work]:
        for d in self.duties:
            if d.activity is not None and d.mode is not None and d.ground is not None:
                job, stage = self.index.stages[d.activity]
                stays = tuple((self.index.kit[k], named[d.ground, k, d.activity]) for k in d.mode.kit)
                yield Work(job, stage, d.mode.name, self._names(d.hands), 1, d.start, d.end, stays)

    def _protection(self) -> Iterator[Chore]:
        for duty in self.duties:
            if duty.what in ("lay", "lift") and duty.minutes:
                yield self._chore(duty, None)

    def _chore(self, duty: Duty, stay: int | None) -> Chore:
        assert duty.what in ("set up", "pack down", "lay", "lift")
        job, ground = self.index.grounds[duty.ground or 0]
        kit = None if duty.kit is None else self.index.kit[duty.kit]
        return Chore(duty.what, job, 1, ground, self._names(duty.hands), duty.start, duty.end, kit, stay)
