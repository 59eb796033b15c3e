"""Rule 9: what spoils is kept from what can be spoiled, and chemicals that must never meet are rinsed apart."""

from itertools import permutations

from planner.day.stage_kinds import RUNS_DOWN
from planner.plan.plan import Work
from planner.plan.rules.day_and_plan import Breaches, BrokenRule, DayAndPlan, are_different_sections, overlap
from planner.plan.rules.fresh import reaches, what_follows
from planner.trade.chemicals import Chemicals, chemicals


def nothing_spoils(r: DayAndPlan) -> Breaches:
    """Rule 9: nothing that reaches a stage makes dust or spray while it, or a wait after it, can be spoiled by that.

    Nor while one puts something on its surface, or sweeps; and on what was put on nothing runs or falls down either.
    """
    yield from _nothing_comes_on_it_meanwhile(r)
    for maker in r.plan.works:
        makes = r.stage(maker).nuisances
        for other in (w for w in r.plan.works if makes and w.job == maker.job and w is not maker):
            could = sorted(makes.intersection(r.stage(other).spoiled_by))
            spoils = [nuisance for nuisance in could if reaches(r, maker, nuisance, r.stage(other).surface)]
            spoils = spoils or _comes_down(r, maker, other)
            if not spoils:
                continue
            open_until = other.end
            if not are_different_sections(r.stage(maker), r.stage(other)):
                open_until = max([open_until, *(end for _, end in r.wait_spans(other.job, other.stage))])
            if overlap(maker.start, maker.end, other.start, open_until):
                text = f"{r.words(maker)} makes {' and '.join(spoils)}, which spoils {r.words(other)}"
                later = max(maker.start, other.start)  # which might have waited, unless both had begun before now
                yield BrokenRule(9, text, maker.job, later, later + 1)


def _comes_down(r: DayAndPlan, maker: Work, laid: Work) -> list[str]:
    """What runs or falls from above onto what a stage puts on its surface."""
    below = r.below(maker.job)[r.stage(maker).surface] - set(r.stage(maker).spares)
    if not r.stage(laid).is_laid_on or r.stage(laid).surface not in below:
        return []
    return sorted(r.stage(maker).nuisances & RUNS_DOWN)


def _nothing_comes_on_it_meanwhile(r: DayAndPlan) -> Breaches:
    for laid in r.plan.works:
        by = r.stage(laid).spoiled_meanwhile_by
        for maker in (w for w in r.plan.works if by and w.job == laid.job and w is not laid):
            made = sorted(n for n in r.stage(maker).nuisances & by if reaches(r, maker, n, r.stage(laid).surface))
            if made and overlap(maker.start, maker.end, laid.start, laid.end):
                text = f"{r.words(maker)} makes {' and '.join(made)} while {r.words(laid)} goes on"
                later = max(maker.start, laid.start)
                yield BrokenRule(9, text, maker.job, later, later + 1)


def pairs_apart(r: DayAndPlan) -> Breaches:
    """Rule 9: stages that a job keeps apart share no time."""
    for key, job in r.day.jobs.items():
        for pair in job.apart:
            one, two = (r.work(key, stage) for stage in pair)
            if one is not None and two is not None and overlap(one.start, one.end, two.start, two.end):
                text = f"{r.words(one)} and {r.words(two)} must not share time"
                later = max(one.start, two.start)
                yield BrokenRule(9, text, key, later, later + 1)


def chemicals_never_meet(r: DayAndPlan) -> Breaches:
    """Rule 9: two chemicals that must never meet do not reach one surface without a rinse of it between them.

    Nor is one put on while the other is, or dwells, elsewhere on its ground: mist drifts.
    """
    known = chemicals()
    yield from _none_drifts(r, known)
    for first, second in permutations([w for w in r.plan.works if r.stage(w).chemical], 2):
        danger = _danger(r, known, first, second)
        if danger is None or (first.start, first.end, first.stage) > (second.start, second.end, second.stage):
            continue
        for surface in sorted(_wetted(r, first) & _wetted(r, second)):
            if not any(_rinses_between(r, rinse, surface, first, second) for rinse in r.plan.works):
                text = f"{r.words(first)} and {r.words(second)} meet on '{surface}' with no rinse of it between"
                yield BrokenRule(9, f"{text}: {danger}", second.job, second.start, second.end)


def _none_drifts(r: DayAndPlan, known: Chemicals) -> Breaches:
    for first, second in permutations([w for w in r.plan.works if r.stage(w).chemical], 2):
        danger = _danger(r, known, first, second)
        if danger is None or r.ground(first) != r.ground(second) or _wetted(r, first) & _wetted(r, second):
            continue
        dwells = [w for w in r.day.jobs[first.job].waits if w.after == first.stage and w.kind == "dwell"]
        ends = [r.work(first.job, w.before) for w in dwells if w.before is not None and w.before != second.stage]
        on_until = max([first.end, *(work.start for work in ends if work is not None)])
        if overlap(second.start, second.end, first.start, on_until):
            later = max(first.start, second.start)
            text = f"{r.words(second)} is put on beside {r.words(first)}, which is on: {danger}"
            yield BrokenRule(9, text, second.job, later, later + 1)


def the_last_rinse_is_over(r: DayAndPlan) -> Breaches:
    """Rule 9: before a chemical is opened, the last rinse of what one was put on that must never meet it is over."""
    known = chemicals()
    for first, second in permutations([w for w in r.plan.works if r.stage(w).chemical], 2):
        danger = _danger(r, known, first, second)
        if danger is None or first.start > second.start or _wetted(r, first).isdisjoint(_wetted(r, second)):
            continue
        job = r.day.jobs[first.job]
        own = what_follows(job, first.stage) - what_follows(job, second.stage)
        for rinse in (w for w in r.plan.works if w.job == first.job and w.stage in own and r.stage(w).rinses):
            is_of_it = r.stage(rinse).surface == r.stage(first).surface
            if is_of_it and not are_different_sections(r.stage(rinse), r.stage(first)) and rinse.end > second.start:
                text = f"{r.words(second)} begins before the last rinse of {r.words(first)}, {r.words(rinse)}, is over"
                yield BrokenRule(9, f"{text}: {danger}", second.job, second.start, second.start + 1)


def _danger(r: DayAndPlan, known: Chemicals, first: Work, second: Work) -> str | None:
    """Why the chemicals of two works at one job must never meet; None when they may. The unknown counts as danger."""
    one, two = r.stage(first).chemical, r.stage(second).chemical
    if first.job != second.job or one is None or two is None or one == two:
        return None
    try:
        clash = known.clash(one, two)
    except ValueError as unknown:
        return str(unknown)
    return str(clash) if clash else None


def _wetted(r: DayAndPlan, work: Work) -> set[str]:
    """The surfaces that what a stage puts on reaches: its own, and all that lies below."""
    return {r.stage(work).surface, *r.below(work.job)[r.stage(work).surface]}


def _rinses_between(r: DayAndPlan, rinse: Work, surface: str, first: Work, second: Work) -> bool:
    """Whether a work rinses the surface after one work ends and before another starts.

    A surface that was treated itself must be rinsed itself; on one that only took the run-off of both, the run-off of
    a rinse does.
    """
    if rinse.job != first.job or not r.stage(rinse).rinses:
        return False
    was_treated = surface in (r.stage(first).surface, r.stage(second).surface)
    reaches = r.stage(rinse).surface == surface if was_treated else surface in _wetted(r, rinse)
    if any(are_different_sections(r.stage(rinse), r.stage(treated)) for treated in (first, second)):
        return False
    return reaches and first.end <= rinse.start and rinse.end <= second.start
