"""The problem of a day under way: what is over stands fixed, apart from hands, kit and crossings; the rest is open.

Whatever the record says of the past, it cannot make the rest impossible: what is over binds what is to come only by
its end (waits, closed surfaces, chemicals), and by the kit, material and floor protection that it left on the grounds.
"""

from collections.abc import Iterator
from dataclasses import replace

from planner.day import Day
from planner.engine import problem as p
from planner.engine.build import build
from planner.engine.index import Index
from planner.engine.underway.still_to_go import spare_material, spoken_for, still_to_go
from planner.plan.past import NOT_YET, Past
from planner.plan.plan import Crossing, Stay, Visit
from planner.plan.went import meals_had


def underway(day: Day, past: Past, now: int) -> p.Problem:
    """The problem of what is left of a day as it went."""
    index = Index.of(day)
    begun = {a for a, stage in enumerate(index.stages) if past.is_begun(*stage)}
    over = {a for a, stage in enumerate(index.stages) if past.is_done(*stage)}
    problem = _handed_on(build(day), begun)
    times = [w.start for w in past.plan.works] + [past.plan.leaves]
    spare = spare_material(problem, index, past)
    there = spoken_for(problem, index, past, spare)
    cans = {(g, m): count for (g, m), count in spare.items() if problem.materials[m].water}
    dry = _never_wet(problem, past, index, begun)
    wet = dry | {g for (g, m), count in cans.items() if count > _kept_for(problem, there, g, m)}
    return replace(
        problem,
        activities=tuple(_activities(problem, index, past, now, there, wet)),
        watered=tuple(sorted({a for (a, m), count in there.items() if count and problem.materials[m].water})),
        lags=tuple(_lags(problem, index, past, begun)),
        apart=tuple(pair for pair in problem.apart if not set(pair) <= begun),
        closed=tuple(_closed(problem, begun, over)),
        spoiling=tuple(x for x in problem.spoiling if not {x.maker, x.spoiled} <= begun),
        cleaned=tuple(_cleaned(problem, begun)),
        kept=tuple(_kept(problem, index, past, begun, over)),
        wetted=tuple(x for x in problem.wetted if not {x.wet, x.dry} <= begun),
        slippery=tuple(replace(x, has_begun=x.wet in begun) for x in problem.slippery),
        beneath=tuple(
            replace(x, has_begun=x.above in begun) for x in problem.beneath if x.above not in over or x.minutes
        ),
        spells=tuple(x for x in problem.spells if x.first not in begun),
        unmixable=tuple(x for x in problem.unmixable if not {x.one, x.other} <= begun),
        opens=min(problem.opens, *times) if past.plan.drives else max(problem.opens, now),
        hands=tuple(_hands(day, problem, index, past)),
        jobs=tuple(_jobs(problem, past)),
        leaving=tuple(still_to_go(day, problem, index, past)),
        is_underway=True,
        begun_visits=frozenset(visit_index(problem, visit) for visit in past.plan.visits),
        standing=tuple(_standing(index, past, now)),
        laid=tuple(_laid(problem, index, past, now)),
        inside=tuple(_crossing(index, c) for c in past.plan.crossings if c.end > now),
        walking_out=tuple(_crossing(index, c) for c in past.plan.crossings if now < c.end < NOT_YET),
    )


def _never_wet(problem: p.Problem, past: Past, index: Index, begun: set[int]) -> set[int]:
    """The grounds to which nothing that is still to come brings water: none can be asked for there."""
    left = [activity for a, activity in enumerate(problem.activities) if a not in begun]
    bring = {
        activity.ground
        for activity in left
        for mode in activity.modes
        if any(problem.kit[k].water for k in mode.kit) or any(problem.materials[m].water for m, n in mode.uses if n)
    }
    bring |= {ground for k, ground, _ in stays_left(past, index) if problem.kit[k].water}
    return set(range(len(problem.grounds))) - bring


def _crossing(index: Index, crossing: Crossing) -> tuple[int, int]:
    return index.grounds.index((crossing.job, crossing.ground)), index.hands.index(crossing.hand)


