"""From a day to what is closed: surfaces that wait, fresh work that feet spoil, and what lies below what burns.

Each function gives its part of ``Problem.closed``; ``at`` turns (job, stage) into the activity's index.
"""

from collections.abc import Callable, Iterator, Set

from planner.day import Day, Job, Wait
from planner.day.stage_kinds import FEET, SPRAY, WET_UNDERFOOT
from planner.engine import problem as p
from planner.engine.index import Index
from planner.engine.reach import below, foot_of_ladder, footprint, fresh_until, passed, timed_ladders
from planner.trade.chemicals import chemicals

At = Callable[[tuple[str, str]], int]


def closed(day: Day, index: Index, at: At) -> Iterator[p.Closed]:
    """Everything that is closed, to whom, and from when until when."""
    yield from _waiting(day, index, at)
    yield from _trodden(day, index, at)
    yield from _dripping(day, at)
    yield from _worked(day, index, at)


def _waiting(day: Day, index: Index, at: At) -> Iterator[p.Closed]:
    """Surfaces that wait: nobody stands on them, walks over them, or puts a ladder up there or takes one down."""
    for j, job in day.jobs.items():
        for wait in job.waits:
            own = {wait.after, wait.before, wait.extended_by}
            own |= {s for s in job.stages if job.is_other_section(s, wait.after)}
            surface = job.stages[wait.after].surface
            barred: list[str] = []
            ways, kit = tuple[int, ...](), tuple[tuple[int, int], ...]()
            if wait.closes_surface:
                passing = [g for g, ground in job.grounds.items() if surface in passed(job, ground.way_in.over)]
                ways = tuple(sorted(index.grounds.index((j, g)) for g in passing))
                reached = {
                    s
                    for s in job.stages
                    if job.ground_of(s) in passing and job.grounds[job.ground_of(s)].way_in.is_open
                }
                barred = [
                    s
                    for s, stage in job.stages.items()
                    if s not in own and (s in reached or surface in footprint(job, stage))
                ]
                kit = _ladders_on(day, index, j, surface, own)
            if wait.keep_clear:
                barred = [s for s in job.stages if s not in own]
            if barred or ways or kit:
                yield p.Closed(*_span(j, wait, at), tuple(at((j, s)) for s in barred), ways, kit)


def _trodden(day: Day, index: Index, at: At) -> Iterator[p.Closed]:
    """Fresh work that is spoiled by feet: what stands on it for another surface, ladders there, the ways in over it."""
    for j, job in day.jobs.items():
        for s, stage in job.stages.items():
            if FEET not in stage.spoiled_while_fresh_by:
                continue
            surface = stage.surface
            over = [g for g, ground in job.grounds.items() if surface in passed(job, ground.way_in.over)]
            walked = {g for g in over if job.grounds[g].way_in.is_open}
            barred = [
                at((j, other))
                for other, work in job.stages.items()
                if work.surface != surface and (surface in footprint(job, work) or job.ground_of(other) in walked)
            ]
            ways = tuple(sorted(index.grounds.index((j, g)) for g in over))
            there = {other for other, work in job.stages.items() if work.surface == surface}
            kit = _ladders_on(day, index, j, surface, there)
            if barred or ways or kit:
                for until in fresh_until(j, job, s, at) or (at((j, s)),):
                    minutes = stage.fresh_for
                    yield p.Closed(at((j, s)), until, tuple(barred), ways, kit, from_start=True, minutes=minutes)


def _ladders_on(day: Day, index: Index, j: str, surface: str, own: Set[str | None]) -> tuple[tuple[int, int], ...]:
    """Ladders, by ground and kit, that have to stand on a surface for all that takes them there, none of it its own."""
    job, found = day.jobs[j], []
    under = below(job)
    for k, g, takers in timed_ladders(day, job):
        if own.isdisjoint(takers) and all(surface in foot_of_ladder(job, under, job.stages[s]) for s in takers):
            found.append((index.grounds.index((j, g)), index.kit.index(k)))
    return tuple(sorted(found))


def _dripping(day: Day, at: At) -> Iterator[p.Closed]:
    """What burns runs down and drips while it dwells: nobody works at what lies below, nor stands there."""
    for j, job in day.jobs.items():
        for wait in job.waits:
            if wait.kind == "dwell" and _burns(job, wait.after):
                treated = job.stages[wait.after]
                wet = below(job)[treated.surface] - set(treated.spares)
                own = {wait.after, wait.before, wait.extended_by}
                barred = tuple(
                    at((j, s))
                    for s, stage in job.stages.items()
                    if s not in own
                    and stage.surface != treated.surface
                    and not wet.isdisjoint({stage.surface} | footprint(job, stage))
                )
                if barred:
                    yield p.Closed(*_span(j, wait, at), barred)


def _worked(day: Day, index: Index, at: At) -> Iterator[p.Closed]:
    """While something is treated, coated or jetted nobody walks over it; nor, to another ground, while it is wet."""
    for j, job in day.jobs.items():
        over = {g: passed(job, ground.way_in.over) for g, ground in job.grounds.items() if not ground.way_in.is_open}
        for s, stage in job.stages.items():
            ways = {g for g in over if stage.surface in over[g]}
            wet = {g for g in ways if stage.wets and g != job.ground_of(s)}
            worked = ways - wet if len(day.hands) > 1 and (stage.is_laid_on or SPRAY in stage.nuisances) else set[str]()
            for some, minutes in ((worked, 0), (wet, WET_UNDERFOOT)):
                if some:
                    shut = tuple(sorted(index.grounds.index((j, g)) for g in some))
                    yield p.Closed(at((j, s)), at((j, s)), (), shut, from_start=True, minutes=minutes)


def _burns(job: Job, stage: str) -> bool:
    """Whether what a stage puts on burns who is below; what nobody stands on runs down."""
    treated, known = job.stages[stage], chemicals()
    if treated.chemical is None or job.surfaces[treated.surface].stood_on:
        return False
    return known.class_of(treated.chemical) in known.burns


def _span(j: str, wait: Wait, at: At) -> tuple[int, int | None]:
    return at((j, wait.after)), None if wait.before is None else at((j, wait.before))
