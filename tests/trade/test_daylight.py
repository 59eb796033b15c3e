"""Sun times against a second ephemeris library, ephem, over a year and several latitudes."""

import datetime as dt
import math
from zoneinfo import ZoneInfo

import ephem
import pytest

from planner.trade.daylight import HIGH_SUN, daylight, sun_strength, town_of

PLACES = [
    (51.5, -0.13, "Europe/London"),
    (57.15, -2.1, "Europe/London"),
    (60.1, -1.2, "Europe/London"),
    (0.0, 0.0, "UTC"),
    (40.7, -74.0, "America/New_York"),
    (-33.9, 151.2, "Australia/Sydney"),
    (21.3, -157.9, "Pacific/Honolulu"),
    (-17.7, 178.0, "Pacific/Fiji"),
]
YEAR = [dt.date(2026, 1, 1) + dt.timedelta(days=days) for days in range(0, 365, 9)]


def by_ephem(lat: float, lon: float, date: dt.date, zone: str, horizon: str) -> tuple[float, float]:
    """Rising and setting of the sun's centre over a horizon, in local minutes; no refraction by ephem."""
    place, sun = ephem.Observer(), ephem.Sun()
    place.lat, place.lon, place.pressure, place.horizon = str(lat), str(lon), 0, horizon
    midnight = dt.datetime.combine(date, dt.time())
    midday = dt.datetime.combine(date, dt.time(12), tzinfo=ZoneInfo(zone)).astimezone(dt.UTC)
    now = ephem.Date(midday.replace(tzinfo=None))
    place.date = now
    before, after = place.previous_transit(sun), place.next_transit(sun)
    noon = before if now - before < after - now else after
    minutes = []
    for event in (place.previous_rising, place.next_setting):
        place.date = noon
        moment = event(sun, use_center=True).datetime().replace(tzinfo=dt.UTC).astimezone(ZoneInfo(zone))
        minutes.append((moment.replace(tzinfo=None) - midnight).total_seconds() / 60)
    return minutes[0], minutes[1]


@pytest.mark.parametrize(("lat", "lon", "zone"), PLACES)
def test_a_year_agrees_with_ephem(lat: float, lon: float, zone: str) -> None:
    for date in YEAR:
        found = daylight(lat, lon, date, zone)
        # The sun's upper limb on a refracted horizon: its centre 50' below (US Naval Observatory).
        sunrise, sunset = by_ephem(lat, lon, date, zone, "-0:50")
        assert (found.sunrise, found.sunset) == pytest.approx((sunrise, sunset), abs=1.0), date
        try:
            dawn, dusk = by_ephem(lat, lon, date, zone, "-6")
        except ephem.AlwaysUpError:
            dawn, dusk = 0, 1440
        assert (found.dawn, found.dusk) == pytest.approx((dawn, dusk), abs=1.0), date


def test_london_at_midsummer() -> None:
    # 04:43 and 21:21 by the local clock, from memory.
    found = daylight(51.5074, -0.1278, dt.date(2026, 6, 21), "Europe/London")
    assert (found.sunrise, found.sunset) == pytest.approx((4 * 60 + 43, 21 * 60 + 21), abs=1)


def test_where_the_sun_never_sets_or_never_rises() -> None:
    summer = daylight(69.6, 18.9, dt.date(2026, 6, 21), "Europe/Oslo")
    assert (summer.dawn, summer.sunrise, summer.sunset, summer.dusk) == (0, 0, 1440, 1440)
    winter = daylight(69.6, 18.9, dt.date(2026, 12, 21), "Europe/Oslo")
    assert winter.sunrise == winter.sunset
    assert winter.dawn < winter.sunrise < winter.dusk


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(ValueError, match="is no place"):
        daylight(151.5, 0, YEAR[0], "Europe/London")
    for zone in ("Europe/Camelot", "", "../etc"):
        with pytest.raises(ValueError, match="is not a time zone"):
            daylight(51.5, 0, YEAR[0], zone)


@pytest.mark.parametrize(("lat", "lon", "zone"), [place for place in PLACES if place[2] != "Pacific/Fiji"])
def test_the_strength_of_the_sun_goes_by_the_height_that_ephem_gives(lat: float, lon: float, zone: str) -> None:
    """Within two degrees and a half of height, from morning to evening, over a year."""
    place, sun = ephem.Observer(), ephem.Sun()
    place.lat, place.lon, place.pressure = str(lat), str(lon), 0
    for date in YEAR:
        for minute in range(300, 1300, 100):
            local = dt.datetime.combine(date, dt.time(), ZoneInfo(zone)) + dt.timedelta(minutes=minute)
            place.date = ephem.Date(local.astimezone(dt.UTC).replace(tzinfo=None))
            sun.compute(place)
            height = max(0.0, math.sin(float(sun.alt)))
            found = sun_strength(lat, lon, date, zone, minute)
            whole = math.sin(math.radians(HIGH_SUN))
            assert found == pytest.approx(min(1.0, height / whole), abs=math.radians(2.5) / whole)


def test_the_town_of_a_zone_lies_where_it_lies() -> None:
    """Positions of the cities from memory, to a fifth of a degree; a zone that is no town's has none."""
    known = {"Europe/London": (51.5, -0.1), "Europe/Dublin": (53.35, -6.25), "Australia/Sydney": (-33.87, 151.2)}
    for zone, at in known.items():
        assert town_of(zone) == pytest.approx(at, abs=0.2)
    assert town_of("UTC") is None
