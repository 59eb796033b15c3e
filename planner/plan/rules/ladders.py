"""Rule 8 and 9, of ladders: not over wet steps, not where paving is washed or closed."""

from collections.abc import Iterator
from typing import NamedTuple

from planner.day import Job
from planner.day.stage_kinds import FEET, LADDER, WET_UNDERFOOT
from planner.plan.plan import Stay, Work
from planner.plan.rules.day_and_plan import (
    Breaches,
    BrokenRule,
    DayAndPlan,
    are_different_sections,
    lasts_into,
    overlap,
    span_words,
)
from planner.plan.rules.fresh import fresh_until
from planner.plan.rules.surfaces import closed_surfaces, footprint, reached_over
from planner.trade.cautions import KEPT_DRY


def no_ladder_goes_over_wet_steps(r: DayAndPlan) -> Breaches:
    """Rule 9: no ladder is carried along a way that goes over what is being wetted, or was less than an hour ago."""
    for stay in r.plan.stays:
        if LADDER not in r.day.kit[stay.kit].tags:
            continue
        job, way = r.day.jobs[stay.job], r.way_in(stay.job, stay.ground)
        over = {*way.over, *reached_over(job, set(way.over))}
        into = (stay.carried_in - way.minutes, stay.carried_in)
        out = (stay.carried_out, stay.carried_out + way.minutes)
        moved = [*([into] if stay.follows is None else []), *([] if r.is_followed(stay) else [out])]
        if way.is_open:
            moved = [(c.start, c.end) for what in ("set up", "pack down") for c in r.chores_of(stay, what)]
        for wet in r.plan.works if over else ():
            stage = r.stage(wet)
            if wet.job != stay.job or not (stage.wets or stage.is_laid_on):
                continue
            surfaces = {stage.surface, *(r.below(wet.job)[stage.surface] if stage.wets else ())} - set(stage.spares)
            for start, end in moved:
                if surfaces & over and overlap(start, end, wet.start, wet.end + WET_UNDERFOOT):
                    where = sorted(surfaces & over)[0]
                    text = f"'{stay.kit}' is carried over '{where}', wet from {r.words(wet)}"
                    yield BrokenRule(9, text, stay.job, max(start, wet.start), max(start, wet.start) + 1)


def no_ladder_stands_in_the_wet(r: DayAndPlan) -> Breaches:
    """Rule 9: no ladder that takes time to put up and away stands where paving is washed, treated, coated or filled,
    if all that it is for on its ground has it stand there; nor is it put up there within an hour of what wetted it."""
    for stay, start, end, users in _standing(r, LADDER):
        job = r.day.jobs[stay.job]
        for work in _while_it_stands(r, stay, start - WET_UNDERFOOT, end):
            stage = r.stage(work)
            if not (job.surfaces[stage.surface].stood_on and stage.wants_it_clear):
                continue
            wet = WET_UNDERFOOT if stage.wets or stage.is_laid_on else 0
            if not (overlap(start, end, work.start, work.end) or work.end <= start < work.end + wet):
                continue
            if all(stage.surface in where_its_ladder_stands(r, stay.job, user) for user in users):
                later, when = max(start, work.start), "during" if start < work.end else "within an hour of"
                text = f"'{stay.kit}' stands on '{stage.surface}' {when} {r.words(work)}"
                yield BrokenRule(9, text, stay.job, later, later + 1)


def nothing_electric_stands_in_the_wet(r: DayAndPlan) -> Breaches:
    """Rule 9: kit that must be kept dry does not stand set up where something is wetted, if all that it is for on its
    ground has it stand there."""
    for stay, start, end, users in _standing(r, KEPT_DRY):
        stages = r.day.jobs[stay.job].stages
        stands = [where_its_ladder_stands(r, stay.job, s) | {stages[s].surface} for s in users]
        for work in _while_it_stands(r, stay, start, end):
            own = r.stage(work).surface
            wet = {own, *r.below(work.job)[own]}
            if r.stage(work).wets and all(wet & places for places in stands):
                later = max(start, work.start)
                text = f"'{stay.kit}', which must be kept dry, stands where it gets wet during {r.words(work)}"
                yield BrokenRule(9, text, stay.job, later, later + 1)


