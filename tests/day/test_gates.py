"""When a stage may not run.

Civil dawn and dusk are checked against a second ephemeris library, ephem (test dependency); spans by brute force,
minute by minute.
"""

import datetime as dt
from itertools import pairwise
from zoneinfo import ZoneInfo

import ephem
import pytest

from planner.day import Day
from planner.day.gates import shut_reasons, shut_spans
from planner.day.words import LATEST
from tests.days import tiny_day


def day_with(
    stage: dict[str, object] | None = None, *, at: tuple[float, float] | None = None, **changes: object
) -> Day:
    tables = tiny_day().model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job |= {key: changes.pop(key) for key in ("quiet",) if key in changes}
    job["stages"]["rinse"] |= stage or {}
    if at is not None:
        tables["places"]["elm"]["at"] = at
    return Day.model_validate(tables | changes)


def test_nothing_is_shut_without_a_reason():
    assert shut_spans(day_with(), "elm", "rinse") == []


def test_quiet_hours_shut_noisy_stages_only():
    quiet = [[0, 540], [780, 840]]
    assert shut_spans(day_with({"noisy": True}, quiet=quiet), "elm", "rinse") == [(0, 540), (780, 840)]
    assert shut_spans(day_with({"noisy": False}, quiet=quiet), "elm", "rinse") == []


def test_own_limits():
    day = day_with({"not_before": 600, "not_after": 720})
    assert shut_spans(day, "elm", "rinse") == [(0, 600), (720, LATEST)]


def test_spans_that_meet_or_overlap_become_one():
    day = day_with({"noisy": True, "not_before": 500}, quiet=[[450, 540], [540, 560], [700, 720]])
    assert shut_spans(day, "elm", "rinse") == [(0, 560), (700, 720)]
    assert [shut.why for shut in shut_reasons(day, "elm", "rinse")] == [
        "not before its time",
        "quiet hours",
        "quiet hours",
        "quiet hours",
    ]


@pytest.mark.parametrize(
    ("at", "date", "zone"),
    [
        ((53.1, -2.0), dt.date(2026, 6, 16), "Europe/London"),
        ((53.1, -2.0), dt.date(2026, 12, 21), "Europe/London"),
        ((51.5, -0.1), dt.date(2026, 3, 29), "Europe/London"),  # the clocks go forward
        ((40.7, -74.0), dt.date(2026, 10, 2), "America/New_York"),
        ((-33.9, 18.4), dt.date(2026, 1, 5), "Africa/Johannesburg"),
    ],
)
def test_darkness_against_a_second_ephemeris(at, date, zone):
    spans = shut_spans(day_with(at=at, date=date, time_zone=zone), "elm", "rinse")
    observer = ephem.Observer()
    observer.lat, observer.lon = str(at[0]), str(at[1])
    observer.horizon, observer.pressure = "-6", 0
    midnight = dt.datetime.combine(date, dt.time(), ZoneInfo(zone))
    observer.date = ephem.Date(midnight.astimezone(dt.UTC).replace(tzinfo=None))
    local = [
        observer.next_rising(ephem.Sun(), use_center=True).datetime().replace(tzinfo=dt.UTC).astimezone(ZoneInfo(zone)),
        observer.next_setting(ephem.Sun(), use_center=True)
        .datetime()
        .replace(tzinfo=dt.UTC)
        .astimezone(ZoneInfo(zone)),
    ]
    dawn, dusk = (moment.hour * 60 + moment.minute + moment.second / 60 for moment in local)
    assert spans[0] == (0, pytest.approx(dawn, abs=1.5))
    assert spans[1][0] == pytest.approx(dusk, abs=1.5)
    assert spans[-1][1] == LATEST


def test_lamps_and_indoor_work_know_no_darkness():
    winter = {"date": dt.date(2026, 12, 21), "at": (53.1, -2.0)}
    assert shut_spans(day_with(**winter, lights=True), "elm", "rinse") == []
    assert shut_spans(day_with({"outdoors": False}, **winter), "elm", "rinse") == []
    assert shut_spans(day_with(date=dt.date(2026, 12, 21)), "elm", "rinse") == []  # nobody knows where


