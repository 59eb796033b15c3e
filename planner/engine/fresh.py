"""From a day to what keeps fresh and finished work whole: who must be over before what, and what must stay away.

Each function gives its part of the problem; ``at`` turns (job, stage) into the activity's index.
"""

from collections.abc import Callable, Iterator
from typing import NamedTuple

from planner.day import Day, Job, Stage
from planner.day.following import later_stages, next_stages
from planner.day.stage_kinds import (
    DIRT,
    DRAINS_IN,
    DUST,
    LADDER,
    RAIN,
    SPRAY,
    WET_UNDERFOOT,
    WETS,
    wets_for_what_follows,
)
from planner.engine import problem as p
from planner.engine.index import Index
from planner.engine.reach import (
    below,
    comes_down,
    foot_of_ladder,
    footprint,
    fresh_until,
    harm,
    passed,
    taken,
    timed_kit,
    timed_ladders,
    waited_for,
)
from planner.trade.cautions import KEPT_DRY
from planner.trade.weather_gates import Tolerances, shut_spans

At = Callable[[tuple[str, str]], int]


def spoiling(day: Day, at: At) -> Iterator[p.Spoiling]:
    """What spoils a stage or the waits after it, and what spoils the fresh work that a stage leaves."""
    for j, job in day.jobs.items():
        under = below(job)
        makers = [key for key, stage in job.stages.items() if stage.nuisances]
        for y, spoiled in job.stages.items():
            surface, by, while_fresh_by = spoiled.surface, frozenset(spoiled.spoiled_by), spoiled.spoiled_while_fresh_by
            meanwhile_by = spoiled.spoiled_meanwhile_by if len(day.hands) > 1 else frozenset[str]()
            for x in makers if by or while_fresh_by or meanwhile_by or spoiled.is_laid_on else ():
                if x == y:
                    continue
                is_next_to = job.is_other_section(x, y)  # what waits is not the section that is worked
                if harm(job, under, x, by, surface) or (spoiled.is_laid_on and comes_down(job, under, x, surface)):
                    yield p.Spoiling(at((j, x)), at((j, y)), () if is_next_to else waited_for(j, job, y, at))
                if harm(job, under, x, while_fresh_by, surface):
                    until, minutes = fresh_until(j, job, y, at), spoiled.fresh_for or 0
                    yield p.Spoiling(at((j, x)), at((j, y)), () if is_next_to else until, 0 if is_next_to else minutes)
                elif harm(job, under, x, meanwhile_by - by, surface):
                    yield p.Spoiling(at((j, x)), at((j, y)))


def cleaned(day: Day, at: At) -> Iterator[p.Cleaned]:
    """What runs, falls or settles on a surface is over before one of those that clean it, or clear it out, begins."""
    for j, job in day.jobs.items():
        under, later = below(job), later_stages(job)
        for m, maker in job.stages.items():
            for surface in sorted(_soiled(job, under, maker)):
                cleaners = _taking_off(job, m, surface)
                clearing = [s for s, x in job.stages.items() if x.surface == surface and x.clears and s != m]
                for group in (cleaners, clearing):
                    is_ordered = any(m in later[s] for s in group)
                    if group and not is_ordered and maker.surface not in under[surface]:
                        yield from (p.Cleaned(at((j, m)), tuple(at((j, s)) for s in x)) for x in _each(job, group))
    for first, wetting in _runs_into_joints(day, at):
        yield p.Cleaned(first, (wetting,))


def _taking_off(job: Job, m: str, surface: str) -> list[str]:
    """What takes off what a stage brings onto a surface: a rinse what a rinse brings, only a wash what a wash does.

    What falls or settles is washed off; where nobody washes it is swept up, and rinsed off where nobody sweeps.
    """
    maker, there = job.stages[m], {s: x for s, x in job.stages.items() if x.surface == surface and s != m}
    washing, cleaning = [s for s, x in there.items() if x.washes], [s for s, x in there.items() if x.cleans]
    if maker.grinds or DIRT in maker.nuisances:
        return washing or [s for s, x in there.items() if x.sweeps] or cleaning
    return (maker.washes and washing) or cleaning


def _each(job: Job, cleaners: list[str]) -> Iterator[list[str]]:
    """For each section of a surface the stages that clean it: one section's cleaning takes nothing off the others."""
    parts = {s: part.number for s in cleaners if (part := job.stages[s].part) is not None}
    for number in sorted(set(parts.values())) or [0]:
        yield [s for s in cleaners if parts.get(s, number) == number]


