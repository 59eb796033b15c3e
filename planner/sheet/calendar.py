"""The day as an iCalendar file (RFC 5545): its visits, and where wanted its stages and an alarm for each wait.

Every entry keeps its UID from export to export, and its SEQUENCE grows, even where the clock was put back, so that a
calendar that reads a second file updates what it took from the first. What the first file had and the second has not
is told as cancelled.
"""

import datetime as dt
from collections.abc import Iterable, Iterator
from contextlib import suppress
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from planner.day import Day
from planner.day.names import Names, listed, plain
from planner.plan.plan import Plan, Visit, Work
from planner.sheet.papers.customers import customer_notes
from planner.sheet.papers.waits import WORDS, WaitRow, wait_rows
from planner.sheet.wording import moment
from planner.trade.units import show_clock

if TYPE_CHECKING:
    from icalendar import Alarm, Component, Event

PRODUCT = "-//Slackwater//Day plan//EN"
UID_END = "@slackwater"
SEQUENCE_SINCE = dt.datetime(2025, 1, 1, tzinfo=dt.UTC)
"""SEQUENCE counts seconds since then: it grows with each export, and fits its 32 bits until 2093."""

SEQUENCE_MOST = 2**31 - 1

WARN_BEFORE = 5
"""Minutes before a wait's latest end at which a second alarm sounds."""


def calendar_text(
    day: Day,
    plan: Plan,
    *,
    stages: bool = False,
    waits: bool = False,
    now: dt.datetime | None = None,
    previous: str = "",
) -> str:
    """The day as the text of an ``.ics`` file, lines ending as RFC 5545 asks.

    Parameters
    ----------
    day, plan
        A day and a plan of it that was checked.
    stages
        Whether each stage gets an entry of its own.
    waits
        Whether each wait gets an entry with alarms: when it may end, and shortly before it must.
    now
        When this export is made, with a time zone; the clock's time if not given.
    previous
        The text of an earlier export; its entries for this date that are gone are told as cancelled.
    """
    from icalendar import Calendar

    now = now or dt.datetime.now(dt.UTC)
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    earlier = list(_earlier(previous, day.date))
    number = _sequence(now, earlier)
    writer = _EntryWriter(day, plan, now, number)
    entries: list[Component] = list(writer.visits())
    if stages:
        entries += writer.stages()
    if waits:
        entries += writer.waits()
    entries += _cancelled(earlier, {str(entry["uid"]) for entry in entries}, now, number)
    for entry in entries:
        calendar.add_component(entry)
    calendar.add_missing_timezones(dt.date(day.date.year - 1, 1, 1), dt.date(day.date.year + 2, 1, 1))
    return str(calendar.to_ical(), "utf-8")


