"""What goes out of each ground again: containers, empty or with what is left in them, and what the work leaves."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from planner.day import Day, Job, Material
from planner.engine.index import Index
from planner.engine.problem import LOAD_SCALE, MASS_SCALE, Activity, Leaving

_HAIR = 0.005
"""Less than half a hundredth of a container is nothing."""


@dataclass(frozen=True, slots=True)
class _Case:
    """What an activity takes and uses up of a material by some of its modes (none: where it is not done)."""

    modes: tuple[int, ...]
    taken: int
    used: float


@dataclass(frozen=True, slots=True)
class _Place:
    """A material on a ground, with the activities there by their index and stage."""

    job: Job
    ground: int
    index: int
    key: str
    material: Material
    here: tuple[tuple[int, str], ...]

    def leaving(
        self, count: int, rest: float, after: tuple[int, ...], when: tuple[tuple[int, tuple[int, ...]], ...]
    ) -> Leaving:
        """So many containers of the material, each so full."""
        load = math.ceil(LOAD_SCALE * self.material.load_with(rest) - 1e-6)
        mass = math.ceil(MASS_SCALE * self.material.mass_with(rest) - 1e-6)
        return Leaving(self.ground, self.index, count, round(rest, 2), load, mass, after, when)


def all_leavings(
    day: Day,
    index: Index,
    activities: Sequence[Activity],
) -> Iterator[Leaving]:
    """Everything that must leave the grounds whose way in has crossings, in each case of the methods chosen."""
    for g, (j, name) in enumerate(index.grounds):
        job = day.jobs[j]
        if job.grounds[name].way_in.is_open:
            continue
        here = tuple((a, s) for a, (k, s) in enumerate(index.stages) if k == j and job.ground_of(s) == name)
        for m, key in enumerate(index.materials):
            place = _Place(job, g, m, key, day.materials[key], here)
            yield from _containers(place, activities)
            yield from _waste(place, activities)


def _containers(place: _Place, activities: Sequence[Activity]) -> Iterator[Leaving]:
    """The containers of all that is taken to a ground, once the last stage that uses the material is over."""
    users = [(a, found) for a, s in place.here if (found := _cases(place, s, activities[a]))]
    after = tuple(a for a, _ in users)
    is_kept = place.key in place.job.customer.keeps
    for chosen in product(*(found for _, found in users)) if users else ():
        taken = sum(case.taken for case in chosen)
        left = max(0.0, taken - sum(case.used for case in chosen))
        full, part = _filled(0.0 if place.material.water else left)
        when = tuple((a, case.modes) for (a, found), case in zip(users, chosen, strict=True) if len(found) > 1)
        if full and not is_kept:
            yield place.leaving(full, 1.0, after, when)
        if part and not is_kept:
            yield place.leaving(1, part, after, when)
        if empty := taken - full - (part > 0):
            yield place.leaving(empty, 0.0, after, when)


def _cases(place: _Place, s: str, activity: Activity) -> list[_Case]:
    """How a stage may take the material; nothing where none of its methods does.

    A section that works from the container which another brought takes none, and is a user of it.
    """
    methods = place.job.stages[s].methods
    if not any(place.key in way.uses or place.key in way.expected for way in methods.values()):
        return []
    found: dict[tuple[int, float], list[int]] = {}
    for n, mode in enumerate(activity.modes):
        method = methods[mode.name]
        used = method.expected.get(place.key, float(method.uses.get(place.key, 0)))
        found.setdefault((dict(mode.uses).get(place.index, 0), used), []).append(n)
    cases = [_Case(tuple(modes), *took) for took, modes in found.items()]
    return [*cases, _Case((), 0, 0.0)] if activity.optional else cases


def _waste(place: _Place, activities: Sequence[Activity]) -> Iterator[Leaving]:
    """What stages leave, by its container: full ones once their stage is over, the rests of all of them put together.

    A rest goes once all that add to it are over.
    """
    adding: list[tuple[int, list[tuple[float, tuple[int, ...]]]]] = []
    for a, s in place.here:
        found: dict[float, list[int]] = {}
        rests: dict[float, list[int]] = {}
        for n, mode in enumerate(activities[a].modes):
            left = place.job.stages[s].methods[mode.name].leaves.get(place.key, 0.0)
            found.setdefault(left, []).append(n)
            rests.setdefault(round(_filled(left)[1], 6), []).append(n)
        for left, modes in found.items():
            is_sure = len(found) == 1 and not activities[a].optional
            if full := _filled(left)[0]:
                yield place.leaving(full, 1.0, (a,), () if is_sure else ((a, tuple(modes)),))
        if any(rests):
            cases = [(rest, tuple(modes)) for rest, modes in rests.items()]
            adding.append((a, [*cases, (0.0, ())] if activities[a].optional else cases))
    for chosen in product(*(cases for _, cases in adding)) if adding else ():
        after = tuple(a for (a, _), (rest, _) in zip(adding, chosen, strict=True) if rest)
        when = tuple((a, modes) for (a, cases), (_, modes) in zip(adding, chosen, strict=True) if len(cases) > 1)
        full, part = _filled(sum(rest for rest, _ in chosen))
        if full:
            yield place.leaving(full, 1.0, after, when)
        if part:
            yield place.leaving(1, part, after, when)


def _filled(containers: float) -> tuple[int, float]:
    """So many are full, and one holds the rest."""
    full = math.floor(containers + _HAIR)
    return full, containers - full if containers - full > _HAIR else 0.0