def _runs_into_joints(day: Day, at: At) -> Iterator[tuple[int, int]]:
    """What runs down onto a surface that is wetted for what is laid there, with the stage that wets it."""
    for j, job in day.jobs.items():
        under, later = below(job), later_stages(job)
        for w, wetting in job.stages.items():
            for m, maker in job.stages.items() if wets_for_what_follows(wetting.kind) else ():
                reached = wetting.surface in under[maker.surface] - set(maker.spares)
                if maker.wets and reached and m not in later[w]:
                    yield at((j, m)), at((j, w))


def _soiled(job: Job, under: dict[str, set[str]], maker: Stage) -> set[str]:
    """The other surfaces that a stage soils: what lies below, and of dry cutting all of its ground."""
    found = set[str]()
    if maker.soils_below or maker.grinds:
        found |= under[maker.surface]
    if maker.grinds:
        ground = job.surfaces[maker.surface].ground
        found |= {key for key, surface in job.surfaces.items() if surface.ground == ground}
    return found - {maker.surface, *maker.spares}


class Dusty(NamedTuple):
    """What one stage wets where the dust of another lies: ``firsts``, the cutting and the sweeping, are over before."""

    grind: str
    firsts: frozenset[str]
    wet: str
    where: frozenset[str]


def dusty(job: Job) -> Iterator[Dusty]:
    """Each stage that cuts dry with each that wets what its dust falls on, where the day leaves their order open."""
    under, later = below(job), later_stages(job)
    for g, grind in job.stages.items():
        if not grind.grinds:
            continue
        dust = {grind.surface} | under[grind.surface] - set(grind.spares)
        firsts = frozenset(
            {g} | {s for s in later[g] if job.stages[s].sweeps and job.stages[s].surface == grind.surface}
        )
        for w, wet in job.stages.items():
            where = dust & _wetted_by(job, under, wet)
            if w != g and where and g not in later[w]:
                yield Dusty(g, firsts - {w}, w, frozenset(where))


def _wetted_by(job: Job, under: dict[str, set[str]], wet: Stage) -> set[str]:
    """The surfaces that a stage wets: its own, what lies below, and all of its ground if it sprays."""
    if not wet.wets:
        return {wet.surface} - set(wet.spares) if wet.is_laid_on else set()
    found = {wet.surface} | under[wet.surface]
    if SPRAY in wet.nuisances:
        ground = job.surfaces[wet.surface].ground
        found |= {key for key, surface in job.surfaces.items() if surface.ground == ground}
    return found - set(wet.spares)


def dust_before_water(day: Day, at: At) -> Iterator[p.Lag]:
    """Joints are cut, and the dust is taken up, before anything wets what it falls on."""
    for j, job in day.jobs.items():
        pairs = {(first, one.wet) for one in dusty(job) for first in one.firsts}
        yield from (p.Lag(at((j, first)), at((j, wet))) for first, wet in sorted(pairs))


def slippery(day: Day, index: Index, at: At) -> Iterator[p.Slippery]:
    """What wets the steps or paving that a way in goes over, and the ladders that are not carried along it then."""
    kit = tuple(n for n, key in enumerate(index.kit) if LADDER in day.kit[key].tags)
    for j, job in day.jobs.items() if kit else ():
        under = below(job)
        over = {g: passed(job, ground.way_in.over) for g, ground in job.grounds.items()}
        for s, stage in job.stages.items():
            wet = {stage.surface} | (under[stage.surface] if stage.wets else set())
            if stage.wets or stage.is_laid_on:
                ways = tuple(sorted(index.grounds.index((j, g)) for g in over if over[g] & (wet - set(stage.spares))))
                if ways:
                    yield p.Slippery(at((j, s)), ways, kit, WET_UNDERFOOT)


def wetted(day: Day, at: At) -> Iterator[p.Wetted]:
    """What sprays or runs onto what another stage must find dry; on that stage's own surface its own wait counts."""
    for j, job in day.jobs.items():
        under = below(job)
        for d, dry in job.stages.items():
            waited = any(w.before == d and w.kind == "dry" for w in job.waits)
            for w, wet in job.stages.items() if dry.dry_for else ():
                own = wet.surface == dry.surface
                if w != d and not (own and waited) and harm(job, under, w, WETS, dry.surface):
                    yield p.Wetted(at((j, w)), at((j, d)), dry.dry_for)
    for maker, wetting in _runs_into_joints(day, at):
        yield p.Wetted(maker, wetting, DRAINS_IN)


def within_reach(day: Day, at: At) -> Iterator[tuple[int, int]]:
    """Pairs of stages that two hands may not do at once: one works under or within reach of the other."""
    for j, job in day.jobs.items() if len(day.hands) > 1 else ():
        yield from ((at((j, a)), at((j, b))) for a, there in _reached(day, job) for b in sorted(there - {a}))


