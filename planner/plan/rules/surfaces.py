"""Rule 8: nobody stands on a surface that waits, nor reaches anything over it, nor walks over it."""

from collections.abc import Iterator
from typing import NamedTuple

from planner.day import Job, Wait
from planner.day.stage_kinds import WET_UNDERFOOT
from planner.plan.plan import Work
from planner.plan.rules.day_and_plan import (
    FOREVER,
    Breaches,
    BrokenRule,
    DayAndPlan,
    are_different_sections,
    ground_words,
    lasts_into,
    overlap,
    stage_words,
)


class Closed(NamedTuple):
    """A surface that waits, from the end of one stage to the start of another, or for ever."""

    job: str
    wait: Wait
    surface: str
    start: int
    end: int
    words: str
    first: Work


def closed_surfaces(r: DayAndPlan) -> Iterator[Closed]:
    """Every surface that the plan closes, and the jobs that it keeps clear."""
    for key, job in r.day.jobs.items():
        for wait in job.waits:
            first = r.work(key, wait.after)
            second = r.work(key, wait.before) if wait.before else None
            if first is None or (wait.before and second is None):
                continue
            surface = job.stages[wait.after].surface
            words = f"the {wait.kind} after {stage_words(r.day, key, wait.after)}"
            yield Closed(key, wait, surface, first.end, second.start if second else FOREVER, words, first)


def footprint(job: Job, stage: str) -> set[str]:
    """The surfaces that are stood on or reached over while a stage is done."""
    key = job.stages[stage].surface
    surface = job.surfaces[key]
    stood_on = {key} if surface.stood_on else set()
    stood_on.update(surface.worked_from, job.stages[stage].lies_on)
    return stood_on | reached_over(job, {key, *stood_on})


def reached_over(job: Job, surfaces: set[str]) -> set[str]:
    """All surfaces that one goes over to get to some, and to those in turn."""
    found: set[str] = set()
    waiting = list(surfaces)
    while waiting:
        for over in job.surfaces[waiting.pop()].over:
            if over not in found:
                found.add(over)
                waiting.append(over)
    return found


def nobody_on_a_closed_surface(r: DayAndPlan) -> Breaches:
    """Rule 8: no stage, but a re-wet, stands on a surface that waits or is reached over it."""
    for closed in closed_surfaces(r):
        for work in _others(r, closed):
            if closed.wait.closes_surface and closed.surface in footprint(r.day.jobs[work.job], work.stage):
                yield from _while_closed(closed, work.start, work.end, r.words(work))


def nobody_walks_over_a_closed_surface(r: DayAndPlan) -> Breaches:
    """Rule 8: no way in is walked that goes over a surface that waits."""
    for closed in closed_surfaces(r):
        if not closed.wait.closes_surface:
            continue
        job = r.day.jobs[closed.job]
        for key, ground in job.grounds.items():
            if closed.surface not in {*ground.way_in.over, *reached_over(job, set(ground.way_in.over))}:
                continue
            where = ground_words(r.day, closed.job, key)
            for crossing in r.plan.crossings:
                if (crossing.job, crossing.ground) == (closed.job, key):
                    for leg in r.legs(crossing):
                        if not r.were_begun(closed.first.start, leg[0]):
                            yield from _while_closed(closed, *leg, f"the way to {where}")
            if ground.way_in.is_open:
                for chore in r.plan.chores:
                    here = (chore.job, chore.ground) == (closed.job, key)
                    if here and not r.were_begun(closed.first.start, chore.start):
                        yield from _while_closed(closed, chore.start, chore.end, f"'{chore.what}' on {where}")
                for work in _others(r, closed):
                    if r.ground(work) == key:
                        yield from _while_closed(closed, work.start, work.end, r.words(work))


def nobody_walks_through_what_is_sprayed(r: DayAndPlan) -> Breaches:
    """Rule 8: no way in that goes over a surface is walked, by a crossing, while that is treated, coated or jetted.

    Nor, where it leads to another ground, for an hour after it was wetted: it is slippery, and soiled by boots.
    """
    for crossing in r.plan.crossings:
        job = r.day.jobs[crossing.job]
        way = job.grounds[crossing.ground].way_in
        over = {*way.over, *reached_over(job, set(way.over))}
        for work in r.plan.works if over else ():
            stage = r.stage(work)
            if work.job != crossing.job or stage.surface not in over:
                continue
            wet = WET_UNDERFOOT if stage.wets and r.ground(work) != crossing.ground else 0
            if not (wet or stage.is_laid_on or "spray" in stage.nuisances):
                continue
            for start, end in r.legs(crossing):
                if overlap(start, end, work.start, work.end + wet) and not r.were_begun(start, work.start):
                    where = ground_words(r.day, crossing.job, crossing.ground)
                    is_after = "after" if start >= work.end else "during"
                    text = f"the way to {where} goes over '{stage.surface}' {is_after} {r.words(work)}"
                    yield BrokenRule(8, text, crossing.job, max(start, work.start), end)


def nothing_else_while_kept_clear(r: DayAndPlan) -> Breaches:
    """Rule 8: while a wait keeps the job clear, no other stage of it is worked."""
    for closed in closed_surfaces(r):
        if closed.wait.keep_clear:
            for work in _others(r, closed):
                yield from _while_closed(closed, work.start, work.end, r.words(work))


def _others(r: DayAndPlan, closed: Closed) -> list[Work]:
    """The works of a job that a wait may forbid: not its own ends, its re-wet, or what is done on other sections."""
    own = (closed.wait.after, closed.wait.before, closed.wait.extended_by)
    stages = r.day.jobs[closed.job].stages
    return [
        w
        for w in r.plan.works
        if w.job == closed.job
        and w.stage not in own
        and not r.were_begun(w.start, closed.first.start)
        and not are_different_sections(stages[w.stage], stages[closed.wait.after])
    ]


def _while_closed(closed: Closed, start: int, end: int, words: str) -> Breaches:
    if lasts_into(start, end, closed.start, closed.end):
        text = f"{words} needs '{closed.surface}' during {closed.words}"
        yield BrokenRule(8, text, closed.job, max(start, closed.start), min(end, closed.end))
