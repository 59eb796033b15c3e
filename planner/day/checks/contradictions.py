"""Times in a day that contradict one another, and work whose length cannot be told."""

import datetime as dt
from collections.abc import Iterator
from contextlib import suppress
from zoneinfo import ZoneInfo, available_timezones

from planner.day.day import Day
from planner.day.faults import Fault, Where, shown, suggestion
from planner.day.following import later_stages
from planner.day.gates import shut_spans
from planner.day.hands import Break
from planner.day.jobs import Job, Method, Stage
from planner.day.waiting import USUAL_SECTIONS, Wait
from planner.day.words import LONGEST
from planner.trade.units import MINUTES_IN_A_DAY, show_clock, show_minutes

_COMMON_ZONES = ("Europe/London", "Europe/Dublin", "Europe/Paris", "UTC")  # shown first where nothing is near


def time_faults(day: Day) -> Iterator[Fault]:
    """Every span that ends before it begins, and every time that contradicts another."""
    yield from _of_day(day)
    for key, job in day.jobs.items():
        yield from _of_job(job, ("jobs", key))
        for i, wait in enumerate(job.waits):
            yield from _of_wait(job, wait, ("jobs", key, "waits", i))
        measured = True
        for name, stage in job.stages.items():
            unmeasured = list(_work(job, name, stage, ("jobs", key, "stages", name)))
            measured = measured and not unmeasured
            yield from unmeasured
            yield from _limits(job, name, stage, ("jobs", key, "stages", name))
        if measured:
            yield from _fixed_starts(day, key, job)


def _rising(place: Where, first: int | None, last: int | None, what: str) -> Iterator[Fault]:
    """A span of clock times that must have some length."""
    if first is not None and last is not None and last <= first:
        wrong = f"{what} end at {show_clock(last)}, before they begin at {show_clock(first)}"
        if last == first:
            wrong = f"{what} begin and end at {show_clock(first)}"
        right = "the earlier time comes first"
        if last < first <= MINUTES_IN_A_DAY:
            right += f"; the next morning is written '{show_clock(last)} +1'"
        yield Fault(place, None, wrong, right)


def _of_day(day: Day) -> Iterator[Fault]:
    if day.finish <= day.start:
        wrong = f"the day finishes at {show_clock(day.finish)} and starts at {show_clock(day.start)}"
        yield Fault(("finish",), None, wrong, "give a finish after the start")
    try:
        ZoneInfo(day.time_zone)
    except (KeyError, ValueError, OSError):  # a folder of zones is an OSError
        wrong = f"unknown time zone {shown(day.time_zone)}"
        yield Fault(
            ("time_zone",),
            None,
            wrong,
            suggestion(day.time_zone, [*_COMMON_ZONES, *sorted(available_timezones())]),
        )
    else:
        yield from _changed_clocks(day)
    if day.rest is not None:
        yield from _of_break(day.rest, ("rest",))
    if day.meal is not None and day.meal.latest < day.meal.earliest:
        latest, earliest = show_clock(day.meal.latest), show_clock(day.meal.earliest)
        wrong = f"the meal begins at {latest} at the latest and {earliest} at the earliest"
        yield Fault(("meal", "latest"), None, wrong, "give a latest that is not before the earliest")
    for key, hand in day.hands.items():
        if hand.hours is not None:
            yield from _rising(("hands", key, "hours"), *hand.hours, f"the hours of '{key}'")
        if hand.rest is not None:
            yield from _of_break(hand.rest, ("hands", key, "rest"))


