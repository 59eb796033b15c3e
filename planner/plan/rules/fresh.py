"""Rule 9, from the top down: fresh work is not spoiled, what is finished is not soiled again, nobody works below a jet.

What a surface stands over, and what the day's own words put in order, are worked out here anew, apart from the engine.
"""

from collections.abc import Iterator

from planner.day import Job
from planner.day.stage_kinds import (
    DRAINS_IN,
    FEET,
    RUNS_DOWN,
    STAYS_PUT,
    WETS,
    wets_for_what_follows,
)
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
    span_words,
)
from planner.plan.rules.surfaces import closed_surfaces, footprint, reached_over
from planner.trade.chemicals import chemicals
from planner.trade.units import show_minutes


def what_follows(job: Job, stage: str) -> set[str]:
    """The stages that the day's own words put after one, straight or through others."""
    found: set[str] = set()
    waiting = [stage]
    while waiting:
        first = waiting.pop()
        following = [key for key, other in job.stages.items() if first in other.after]
        following += [w.before for w in job.waits if w.after == first and w.before is not None]
        waiting += [key for key in following if key not in found]
        found.update(following)
    return found


def reaches(r: DayAndPlan, maker: Work, nuisance: str, surface: str) -> bool:
    """Whether what a work makes reaches a surface: its own, one below, or any on its ground if it travels."""
    job = r.day.jobs[maker.job]
    own = r.stage(maker).surface
    if surface in r.stage(maker).spares:
        return False
    if surface == own or (nuisance in RUNS_DOWN and surface in r.below(maker.job)[own]):
        return True
    return nuisance not in STAYS_PUT and job.surfaces[surface].ground == job.surfaces[own].ground


def fresh_until(r: DayAndPlan, work: Work) -> int:
    """Until when what a work leaves is fresh: its own time, else that of the waits after it, else for good."""
    stage = r.stage(work)
    if stage.fresh_for is not None:
        return work.end + stage.fresh_for
    return max((end for _, end in r.wait_spans(work.job, work.stage)), default=FOREVER)


def nothing_reaches_fresh_work(r: DayAndPlan) -> Breaches:
    """Rule 9: while what a work leaves is fresh, from its start on, nothing that reaches it makes what spoils it."""
    for fresh in r.plan.works:
        spoiled_by = r.stage(fresh).spoiled_while_fresh_by
        for maker in _others(r, fresh) if spoiled_by else ():
            what = [n for n in r.stage(maker).nuisances & spoiled_by if reaches(r, maker, n, r.stage(fresh).surface)]
            is_next_to = are_different_sections(r.stage(maker), r.stage(fresh))
            until = fresh.end if is_next_to else fresh_until(r, fresh)
            if what and overlap(maker.start, maker.end, fresh.start, until):
                text = f"{r.words(maker)} makes {' and '.join(sorted(what))}, and what {r.words(fresh)} leaves is fresh"
                yield _both(maker, fresh, text)


def nobody_treads_on_fresh_work(r: DayAndPlan) -> Breaches:
    """Rule 9: what is fresh, and spoiled by feet, is not stood on for other surfaces, nor walked over."""
    for fresh in r.plan.works:
        if FEET not in r.stage(fresh).spoiled_while_fresh_by:
            continue
        job, surface = r.day.jobs[fresh.job], r.stage(fresh).surface
        text = f"'{surface}' is fresh from {r.words(fresh)}, and needed for"
        for start, end, words in (*_standing(r, fresh, job, surface), *_walking(r, fresh, job, surface)):
            if overlap(start, end, fresh.start, fresh_until(r, fresh)) and not r.were_begun(start, fresh.start):
                yield BrokenRule(9, f"{text} {words}", fresh.job, max(start, fresh.start), end)


def _standing(r: DayAndPlan, fresh: Work, job: Job, surface: str) -> Iterator[tuple[int, int, str]]:
    for work in _others(r, fresh):
        if job.stages[work.stage].surface != surface and surface in footprint(job, work.stage):
            yield work.start, work.end, r.words(work)


def _walking(r: DayAndPlan, fresh: Work, job: Job, surface: str) -> Iterator[tuple[int, int, str]]:
    for key, ground in job.grounds.items():
        if surface not in {*ground.way_in.over, *reached_over(job, set(ground.way_in.over))}:
            continue
        words = f"the way to {ground_words(r.day, fresh.job, key)}"
        for crossing in r.plan.crossings:
            if (crossing.job, crossing.ground) == (fresh.job, key):
                yield from ((*leg, words) for leg in r.legs(crossing))
        if ground.way_in.is_open:
            yield from ((c.start, c.end, words) for c in r.plan.chores if (c.job, c.ground) == (fresh.job, key))
            here = (w for w in r.works_on(fresh.job, key) if r.stage(w).surface != surface)
            yield from ((w.start, w.end, words) for w in here)


