"""Weather gates: the spans of a day in which a stage may not be under way, each with its reason."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.trade.moist_air import dew_point
from planner.trade.weather import HourOfWeather, RainTold, holding, surface_temperature


@dataclass(frozen=True, slots=True)
class Tolerances:
    """What weather a stage can take; a limit of None is no limit.

    Attributes
    ----------
    stopped_by_rain
        Whether rain closes it.
    likely_rain
        Chance of rain (0 to 1) from which rain is reckoned with.
    dry_after
        Minutes without rain that it needs once done (a seal, a filler): rain closes it that much earlier.
    dry_for
        Minutes without rain that it needs before (an oil on wood): rain closes it until that much later.
    coldest
        Least air temperature in C.
    hottest
        Greatest surface temperature in C, by the estimate of `surface_temperature`.
    windiest
        Greatest wind in km/h.
    above_dew
        How far in C the air must stay above its dew point; coatings commonly ask 3 C (ISO 8502-4).
    """

    stopped_by_rain: bool = False
    likely_rain: float = 0.5
    dry_after: int = 0
    dry_for: int = 0
    coldest: float | None = None
    hottest: float | None = None
    windiest: float | None = None
    above_dew: float | None = None


@dataclass(frozen=True, slots=True)
class Shut:
    """Minutes from and to which a stage may not be under way, and why."""

    start: int
    end: int
    why: str


def shut_spans(hours: Sequence[HourOfWeather], tolerances: Tolerances, *, shaded: bool = False) -> tuple[Shut, ...]:
    """Spans that are shut for a stage, in order of start; spans with one reason never touch each other.

    Parameters
    ----------
    hours
        The forecast, in rising order. What it does not cover is open.
    tolerances
        What the stage can take.
    shaded
        Whether its surface lies out of the sun all day.
    """
    found: dict[str, list[Shut]] = {}
    for start, end, hour in holding(hours):
        for why, lead, lag in _reasons(hour, tolerances, shaded=shaded):
            spans = found.setdefault(why, [])
            if spans and start - lead <= spans[-1].end:
                spans[-1] = Shut(spans[-1].start, end + lag, why)
            else:
                spans.append(Shut(max(0, start - lead), end + lag, why))
    return tuple(sorted((s for spans in found.values() for s in spans), key=lambda s: (s.start, s.end, s.why)))


def _reasons(hour: HourOfWeather, tolerances: Tolerances, *, shaded: bool) -> Iterator[tuple[str, int, int]]:
    """Why an hour is shut, each reason with how many minutes earlier it already closes, and how many later it opens."""
    t = tolerances
    if (t.stopped_by_rain or t.dry_for) and hour.rain_chance >= t.likely_rain:
        yield f"rain (chance {t.likely_rain:.0%} or more)", t.dry_after, t.dry_for
    if isinstance(hour, RainTold):
        return
    if t.coldest is not None and hour.air < t.coldest:
        yield f"air below {t.coldest:g} C", 0, 0
    if t.hottest is not None and surface_temperature(hour, shaded=shaded) > t.hottest:
        yield f"surface above {t.hottest:g} C", 0, 0
    if t.windiest is not None and hour.wind > t.windiest:
        yield f"wind above {t.windiest:g} km/h", 0, 0
    if t.above_dew is not None and _is_near_dew(hour, t.above_dew):
        yield f"less than {t.above_dew:g} C above the dew point", 0, 0


def _is_near_dew(hour: HourOfWeather, margin: float) -> bool:
    # Below one hundredth the dew point is far beneath any margin, and its formula leaves its range.
    return hour.humidity > 0.01 and hour.air - dew_point(hour.air, hour.humidity) < margin