def _changed_clocks(day: Day) -> Iterator[Fault]:
    """Clocks that are put forward or back while the day runs.

    A minute of a day is one of the clock on the wall there, and from one to the next a minute goes by. That holds on
    every date for a day that lies before the change or after it, as nearly all do. In one that spans it, dwells
    and drives would be an hour off, so it is refused.
    """
    minutes = range(day.start, day.finish + 1)
    with suppress(OverflowError):  # the last night of the last year there is
        offsets = [_offsets(day, minute) for minute in minutes]
        unsure = [m for m, found in zip(minutes, offsets, strict=True) if found != offsets[0] or len(found) > 1]
        if unsure:
            settled = [m for m, found in zip(minutes, offsets, strict=True) if found != offsets[-1] or len(found) > 1]
            begins, ends = show_clock(unsure[0]), show_clock(max([*settled, unsure[0]]) + 1)
            wrong = f"the clocks change between {begins} and {ends}, while the day runs"
            right = f"start it at {ends} or later, or finish it before {begins}; the rest can be a day of its own"
            yield Fault(("finish",), None, wrong, right)


def _offsets(day: Day, minute: int) -> set[dt.timedelta | None]:
    """How far a minute on the wall is from universal time: two answers where that minute is there twice or never."""
    moment = dt.datetime.combine(day.date, dt.time(), ZoneInfo(day.time_zone)) + dt.timedelta(minutes=minute)
    return {moment.replace(fold=0).utcoffset(), moment.replace(fold=1).utcoffset()}


def _of_break(rest: Break, place: Where) -> Iterator[Fault]:
    if rest.earliest is not None and rest.latest is not None and rest.latest < rest.earliest:
        latest, earliest = show_clock(rest.latest), show_clock(rest.earliest)
        wrong = f"the break begins at {latest} at the latest and {earliest} at the earliest"
        yield Fault((*place, "latest"), None, wrong, "give a latest that is not before the earliest")
    if rest.once_over < rest.soonest:
        soonest, once_over = show_minutes(rest.soonest), show_minutes(rest.once_over)
        wrong = f"the break begins after {once_over} at the latest and after {soonest} at the soonest"
        yield Fault((*place, "soonest"), None, wrong, f"give a soonest of {once_over} or less")


def _of_job(job: Job, at: Where) -> Iterator[Fault]:
    if job.arrive is not None:
        first, last = job.arrive
        if last < first:  # a window of no width is an appointment
            yield from _rising((*at, "arrive"), first, last, "the times to arrive")
        if job.done_by is not None and job.done_by <= first:
            wrong = f"promised done by {show_clock(job.done_by)}, and nobody arrives before {show_clock(first)}"
            yield Fault((*at, "done_by"), None, wrong, "give a promise after the arrival")
    for i, span in enumerate(job.quiet):
        yield from _rising((*at, "quiet", i), *span, "the quiet hours")


def _of_wait(job: Job, wait: Wait, at: Where) -> Iterator[Fault]:
    yield from _bounds(wait.least, wait.most, wait.kind, at)
    for i, step in enumerate(wait.by_hour if wait.weather is None else ()):  # else the forecast gives them
        here = (*at, "by_hour", i)
        yield from _bounds(step.least, step.most, wait.kind, here)
        if i and step.since <= wait.by_hour[i - 1].since:
            before = show_clock(wait.by_hour[i - 1].since)
            wrong = f"the step since {show_clock(step.since)} stands after the one since {before}"
            yield Fault((*here, "since"), None, wrong, "put the steps in the order of their times, each once")
    yield from _order(job, wait, at)
    yield from _closed_for_good(job, wait, at)
    if wait.extended_by is not None:
        if not job.stages[wait.extended_by].only_if_needed:
            wrong = f"the wait is extended by '{wait.extended_by}', which is always done"
            right = f"set only_if_needed = true in stage '{wait.extended_by}', or name another stage"
            yield Fault((*at, "extended_by"), None, wrong, right)
        if wait.most is None and all(step.most is None for step in wait.by_hour):
            wrong = f"'{wait.extended_by}' extends a wait that has no most"
            yield Fault((*at, "extended_by"), None, wrong, "give the wait a most, or take extended_by away")


def _closed_for_good(job: Job, wait: Wait, at: Where) -> Iterator[Fault]:
    """A last wait that closes its surface though more is to be done there after it."""
    if wait.before is not None or not wait.closes_surface:
        return
    surface = job.stages[wait.after].surface
    for name in sorted(later_stages(job)[wait.after] - {wait.after}):
        is_there = job.stages[name].surface == surface and not job.is_other_section(wait.after, name)
        if is_there and not job.stages[name].only_if_needed:
            wrong = f"surface '{surface}' is kept clear for good after '{wait.after}', and '{name}' follows there"
            right = f'say before = "{name}", let the wait follow the last stage there, or write closes = false'
            yield Fault((*at, "after"), None, wrong, right)
            return


