"""Rule 10, windows, promises and gates; rule 11, breaks; rule 12, the van's round."""

import datetime as dt
from collections.abc import Iterator
from itertools import pairwise

from planner.day.stage_kinds import LADDER_WINDIEST, RAIN
from planner.plan.plan import Work
from planner.plan.rules.day_and_plan import (
    FOREVER,
    Breaches,
    BrokenRule,
    DayAndPlan,
    hand_words,
    job_words,
    overlap,
    span_words,
)
from planner.trade.daylight import daylight
from planner.trade.units import MINUTES_IN_A_DAY, show_clock, show_minutes
from planner.trade.weather_gates import Tolerances, shut_spans


def arrivals_and_promises(r: DayAndPlan) -> Breaches:
    """Rule 10: the first arrival to work lies in its window, and the van is gone by when it was promised gone.

    A visit in which no stage is done is no arrival to work, and keeps no window.
    """
    for key, job in r.day.jobs.items():
        visits = [v for v in r.visits if v.job == key]
        if not visits:
            continue
        worked = {w.visit for w in r.plan.works if w.job == key}
        first = next((v.arrive for v in visits if v.number in worked), visits[0].arrive)
        last = max(v.depart for v in visits)
        if job.arrive and not job.arrive[0] <= first <= job.arrive[1]:
            text = f"arrival at {job_words(r.day, key)} at {show_clock(first)} is not within {span_words(*job.arrive)}"
            yield BrokenRule(10, text, key, first, first)
        if job.done_by is not None and last > job.done_by:
            text = f"{job_words(r.day, key)} is left at {show_clock(last)}, promised by {show_clock(job.done_by)}"
            yield BrokenRule(10, text, key, last, last)


def stages_keep_their_times(r: DayAndPlan) -> Breaches:
    """Rule 10: a stage keeps its own times, is quiet in quiet hours, and has the light and the weather it needs."""
    for work in r.plan.works:
        starts_at = r.stage(work).starts_at
        if starts_at is not None and work.start != starts_at:
            yield _broken(work, f"{r.words(work)} must start at {show_clock(starts_at)}")
        for start, end, why in shut_to(r, work):
            if overlap(work.start, work.end, start, end):
                yield _broken(work, f"{r.words(work)}: {why}")


def shut_to(r: DayAndPlan, work: Work) -> Iterator[tuple[int, int, str]]:
    """Spans in which a stage may not run, each with its reason."""
    job, stage = r.day.jobs[work.job], r.stage(work)
    if stage.not_before is not None:
        yield -FOREVER, stage.not_before, f"not before {show_clock(stage.not_before)}"
    if stage.not_after is not None:
        yield stage.not_after, FOREVER, f"not after {show_clock(stage.not_after)}"
    if stage.noisy:
        for start, end in job.quiet:
            yield start, end, f"noise in the quiet hours {span_words(start, end)}"
    if stage.outdoors and not r.day.lights:
        yield from ((dusk, dawn, f"dark, {span_words(dusk, dawn)}") for dusk, dawn in _nights(r, job.place))
    windiest = stage.windiest
    if windiest is None and r.is_up_a_ladder(work):
        windiest = LADDER_WINDIEST
    takes = Tolerances(
        stopped_by_rain=stage.is_stopped_by_rain,
        dry_after=stage.dry_after,
        dry_for=stage.dry_for,
        coldest=stage.coldest,
        hottest=stage.hottest,
        windiest=windiest,
        above_dew=stage.above_dew,
    )
    for shut in shut_spans(r.day.weather, takes, shaded=r.surface(work).shaded):
        yield shut.start, shut.end, f"{shut.why}, {span_words(shut.start, shut.end)}"


def layers_are_covered_before_the_rain(r: DayAndPlan) -> Breaches:
    """Rule 10: from the start of a fresh layer to the end of the one that covers it no rain is reckoned with."""
    for layer in r.plan.works:
        job, stage = r.day.jobs[layer.job], r.stage(layer)
        if RAIN not in stage.spoiled_while_fresh_by:
            continue
        next_ones = {key for key, other in job.stages.items() if layer.stage in other.after}
        next_ones |= {w.before for w in job.waits if w.after == layer.stage and w.before is not None}
        for key in sorted(next_ones):
            cover = r.work(layer.job, key)
            covers = cover is not None and RAIN in r.stage(cover).spoiled_while_fresh_by
            if cover is None or not covers or r.stage(cover).surface != stage.surface:
                continue
            for shut in shut_spans(r.day.weather, Tolerances(stopped_by_rain=True)):
                if overlap(layer.start, cover.end, shut.start, shut.end):
                    text = f"{r.words(layer)} is not covered by {r.words(cover)} before the rain"
                    yield _broken(layer, f"{text}, {span_words(shut.start, shut.end)}")


