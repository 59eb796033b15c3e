"""What keeps work from being done as it was planned: hands, kit, material or water that are not there, a shut house."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from planner.day import Day, Job, Stage
from planner.day.following import later_stages
from planner.day.names import Names
from planner.plan.plan import Plan
from planner.plan.progress import Progress
from planner.trade.units import show_clock

NEVER = 10**6
"""Stands for a minute that does not come today."""


@dataclass(frozen=True, slots=True)
class Hindrance:
    """From when (`NEVER`: not today) a method can be used again, and what keeps it until then, in words."""

    until: int
    why: str


Standing = Collection[tuple[str, str, str]]
"""Kit that stands on a ground now: job, ground and kit."""


def standing(past: Plan) -> frozenset[tuple[str, str, str]]:
    """What stands on the grounds now, of the part of a plan that has happened."""
    return frozenset((s.job, s.ground, s.kit) for s in past.stays if s.carried_out >= NEVER)


def hindrances(day: Day, progress: Progress, job: str, stage: str, there: Standing = ()) -> dict[str, Hindrance]:
    """What keeps each method of a stage from being used now, as was told; methods that nothing keeps are not in it.

    What is ``there`` need not be carried to it any more.
    """
    found = {}
    for method in day.jobs[job].stages[stage].methods:
        kept = max(_kept(day, progress, job, stage, method, there), key=lambda h: h.until, default=None)
        if kept is not None and kept.until > progress.at:
            found[method] = kept
    return found


def cannot_be_done(day: Day, progress: Progress, job: str, stage: str, there: Standing = ()) -> str:
    """Why a stage cannot be done today by any of its methods, as was told; empty where it can.

    Parameters
    ----------
    day, progress
        The day with all its stages, and what was told of it.
    job, stage
        The keys of one of them.
    there
        Kit that stands on a ground now.
    """
    found = hindrances(day, progress, job, stage, there)
    if len(found) < len(day.jobs[job].stages[stage].methods) or any(h.until < NEVER for h in found.values()):
        return ""
    return next(iter(found.values())).why


def needs_it_just_before(job: Job, stage: str) -> tuple[str, ...]:
    """The stages that make no sense without another: what must begin within so long after it, and what follows that.

    Joints are filled while they are damp. A dwell is none of these: what only ends it needs nothing to be put on.
    """
    within = [w for w in job.waits if w.after == stage and w.before is not None and w.kind != "dwell"]
    first = {w.before for w in within if any(most is not None for most in (w.most, *(x.most for x in w.by_hour)))}
    later = later_stages(job)
    return tuple(key for key in job.stages if key in first or any(key in later[x] for x in first if x is not None))


def with_hindrances(day: Day, progress: Progress, begun: set[tuple[str, str]], there: Standing = ()) -> Day:
    """The day in which a stage not begun is done by what there is: by the methods that can be used soonest, and then.

    A stage that no method can do stays as it is: that is asked before anything is planned.
    """
    told = (progress.lacking, progress.run_out, progress.nobody_in, progress.no_supply, progress.gone, progress.behind)
    if not any(told):
        return day
    jobs = {}
    for j, job in day.jobs.items():
        left = {s: stage for s, stage in job.stages.items() if (j, s) not in begun}
        stages = job.stages | {s: _hindered(day, progress, j, s, stage, there) for s, stage in left.items()}
        jobs[j] = job.model_copy(update={"stages": stages})
    return day.model_copy(update={"jobs": jobs})


def _hindered(day: Day, progress: Progress, job: str, key: str, stage: Stage, there: Standing) -> Stage:
    found = hindrances(day, progress, job, key, there)
    when = {m: found[m].until if m in found else 0 for m in stage.methods}
    soonest = min(when.values())
    if not found or soonest == NEVER:
        return stage
    methods = {m: way for m, way in stage.methods.items() if when[m] == soonest}
    return stage.model_copy(update={"methods": methods, "not_before": max(stage.not_before or 0, soonest) or None})


def _kept(day: Day, progress: Progress, job: str, stage: str, method: str, there: Standing) -> Iterator[Hindrance]:
    names, place = Names(day), day.jobs[job]
    way = place.stages[stage].methods[method]
    kit = day.kit_closure(way.kit)
    gone = [hand for hand, minute in progress.gone.items() if minute <= progress.at]
    left, ground = len(day.hands) - len(gone), place.ground_of(stage)
    by_name = place.stages[stage].by_hand
    if left < way.hands or by_name in gone:
        who = " and ".join(names.hand(hand) for hand in gone if by_name not in gone or hand == by_name)
        yield _told(None, f"{who} {'have' if ' and ' in who else 'has'} gone home")
    for key in kit:
        if key in progress.lacking and day.kit[key].own < 2:  # of several, another does it
            yield _told(progress.lacking[key], f"there is no {names.kit(key)}")
        behind, is_there = [x.job for x in progress.behind if x.kit == key], (job, ground, key) in there
        if behind and progress.all_stays(key, day) and not is_there:
            yield _told(None, f"{names.kit(key)} stays at {names.job(behind[0])} until another day")
        elif gone and day.kit[key].lift > left > 0 and day.kit[key].load and not is_there:
            who = " and ".join(names.hand(hand) for hand in gone)
            yield _told(None, f"it takes {day.kit[key].lift} to carry {names.kit(key)}, and {who} went home")
    for key in way.uses | way.expected:  # what it takes, or draws from the container that another stage takes
        if (way.uses.get(key) or way.expected.get(key)) and key in progress.run_out:
            yield _told(progress.run_out[key], f"there is no more {names.material(key)}")
    for told, supply in progress.no_supply:
        if told == job and any(supply in day.kit[key].supply for key in kit):
            yield _told(None, f"there is no {supply}")
    if job in progress.nobody_in and _is_behind_the_house(place, stage):
        yield _told(progress.nobody_in[job], "nobody is in to open")


def _told(until: int | None, why: str) -> Hindrance:
    return Hindrance(NEVER, why) if until is None else Hindrance(until, f"{why} before {show_clock(until)}")


def _is_behind_the_house(job: Job, stage: str) -> bool:
    return job.grounds[job.ground_of(stage)].way_in.restricted
