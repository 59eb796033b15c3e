"""Rule 1, every stage once and as its method says; rule 7, the order of stages and the waits between them."""

from planner.day import Wait
from planner.plan.plan import Work
from planner.plan.rules.day_and_plan import Breaches, BrokenRule, DayAndPlan, hand_words, job_words, stage_words
from planner.trade.units import show_clock, show_minutes


def every_stage_once(r: DayAndPlan) -> Breaches:
    """Rule 1: no stage is left out, but for a re-wet that is not needed."""
    for job, key, stage in r.day.stages():
        if r.work(job, key) is None and not stage.only_if_needed:
            yield BrokenRule(1, f"{stage_words(r.day, job, key)} is not in the plan", job)


def as_the_method_says(r: DayAndPlan) -> Breaches:
    """Rule 1: a stage takes the minutes and the hands of its method, and the hand it is meant for."""
    for work in r.plan.works:
        stage = r.stage(work)
        minutes = r.day.jobs[work.job].likely_minutes(work.stage, work.method)
        if work.end - work.start != minutes:
            yield _broken(1, work, f"{r.words(work)} must take {show_minutes(minutes)}")
        wanted = stage.methods[work.method].hands
        if len(set(work.hands)) != len(work.hands) or len(work.hands) != wanted:
            yield _broken(1, work, f"{r.words(work)} needs {wanted} different hands and has {len(work.hands)}")
        if stage.by_hand and stage.by_hand not in work.hands:
            yield _broken(1, work, f"{r.words(work)} must be done by {hand_words(r.day, stage.by_hand)}")


def inside_its_visit(r: DayAndPlan) -> Breaches:
    """Rule 1: a stage lies inside the visit it names."""
    for work in r.plan.works:
        visit = r.visit(work.job, work.visit)
        if work.start < visit.arrive or work.end > visit.depart:
            yield _broken(1, work, f"{r.words(work)} is outside visit {work.visit} to {job_words(r.day, work.job)}")


def in_order(r: DayAndPlan) -> Breaches:
    """Rule 7: a stage starts after all those that it follows."""
    for work in r.plan.works:
        for key in r.stage(work).after:
            first = r.work(work.job, key)
            if first is not None and work.start < first.end:
                yield _begun(work, f"{r.words(work)} starts before {r.words(first)} is done")


def waits_keep_their_bounds(r: DayAndPlan) -> Breaches:
    """Rule 7: each wait lasts at least its least and at most its most, counted anew from a re-wet."""
    for key, job in r.day.jobs.items():
        for wait in job.waits:
            first = r.work(key, wait.after)
            second = r.work(key, wait.before) if wait.before else None
            if first is not None and second is not None:
                yield from _wait_between(r, wait, first, second)
                if wait.weather == "film" and wait.extended_by and wait.most is not None:  # the label's, wet or not
                    yield from _on_too_long(r, wait, wait.most, first, second)


def _on_too_long(r: DayAndPlan, wait: Wait, most: int, first: Work, second: Work) -> Breaches:
    longest = second.start - first.end if wait.order is None else _patch_waits(wait, first, second)[1]
    if longest > most:
        text = f"what {r.words(first)} put on is on for {show_minutes(longest)}, and may be for {show_minutes(most)}"
        yield _begun(second, text)


def _wait_between(r: DayAndPlan, wait: Wait, first: Work, second: Work) -> Breaches:
    if wait.order is not None:
        yield from _wait_of_patches(r, wait, first, second)
        return
    least, most = wait.bounds(first.end)
    words = f"the {wait.kind} after {r.words(first)} before {r.words(second)}"
    if second.start < first.end + least:
        yield _begun(second, f"{words} must last at least {show_minutes(least)}")
    counted_from = first.end
    again = r.work(first.job, wait.extended_by) if wait.extended_by else None
    if again is not None:
        if again.start < first.end or again.end > second.start:
            yield _broken(7, again, f"{r.words(again)} is outside {words}")
        if most is not None and again.start > first.end + most:
            yield _begun(again, f"{r.words(again)} comes later than {show_clock(first.end + most)}: {words}")
        counted_from = again.end
    if most is not None and second.start > counted_from + most:
        yield _begun(second, f"{words} may last at most {show_minutes(most)}")


def _wait_of_patches(r: DayAndPlan, wait: Wait, first: Work, second: Work) -> Breaches:
    """The same for every patch of the surface, as it is left and reached again at an even pace."""
    words = f"the {wait.kind} after {r.words(first)} before {r.words(second)}"
    if second.start < first.end:
        yield _begun(second, f"{r.words(second)} starts before {r.words(first)} is done")
    least, most = _strictest(wait, first)
    shortest, longest = _patch_waits(wait, first, second)
    if shortest < least:
        text = f"{words} lasts {show_minutes(max(0, shortest))} on some patch, and must last at least"
        yield _begun(second, f"{text} {show_minutes(least)}")
    again = r.work(first.job, wait.extended_by) if wait.extended_by else None
    if again is not None:
        if again.start < first.end or again.end > second.start:
            yield _broken(7, again, f"{r.words(again)} is outside {words}")
        if most is not None and _patch_waits(wait, first, again)[1] > most:
            yield _begun(again, f"{r.words(again)} comes too late on some patch: {words}")
        longest = _patch_waits(wait, again, second)[1]
    if most is not None and longest > most:
        text = f"{words} lasts {show_minutes(longest)} on some patch, and may last at most"
        yield _begun(second, f"{text} {show_minutes(most)}")


def _strictest(wait: Wait, first: Work) -> tuple[int, int | None]:
    """The largest least and the smallest most of all minutes at which some patch is left."""
    least, most = wait.bounds(first.start)
    for minute in range(first.start + 1, first.end + 1):
        other_least, other_most = wait.bounds(minute)
        least = max(least, other_least)
        if most is None or (other_most is not None and other_most < most):
            most = other_most
    return least, most


def _patch_waits(wait: Wait, first: Work, second: Work) -> tuple[int, int]:
    """The shortest and longest that a patch waits: at the ends in the same order, else the worst there can be."""
    if wait.order == "same":
        ends = sorted([second.start - first.start, second.end - first.end])
        return ends[0], ends[1]
    return second.start - first.end, second.end - first.start


def _begun(work: Work, text: str) -> BrokenRule:
    """Rule 7 broken by when a stage begins: where that was before now it cannot be changed, though it still runs."""
    return BrokenRule(7, text, work.job, work.start, work.start + 1)


def _broken(rule: int, work: Work, text: str) -> BrokenRule:
    return BrokenRule(rule, text, work.job, work.start, max(work.start, work.end))