def _nights(r: DayAndPlan, place: str) -> Iterator[tuple[int, int]]:
    """From civil dusk to civil dawn: the night before the day, the one after it, and the next."""
    at = r.day.places[place].at or r.day.places[r.day.van.starts_at].at
    if at is None:
        return
    for night in (0, 1, 2):
        evening, morning = (r.day.date + dt.timedelta(days=night + shift) for shift in (-1, 0))
        dusk = daylight(*at, evening, r.day.time_zone).dusk + (night - 1) * MINUTES_IN_A_DAY
        dawn = daylight(*at, morning, r.day.time_zone).dawn + night * MINUTES_IN_A_DAY
        if dusk < dawn:
            yield dusk, dawn


def hands_keep_their_hours(r: DayAndPlan) -> Breaches:
    """Rule 10: riders are there when the van sets off; hands with their own transport keep their hours.

    Where the van is home later than a rider's hours end, that is overrun: said, and least of all wanted, not broken.
    """
    for hand in r.riders:
        begins = r.day.hours_of(hand)[0]
        if r.drives and r.drives[0].start < begins:
            text = f"the van sets off at {show_clock(r.drives[0].start)}, and {hand_words(r.day, hand)} starts at"
            yield BrokenRule(10, f"{text} {show_clock(begins)}", None, r.drives[0].start, r.drives[0].start)
    for hand in r.walkers:
        start, end = r.day.hours_of(hand)
        for a in r.attendances_of(hand):
            if a.arrive < start or a.leave > end:
                text = f"{hand_words(r.day, hand)} attends {span_words(a.arrive, a.leave)}, outside their hours"
                yield BrokenRule(10, f"{text} {span_words(start, end)}", a.job, a.arrive, a.leave)


def breaks_are_taken(r: DayAndPlan) -> Breaches:
    """Rule 11: who works longer than the rule allows gets a break, long enough and soon enough."""
    for hand in r.day.hands:
        rule, span = r.day.rest_of(hand), _working_span(r, hand)
        if rule is None or span is None or span[1] - span[0] <= rule.once_over:
            continue
        start, end = span
        latest = start + rule.begun_within
        kept = [
            x
            for x in r.plan.rests
            if x.hand == hand
            and x.end - x.start >= rule.length
            and start + rule.soonest <= x.start <= latest
            and x.end <= end
            and (rule.earliest is None or x.start >= rule.earliest)
            and (rule.latest is None or x.start <= rule.latest)
        ]
        if not kept:
            text = f"{hand_words(r.day, hand)} is out {span_words(start, end)} without a break of"
            window = f"{show_minutes(rule.length)} begun {span_words(start + rule.soonest, latest)}"
            yield BrokenRule(11, f"{text} {window}", None, start, end)


def meals_are_taken(r: DayAndPlan) -> Breaches:
    """Rule 11: who is out longer than the day's meal says has one, long enough and begun at its hour."""
    meal = r.day.meal
    if meal is None:
        return
    for hand in r.day.hands:
        span = _working_span(r, hand)
        if span is None or span[1] - span[0] <= meal.once_over:
            continue
        own = [x for x in r.plan.rests if x.hand == hand and x.end - x.start >= meal.length]
        if not any(meal.earliest <= x.start <= meal.latest and span[0] <= x.start and x.end <= span[1] for x in own):
            text = f"{hand_words(r.day, hand)} is out {span_words(*span)} without a meal of"
            window = f"{show_minutes(meal.length)} begun {span_words(meal.earliest, meal.latest)}"
            yield BrokenRule(11, f"{text} {window}", None, *span)


def arriving_and_leaving_take_their_time(r: DayAndPlan) -> Breaches:
    """Rule 12: nothing else is done at a job until the time for arriving is over, nor once that for leaving begins."""
    for key, job in r.day.jobs.items():
        visits = [v for v in r.visits if v.job == key]
        if not visits or not (job.arriving or job.leaving):
            continue
        opens, closes = visits[0].arrive + job.arriving, visits[-1].depart - job.leaving
        if closes < opens:
            text = f"{job_words(r.day, key)}: no time for arriving and leaving"
            yield BrokenRule(12, text, key, visits[0].arrive, visits[-1].depart)
        here: list[tuple[int, int]] = [(w.start, w.end) for w in r.plan.works if w.job == key]
        here += [(c.start, c.end) for c in r.plan.chores if c.job == key]
        here += [(c.start, c.end) for c in r.plan.crossings if c.job == key]
        here += [
            (x.start, x.end)
            for x in r.plan.rests
            for v in (visits[0], visits[-1])
            if x.hand in r.riders and v.arrive <= x.start < v.depart
        ]
        for start, end in here:
            if start < opens and end > visits[0].arrive:
                text = f"at {show_clock(start)} something is done at {job_words(r.day, key)}, and arriving takes until"
                yield BrokenRule(12, f"{text} {show_clock(opens)}", key, start, opens)
            if end > closes and start < visits[-1].depart:
                text = f"at {show_clock(end)} something is done at {job_words(r.day, key)}, and leaving takes from"
                yield BrokenRule(12, f"{text} {show_clock(closes)}", key, closes, end)


