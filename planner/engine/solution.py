"""From the solver's values back to a plan in the day's words."""

from collections import Counter
from collections.abc import Callable

from planner.day import Day
from planner.engine.index import Index
from planner.engine.variables import Expr, Shuttle, Stay, Task, Variables
from planner.plan.plan import (
    Attendance,
    Carried,
    Chore,
    Crossing,
    Drive,
    Plan,
    Rest,
    Visit,
    Work,
)
from planner.plan.plan import (
    Stay as PlannedStay,
)

Value = Callable[[Expr], int]
"""Gives the value of a variable or expression in a solution."""


class SolutionReader:
    """One solution, read as a plan. Crossings that carry nothing and hold no work are left out."""

    def __init__(self, day: Day, variables: Variables, value: Value) -> None:
        self.day, self.v, self.value = day, variables, value
        self.index = Index.of(day)
        self.visits = [n for n in self._round() if self._is_used(n)]
        self.numbers = self._visit_numbers()

    def plan(self) -> Plan:
        """The plan of this solution, each list in time order."""
        crossings = sorted(self._crossings(), key=lambda c: (c.start, c.hand))
        return Plan(
            drives=self._drives(),
            visits=tuple(
                Visit(
                    self._job(n),
                    self.numbers[n],
                    self.value(self.v.visits[n].arrive),
                    self.value(self.v.visits[n].depart),
                )
                for n in self.visits
            ),
            works=tuple(sorted(self._works(), key=lambda w: (w.start, w.job, w.stage))),
            crossings=tuple(crossings),
            stays=tuple(sorted(self._stays(), key=lambda s: (s.carried_in, s.kit))),
            chores=tuple(sorted(self._chores(), key=lambda c: (c.start, c.what, c.kit or ""))),
            rests=tuple(sorted(self._rests(), key=lambda r: r.start)),
            attendances=tuple(self._attendances()),
        )

    def _round(self) -> list[int]:
        """The visits in the order in which the van drives to them; two can fall in one minute."""
        following = {tail: head for tail, head, taken in self.v.arcs if tail != head and self.value(taken)}
        visits, at = [], following.get(0, 0)
        while at:
            visits.append(at - 1)
            at = following[at]
        return visits

    def _job(self, n: int) -> str:
        return self.index.jobs[self.v.visits[n].job]

    def _is_used(self, n: int) -> bool:
        """A second visit that does nothing is not one."""
        if self.v.visits[n].number == 0:
            return True
        legs = [by for stay in self.v.stays for by in (stay.came_by, stay.left_by)]
        carried = [x for by in legs for s, x in by.items() if self.v.slots[s].visit == n]
        return any(map(self.value, [*carried, *(t.visits[n] for t in self.v.all_tasks() if n in t.visits)]))

    def _visit_numbers(self) -> dict[int, int]:
        numbers: dict[int, int] = {}
        for n in self.visits:
            numbers[n] = 1 + sum(self._job(m) == self._job(n) for m in numbers)
        return numbers

    def _visit_to_or_from(self, stay: Stay, *, inward: bool) -> int:
        """The number of the visit in which a stay's kit comes or goes."""
        legs = stay.came_by if inward else stay.left_by
        by_leg = [self.v.slots[n].visit for n, carried in legs.items() if self.value(carried)]
        said = [n for n, here in (stay.visits if inward else stay.visits_out).items() if self.value(here)]
        return self._number_of([*by_leg, *said])

    def _number_of(self, visits: list[int]) -> int:
        """The number of the first of some visits that is made."""
        return next((self.numbers[n] for n in visits if n in self.numbers), 1)

    def _hands(self, task: Task) -> tuple[str, ...]:
        return tuple(self.index.hands[h] for h, does in task.hands.items() if self.value(does))

    def _span(self, task: Task) -> tuple[int, int]:
        start = self.value(task.start)
        return start, start + self.value(task.minutes)

    def _visit_of(self, task: Task) -> int:
        return self._number_of([n for n, here in task.visits.items() if self.value(here)])

    def _drives(self) -> tuple[Drive, ...]:
        van, jobs = self.day.van, self.day.jobs
        here, drives, at = van.starts_at, [], self.value(self.v.leave)
        for n in self.visits:
            place, arrive = jobs[self._job(n)].place, self.value(self.v.visits[n].arrive)
            drives.append(Drive(here, place, arrive - self.day.drive_minutes(here, place), arrive))
            here, at = place, self.value(self.v.visits[n].depart)
        drives.append(Drive(here, van.ends_at, at, at + self.day.drive_minutes(here, van.ends_at)))
        return tuple(drives)

    def _works(self) -> list[Work]:
        works = []
        for a, task in enumerate(self.v.activities):
            if not self.value(task.present):
                continue
            job, stage = self.index.stages[a]
            mode = next(m for m, x in enumerate(self.v.modes[a]) if self.value(x))
            stays = tuple(
                (self.index.kit[s.kit], s.number + 1)
                for s in self.v.stays
                if a in s.used_by and self.value(s.present) and self.value(s.used_by[a])
            )
            name = self.v.problem.activities[a].modes[mode].name
            start, end = self._span(task)
            works.append(Work(job, stage, name, self._hands(task), self._visit_of(task), start, end, stays))
        return works

    def _used_slots(self) -> list[int]:
        """Slots that hold work or carry something."""
        v = self.v
        used = {n for t in v.all_tasks() for n, x in t.slots.items() if self.value(x)}
        used |= {n for s in v.stays for by in (s.came_by, s.left_by) for n, x in by.items() if self.value(x)}
        used |= {n for (_, _, n), count in v.deliveries.items() if self.value(count)}
        used |= {n for (_, n), count in v.takings.items() if self.value(count)}
        return [n for n in sorted(used) if self.value(v.slots[n].present)]

    def _crossings(self) -> list[Crossing]:
        return [crossing for n in self._used_slots() for crossing in self._crossings_in(n)]

    def _crossings_in(self, n: int) -> list[Crossing]:
        """The crossings of a slot: that in which its hand stays, unless for nothing, and those with containers."""
        there_and_back, stays = 2 * self.v.slots[n].walk, self._main_crossing(n)
        before, after = self._shuttles(n, inward=True), self._shuttles(n, inward=False)
        start = self.value(self.v.slots[n].start)
        first = [self._crossing(n, start + m * there_and_back, brings=(x,)) for m, x in enumerate(before)]
        last = [self._crossing(n, stays.end + m * there_and_back, takes=(x,)) for m, x in enumerate(after)]
        is_needed = stays.carried_in or stays.carried_out or self._holds_work(n) or not (first or last)
        return [*first, *((stays,) if is_needed else ()), *last]

    def _main_crossing(self, n: int) -> Crossing:
        """The crossing of a slot in which its hand stays."""
        slot, there_and_back = self.v.slots[n], 2 * self.v.slots[n].walk
        return self._crossing(
            n,
            self.value(slot.start) + there_and_back * self.value(slot.before),
            self.value(slot.end) - there_and_back * self.value(slot.after),
            (*self._carried(n, inward=True), *self._material(n)),
            (*self._carried(n, inward=False), *self._taken_out(n)),
            next((self.index.kit[k] for k, along in slot.wheels.items() if self.value(along)), None),
        )

    def _crossing(
        self,
        n: int,
        start: int,
        end: int | None = None,
        brings: tuple[Carried, ...] = (),
        takes: tuple[Carried, ...] = (),
        wheels: str | None = None,
    ) -> Crossing:
        """A crossing of a slot's hand; where no end is given, there and back."""
        slot = self.v.slots[n]
        job, ground = self.index.grounds[slot.ground]
        until = start + 2 * slot.walk if end is None else end
        hand, visit = self.index.hands[slot.hand], self.numbers[slot.visit]
        return Crossing(job, visit, ground, hand, start, until, brings, takes, wheels)

    def _holds_work(self, n: int) -> bool:
        return any(self.value(task.slots[n]) for task in self.v.all_tasks() if n in task.slots)

    def _shuttles(self, n: int, *, inward: bool) -> list[Carried]:
        """What each crossing before or after a slot's stay carries."""
        rounds: list[Carried] = []
        for shuttle in self.v.shuttles:
            if (shuttle.slot, shuttle.inward) == (n, inward):
                material, left = self.index.materials[shuttle.material], self._shuttled(shuttle)
                while left:
                    one = min(left, shuttle.fits)
                    rounds.append(Carried(material, one, is_material=True, rest=shuttle.rest))
                    left -= one
        return rounds

    def _shuttled(self, shuttle: Shuttle) -> int:
        return min(self.value(shuttle.times) * shuttle.fits, self.value(shuttle.count))

    def _carried(self, n: int, *, inward: bool) -> tuple[Carried, ...]:
        counts: dict[int, int] = {}
        for stay in self.v.stays:
            legs = stay.came_by if inward else stay.left_by
            if n in legs and self.value(legs[n]):
                counts[stay.kit] = counts.get(stay.kit, 0) + 1
        kit = self.v.problem.kit
        return tuple(Carried(self.index.kit[k], c, share=1.0 / kit[k].lift) for k, c in counts.items())

    def _material(self, n: int) -> tuple[Carried, ...]:
        counts: Counter[int] = Counter()
        for (_, m, slot), count in self.v.deliveries.items():
            if slot == n:
                counts[m] += self.value(count)
        for shuttle in self.v.shuttles:
            if shuttle.slot == n and shuttle.inward:
                counts[shuttle.material] -= self._shuttled(shuttle)
        return tuple(Carried(self.index.materials[m], c, is_material=True) for m, c in counts.items() if c)

    def _taken_out(self, n: int) -> tuple[Carried, ...]:
        counts: Counter[tuple[int, float | None]] = Counter()
        for (i, slot), count in self.v.takings.items():
            if slot == n:
                leaving = self.v.problem.leaving[i]
                counts[leaving.material, leaving.rest] += self.value(count)
        for shuttle in self.v.shuttles:
            if shuttle.slot == n and not shuttle.inward:
                counts[shuttle.material, shuttle.rest] -= self._shuttled(shuttle)
        return tuple(Carried(self.index.materials[m], c, is_material=True, rest=r) for (m, r), c in counts.items() if c)

    def _stays(self) -> list[PlannedStay]:
        stays = []
        for s in self.v.stays:
            if self.value(s.present):
                job, ground = self.index.grounds[s.ground]
                came, left = self._stood(s)
                first, last = (self._visit_to_or_from(s, inward=inward) for inward in (True, False))
                before = next((self.v.stays[n].number + 1 for n, lies in s.follows.items() if self.value(lies)), None)
                kit, number = self.index.kit[s.kit], s.number + 1
                stays.append(PlannedStay(job, ground, kit, number, first, last, came, left, before))
        return stays

    def _stood(self, stay: Stay) -> tuple[int, int]:
        return self.value(stay.came), self.value(stay.left)

    def _chores(self) -> list[Chore]:
        chores = []
        for s in self.v.stays:
            if not self.value(s.present):
                continue
            job, ground = self.index.grounds[s.ground]
            for what, task in (("set up", s.set_up), ("pack down", s.pack_down)):
                if task is not None:
                    start, end = self._span(task)
                    chores.append(
                        Chore(
                            "set up" if what == "set up" else "pack down",
                            job,
                            self._visit_of(task),
                            ground,
                            self._hands(task),
                            start,
                            end,
                            self.index.kit[s.kit],
                            s.number + 1,
                        )
                    )
        for (g, n), (used, lay, lift) in self.v.protection.items():
            if n in self.numbers and self.value(used):
                job, ground = self.index.grounds[g]
                number = self.numbers[n]
                if lay is not None:
                    start, end = self._span(lay)
                    chores.append(Chore("lay", job, number, ground, self._hands(lay), start, end))
                if lift is not None:
                    start, end = self._span(lift)
                    chores.append(Chore("lift", job, number, ground, self._hands(lift), start, end))
        return chores

    def _rests(self) -> list[Rest]:
        return [
            Rest(self.index.hands[r.hand], self.value(r.start), self.value(r.start) + r.length)
            for r in self.v.rests
            if self.value(r.present)
        ]

    def _attendances(self) -> list[Attendance]:
        return [
            Attendance(
                self.index.hands[h],
                self._job(n),
                self.numbers[n],
                self.value(at.arrive),
                self.value(at.leave),
            )
            for (h, n), at in self.v.attendances.items()
            if not self.v.problem.hands[h].rides and n in self.numbers and self.value(at.present)
        ]