def _reached(day: Day, job: Job) -> Iterator[tuple[str, set[str]]]:
    """Each stage that endangers who is near, with all that are done under it or within its reach; itself among them."""
    under = below(job)
    for a, above in job.stages.items():
        dust_falls = DUST in above.nuisances and not job.surfaces[above.surface].stood_on
        if above.endangers or dust_falls or day.is_from_ladder(above):
            reach = {above.surface, *job.surfaces[above.surface].worked_from} | under[above.surface]
            if job.surfaces[above.surface].high:  # who works high up stands, or has the ladder, below it too
                reach |= {k for k, s in job.surfaces.items() if s.high and s.ground == job.ground_of(a)}
            yield a, {b for b, other in job.stages.items() if reach & ({other.surface} | footprint(job, other))}


def beneath(day: Day, index: Index, at: At) -> Iterator[p.Beneath]:
    """Kit that has no place on its ground but under a stage, or within its reach: all that takes it there is.

    Where some of that is worked on the same paving as the stage, the edge of it is place enough, as long as nobody is
    up a ladder there.
    """
    for j, job in day.jobs.items() if len(day.hands) > 1 else ():
        takers: dict[tuple[str, str], set[str]] = {}
        for s, stage in job.stages.items():
            for k in taken(day, stage):
                takers.setdefault((job.ground_of(s), k), set()).add(s)
        for a, there in _reached(day, job):
            above = job.stages[a]
            if job.surfaces[above.surface].stood_on and not day.is_from_ladder(above):
                there -= {b for b in there if job.stages[b].surface == above.surface}
            for (g, k), some in takers.items():
                if some <= there:
                    yield p.Beneath(at((j, a)), index.grounds.index((j, g)), index.kit.index(k))


def underfoot(day: Day, index: Index, at: At) -> Iterator[p.Beneath]:
    """Ladders, by the ground where they are used, that have to stand on the paving which a stage wets or coats.

    And what must be kept dry, where a stage wets all that it may stand at.
    """
    for j, job in day.jobs.items():
        under, ladders = below(job), list(timed_ladders(day, job))
        for k, g, takers in timed_kit(day, job, KEPT_DRY):
            feet = [{job.stages[x].surface} | foot_of_ladder(job, under, job.stages[x]) for x in takers]
            for s, stage in job.stages.items():
                wet = {stage.surface} | under[stage.surface] if stage.wets and s not in takers else set()
                if all(wet & places for places in feet):
                    yield p.Beneath(at((j, s)), index.grounds.index((j, g)), index.kit.index(k), is_down=True)
        for s, stage in job.stages.items() if ladders else ():
            if not (job.surfaces[stage.surface].stood_on and stage.wants_it_clear):
                continue
            its_own = {k for k, _, takers in ladders if s in takers}
            for k, g, takers in ladders:
                if k not in its_own and all(stage.surface in foot_of_ladder(job, under, job.stages[x]) for x in takers):
                    drains_in = WET_UNDERFOOT if stage.wets or stage.is_laid_on else 0
                    place = index.grounds.index((j, g)), index.kit.index(k)
                    yield p.Beneath(at((j, s)), *place, is_down=True, minutes=drains_in)


def kept(day: Day, activities: tuple[p.Activity, ...], at: At) -> Iterator[p.KeptFresh]:
    """Covers, and the stages until whose end they stay."""
    for j, job in day.jobs.items():
        later = later_stages(job)
        for s, stage in job.stages.items():
            until = stage.stays_for
            if until is None:
                same = [x for x in job.stages if x in later[s] and job.stages[x].surface == stage.surface]
                until = tuple(same) if stage.covers else ()
            under = [x for x in job.stages if job.stages[x].surface in stage.lies_on and x not in (s, *(until or ()))]
            if until or under:
                cover = activities[at((j, s))]
                kit = tuple(sorted({k for mode in cover.modes for k in mode.kit}))
                covered, below_it = (tuple(at((j, x)) for x in some) for some in (until or (), under))
                yield p.KeptFresh(at((j, s)), covered, cover.ground or 0, kit, below_it)


def spells(day: Day, at: At) -> Iterator[p.Spell]:
    """Fresh layers that the rain spoils, each with the one that covers it, and when rain is reckoned with."""
    rain = tuple((s.start, s.end) for s in shut_spans(day.weather, Tolerances(stopped_by_rain=True)))
    for j, job in day.jobs.items() if rain else ():
        following = next_stages(job)
        for s, stage in job.stages.items():
            if RAIN in stage.spoiled_while_fresh_by:
                for cover in sorted(following[s]):
                    other = job.stages[cover]
                    if other.surface == stage.surface and RAIN in other.spoiled_while_fresh_by:
                        yield p.Spell(at((j, s)), at((j, cover)), rain)
