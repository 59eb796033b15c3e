"""What goes out again with a plan: containers, empty or with what is left in them, and what the work leaves."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.day import Day, Method
from planner.day.drawn_together import shared_counts, taken_together
from planner.plan.plan import Plan, Work

_HAIR = 0.005
"""Less than half a hundredth of a container is nothing."""


@dataclass(frozen=True, slots=True)
class OutAgain:
    """So many containers of a material from one job, each so full; ``is_kept`` by the customer, else they come with us.

    ``is_waste`` is what the work leaves. ``ready`` is the minute from which they can go.
    """

    job: str
    material: str
    count: int
    rest: float
    ready: int
    is_waste: bool
    is_kept: bool = False

    def mass(self, day: Day) -> float:
        """Of them all, in kg; 0 where the day does not say what a container weighs."""
        return self.count * day.materials[self.material].mass_with(self.rest)

    def litres(self, day: Day) -> float | None:
        """What they hold in all, where the day says how much one holds."""
        holds = day.materials[self.material].holds_litres
        return None if holds is None else self.count * self.rest * holds


def out_again(day: Day, plan: Plan) -> list[OutAgain]:
    """Everything that is left when the work of each job is done, in the order of the visits and of the materials."""
    found: list[OutAgain] = []
    shared = shared_counts(day)
    for job in dict.fromkeys(visit.job for visit in sorted(plan.visits, key=lambda v: v.arrive)):
        for ground in day.jobs[job].grounds:
            works = [w for w in plan.works if w.job == job and day.jobs[job].ground_of(w.stage) == ground]
            for material in day.materials:
                found += _containers(day, (job, ground, material), works, shared)
                found += _waste(day, job, works, material)
    return found


def _method(day: Day, work: Work) -> Method:
    return day.jobs[work.job].stages[work.stage].methods[work.method]


def _containers(
    day: Day, place: tuple[str, str, str], works: list[Work], shared: dict[tuple[str, str, str], int]
) -> Iterator[OutAgain]:
    job, ground, material = place
    users = [w for w in works if material in _method(day, w).uses or material in _method(day, w).expected]
    each = [_method(day, w).uses.get(material, 0) for w in users]
    used = sum(_method(day, w).expected.get(material, _method(day, w).uses.get(material, 0)) for w in users)
    taken: int = sum(each)
    if day.jobs[job].grounds[ground].way_in.is_open:
        taken = taken_together(each, used)
    elif each:
        taken = shared.get(place, taken)
    if taken:
        ready = max(w.end for w in users)
        left = 0.0 if day.materials[material].water else max(0.0, taken - used)
        is_kept = material in day.jobs[job].customer.keeps
        filled = list(_filled(left))
        for count, rest in filled:
            yield OutAgain(job, material, count, rest, ready, is_waste=False, is_kept=is_kept)
        if empty := taken - sum(count for count, _ in filled):
            yield OutAgain(job, material, empty, 0.0, ready, is_waste=False)


def _waste(day: Day, job: str, works: list[Work], material: str) -> Iterator[OutAgain]:
    """What stages of a ground leave: full containers of each, and what each has besides put together."""
    rest, ready = 0.0, 0
    for work in works:
        for count, full in _filled(_method(day, work).leaves.get(material, 0.0)):
            if full == 1.0:
                yield OutAgain(job, material, count, full, work.end, is_waste=True)
            else:
                rest, ready = rest + full, max(ready, work.end)
    for count, full in _filled(rest):
        yield OutAgain(job, material, count, full, ready, is_waste=True)


def _filled(containers: float) -> Iterable[tuple[int, float]]:
    """So many are full, and one holds the rest."""
    full = math.floor(containers + _HAIR)
    if full:
        yield full, 1.0
    if containers - full > _HAIR:
        yield 1, containers - full