def _working_span(r: DayAndPlan, hand: str) -> tuple[int, int] | None:
    """From when to when a hand is out; None for one who is not."""
    if hand in r.riders:
        return (r.plan.leaves, r.plan.home) if r.drives else None
    there = r.attendances_of(hand)
    return (there[0].arrive, max(a.leave for a in there)) if there else None


def the_van_goes_round(r: DayAndPlan) -> Breaches:
    """Rule 12: drives link the van's start, its visits and its end without a gap."""
    if not r.visits and not r.drives:
        return
    places = [r.day.van.starts_at, *(r.day.jobs[v.job].place for v in r.visits), r.day.van.ends_at]
    if len(r.drives) != len(places) - 1:
        text = f"{len(r.visits)} visits take {len(places) - 1} drives, and the plan has {len(r.drives)}"
        yield BrokenRule(12, text)
        return
    for i, drive in enumerate(r.drives):
        if (drive.from_place, drive.to_place) != (places[i], places[i + 1]):
            wanted = f"'{places[i]}' to '{places[i + 1]}'"
            text = f"the van drives from '{drive.from_place}' to '{drive.to_place}', not {wanted}"
            yield BrokenRule(12, text, None, drive.start, drive.end)
        left = r.visits[i - 1].depart if i else drive.start
        reached = r.visits[i].arrive if i < len(r.visits) else drive.end
        if drive.start != left or drive.end != reached:
            text = f"the drive {span_words(drive.start, drive.end)} does not link departure {show_clock(left)}"
            yield BrokenRule(12, f"{text} and arrival {show_clock(reached)}", None, drive.start, drive.end)


def drives_take_their_time(r: DayAndPlan) -> Breaches:
    """Rule 12: a drive takes the minutes between its places, the first not before the day starts."""
    for drive in r.drives:
        try:
            minutes = r.day.drive_minutes(drive.from_place, drive.to_place)
        except KeyError:
            text = f"the day does not say how long '{drive.from_place}' to '{drive.to_place}' is"
            yield BrokenRule(12, text, None, drive.start, drive.end)
            continue
        if drive.end - drive.start != minutes:
            text = (
                f"the drive to '{drive.to_place}' ({span_words(drive.start, drive.end)}) takes {show_minutes(minutes)}"
            )
            yield BrokenRule(12, text, None, drive.start, drive.end)
    if r.drives:
        start = r.drives[0].start
        if start < r.day.start or (r.day.fixed_start and start != r.day.start):
            word = "at" if r.day.fixed_start else "from"
            text = f"the van sets off at {show_clock(start)}; its day starts {word} {show_clock(r.day.start)}"
            yield BrokenRule(12, text, None, start, start)


def visits_are_numbered(r: DayAndPlan) -> Breaches:
    """Rule 12: the visits to a job are numbered in order of time, and are no more than it allows."""
    for key, job in r.day.jobs.items():
        visits = [v for v in r.visits if v.job == key]
        if [v.number for v in visits] != list(range(1, len(visits) + 1)):
            yield BrokenRule(12, f"the visits to {job_words(r.day, key)} are not numbered in order of time", key)
        if len(visits) > job.visits:
            text = f"{job_words(r.day, key)} has {len(visits)} visits and allows {job.visits}"
            yield BrokenRule(12, text, key, visits[-1].arrive, visits[-1].depart)


def own_ways_take_their_time(r: DayAndPlan) -> Breaches:
    """Rule 12: a hand with their own transport needs the same minutes from job to job, and is at one at a time."""
    for hand in r.walkers:
        there = r.attendances_of(hand)
        for one, two in pairwise(there):
            here, beyond = r.day.jobs[one.job].place, r.day.jobs[two.job].place
            try:
                minutes = r.day.drive_minutes(here, beyond)
            except KeyError:
                minutes = 0  # the van's own drive there is at fault
            if two.arrive < one.leave + minutes:
                text = f"{hand_words(r.day, hand)} leaves '{here}' at {show_clock(one.leave)} and is at '{beyond}' at"
                yield BrokenRule(
                    12,
                    f"{text} {show_clock(two.arrive)}; it takes {show_minutes(minutes)}",
                    two.job,
                    one.leave,
                    two.arrive,
                )


def _broken(work: Work, text: str) -> BrokenRule:
    """By when a stage begins: where that was before now it goes on, and cannot be put elsewhere any more."""
    return BrokenRule(10, text, work.job, work.start, work.start + 1)