def _handed_on(problem: p.Problem, begun: set[int]) -> p.Problem:
    """The problem with containers that stages share brought by one that is still to come, while there is any.

    One that is done for certain is asked before others; more of a stage may be asked for when all of those are begun.
    """
    activities, shared = list(problem.activities), []
    for x in problem.shared:
        others = sorted(x.activities, key=lambda a: activities[a].optional)
        left = [a for a in (*x.sure, *others) if a not in begun]
        heir, first = (left or x.sure)[0], x.sure[0]
        ahead = tuple(a for a in x.activities if a not in begun)
        shared.append(replace(x, activities=ahead, sure=(heir, *(a for a in x.sure if a != heir))))
        count = dict(activities[first].modes[0].uses)[x.material]
        for a, own in ((first, ()), (heir, ((x.material, count),))):
            modes = tuple(
                replace(m, uses=(*((k, n) for k, n in m.uses if k != x.material), *own)) for m in activities[a].modes
            )
            activities[a] = replace(activities[a], modes=modes)
    return replace(problem, activities=tuple(activities), shared=tuple(shared))


def _hands(day: Day, problem: p.Problem, index: Index, past: Past) -> Iterator[p.Hand]:
    """Hands with what they have done so far: shaken so much, and who had the meal need not have it again."""
    had = {rest.hand for rest in meals_had(day, past.plan)}
    for h, hand in enumerate(problem.hands):
        meal = None if index.hands[h] in had else hand.meal
        yield replace(hand, shaken=_shaken(problem, index, past, h), meal=meal)


def _jobs(problem: p.Problem, past: Past) -> Iterator[p.Job]:
    """Where anything has been done, arriving is over; where the van has gone for good, leaving is."""
    went = past.plan
    done = {w.job for w in went.works} | {c.job for c in went.chores} | {c.job for c in went.crossings}
    there = {v.job for v in past.plan.visits if v.depart == NOT_YET}
    for job in problem.jobs:
        visits = sum(v.job == job.name for v in past.plan.visits)
        has_gone = visits and job.name not in there
        arriving = 0 if job.name in done or has_gone else job.arriving
        yield replace(job, arriving=arriving, leaving=0 if has_gone and visits >= job.visits else job.leaving)


def stays_left(past: Past, index: Index) -> Iterator[tuple[int, int, Stay]]:
    """Kit (by index) still on a ground (by index), in the order in which the problem's stays stand for it."""
    for stay in past.plan.stays:
        if stay.carried_out == NOT_YET:
            yield index.kit.index(stay.kit), index.grounds.index((stay.job, stay.ground)), stay


def visit_index(problem: p.Problem, visit: Visit) -> int:
    """The index of a planned visit among all visits that the problem allows."""
    before = 0
    for job in problem.jobs:
        if job.name == visit.job:
            return before + visit.number - 1
        before += job.visits
    raise KeyError(visit.job)


def _activities(
    problem: p.Problem, index: Index, past: Past, now: int, there: dict[tuple[int, int], int], wet: set[int]
) -> Iterator[p.Activity]:
    for a, (activity, stage) in enumerate(zip(problem.activities, index.stages, strict=True)):
        work = past.plan.work(*stage)
        if work is None:
            uses = tuple(_uses_left(activity, {m: count for (b, m), count in there.items() if b == a}))
            dry = activity.wants_water and activity.ground not in wet
            yield replace(activity, modes=uses, earliest=max(activity.earliest, now), wants_water=dry)
        elif work.end == NOT_YET:
            bare = tuple(replace(m, uses=()) for m in activity.modes)
            yield replace(activity, modes=bare, earliest=0, shut=(), wants_water=False)
        else:
            took = p.Mode(work.method, work.end - work.start)
            yield p.Activity(activity.name, (took,), start=work.start, chemical=activity.chemical)


def _kept_for(problem: p.Problem, there: dict[tuple[int, int], int], ground: int, material: int) -> int:
    """How many containers on a ground are spoken for by stages still to come: they last until those are over."""
    return sum(n for (a, m), n in there.items() if m == material and problem.activities[a].ground == ground)