class _EntryWriter:
    """Writes the entries of one day."""

    def __init__(self, day: Day, plan: Plan, now: dt.datetime, number: int) -> None:
        self.day, self.plan, self.now, self.number, self.names = day, plan, now, number, Names(day)

    def visits(self) -> "Iterator[Event]":
        """An entry for each visit, with what to do there and what to ask of the customer."""
        for visit in sorted(self.plan.visits, key=lambda v: v.arrive):
            yield self.entry(
                f"{visit.job}.visit-{visit.number}",
                self.names.job(visit.job),
                (visit.arrive, visit.depart),
                visit.job,
                self.told(visit),
            )

    def told(self, visit: Visit) -> str:
        """A visit in words: the customer, the stages and when each begins, what to ask beforehand."""
        works = sorted(
            (w for w in self.plan.works if (w.job, w.visit) == (visit.job, visit.number)),
            key=lambda w: w.start,
        )
        lines = [self.names.customer(visit.job)]
        lines += [f"{show_clock(work.start)} {self.names.stage(work.job, work.stage)}" for work in works]
        lines += [
            f"{show_clock(x.leaves)} {self.names.hand(x.hand)} drives for {self.names.kit(x.kit)}, back by"
            f" {show_clock(x.back)}"
            for x in self.plan.fetches
            if x.job == visit.job and visit.arrive <= x.leaves <= visit.depart
        ]
        before = customer_notes(self.day, self.plan, visit.job).before
        return "\n".join([*lines, *(["Before we come:", *before] if before else [])])

    def stages(self) -> "Iterator[Event]":
        """An entry for each stage; it does not mark anybody as busy, the visit does."""
        for work in sorted(self.plan.works, key=lambda w: w.start):
            title = f"{self.names.stage(work.job, work.stage)} ({self.names.job(work.job)})"
            yield self.entry(
                f"{work.job}.stage-{work.stage}",
                title,
                (work.start, work.end),
                work.job,
                self.who(work),
                busy=False,
            )

    def who(self, work: Work) -> str:
        """Who does a stage, and with what."""
        method = self.day.jobs[work.job].stages[work.stage].methods[work.method]
        kit = listed([self.names.kit(key) for key in method.kit])
        return listed([self.names.hand(hand) for hand in work.hands]) + (f", with {kit}" if kit else "")

    def waits(self) -> "Iterator[Event]":
        """An entry for each wait, from when its next stage may start to when it must, with an alarm for both."""
        for row in wait_rows(self.day, self.plan):
            entry = self.entry(
                f"{row.job}.wait-{row.after}-{row.before}",
                f"{row.next_what} ({self.names.job(row.job)})",
                (
                    row.not_before,
                    max(row.not_before, row.planned if row.not_after is None else row.not_after),
                ),
                row.job,
                self.bounds(row),
                busy=False,
            )
            if row.not_before > row.begins:
                entry.add_component(_alarm(f"{row.what} {WORDS[row.kind]} no longer: {row.next_what} may start", 0))
            if row.not_after is not None:
                late = row.not_after - row.not_before - WARN_BEFORE
                entry.add_component(_alarm(f"{row.next_what} must start by {show_clock(row.not_after)}", max(0, late)))
            yield entry

    def bounds(self, row: WaitRow) -> str:
        """A wait in words."""
        late = "" if row.not_after is None else f", not after {moment(self.day.date, row.not_after)}"
        kept = f"; planned {row.late}" if row.late else ""
        return f"After {row.what}: not before {moment(self.day.date, row.not_before)}{late}{kept}"

    def entry(self, key: str, title: str, span: tuple[int, int], job: str, text: str, *, busy: bool = True) -> "Event":
        """A calendar entry; ``span`` is from and to in minutes of the day."""
        from icalendar import Event

        place = self.day.places[self.day.jobs[job].place]
        entry = Event()
        entry.add("uid", f"{self.day.date.isoformat()}.{key}{UID_END}")
        _stamp(entry, self.now, self.number)
        entry.add("summary", title)
        entry.add("dtstart", self.moment(span[0]))
        entry.add("dtend", self.moment(span[1]))
        entry.add("location", plain(place.name) or self.day.jobs[job].place)
        if place.at is not None:
            entry.add("geo", place.at)
        entry.add("description", text)
        entry.add("transp", "OPAQUE" if busy else "TRANSPARENT")
        return entry

    def moment(self, minute: int) -> dt.datetime:
        """A minute of the day by the clock on the wall there."""
        midnight = dt.datetime.combine(self.day.date, dt.time(), ZoneInfo(self.day.time_zone))
        return midnight + dt.timedelta(minutes=minute)


def _sequence(now: dt.datetime, earlier: "Iterable[Component]") -> int:
    """A number for this export: seconds, but past those of an earlier one even if the clock went back since."""
    numbers = [int((now - SEQUENCE_SINCE).total_seconds()), 0]
    for entry in earlier:
        with suppress(TypeError, ValueError):  # somebody else wrote in it
            numbers.append(int(entry.get("sequence", 0)) + 1)
    return min(SEQUENCE_MOST, max(numbers))


def _stamp(entry: "Component", now: dt.datetime, number: int) -> None:
    """Say when this version of an entry was made, and that it is later than those before it."""
    entry.add("dtstamp", now)
    entry.add("last-modified", now)
    entry.add("sequence", number)


def _alarm(text: str, minutes: int) -> "Alarm":
    """An alarm so many minutes after an entry starts."""
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", text)
    alarm.add("trigger", dt.timedelta(minutes=minutes))
    return alarm


def _earlier(previous: str, date: dt.date) -> "Iterator[Component]":
    """Our entries for a date in an earlier export."""
    from icalendar import Calendar

    try:
        entries = Calendar.from_ical(previous).walk("VEVENT") if previous.strip() else []
    except ValueError:  # not a calendar: it is about to be replaced, and has nothing to tell
        return
    for entry in entries:
        uid = str(entry.get("uid", ""))
        if uid.startswith(date.isoformat()) and uid.endswith(UID_END):
            yield entry


def _cancelled(earlier: "Iterable[Component]", uids: set[str], now: dt.datetime, number: int) -> "Iterator[Component]":
    """The entries of an earlier export that are no longer planned."""
    for entry in earlier:
        if str(entry.get("uid", "")) not in uids:
            for name in ("dtstamp", "last-modified", "sequence", "status"):
                entry.pop(name, None)
            _stamp(entry, now, number)
            entry.add("status", "CANCELLED")
            entry.subcomponents.clear()
            yield entry
