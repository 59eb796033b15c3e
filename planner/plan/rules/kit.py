"""Rule 4: kit is on the ground and set up for all of its use, each unit serves one stage, supplies suffice."""

import math
from itertools import pairwise

from planner.plan.plan import Stay, Work
from planner.plan.rules.day_and_plan import (
    Breaches,
    BrokenRule,
    DayAndPlan,
    ground_words,
    kit_words,
    overlap,
    pairs_at_once,
    span_words,
)
from planner.plan.rules.fresh import what_follows
from planner.trade.chemicals import chemicals
from planner.trade.units import show_clock, show_minutes


def each_work_has_its_kit(r: DayAndPlan) -> Breaches:
    """Rule 4: a stage names one stay on its ground for each kit that it takes, and for what that needs."""
    for work in r.plan.works:
        found = sorted(s.kit for s in r.stays_of(work))
        for kit in r.kit_needed(work):
            if kit not in found:
                yield _of_work(work, f"{r.words(work)} has no {kit_words(r.day, kit)} on its ground")
        if len(work.stays) != len(found) or len(found) != len(set(found)) or set(found) - set(r.kit_needed(work)):
            yield _of_work(work, f"{r.words(work)} names stays that it has no use for, or that are elsewhere")


def kit_stands_set_up_for_all_of_its_use(r: DayAndPlan) -> Breaches:
    """Rule 4: set-up is done before a stage starts, and packing down starts after it ends."""
    for work in r.plan.works:
        for stay in r.stays_of(work):
            ready = max([stay.carried_in, *(c.end for c in r.chores_of(stay, "set up"))])
            gone = min([stay.carried_out, *(c.start for c in r.chores_of(stay, "pack down"))])
            if work.start < ready or work.end > gone:
                text = f"{r.words(work)} needs {kit_words(r.day, stay.kit)}, ready from {span_words(ready, gone)}"
                yield _of_work(work, text)


def each_stay_is_set_up_and_packed_down(r: DayAndPlan) -> Breaches:
    """Rule 4: a stay has the chores that its kit takes, of the exact minutes, and no others."""
    for stay in r.plan.stays:
        kit = r.day.kit[stay.kit]
        for what, minutes in (("set up", kit.set_up), ("pack down", kit.pack_down + kit.rinsing)):
            yield from _chore_of(r, stay, what, minutes + _walking(r, stay))
        packed = min((c.start for c in r.chores_of(stay, "pack down")), default=stay.carried_out)
        if any(c.end > packed for c in r.chores_of(stay, "set up")):
            yield _of_stay(stay, f"{kit_words(r.day, stay.kit)} is packed down before it is set up")


def what_lies_there_was_there(r: DayAndPlan) -> Breaches:
    """Rule 4: a stay that follows another of its kit, by a way in with crossings, begins in the minute and visit in
    which that ends; no two follow the same."""
    for stay in r.plan.stays:
        if stay.follows is None:
            continue
        words = f"{kit_words(r.day, stay.kit)} on {ground_words(r.day, stay.job, stay.ground)}"
        before = r.stay(stay.job, stay.ground, stay.kit, stay.follows)
        if before is None or before is stay or r.way_in(stay.job, stay.ground).is_open:
            yield _of_stay(stay, f"{words} is said to lie there from before, and does not")
        elif (before.carried_out, before.visit_out) != (stay.carried_in, stay.visit_in):
            until = show_clock(before.carried_out)
            yield _of_stay(stay, f"{words} lies there until {until}, not when it is set up again")
        elif any(s.follows == stay.follows and s is not stay for s in r.stays_at(stay.job, stay.ground, stay.kit)):
            yield _of_stay(stay, f"{words} is set up twice from where it lies")


