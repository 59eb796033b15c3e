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

HIGH_SUN = 60.0
"""Degrees over the horizon at which the sun has all its strength: a midsummer noon at 53 degrees north."""


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


def sun_strength(latitude: float, longitude: float, date: dt.date, time_zone: str, minute: float) -> float:
    """How strong the sun is on level ground at a minute of the local day, as a share of a high summer noon (0 to 1).

    The sine of its height over that of `HIGH_SUN`: what falls on a level square metre goes by it, but for the haze that
    a low sun shines through. The height is by P. I. Cooper, Solar Energy 12-3, 1969 (declination) and the usual
    equation of time: within two degrees, which is enough for this.

    Parameters
    ----------
    latitude, longitude
        Degrees, north and east positive.
    date, time_zone
        The local date, and a name of the IANA time zone database.
    minute
        Minutes from midnight of that date.
    """
    noon, least, most = _course(latitude, longitude, date, time_zone)
    height = least + most * math.cos(math.radians((minute - noon) / 4))
    return min(1.0, max(0.0, height / math.sin(math.radians(HIGH_SUN))))


@lru_cache(maxsize=64)  # asked for every quarter of an hour of a forecast
def _course(latitude: float, longitude: float, date: dt.date, time_zone: str) -> tuple[float, float, float]:
    """The minute of the sun's noon, and the two parts of the sine of its height: constant, and by the hour angle."""
    offset = dt.datetime.combine(date, dt.time(12), ZoneInfo(time_zone)).utcoffset() or dt.timedelta()
    number = date.timetuple().tm_yday
    year = math.radians(360 * (number - 81) / 365)
    fast = 9.87 * math.sin(2 * year) - 7.53 * math.cos(year) - 1.5 * math.sin(year)  # the equation of time, in minutes
    noon = 720 - 4 * longitude + offset.total_seconds() / 60 - fast
    tilt = math.radians(23.45 * math.sin(math.radians(360 * (284 + number) / 365)))
    here = math.radians(latitude)
    return noon, math.sin(here) * math.sin(tilt), math.cos(here) * math.cos(tilt)


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