def _standing(r: DayAndPlan, tag: str) -> Iterator[tuple[Stay, int, int, list[str]]]:
    """Stays of kit with a tag that takes time to put up and away, from when to when it is up, and for what it is."""
    for stay in r.plan.stays:
        kit, users = r.day.kit[stay.kit], r.stages_that_take(stay.job, stay.ground, stay.kit)
        if tag in kit.tags and kit.set_up and kit.pack_down and users:
            start = min((c.start for c in r.chores_of(stay, "set up")), default=stay.carried_in)
            yield stay, start, max((c.end for c in r.chores_of(stay, "pack down")), default=stay.carried_out), users


def _while_it_stands(r: DayAndPlan, stay: Stay, start: int, end: int) -> Iterator[Work]:
    """Work at the job of a stay meanwhile, but what may take that kit itself."""
    for work in r.plan.works:
        its_own = any(stay.kit in r.day.kit_closure(way.kit) for way in r.stage(work).methods.values())
        if work.job == stay.job and not its_own and overlap(start, end, work.start, work.end):
            yield work


def where_its_ladder_stands(r: DayAndPlan, key: str, stage: str) -> frozenset[str] | set[str]:
    """What a stage is worked from, or itself where one stands on it; if neither is said, all that lies below."""
    job = r.day.jobs[key]
    surface = job.surfaces[job.stages[stage].surface]
    if surface.stood_on or surface.worked_from:
        return footprint(job, stage)
    return r.below(key)[job.stages[stage].surface]


class _Barred(NamedTuple):
    """A surface that nobody may tread on, from when until when, by which rule and why; ``own`` stages may.

    ``begun`` is when the work that bars it began.
    """

    rule: int
    begun: int
    job: str
    surface: str
    start: int
    end: int
    own: set[str]
    words: str


def no_ladder_is_seen_to_on_what_is_closed(r: DayAndPlan) -> Breaches:
    """Rule 8: no ladder is put up or taken down on a surface that waits, or is fresh and spoiled by feet, if all that
    it is for on its ground has it stand there; one that what ends the wait, or is worked there, takes itself may be."""
    for barred in (*_waiting(r), *_fresh(r)):
        for chore in r.plan.chores:
            if chore.job != barred.job or chore.kit is None or LADDER not in r.day.kit[chore.kit].tags:
                continue
            if not (r.day.kit[chore.kit].set_up and r.day.kit[chore.kit].pack_down):
                continue
            users = r.stages_that_take(chore.job, chore.ground, chore.kit)
            if not users or not barred.own.isdisjoint(users):
                continue
            is_there = all(barred.surface in where_its_ladder_stands(r, chore.job, user) for user in users)
            is_there = is_there and not r.were_begun(barred.begun, chore.start)
            if is_there and lasts_into(chore.start, chore.end, barred.start, barred.end):
                later = max(chore.start, barred.start)
                text = f"'{chore.kit}' is seen to on '{barred.surface}' ({span_words(chore.start, chore.end)})"
                yield BrokenRule(barred.rule, f"{text} during {barred.words}", chore.job, later, later + 1)


def _waiting(r: DayAndPlan) -> Iterator[_Barred]:
    for closed in closed_surfaces(r):
        if closed.wait.closes_surface:
            job, wait = r.day.jobs[closed.job], closed.wait
            after = job.stages[wait.after]
            own = {s for s in (wait.after, wait.before, wait.extended_by) if s is not None}
            own |= {s for s, stage in job.stages.items() if are_different_sections(stage, after)}
            begun, span = closed.first.start, (closed.start, closed.end)
            yield _Barred(8, begun, closed.job, closed.surface, *span, own, closed.words)


def _fresh(r: DayAndPlan) -> Iterator[_Barred]:
    for work in r.plan.works:
        if FEET in r.stage(work).spoiled_while_fresh_by:
            surface = r.stage(work).surface
            own = _worked_at(r.day.jobs[work.job], surface)
            words = f"the time for which {r.words(work)} leaves it fresh"
            yield _Barred(9, work.start, work.job, surface, work.start, fresh_until(r, work), own, words)


def _worked_at(job: Job, surface: str) -> set[str]:
    return {s for s, stage in job.stages.items() if stage.surface == surface}