def _chore_of(r: DayAndPlan, stay: Stay, what: str, minutes: int) -> Breaches:
    chores = r.chores_of(stay, what)
    words = f"to {what} {kit_words(r.day, stay.kit)} on {ground_words(r.day, stay.job, stay.ground)}"
    if len(chores) != (minutes > 0):
        yield _of_stay(stay, f"{words} takes {show_minutes(minutes)}, and the plan does it {len(chores)} times")
    is_open = r.way_in(stay.job, stay.ground).is_open
    for chore in chores:
        if chore.end - chore.start != minutes:
            text = f"{words} at {show_clock(chore.start)} must take {show_minutes(minutes)}"
            yield BrokenRule(4, text, stay.job, chore.start, chore.end)
        if chore.start < stay.carried_in or chore.end > stay.carried_out:
            yield _of_stay(stay, f"{words} at {show_clock(chore.start)} while it is not there")
        if is_open and what == "set up" and chore.start != stay.carried_in:
            yield _of_stay(stay, f"{words}: it is there from the start of that, not {show_clock(stay.carried_in)}")
        if is_open and what == "pack down" and chore.end != stay.carried_out:
            yield _of_stay(stay, f"{words}: it is gone at the end of that, not {show_clock(stay.carried_out)}")


def _walking(r: DayAndPlan, stay: Stay) -> int:
    """Minutes that a chore takes longer because an open way is walked with the load."""
    way_in, kit = r.way_in(stay.job, stay.ground), r.day.kit[stay.kit]
    if not way_in.is_open:
        return 0
    return 2 * way_in.minutes * math.ceil(kit.load / (way_in.load_limit * kit.lift) - 1e-9)


def kit_is_set_up_once_what_it_needs_stands(r: DayAndPlan) -> Breaches:
    """Rule 4: kit is set up while all that it needs stands set up on that ground, and no sooner."""
    for stay in r.plan.stays:
        for chore in r.chores_of(stay, "set up"):
            for needed in r.day.kit[stay.kit].needs:
                others = [s for s in r.plan.stays if (s.job, s.ground, s.kit) == (stay.job, stay.ground, needed)]
                if not any(_stands(r, other, chore.start, chore.end) for other in others):
                    where = f"on {ground_words(r.day, stay.job, stay.ground)} at {show_clock(chore.start)}"
                    text = f"{kit_words(r.day, stay.kit)} is set up {where}, and no {kit_words(r.day, needed)} stands"
                    yield BrokenRule(4, f"{text} there", stay.job, chore.start, chore.start + 1)


def _stands(r: DayAndPlan, stay: Stay, start: int, end: int) -> bool:
    """Whether a stay's kit is set up, and not yet packed down, from one minute to another."""
    ready = max([stay.carried_in, *(c.end for c in r.chores_of(stay, "set up"))])
    return ready <= start and end <= min([stay.carried_out, *(c.start for c in r.chores_of(stay, "pack down"))])


def one_stage_at_a_time(r: DayAndPlan) -> Breaches:
    """Rule 4: one unit of kit serves one stage at a time."""
    for one, two in pairs_at_once(r.plan.works):
        for stay in r.stays_of(one):
            if stay in r.stays_of(two):
                text = f"{kit_words(r.day, stay.kit)} serves {r.words(one)} and {r.words(two)} at once"
                yield BrokenRule(4, text, one.job, two.start, min(one.end, two.end))


def one_chemical_until_rinsed_out(r: DayAndPlan) -> Breaches:
    """Rule 4: kit that is rinsed out serves one chemical from set-up to pack-down, which is when it is rinsed out."""
    for stay in r.plan.stays:
        if not r.day.kit[stay.kit].rinsing:
            continue
        served = [w for w in r.works_on(stay.job, stay.ground) if stay in r.stays_of(w)]
        for one, two in pairwise(sorted(served, key=lambda w: w.start)):
            if _chemical(r, one) != _chemical(r, two):
                text = f"{kit_words(r.day, stay.kit)} is not rinsed out between {r.words(one)} and {r.words(two)}"
                yield BrokenRule(4, text, stay.job, one.end, two.start)


def _chemical(r: DayAndPlan, work: Work) -> str | None:
    name = r.stage(work).chemical
    return None if name is None else chemicals().class_of(name)