def _order(job: Job, wait: Wait, at: Where) -> Iterator[Fault]:
    """Bounds that hold patch by patch: only between two stages of a surface, not where run-off keeps all of it wet."""
    if wait.order is not None and wait.before is None:
        wrong = f"no stage follows this wait, so none goes over the surface in order '{wait.order}'"
        yield Fault((*at, "order"), None, wrong, "say before which stage it ends, or take the order away")
    elif wait.order is not None and wait.kind in ("dry", "cure"):
        wrong = f"run-off keeps all of a surface wet, so it does not {wait.kind} patch by patch"
        yield Fault((*at, "order"), None, wrong, 'take the order away, or write kind = "dwell" or "set"')
    elif wait.order is not None and job.stages[wait.after].surface != job.stages[wait.before or wait.after].surface:
        wrong = f"'{wait.after}' and '{wait.before}' are not on one surface, so no patch of it waits between them"
        yield Fault((*at, "order"), None, wrong, "take the order away, or let both be on one surface")
    if wait.sections != USUAL_SECTIONS and wait.order is None:
        wrong = "only a wait that goes patch by patch is worked in sections"
        yield Fault((*at, "sections"), None, wrong, 'write order = "same", "reversed" or "any", or take sections away')


def _bounds(least: int, most: int | None, kind: str, at: Where) -> Iterator[Fault]:
    if most is not None and most < least:
        wrong = f"the {kind} lasts at least {show_minutes(least)} and at most {show_minutes(most)}"
        yield Fault((*at, "most"), None, wrong, f"give a most of {show_minutes(least)} or more, or a shorter least")


def _work(job: Job, name: str, stage: Stage, at: Where) -> Iterator[Fault]:
    """Methods whose minutes cannot be told."""
    for way, method in stage.methods.items():
        here = (*at, "methods", way)
        if list(method.spread) != sorted(method.spread):
            wrong = f"the spread {', '.join(f'{part:g}' for part in method.spread)} does not rise"
            yield Fault((*here, "spread"), None, wrong, "write low, likely and high, for example [0.8, 1.0, 1.4]")
        elif method.rate is None and "minutes" not in method.model_fields_set:
            right = 'write for example minutes = "15 min", or rate = { amount = 40, unit = "m2" }'
            yield Fault(here, None, f"method '{way}' says nothing of its time", right)
        elif method.rate is not None and _measure_of(job, stage, method) is None:
            unit, word, example = (
                ("m2", "an area", 'area = "32 m2"') if method.rate.unit == "m2" else ("m", "a run", 'run = "14 m"')
            )
            wrong = f"method '{way}' goes by {unit}; stage '{name}' and surface '{stage.surface}' lack {word}"
            yield Fault((*here, "rate"), None, wrong, f"add for example {example}")
        elif not _is_plannable(job, stage, method):
            wrong = f"method '{way}' would take more than {LONGEST // MINUTES_IN_A_DAY} days"
            yield Fault(here, None, wrong, "check its minutes, rate, factor and the measure", is_too_much=True)
        elif not job.likely_minutes(name, way):
            right = 'give it what it takes, for example minutes = "1 min", or leave the stage out'
            yield Fault(here, None, f"method '{way}' takes no time, and nothing would be kept out of its way", right)


def _measure_of(job: Job, stage: Stage, method: Method) -> float | None:
    surface = job.surfaces[stage.surface]
    if method.rate is not None and method.rate.unit == "m2":
        return surface.area if stage.area is None else stage.area
    return surface.run if stage.run is None else stage.run


def _is_plannable(job: Job, stage: Stage, method: Method) -> bool:
    measured = 60 * (_measure_of(job, stage, method) or 0.0) / method.rate.amount if method.rate else 0.0
    return (method.minutes + measured) * method.factor * max(1.0, method.spread[2]) <= LONGEST