def what_is_clean_stays_clean(r: DayAndPlan) -> Breaches:
    """Rule 9: what runs, falls or settles on a surface is over before the last that takes it off begins, and the last
    that clears it out, unless ordered otherwise. The dust of dry cutting settles on all of its ground."""
    for maker in r.plan.works:
        job, own, is_dusty = r.day.jobs[maker.job], r.stage(maker).surface, r.stage(maker).grinds
        if not (is_dusty or r.stage(maker).soils_below):
            continue
        beside = _on_the_ground_of(job, own) if is_dusty else set()
        for surface in sorted((r.below(maker.job)[own] | beside) - {own, *r.stage(maker).spares}):
            there = [w for w in _others(r, maker) if r.stage(w).surface == surface]
            cleared = [w for w in there if r.stage(w).clears]
            for works, what in (_strong_enough(r, maker, there), (cleared, "clears")):
                ordered = any(maker.stage in what_follows(job, w.stage) for w in works)
                if not works or ordered or own in r.below(maker.job)[surface]:
                    continue
                for last in _last_of_each_section(r, works):
                    if maker.end > last.start and not r.were_begun(maker.start, last.start):
                        how = "settles on" if is_dusty else "runs or falls onto"
                        yield _broken(maker, f"{r.words(maker)} {how} '{surface}', which {r.words(last)} {what}")


def _strong_enough(r: DayAndPlan, maker: Work, there: list[Work]) -> tuple[list[Work], str]:
    """Which works on a surface take off what another brings there, and what they do: a wash takes off all; a broom what
    fell or settled, if nobody washes; a rinse what was rinsed there, and what nobody washes or sweeps off."""
    stage = r.stage(maker)
    washed = [w for w in there if r.stage(w).washes]
    is_solid = stage.grinds or "dirt" in stage.nuisances
    if washed and (is_solid or stage.washes):
        return washed, "washes"
    swept = [w for w in there if r.stage(w).sweeps]
    if swept and is_solid:
        return swept, "sweeps"
    return [w for w in there if r.stage(w).cleans], "cleans"


def _last_of_each_section(r: DayAndPlan, cleaned: list[Work]) -> list[Work]:
    """Of works that clean a surface the last one, or the last of each section of it."""
    parts = [(w, r.stage(w).part) for w in cleaned]
    numbers = sorted({part.number for _, part in parts if part is not None}) or [1]
    each = ([w for w, part in parts if part is None or part.number == n] for n in numbers)
    return [max(works, key=lambda w: w.start) for works in each]


def nothing_runs_into_joints_that_are_wetted(r: DayAndPlan) -> Breaches:
    """Rule 9: what runs down onto a surface that is wetted for filling is over, and has drained, before that.

    What nobody did, as what it was to take off came off without, wetted nothing.
    """
    for wetting in (w for w in r.plan.works if wets_for_what_follows(r.stage(w).kind) and w.hands):
        surface, after = r.stage(wetting).surface, what_follows(r.day.jobs[wetting.job], wetting.stage)
        for maker in _others(r, wetting):
            stage = r.stage(maker)
            reached = surface in r.below(maker.job)[stage.surface] and surface not in stage.spares
            if not (stage.wets and reached) or maker.stage in after:
                continue
            if maker.end + DRAINS_IN > wetting.start:
                text = f"{r.words(maker)} runs onto '{surface}', which {r.words(wetting)} wets for what follows"
                yield _both(maker, wetting, text)


def _on_the_ground_of(job: Job, surface: str) -> set[str]:
    return {key for key, other in job.surfaces.items() if other.ground == job.surfaces[surface].ground}


def dust_is_taken_up_before_water_comes(r: DayAndPlan) -> Breaches:
    """Rule 9: nothing wets what the dust of cut joints lies on, their own surface and what is below, before they are
    cut and the dust is taken up, unless the day orders it so."""
    for grind in (w for w in r.plan.works if r.stage(w).grinds):
        job, own = r.day.jobs[grind.job], r.stage(grind).surface
        after = what_follows(job, grind.stage)
        swept = [w for w in _others(r, grind) if w.stage in after and r.stage(w).sweeps and r.stage(w).surface == own]
        last = max([grind, *swept], key=lambda w: w.end)
        dusty = {own, *(r.below(grind.job)[own] - set(r.stage(grind).spares))}
        for wet in _others(r, grind):
            stage = r.stage(wet)
            if not (stage.wets or stage.is_laid_on) or grind.stage in what_follows(job, wet.stage):
                continue
            made = {stage.surface, *(r.below(wet.job)[stage.surface] if stage.wets else ())}
            if "spray" in stage.nuisances:
                made |= _on_the_ground_of(job, stage.surface)
            both = sorted(dusty & made - set(stage.spares))
            if both and wet.start < last.end and not r.were_begun(wet.start, wet.start):
                yield _broken(wet, f"{r.words(wet)} wets '{both[0]}' before {r.words(last)} is over")


