"""When a stage may not run: quiet hours, its own limits, darkness and weather."""

import datetime as dt
from collections.abc import Iterable, Iterator
from functools import lru_cache

from planner.day.day import Day
from planner.day.jobs import Stage
from planner.day.stage_kinds import LADDER_WINDIEST
from planner.day.words import LATEST
from planner.trade import weather_gates
from planner.trade.daylight import daylight
from planner.trade.units import MINUTES_IN_A_DAY
from planner.trade.weather_gates import Shut


def shut_spans(day: Day, job: str, stage: str) -> list[tuple[int, int]]:
    """Minutes from and to which a stage of a job may not be under way, in order; no two spans touch.

    A stage may run up to the first minute of a span, and again from its last. The day's forecast and the coordinates of
    the place are used when they are there.
    """
    return _merged((shut.start, shut.end) for shut in shut_reasons(day, job, stage))


def shut_reasons(day: Day, job: str, stage: str) -> list[Shut]:
    """The same before they are merged, each span with its reason in words; spans may overlap."""
    work = day.jobs[job].stages[stage]
    found = [*_own_limits(work), *_quiet(day, job, work), *_darkness(day, job, work), *_weather(day, job, work)]
    kept = (Shut(max(0, shut.start), min(LATEST, shut.end), shut.why) for shut in found)
    return sorted((shut for shut in kept if shut.start < shut.end), key=lambda shut: (shut.start, shut.end, shut.why))


def _own_limits(work: Stage) -> Iterator[Shut]:
    if work.not_before is not None:
        yield Shut(0, work.not_before, "not before its time")
    if work.not_after is not None:
        yield Shut(work.not_after, LATEST, "not after its time")


def _quiet(day: Day, job: str, work: Stage) -> Iterator[Shut]:
    if work.noisy:
        for start, end in day.jobs[job].quiet:
            yield Shut(start, end, "quiet hours")


def _darkness(day: Day, job: str, work: Stage) -> Iterator[Shut]:
    """From civil dusk to civil dawn, where it is known how far north the job lies."""
    at = day.places[day.jobs[job].place].at or day.places[day.van.starts_at].at
    if at is None or day.lights or not work.outdoors:
        return
    light = _merged(
        (dawn + shift * MINUTES_IN_A_DAY, dusk + shift * MINUTES_IN_A_DAY)
        for shift in (-1, 0, 1)  # a northern evening runs past midnight
        for dawn, dusk in [_dawn_and_dusk(at, day.date + dt.timedelta(days=shift), day.time_zone)]
    )
    edges = [0, *(minute for span in light for minute in span), LATEST]
    for start, end in zip(edges[::2], edges[1::2], strict=True):
        yield Shut(start, end, "dark")


@lru_cache(maxsize=256)
def _dawn_and_dusk(at: tuple[float, float], date: dt.date, time_zone: str) -> tuple[int, int]:
    light = daylight(*at, date, time_zone)
    return light.dawn, light.dusk


def tolerances(day: Day, work: Stage) -> weather_gates.Tolerances:
    """What weather a stage of a day can take."""
    return weather_gates.Tolerances(
        stopped_by_rain=work.is_stopped_by_rain,
        dry_after=work.dry_after,
        dry_for=work.dry_for,
        coldest=work.coldest,
        hottest=work.hottest,
        windiest=LADDER_WINDIEST if work.windiest is None and day.is_from_ladder(work) else work.windiest,
        above_dew=work.above_dew,
    )


def _weather(day: Day, job: str, work: Stage) -> Iterable[Shut]:
    shaded = day.jobs[job].surfaces[work.surface].shaded
    return weather_gates.shut_spans(day.weather, tolerances(day, work), shaded=shaded)


def _merged(spans: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans in order, those that touch made one, those without length left out."""
    merged: list[tuple[int, int]] = []
    for start, end in sorted(span for span in spans if span[0] < span[1]):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(merged[-1][1], end))
        else:
            merged.append((start, end))
    return merged
