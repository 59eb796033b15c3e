"""The nights on which the clocks change: last Sundays of March and October at 01:00 UTC (directive 2000/84/EC)."""

import datetime as dt
from pathlib import Path
from zoneinfo import ZoneInfo

import ephem
import icalendar
import pytest

from planner.day import Day
from planner.day.checks.contradictions import time_faults
from planner.day.faults import DayFaults
from planner.day.file import day_from_text, day_to_toml
from planner.engine import first_plan
from planner.plan.checker import broken_rules
from planner.sheet.calendar import calendar_text
from planner.trade.daylight import daylight
from planner.trade.units import clock
from tests.days import tiny_day
from tests.sheet.plans import tiny_plan

LONDON = (51.5, -0.13)
NIGHTS = [dt.date(2026, 3, 28), dt.date(2026, 3, 29), dt.date(2026, 10, 24), dt.date(2026, 10, 25)]


def read(day: Day) -> Day:
    return day_from_text(day_to_toml(day), Path("night.toml"))


@pytest.mark.parametrize("date", NIGHTS)
def test_a_working_day_is_planned_as_on_any_other_date(date: dt.date) -> None:
    """Before or after the change a minute on the wall is a minute: the plan is that of a day without any change."""
    day = read(tiny_day(date=date.isoformat()))
    plan, usual = first_plan(day), first_plan(tiny_day())
    assert plan is not None
    assert usual is not None
    assert plan.works == usual.works
    assert broken_rules(day, plan) == []


@pytest.mark.parametrize("date", NIGHTS)
def test_the_calendar_keeps_every_length_and_every_time_on_the_wall(date: dt.date) -> None:
    day, plan = tiny_day(date=date.isoformat()), tiny_plan()
    entries = icalendar.Calendar.from_ical(calendar_text(day, plan, stages=True)).walk("VEVENT")
    spans = {(e["DTSTART"].dt.astimezone(dt.UTC), e["DTEND"].dt.astimezone(dt.UTC)) for e in entries}
    zone = ZoneInfo("Europe/London")
    for work in plan.works:
        clock = dt.time(work.start // 60, work.start % 60)
        start = dt.datetime.combine(date, clock, zone).astimezone(dt.UTC)
        assert (start, start + dt.timedelta(minutes=work.end - work.start)) in spans


@pytest.mark.parametrize("date", NIGHTS)
def test_daylight_is_told_by_the_clock_of_that_date(date: dt.date) -> None:
    """Against PyEphem: the sun's centre 6 degrees down, as seen from London, told by its clock."""
    watcher = ephem.Observer()
    watcher.lat, watcher.lon, watcher.horizon, watcher.pressure = "51.5", "-0.13", "-6", 0
    zone, sun = ZoneInfo("Europe/London"), ephem.Sun()
    watcher.date = dt.datetime.combine(date, dt.time(12))
    ends = (watcher.previous_rising(sun, use_center=True), watcher.next_setting(sun, use_center=True))
    clocks = [end.datetime().replace(tzinfo=dt.UTC).astimezone(zone) for end in ends]
    light = daylight(*LONDON, date, "Europe/London")
    assert [light.dawn, light.dusk] == pytest.approx([c.hour * 60 + c.minute for c in clocks], abs=2)


@pytest.mark.parametrize(
    ("date", "zone", "start", "finish", "told"),
    [
        ("2026-03-29", "Europe/London", "00:15", "06:00", "between 01:00 and 02:00"),
        ("2026-10-25", "Europe/London", "00:15", "06:00", "between 01:00 and 02:00"),
        ("2026-03-28", "Europe/London", "20:00", "04:00 +1", "between 01:00 +1 and 02:00 +1"),
        ("2026-10-24", "Europe/London", "20:00", "04:00 +1", "between 01:00 +1 and 02:00 +1"),
        # By half an hour at 02:00, on Lord Howe Island (the IANA time zone database).
        ("2026-10-04", "Australia/Lord_Howe", "00:15", "06:00", "between 02:00 and 02:30"),
    ],
)
def test_a_day_that_runs_while_the_clocks_change_is_refused_with_what_would_be_right(
    date: str, zone: str, start: str, finish: str, told: str
) -> None:
    text = day_to_toml(tiny_day(date=date, time_zone=zone))
    lines = [line for line in text.splitlines() if not line.startswith(("start =", "finish ="))]
    place = next(n for n, line in enumerate(lines) if line.startswith("date")) + 1
    lines[place:place] = [f'start = "{start}"', f'finish = "{finish}"']
    with pytest.raises(DayFaults) as caught:
        day_from_text("\n".join(lines), Path("night.toml"))
    assert told in str(caught.value)
    assert "start it at" in str(caught.value)


@pytest.mark.parametrize(("start", "finish"), [("02:00", "12:00"), ("00:10", "00:55"), ("05:00", "22:00")])
@pytest.mark.parametrize("date", ["2026-03-29", "2026-10-25"])
def test_a_day_before_or_after_the_change_has_no_such_fault(date: str, start: str, finish: str) -> None:
    day = tiny_day(date=date).model_copy(update={"start": clock(start), "finish": clock(finish)})
    assert [f for f in time_faults(day) if "clocks" in f.wrong] == []


def test_a_calendar_written_after_the_clock_was_put_back_still_updates_the_one_before() -> None:
    """RFC 5546, 2.1.4: of two versions of an entry the one with the greater SEQUENCE counts."""
    day, plan = tiny_day(), tiny_plan()
    late, early = dt.datetime(2030, 1, 1, tzinfo=dt.UTC), dt.datetime(1970, 1, 1, tzinfo=dt.UTC)
    first = calendar_text(day, plan, stages=True, now=late)
    second = calendar_text(day, plan, now=early, previous=first)
    before = {str(e["UID"]): int(e["SEQUENCE"]) for e in icalendar.Calendar.from_ical(first).walk("VEVENT")}
    after = icalendar.Calendar.from_ical(second).walk("VEVENT")
    assert len(after) == len(before)
    assert all(int(e["SEQUENCE"]) > before[str(e["UID"])] for e in after)
    lone = icalendar.Calendar.from_ical(calendar_text(day, plan, now=early)).walk("VEVENT")
    assert all(int(e["SEQUENCE"]) >= 0 for e in lone), "RFC 5545, 3.8.7.4: it starts at zero"