def what_must_be_dry_is_dry(r: DayAndPlan) -> Breaches:
    """Rule 9: what must find its surface dry is not begun while, or so soon after, another stage wets it."""
    for dry in r.plan.works:
        job, minutes = r.day.jobs[dry.job], r.stage(dry).dry_for
        if not minutes:
            continue
        surface = r.stage(dry).surface
        has_own_wait = any(w.before == dry.stage and w.kind == "dry" for w in job.waits)
        for wet in _others(r, dry):
            if r.stage(wet).surface == surface and has_own_wait:
                continue
            wets = any(reaches(r, wet, nuisance, surface) for nuisance in r.stage(wet).nuisances & WETS)
            is_over = r.were_begun(dry.start, wet.start)
            if wets and not is_over and overlap(dry.start, dry.end, wet.start, wet.end + minutes):
                text = f"{r.words(dry)} asks for {show_minutes(minutes)} without a drop, and {r.words(wet)} wets it"
                yield _broken(dry, text)


def nobody_works_below_another(r: DayAndPlan) -> Breaches:
    """Rule 9: nobody works under, or within reach of, another's jet, spray, cutting, ladder or falling dirt or dust."""
    for above in r.plan.works:
        if not _is_dangerous_below(r, above):
            continue
        reach = _reach(r, above)
        for other in _others(r, above):
            there = {r.stage(other).surface, *footprint(r.day.jobs[above.job], other.stage)}
            if overlap(above.start, above.end, other.start, other.end) and there & reach:
                yield _both(other, above, f"{r.words(other)} is within reach of {r.words(above)}")


def nobody_is_below_what_drips(r: DayAndPlan) -> Breaches:
    """Rule 9: while what burns dwells on what nobody stands on, nobody works at what lies below, nor stands there."""
    for closed in closed_surfaces(r):
        treated, job = r.stage(closed.first), r.day.jobs[closed.job]
        if closed.wait.kind != "dwell" or job.surfaces[closed.surface].stood_on or not _burns(treated.chemical):
            continue
        wet = r.below(closed.job)[closed.surface] - set(treated.spares)
        for work in _others(r, closed.first):
            is_own = work.stage in (closed.wait.before, closed.wait.extended_by)
            if is_own or r.stage(work).surface == closed.surface or r.were_begun(closed.first.start, work.start):
                continue
            there = {r.stage(work).surface, *footprint(job, work.stage)}
            if there & wet and lasts_into(work.start, work.end, closed.start, closed.end):
                later = max(work.start, closed.start)
                text = f"{r.words(work)} is below '{closed.surface}' during {closed.words}"
                yield BrokenRule(9, text, closed.job, later, later + 1)


def _burns(chemical: str | None) -> bool:
    table = chemicals()
    return chemical is not None and table.class_of(chemical) in table.burns


def nobody_sees_to_kit_below_another(r: DayAndPlan) -> Breaches:
    """Rule 9: no kit is set up or packed down under, or within reach of, another's jet, spray, ladder or falling dirt,
    where all that it is for on its ground lies there; beside what is worked on that same paving there is its edge."""
    for above in r.plan.works:
        for chore in r.plan.chores if _is_dangerous_below(r, above) else ():
            if chore.job != above.job or not overlap(above.start, above.end, chore.start, chore.end):
                continue
            users = [] if chore.kit is None else r.stages_that_take(chore.job, chore.ground, chore.kit)
            if users and all(_has_to_be_beneath(r, above, user) for user in users):
                what = "setting up" if chore.what == "set up" else "packing down"
                later = max(above.start, chore.start)
                words = f"{what} '{chore.kit}' ({span_words(chore.start, chore.end)})"
                yield BrokenRule(9, f"{words} is within reach of {r.words(above)}", chore.job, later, later + 1)


def _has_to_be_beneath(r: DayAndPlan, above: Work, user: str) -> bool:
    """Whether kit that a stage takes has to stand within reach of a work."""
    job, own = r.day.jobs[above.job], r.stage(above).surface
    if job.stages[user].surface == own and job.surfaces[own].stood_on and not r.is_up_a_ladder(above):
        return False
    there = {job.stages[user].surface, *footprint(job, user)}
    return not there.isdisjoint(_reach(r, above))


def _reach(r: DayAndPlan, above: Work) -> set[str]:
    """What lies under a work, or beside it; whoever works at something else high up stands below what is, too."""
    own, surfaces = r.stage(above).surface, r.day.jobs[above.job].surfaces
    beside: set[str] = set()
    if surfaces[own].high:
        beside = {key for key in _on_the_ground_of(r.day.jobs[above.job], own) if surfaces[key].high}
    return {own, *r.surface(above).worked_from, *r.below(above.job)[own], *beside}


def _is_dangerous_below(r: DayAndPlan, work: Work) -> bool:
    stage = r.stage(work)
    falls = {"spray", "dirt"} | (set() if r.surface(work).stood_on else {"dust"})
    return bool(stage.nuisances & falls) or stage.grinds or stage.is_laid_on or r.is_up_a_ladder(work)


def _others(r: DayAndPlan, work: Work) -> list[Work]:
    """The other works of its job."""
    return [w for w in r.plan.works if w.job == work.job and w is not work]


def _broken(work: Work, text: str) -> BrokenRule:
    return BrokenRule(9, text, work.job, work.start, work.end)


def _both(work: Work, other: Work, text: str) -> BrokenRule:
    """Rule 9 broken by two works: it is the later to begin that might have waited."""
    later = max(work.start, other.start)
    return BrokenRule(9, text, work.job, later, later + 1)