def what_covers_stays(r: DayAndPlan) -> Breaches:
    """Rule 4: sheets and covers are there before the stages that they are for begin, and stay until these are over."""
    for cover in r.plan.works:
        for key in sorted(_covered_by(r, cover)):
            work = r.work(cover.job, key)
            if work is None:
                continue
            if work.start < cover.end:  # on a day under way it may have begun so: nothing covers it any more
                text = f"{r.words(work)} begins before {r.words(cover)} is over"
                yield BrokenRule(4, text, work.job, work.start, work.start + 1)
                continue
            for stay in r.stays_of(cover):
                gone = min([stay.carried_out, *(c.start for c in r.chores_of(stay, "pack down"))])
                if gone < work.end:
                    text = f"{kit_words(r.day, stay.kit)} is taken away before {r.words(work)}, which it covers for"
                    yield BrokenRule(4, f"{text}, is over", cover.job, gone, work.end)
                for other in r.plan.works:
                    is_between = overlap(other.start, other.end, cover.start, work.end)
                    if other is not cover and is_between and stay in r.stays_of(other):
                        text = f"{kit_words(r.day, stay.kit)} covers for {r.words(work)} and cannot serve"
                        yield _of_work(other, f"{text} {r.words(other)}")


def what_lies_under_sheets_is_left_alone(r: DayAndPlan) -> Breaches:
    """Rule 4: no work is done on what sheets lie on from when they are laid until they are up again."""
    for cover in r.plan.works:
        if not r.stage(cover).lies_on:
            continue
        until = _covered_by(r, cover)
        works = [w for w in r.plan.works if w.job == cover.job and w.stage in until and w.start >= cover.end]
        over = [cover.end, *(w.end for w in works)]
        for stay in r.stays_of(cover):
            over.append(max((c.end for c in r.chores_of(stay, "pack down")), default=stay.carried_out))
        for work in r.plan.works:
            is_under = work.job == cover.job and r.stage(work).surface in r.stage(cover).lies_on
            is_for_it = work is cover or work.stage in until
            if is_under and not is_for_it and overlap(work.start, work.end, cover.start, max(over)):
                text = f"{r.words(work)} is done where what {r.words(cover)} lays still lies"
                yield _of_work(work, text)


def _covered_by(r: DayAndPlan, cover: Work) -> set[str]:
    """The stages for which the kit of a work stays: those it names, or all that follow where it covers a surface."""
    stage, job = r.stage(cover), r.day.jobs[cover.job]
    if stage.stays_for is not None:
        return set(stage.stays_for)
    if not stage.covers:
        return set()
    return {key for key in what_follows(job, cover.stage) if job.stages[key].surface == stage.surface}


def no_more_kit_than_we_own(r: DayAndPlan) -> Breaches:
    """Rule 4: over all grounds and jobs no more of a kit is out than we own, the way there and back counted."""
    for key, kit in r.day.kit.items():
        out = [(*_away(r, s), s.job) for s in r.plan.stays if s.kit == key]
        for start, _, job in out:
            at_once = sum(one <= start < two for one, two, _ in out)
            if at_once > kit.own:
                text = f"{at_once} of {kit_words(r.day, key)} are out at {show_clock(start)}; we own {kit.own}"
                yield BrokenRule(4, text, job, start, min(two for one, two, _ in out if one <= start < two))


def _away(r: DayAndPlan, stay: Stay) -> tuple[int, int]:
    """From when to when a unit is not in the van."""
    way_in = r.way_in(stay.job, stay.ground)
    walk = 0 if way_in.is_open else way_in.minutes
    come, go = stay.follows is None, not r.is_followed(stay)
    return stay.carried_in - walk * come, stay.carried_out + walk * go


def supplies_suffice(r: DayAndPlan) -> Breaches:
    """Rule 4: at no minute do the running stages take more taps or sockets than their ground has."""
    for work in r.plan.works:
        job, ground = work.job, r.ground(work)
        running = [w for w in r.works_on(job, ground) if w.start <= work.start < w.end]
        taken = [name for w in running for kit in r.kit_needed(w) for name in r.day.kit[kit].supply]
        for name in sorted(set(taken)):
            there = r.day.jobs[job].grounds[ground].supplies.get(name, 0)
            if taken.count(name) > there:
                text = f"{ground_words(r.day, job, ground)} has {there} {name} and {taken.count(name)} are taken for"
                until = min(w.end for w in running)
                yield BrokenRule(4, f"{text} {', '.join(r.words(w) for w in running)}", job, work.start, until)


def _of_work(work: Work, text: str) -> BrokenRule:
    return BrokenRule(4, text, work.job, work.start, work.end)


def _of_stay(stay: Stay, text: str) -> BrokenRule:
    return BrokenRule(4, text, stay.job, stay.carried_in, stay.carried_out)