def _uses_left(activity: p.Activity, there: dict[int, int]) -> Iterator[p.Mode]:
    """The methods of a stage, less what of their material lies on the ground for it."""
    for mode in activity.modes:
        yield replace(mode, uses=tuple((m, max(0, n - there.get(m, 0))) for m, n in mode.uses))


def _lags(problem: p.Problem, index: Index, past: Past, begun: set[int]) -> Iterator[p.Lag]:
    """Lags whose second is still to come; one whose re-wet has begun counts from that."""
    for lag in problem.lags:
        if lag.second in begun:
            continue
        if lag.extended_by not in begun or lag.extended_by is None or lag.first not in begun:
            yield lag
            continue
        work = past.plan.work(*index.stages[lag.first])
        most = lag.most if work is None else lag.bounds(work.start, work.end)[1]
        yield replace(lag.endless(), extended_by=None)
        yield p.Lag(lag.extended_by, lag.second)
        yield p.Lag(lag.extended_by, lag.second, None, most, from_start=lag.from_start, to_end=lag.to_end)


def _closed(problem: p.Problem, begun: set[int], over: set[int]) -> Iterator[p.Closed]:
    for closed in problem.closed:
        if closed.first in begun and closed.until in begun and closed.minutes is None:
            continue  # what has minutes may last on though both are over
        done = begun if closed.first in begun else over
        left = tuple(a for a in closed.activities if a not in done)
        yield replace(closed, activities=left, has_begun=closed.first in begun)


def _cleaned(problem: p.Problem, begun: set[int]) -> Iterator[p.Cleaned]:
    """What has begun soils as it does what was cleaned by then; what cleans after that still begins once it is over."""
    for x in problem.cleaned:
        cleaners = tuple(c for c in x.cleaners if c not in begun) if x.maker in begun else x.cleaners
        if cleaners:
            yield replace(x, cleaners=cleaners)


def _kept(problem: p.Problem, index: Index, past: Past, begun: set[int], over: set[int]) -> Iterator[p.KeptFresh]:
    """What covers; what was begun before it was laid is covered by nothing any more."""
    works = {a: work for a in begun if (work := past.plan.work(*index.stages[a])) is not None}
    for kept in problem.kept:
        laid = works[kept.activity].end if kept.activity in works else NOT_YET
        late = {a for a, work in works.items() if work.start < laid}
        yield replace(kept, until=tuple(a for a in kept.until if a not in late), is_over=kept.activity in over)


def _shaken(problem: p.Problem, index: Index, past: Past, h: int) -> int:
    """The vibration that a hand has taken in stages that are over."""
    taken = 0
    for activity, stage in zip(problem.activities, index.stages, strict=True):
        work = past.plan.work(*stage)
        if work is not None and work.end < NOT_YET and index.hands[h] in work.hands:
            taken += activity.modes[0].shake
    return taken


def _standing(index: Index, past: Past, now: int) -> Iterator[p.KitThere]:
    for kit, ground, stay in stays_left(past, index):
        own = [
            c for c in past.plan.chores if (c.job, c.ground, c.kit, c.stay) == (*_place(stay), stay.kit, stay.number)
        ]
        done = {c.what for c in own if c.end <= now}
        begun = {c.what for c in own}
        yield p.KitThere(kit, ground, "set up" in done, "pack down" in done, "set up" in begun, "pack down" in begun)


def _place(stay: Stay) -> tuple[str, str]:
    return stay.job, stay.ground


def _laid(problem: p.Problem, index: Index, past: Past, now: int) -> Iterator[tuple[int, int]]:
    """Grounds and visits not over whose floor protection is down, or that were walked where it needs no laying."""
    for visit in past.plan.visits:
        for g, (job, name) in enumerate(index.grounds):
            ground = problem.grounds[g]
            if job != visit.job or visit.depart <= now or not ground.slots or not (ground.lay or ground.lift):
                continue
            here = [c for c in past.plan.chores if (c.job, c.ground, c.visit) == (job, name, visit.number)]
            walked = [c for c in past.plan.crossings if (c.job, c.ground, c.visit) == (job, name, visit.number)]
            down = any(c.what == "lay" and c.end <= now for c in here) if ground.lay else bool(walked)
            if down and not any(c.what == "lift" for c in here):
                yield g, visit_index(problem, visit)