def test_the_place_where_the_van_starts_stands_in_for_the_job():
    far = tiny_day().model_dump(by_alias=True)
    far["places"]["yard"]["at"] = (53.1, -2.0)
    assert shut_spans(Day.model_validate(far), "elm", "rinse") == shut_spans(day_with(at=(53.1, -2.0)), "elm", "rinse")


def test_the_sun_that_never_sets_or_never_rises():
    north = (69.65, 18.96)  # beyond the polar circle
    assert shut_spans(day_with(at=north, time_zone="Europe/Oslo"), "elm", "rinse") == []
    assert shut_spans(day_with(at=(-80.0, 0.0), time_zone="UTC"), "elm", "rinse") == [(0, LATEST)]


def weather(*rows: tuple[int, float, float]) -> list[dict[str, object]]:
    return [{"minute": m, "air": air, "humidity": 0.6, "wind": 5, "rain_chance": rain} for m, air, rain in rows]


def test_rain_shuts_what_it_stops():
    rows = weather((480, 12, 0.1), (540, 12, 0.8), (600, 12, 0.9), (660, 12, 0.1))
    assert shut_spans(day_with({"stopped_by_rain": True}, weather=rows), "elm", "rinse") == [(540, 660)]
    assert shut_spans(day_with(weather=rows), "elm", "rinse") == []


def test_frost_and_heat():
    rows = weather((480, 3, 0), (540, 6, 0), (600, 29, 0), (660, 20, 0))
    assert shut_spans(day_with({"coldest": 5}, weather=rows), "elm", "rinse") == [(480, 540)]
    assert shut_spans(day_with({"hottest": 28}, weather=rows), "elm", "rinse") == [(600, 660)]


def test_a_stage_that_must_dry_before_the_rain_shuts_that_much_earlier():
    day = day_with({"stopped_by_rain": True, "dry_after": 120}, weather=weather((540, 15, 0.0), (720, 15, 0.9)))
    assert shut_spans(day, "elm", "rinse") == [(600, 780)]


def test_wind_and_dew():
    rows = [
        {"minute": 540, "air": 15, "humidity": 0.5, "wind": 10},
        {"minute": 600, "air": 15, "humidity": 0.5, "wind": 31},
        {"minute": 660, "air": 15, "humidity": 0.95, "wind": 10},  # dew point 14.2 C (psychrometric chart, from memory)
        {"minute": 720, "air": 15, "humidity": 0.5, "wind": 10},  # dew point 4.7 C (the same)
    ]
    assert shut_spans(day_with({"windiest": 30}, weather=rows), "elm", "rinse") == [(600, 660)]
    assert shut_spans(day_with({"above_dew": 3}, weather=rows), "elm", "rinse") == [(660, 720)]
    assert shut_spans(day_with(weather=rows), "elm", "rinse") == []


def test_a_shaded_surface_is_as_cool_as_the_air():
    rows = [{"minute": 540, "air": 24, "humidity": 0.5, "wind": 10, "sun": True}]
    day = day_with({"hottest": 30}, weather=rows)  # 10 C more in the sun: common practice, no source
    assert shut_spans(day, "elm", "rinse") == [(540, 600)]
    tables = day.model_dump(by_alias=True)
    tables["jobs"]["elm"]["surfaces"]["wall"]["shaded"] = True
    assert shut_spans(Day.model_validate(tables), "elm", "rinse") == []


def test_merging_against_every_minute():
    quiet = [[30, 60], [50, 55], [60, 90], [200, 230], [1400, 1500], [1490, 2880]]
    spans = shut_spans(day_with({"noisy": True, "not_before": 40}, quiet=quiet), "elm", "rinse")
    shut = {m for start, end in [*quiet, [0, 40]] for m in range(start, end)}
    assert {m for start, end in spans for m in range(start, end)} == shut
    assert all(one[1] < other[0] for one, other in pairwise(spans))
