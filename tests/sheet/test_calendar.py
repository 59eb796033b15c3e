"""The calendar parsed and expanded by libraries, over a change of the clocks, and exported twice."""

import datetime as dt
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest
import recurring_ical_events

from planner.sheet.calendar import calendar_text
from tests.days import tiny_day
from tests.sheet.hostile import SCRIPT, hostile_day
from tests.sheet.plans import tiny_plan

FIRST = dt.datetime(2026, 6, 1, 12, 0, tzinfo=dt.UTC)
LATER = dt.datetime(2026, 6, 2, 12, 0, tzinfo=dt.UTC)


def parsed(text: str) -> icalendar.Calendar:
    calendar = icalendar.Calendar.from_ical(text)
    assert isinstance(calendar, icalendar.Calendar)
    return calendar


def at(text: str, date: dt.date) -> list[Any]:
    """The entries on a date, as another library expands them."""
    return list(recurring_ical_events.of(parsed(text)).at(date))


def full(**more: Any) -> str:
    return calendar_text(tiny_day(), tiny_plan(), stages=True, waits=True, **{"now": FIRST} | more)


def test_the_visit_stands_at_its_local_time() -> None:
    [visit] = at(calendar_text(tiny_day(), tiny_plan()), dt.date(2026, 6, 16))
    # British Summer Time is an hour before UTC.
    assert visit.start.astimezone(dt.UTC) == dt.datetime(2026, 6, 16, 7, 10, tzinfo=dt.UTC)
    assert visit.end - visit.start == dt.timedelta(minutes=91)
    assert visit["SUMMARY"] == "Elm Cottage"


@pytest.mark.parametrize(
    ("date", "zone", "utc"),
    [
        # The clocks change on the last Sundays of March and October in Europe (directive 2000/84/EC).
        ("2026-03-28", "Europe/London", "2026-03-28T08:10"),
        ("2026-03-29", "Europe/London", "2026-03-29T07:10"),
        ("2026-10-24", "Europe/London", "2026-10-24T07:10"),
        ("2026-10-25", "Europe/London", "2026-10-25T08:10"),
        # In New York on the second Sunday of March and the first of November (Energy Policy Act of 2005).
        ("2026-03-07", "America/New_York", "2026-03-07T13:10"),
        ("2026-03-08", "America/New_York", "2026-03-08T12:10"),
        ("2026-11-01", "America/New_York", "2026-11-01T13:10"),
    ],
)
def test_the_time_is_right_on_either_side_of_a_change_of_the_clocks(date: str, zone: str, utc: str) -> None:
    text = calendar_text(tiny_day(date=date, time_zone=zone), tiny_plan())
    [visit] = at(text, dt.date.fromisoformat(date))
    assert visit.start.astimezone(dt.UTC) == dt.datetime.fromisoformat(utc).replace(tzinfo=dt.UTC)
    assert str(visit["DTSTART"].params["TZID"]) == zone


def test_the_time_zone_is_described_in_the_file() -> None:
    """RFC 5545, 3.2.19: each TZID that is used has a VTIMEZONE."""
    for date in ("2026-01-15", "2026-06-16"):
        calendar = parsed(calendar_text(tiny_day(date=date), tiny_plan()))
        [zone] = calendar.walk("VTIMEZONE")
        assert zone["TZID"] == "Europe/London"
        noon = dt.datetime.fromisoformat(f"{date}T12:00")
        offset = zone.to_tz().utcoffset(noon)  # type: ignore[attr-defined]
        assert offset == noon.replace(tzinfo=ZoneInfo("Europe/London")).utcoffset()


def test_every_entry_has_what_the_standard_asks() -> None:
    """RFC 5545, 3.6.1: UID and DTSTAMP are required; lines end in CR LF and are at most 75 octets (3.1)."""
    text = full()
    for entry in parsed(text).walk("VEVENT"):
        assert entry["UID"]
        assert entry["DTSTAMP"].dt == FIRST
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    assert text.count("\n") == text.count("\r\n")


def test_stages_and_waits_come_when_asked() -> None:
    assert len(at(calendar_text(tiny_day(), tiny_plan()), dt.date(2026, 6, 16))) == 1
    entries = {str(e["UID"]).split("@")[0]: e for e in at(full(), dt.date(2026, 6, 16))}
    assert set(entries) == {
        f"2026-06-16.elm.{key}" for key in ("visit-1", "stage-treat", "stage-sweep", "stage-rinse", "wait-treat-rinse")
    }
    assert all(e["TRANSP"] == "TRANSPARENT" for key, e in entries.items() if "visit" not in key)


def test_a_wait_rings_when_it_may_end_and_before_it_must() -> None:
    [wait] = [e for e in at(full(), dt.date(2026, 6, 16)) if "wait" in e["UID"]]
    rings = [wait.start + alarm["TRIGGER"].dt for alarm in wait.walk("VALARM")]
    # Treated until 08:28; it dwells 30 to 45 minutes, and the last warning comes 5 minutes early.
    assert [ring.strftime("%H:%M") for ring in rings] == ["08:58", "09:08"]


def test_a_second_export_updates_the_first() -> None:
    """RFC 5545, 3.8.7.4: the same UID with a greater SEQUENCE takes the place of the older."""
    before = {str(e["UID"]): e for e in parsed(full()).walk("VEVENT")}
    after = {str(e["UID"]): e for e in parsed(full(now=LATER)).walk("VEVENT")}
    assert set(before) == set(after)
    for uid, entry in after.items():
        assert int(entry["SEQUENCE"]) > int(before[uid]["SEQUENCE"])
        assert int(entry["SEQUENCE"]) < 2**31
        assert entry["LAST-MODIFIED"].dt > before[uid]["LAST-MODIFIED"].dt


def test_what_is_no_longer_planned_is_cancelled_and_stays_so() -> None:
    first = full()
    second = calendar_text(tiny_day(), tiny_plan(), now=LATER, previous=first)
    third = calendar_text(tiny_day(), tiny_plan(), now=LATER, previous=second)
    for text in (second, third):
        gone = [e for e in parsed(text).walk("VEVENT") if e.get("STATUS") == "CANCELLED"]
        assert len(gone) == 4
        assert all(e["DTSTAMP"].dt == LATER for e in gone)
        assert not [alarm for e in gone for alarm in e.walk("VALARM")]


def test_another_days_entries_and_strangers_are_left_alone() -> None:
    other = calendar_text(tiny_day(date="2026-06-17"), tiny_plan(), now=FIRST)
    stranger = other.replace("2026-06-17.elm.visit-1@slackwater", "2026-06-16.party@example.org")
    for previous in (other, stranger, "no calendar at all", "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\n"):
        text = calendar_text(tiny_day(), tiny_plan(), now=LATER, previous=previous)
        assert len(parsed(text).walk("VEVENT")) == 1


def test_hostile_names_are_texts() -> None:
    text = calendar_text(hostile_day(title="x"), tiny_plan(), stages=True, waits=True)
    assert len(parsed(text).walk("VEVENT")) == 5
    jobs = tiny_day().model_dump()["jobs"]
    jobs["elm"]["title"] = "A\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:B;C,D\\n" + SCRIPT
    [entry] = parsed(calendar_text(tiny_day(jobs=jobs), tiny_plan())).walk("VEVENT")
    assert str(entry["SUMMARY"]) == "A END:VEVENT BEGIN:VEVENT SUMMARY:B;C,D\\n" + SCRIPT
