"""What is still to go out of the grounds on a day under way: what will be left, less what is gone already."""

import math
from collections.abc import Iterator
from dataclasses import replace

from planner.day import Day
from planner.engine.index import Index
from planner.engine.problem import LOAD_SCALE, MASS_SCALE, Leaving, Problem
from planner.plan.past import NOT_YET, Past

_SAME = 0.01
"""What is left in a container is known to a hundredth."""


def still_to_go(day: Day, problem: Problem, index: Index, past: Past) -> Iterator[Leaving]:
    """The problem's leavings as far as they can still happen, each for what of it has not been carried out yet.

    What is gone came of what was done by now, if it can: before what only a stage still to come leaves, and that before
    what it leaves by one of its methods alone. Where the van has left for good, what stands there can no longer be
    taken: the record cannot make the rest impossible.
    """
    gone = _gone(index, past)
    planned = [x for leaving in problem.leaving if (x := _as_it_went(problem, index, past, leaving)) is not None]
    all_of_them = [*planned, *_not_wanted(day, problem, index, past)]
    sure = sorted(all_of_them, key=lambda x: (not _is_ready(index, past, x), bool(x.when)))
    counts = [_less(gone, leaving, leaving.count, alike=True) for leaving in sure]
    for leaving, count in zip(sure, counts, strict=True):
        left = _less(gone, leaving, count, alike=False)
        if left and _can_be_fetched(problem, index, past, leaving.ground):
            yield replace(leaving, count=left)


def _not_wanted(day: Day, problem: Problem, index: Index, past: Past) -> Iterator[Leaving]:
    """Containers that were carried in for what is given up, or done by a method that takes less: they go out again.

    They are full, and stay if the customer keeps them.
    """
    spare = spare_material(problem, index, past)
    there = spoken_for(problem, index, past, spare)
    surplus: list[tuple[tuple[int, int], int, tuple[tuple[int, tuple[int, ...]], ...]]] = []
    for (a, m), count in there.items():
        place = (problem.activities[a].ground or 0, m)
        spare[place] -= count
        surplus += [(place, unused, ((a, modes),)) for unused, modes in _unused(problem, a, m, count)]
    surplus += [(place, count, ()) for place, count in spare.items()]
    for (ground, m), count, when in surplus:
        material = day.materials[index.materials[m]]
        if count > 0 and index.materials[m] not in day.jobs[index.grounds[ground][0]].customer.keeps:
            users = next((x.after for x in problem.leaving if (x.ground, x.material) == (ground, m)), ())
            rest = 0.0 if material.water else 1.0
            load = math.ceil(LOAD_SCALE * material.load_with(rest) - 1e-6)
            mass = math.ceil(MASS_SCALE * material.mass_with(rest) - 1e-6)
            yield Leaving(ground, m, count, rest, load, mass, users, when)


def _unused(problem: Problem, a: int, m: int, count: int) -> Iterator[tuple[int, tuple[int, ...]]]:
    """How many of the containers that lie there for an activity are not used, by which of its modes: none, not done."""
    activity = problem.activities[a]
    by: dict[int, list[int]] = {}
    for n, mode in enumerate(activity.modes):
        by.setdefault(count - min(count, dict(mode.uses).get(m, 0)), []).append(n)
    yield from ((unused, tuple(modes)) for unused, modes in by.items() if unused)
    if activity.optional:
        yield count, ()


def _as_it_went(problem: Problem, index: Index, past: Past, leaving: Leaving) -> Leaving | None:
    """A leaving with the methods that are known by now taken out of its conditions; None where it is not so."""
    open_still = []
    for a, modes in leaving.when:
        work = past.plan.work(*index.stages[a])
        if work is None:
            open_still.append((a, modes))
        elif work.method not in [problem.activities[a].modes[m].name for m in modes]:
            return None
    return replace(leaving, when=tuple(open_still))


def _gone(index: Index, past: Past) -> dict[tuple[int, int, float], int]:
    """Containers carried out so far: ground, material and how full, with how many."""
    gone: dict[tuple[int, int, float], int] = {}
    for crossing in past.plan.crossings:
        for x in crossing.carried_out if crossing.end < NOT_YET else ():
            if x.is_material:
                ground = index.grounds.index((crossing.job, crossing.ground))
                kind = (ground, index.materials.index(x.what), x.rest or 0.0)
                gone[kind] = gone.get(kind, 0) + x.count
    return gone


def _is_ready(index: Index, past: Past, leaving: Leaving) -> bool:
    """Whether all that a leaving comes of is over."""
    works = [past.plan.work(*index.stages[a]) for a in leaving.after]
    return all(work is not None and work.end < NOT_YET for work in works)


def _less(gone: dict[tuple[int, int, float], int], leaving: Leaving, count: int, *, alike: bool) -> int:
    """A count less what is gone of that material, if ``alike`` only of containers as full; what is counted is used."""
    for (ground, material, rest), there in gone.items():
        is_same = (ground, material) == (leaving.ground, leaving.material)
        if is_same and (not alike or abs(rest - leaving.rest) <= _SAME):
            taken = min(there, count)
            gone[ground, material, rest] -= taken
            count -= taken
    return count


def _can_be_fetched(problem: Problem, index: Index, past: Past, ground: int) -> bool:
    """Whether the van is at the job of a ground, or is still to come."""
    job = index.jobs[problem.grounds[ground].job]
    visits = [v for v in past.plan.visits if v.job == job]
    if any(v.depart == NOT_YET for v in visits) or not visits:
        return True
    has_work = any(j == job and not past.is_begun(j, s) for j, s in index.stages)
    return has_work and len(visits) < problem.jobs[problem.grounds[ground].job].visits


def spoken_for(
    problem: Problem, index: Index, past: Past, spare: dict[tuple[int, int], int]
) -> dict[tuple[int, int], int]:
    """Of spare containers on each (ground, material), how many lie there for each (activity, material) still to come.

    What is needed whatever is chosen comes before what only some method takes.
    """
    ahead = [
        (a, activity)
        for a, (activity, stage) in enumerate(zip(problem.activities, index.stages, strict=True))
        if past.plan.work(*stage) is None
    ]
    left, found = dict(spare), dict[tuple[int, int], int]()
    for is_sure in (True, False):
        for a, activity in ahead:
            for m in sorted({m for mode in activity.modes for m, _ in mode.uses}):
                counts = [dict(mode.uses).get(m, 0) for mode in activity.modes]
                least = 0 if activity.optional else min(counts)
                wanted = (least if is_sure else max(counts)) - found.get((a, m), 0)
                place = (activity.ground or 0, m)
                if (taken := min(wanted, max(0, left.get(place, 0)))) > 0:
                    found[a, m] = found.get((a, m), 0) + taken
                    left[place] -= taken
    return found


def spare_material(problem: Problem, index: Index, past: Past) -> dict[tuple[int, int], int]:
    """Containers on each (ground, material) that no stage has used."""
    spare: dict[tuple[int, int], int] = {}
    for crossing in past.plan.crossings:
        g = index.grounds.index((crossing.job, crossing.ground))
        for carried in crossing.carried_in:
            if carried.is_material:
                m = index.materials.index(carried.what)
                spare[g, m] = spare.get((g, m), 0) + carried.count
    for activity, stage in zip(problem.activities, index.stages, strict=True):
        work = past.plan.work(*stage)
        mode = next((m for m in activity.modes if work is not None and m.name == work.method), None)
        for m, count in () if mode is None else mode.uses:
            if activity.ground is not None:
                spare[activity.ground, m] = spare.get((activity.ground, m), 0) - count
    return spare