def _limits(job: Job, name: str, stage: Stage, at: Where) -> Iterator[Fault]:
    if stage.not_before is not None and stage.not_after is not None and stage.not_after <= stage.not_before:
        latest, earliest = show_clock(stage.not_after), show_clock(stage.not_before)
        wrong = f"not before {earliest} and not after {latest} leaves it no time"
        yield Fault((*at, "not_after"), None, wrong, "give a not_after that is later than not_before")
    if stage.coldest is not None and stage.hottest is not None and stage.hottest < stage.coldest:
        wrong = f"the hottest, {stage.hottest:g} C, is below the coldest, {stage.coldest:g} C"
        yield Fault((*at, "hottest"), None, wrong, "the coldest is the lower temperature")
    if stage.fresh_for is not None and not stage.spoiled_while_fresh_by:
        wrong = f"what it leaves is fresh for {show_minutes(stage.fresh_for)}, and nothing is said to spoil it"
        yield Fault((*at, "fresh_for"), None, wrong, 'add for example fresh_to = ["spray", "feet"], or take it away')
    if name in (stage.stays_for or ()):
        yield Fault((*at, "stays_for"), None, "its kit stays for the stage itself", "name the stages that it is for")
    if stage.only_if_needed and all(wait.extended_by != name for wait in job.waits):
        wrong = "it is done only if needed, and no wait is extended by it"
        right = f'name it in a wait (extended_by = "{name}"), or take only_if_needed away'
        yield Fault((*at, "only_if_needed"), None, wrong, right)


def _fixed_starts(day: Day, key: str, job: Job) -> Iterator[Fault]:
    """Stages with a fixed start that the day, the gates or the stages before them do not allow."""
    for name, stage in job.stages.items():
        if stage.starts_at is not None:
            at: Where = ("jobs", key, "stages", name, "starts_at")
            for wrong, right in _against_start(day, key, name, stage.starts_at):
                yield Fault(at, None, f"it starts at {show_clock(stage.starts_at)}, {wrong}", right)


def _against_start(day: Day, key: str, name: str, start: int) -> Iterator[tuple[str, str]]:
    job = day.jobs[key]
    end = start + _shortest(job, name)
    there = day.start + _drive(day, day.van.starts_at, job.place)
    if start < there:
        right = f"start it at {show_clock(there)} or later, or start the day earlier"
        yield f"and the van is there at {show_clock(there)} at the earliest", right
    last = max(day.hours_of(hand)[1] for hand in day.hands)
    if end > last:
        yield (
            f"is over at {show_clock(end)}, and the last hand's hours end at {show_clock(last)}",
            "start it earlier",
        )
    if job.done_by is not None and end > job.done_by:
        wrong = f"is over at {show_clock(end)}, and the job is promised done by {show_clock(job.done_by)}"
        yield wrong, "start it earlier, or promise later"
    for begins, ends in shut_spans(day, key, name):
        if begins < end and start < ends:
            right = f"start it at {show_clock(ends)} or later, or let it be over by {show_clock(begins)}"
            yield f"and may not run from {show_clock(begins)} to {show_clock(ends)}", right
    firsts = [(first, 0) for first in job.stages[name].after]
    firsts += [(wait.after, wait.least) for wait in job.waits if wait.before == name]
    for first, gap in firsts:
        begins_first = job.stages[first].starts_at
        if begins_first is not None and start < (ready := begins_first + _shortest(job, first) + gap):
            right = f"start it at {show_clock(ready)} or later, or '{first}' earlier"
            yield (
                f"and '{first}' with what must follow it is over at {show_clock(ready)} at the earliest",
                right,
            )


def _shortest(job: Job, stage: str) -> int:
    return min(job.likely_minutes(stage, method) for method in job.stages[stage].methods)


def _drive(day: Day, start: str, end: str) -> int:
    try:
        return day.drive_minutes(start, end)
    except KeyError:  # a fault of its own
        return 0
