"""Daylight at a place on a date: the hard end of outside work unless lights are carried."""

from __future__ import annotations

import datetime as dt
import math
import re
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from zoneinfo import ZoneInfo

from planner.trade.units import MINUTES_IN_A_DAY

# Depressions of the sun's centre below the horizon, in degrees: upper limb on a refracted horizon, and civil
# twilight, by the usual astronomical definitions.
_SUNRISE_DEPRESSION = 0.833
_CIVIL_DEPRESSION = 6.0


@dataclass(frozen=True, slots=True)
class Daylight:
    """Minutes of the local day; civil dawn and dusk bound the light by which one can still work outside.

    Where the sun (or its twilight) lasts all day the span is 0 to 1440; where it never comes, the span is
    empty and lies at the sun's highest.
    """

    dawn: int
    sunrise: int
    sunset: int
    dusk: int


@lru_cache(maxsize=64)  # every stage of a day asks for the same
def daylight(latitude: float, longitude: float, date: dt.date, time_zone: str) -> Daylight:
    """Civil dawn, sunrise, sunset and civil dusk by the local clock.

    Parameters
    ----------
    latitude, longitude
        Degrees, north and east positive.
    date
        The local date.
    time_zone
        A name of the IANA time zone database, for example ``"Europe/London"``.

    Raises
    ------
    ValueError
        For a place that is not on the globe or a zone that does not exist.
    """
    if not (-90 <= latitude <= 90 and -180 <= longitude <= 180):
        raise ValueError(f"{latitude:g}, {longitude:g} is no place; give latitude and longitude in degrees")
    try:
        zone = ZoneInfo(time_zone)
    except (KeyError, ValueError, OSError):
        raise ValueError(f"'{time_zone}' is not a time zone; write for example 'Europe/London'") from None
    dawn, dusk = _span(latitude, longitude, date, zone, _CIVIL_DEPRESSION)
    sunrise, sunset = _span(latitude, longitude, date, zone, _SUNRISE_DEPRESSION)
    return Daylight(dawn, sunrise, sunset, dusk)


@lru_cache(maxsize=8)
def town_of(time_zone: str) -> tuple[float, float] | None:
    """Latitude and longitude of the town that a time zone is named for, by the table of the time zone database.

    None for a zone without one ("UTC").
    """
    try:
        table = files("tzdata").joinpath("zoneinfo", "zone1970.tab").read_text("utf-8")
    except (ModuleNotFoundError, OSError):
        return None
    rows = (line.split("\t") for line in table.splitlines() if not line.startswith("#"))
    written = next((row[1] for row in rows if len(row) > 2 and row[2] == time_zone), None)
    found = None if written is None else re.fullmatch(r"([+-]\d{4,6}?)([+-]\d{5,7})", written)
    return None if found is None else (_degrees(found[1], 3), _degrees(found[2], 4))


def _degrees(written: str, end: int) -> float:
    """Degrees, minutes and perhaps seconds, with a sign: +513030 is 51.508; the degrees end at ``end``."""
    size = int(written[1:end]) + int(written[end : end + 2]) / 60 + int(written[end + 2 :] or 0) / 3600
    return -size if written[0] == "-" else size


def _span(latitude: float, longitude: float, date: dt.date, zone: ZoneInfo, depression: float) -> tuple[int, int]:
    """Minutes from and to which the sun stands higher than a depression below the horizon."""
    from astral import Observer, SunDirection
    from astral.sun import elevation, noon, time_at_elevation

    place = Observer(latitude, longitude)
    # The noon of a local date may belong to the day before or after by universal time, and so may either end
    # of its daylight: look at three days and keep what lies where it should.
    days = [date + dt.timedelta(days=shift) for shift in (-1, 0, 1)]
    highest = next(found for day in days if (found := noon(place, day).astimezone(zone)).date() == date)

    def crossing(direction: SunDirection) -> dt.datetime | None:
        found = []
        for day in days:
            with suppress(ValueError):  # the sun does not cross that height on that day
                found.append(time_at_elevation(place, -depression, day, direction, with_refraction=False))
        sign = -1 if direction is SunDirection.RISING else 1
        half_day = dt.timedelta(hours=12, minutes=10)
        return next((t for t in found if dt.timedelta() < (t - highest) * sign < half_day), None)

    start, end = crossing(SunDirection.RISING), crossing(SunDirection.SETTING)
    if start is None or end is None:
        middle = _minute(highest, date)
        is_up = elevation(place, highest, with_refraction=False) > -depression
        return (0, MINUTES_IN_A_DAY) if is_up else (middle, middle)
    return _minute(start.astimezone(zone), date), _minute(end.astimezone(zone), date)


def _minute(moment: dt.datetime, date: dt.date) -> int:
    days = (moment.date() - date).days
    seconds = (moment.hour * 60 + moment.minute) * 60 + moment.second
    return days * MINUTES_IN_A_DAY + math.floor(seconds / 60 + 0.5)
