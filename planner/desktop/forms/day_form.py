"""The form of the day itself: its date and hours, what a crossing is worth, where the van starts, and the driving."""

import datetime as dt
from itertools import combinations
from typing import Any

from PySide6.QtCore import QDate, Slot
from PySide6.QtWidgets import QDateEdit, QWidget

from planner.day.faults import Fault
from planner.desktop.forms.field import Choice, Entry, Field, Tick
from planner.desktop.forms.form import Bound, Form
from planner.desktop.forms.kinds import CLOCK, MINUTES, TEXT
from planner.desktop.forms.parts import Parts
from planner.desktop.forms.weather_form import WeatherForm
from planner.desktop.model.draft import Change, Draft
from planner.desktop.model.naming import called, key_for
from planner.desktop.model.open_day import OpenDay

HOW_SURE: list[tuple[Any, str]] = [
    (None, "on likely times"),
    (0.8, "in 4 days of 5"),
    (0.9, "in 9 days of 10"),
    (0.95, "in 19 days of 20"),
]
"""In how many days what must not come too late is to be kept."""


class DateEntry(Entry):
    """A date."""

    def __init__(self, label: str, parent: QWidget | None = None) -> None:
        super().__init__(label, parent)
        self.edit = QDateEdit(self)
        self.edit.setCalendarPopup(True)
        self.edit.setDisplayFormat("ddd d MMM yyyy")
        self._box.addWidget(self._titled(self.edit))
        self._box.addWidget(self.edit)
        self._box.addWidget(self._message)
        self.edit.dateChanged.connect(self.on_date)

    def show_value(self, value: Any) -> None:
        """Show the date that the day holds."""
        if isinstance(value, dt.date):
            self.edit.blockSignals(True)
            self.edit.setDate(QDate(value.year, value.month, value.day))
            self.edit.blockSignals(False)

    @Slot(QDate)
    def on_date(self, date: QDate) -> None:
        """Another date was chosen."""
        self.value_entered.emit(dt.date(date.year(), date.month(), date.day()))


class DayForm(Form):
    """The day's own fields."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(open_day, parent)
        self.add_heading("The day")
        self.add_row(Bound(Field("Title", TEXT), ("title",)))
        self.add_row(Bound(DateEntry("Date"), ("date",)))
        self.add_row(
            Bound(Field("Van leaves from", CLOCK), ("start",), "07:30"),
            Bound(Field("Home at the latest", CLOCK), ("finish",), "17:30"),
        )
        self.add_row(Bound(Tick("Leave exactly then"), ("fixed_start",), False))
        self.add_row(
            Bound(Field("One restricted crossing is worth", MINUTES), ("crossing_price",), "6 min"),
            Bound(Field("Break, for each hand", MINUTES), ("rest", "length"), "20 min"),
        )
        self.explain("crossing")
        self.add_row(Bound(Choice("Promises, windows and waits are kept", HOW_SURE), ("sure",)))
        self.add_row(Bound(Tick("We carry lights and can work after dark"), ("lights",), False))
        self.add_heading("Places")
        self._start = Choice("Van starts at", [])
        self._end = Choice("Van ends at", [])
        self.add_row(Bound(self._start, ("van", "starts_at")), Bound(self._end, ("van", "ends_at")))
        self.add_widget(PlacesForm(open_day, self))
        self.add_heading("Driving")
        self.add_note("One way, in minutes.")
        self.add_widget(DrivingForm(open_day, self))
        self.add_heading("Weather")
        self.add_widget(WeatherForm(open_day, self))
        self.add_end()
        self.on_settled()

    @Slot()
    def on_settled(self) -> None:
        """The day changed: there may be other places."""
        places = self.open_day.draft.at(("places",), {})
        for choice in (self._start, self._end) if hasattr(self, "_start") else ():
            choice.offer([(key, called(places, key)) for key in places])
        super().on_settled()


class PlacesForm(Parts):
    """Every place the van drives to."""

    table, add_words = "places", "Add a place"

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """Its name."""
        form.add_row(Bound(Field("Name of the place", TEXT), ("places", key[0], "name")))

    def addition(self) -> list[Change]:
        """A new place."""
        return [Change(("places", key_for("place", self.there())), {"name": ""})]

    def removal(self, key: tuple[Any, ...]) -> list[Change] | None:
        """A place may go when nothing starts, ends or happens there."""
        draft = self.open_day.draft
        used = {draft.at(("van", "starts_at")), draft.at(("van", "ends_at"))}
        used |= {job.get("place") for job in draft.at(("jobs",), {}).values()}
        if key[0] in used:
            return None
        return [Change(("places", key[0]), None), *_trips_without(draft, key[0])]


class DrivingForm(Parts):
    """The minutes between each two places."""

    def keys(self) -> list[tuple[Any, ...]]:
        """One for each pair, with the names that its field shows."""
        places = self.open_day.draft.at(("places",), {})
        return [(a, b, called(places, a), called(places, b)) for a, b in combinations(places, 2)]

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """One field."""
        one, other, *names = key

        def read(draft: Draft) -> Any:
            at = trip_between(draft, one, other)
            return None if at is None else draft.at(("travel", "trips", at, "minutes"))

        def write(draft: Draft, value: Any) -> list[Change]:
            return trip_changes(draft, one, other, value)

        field = Field(" – ".join(names), MINUTES)
        place = ("travel", "trips", one, other)
        form.add_row(Bound(field, place, read=read, write=write, faults=lambda draft: drive_faults(draft, one, other)))


def drive_faults(draft: Draft, one: str, other: str) -> list[Fault]:
    """That the drive between two places is not known."""
    ends = {f"'{one}'", f"'{other}'"}
    return [fault for fault in draft.faults_at(("travel",)) if all(end in fault.wrong.split() for end in ends)]


def trip_between(draft: Draft, one: str, other: str) -> int | None:
    """Where in the list of trips the one between two places stands."""
    for at, trip in enumerate(draft.at(("travel", "trips"), [])):
        if {trip.get("from"), trip.get("to")} == {one, other}:
            return at
    return None


def trip_changes(draft: Draft, one: str, other: str, minutes: str | None) -> list[Change]:
    """What sets the driving time between two places, or takes it out."""
    at = trip_between(draft, one, other)
    if minutes is None:
        return [] if at is None else [Change(("travel", "trips", at), None)]
    if at is not None:
        return [Change(("travel", "trips", at, "minutes"), minutes)]
    trip = {"from": one, "to": other, "minutes": minutes}
    trips = draft.at(("travel", "trips"))
    if trips is None:
        return [Change(("travel", "trips"), [trip])]
    return [Change(("travel", "trips", len(trips)), trip)]


def _trips_without(draft: Draft, place: str) -> list[Change]:
    """What takes out every trip from or to a place; from the last, so that the numbers hold."""
    trips = list(enumerate(draft.at(("travel", "trips"), [])))
    return [
        Change(("travel", "trips", at), None)
        for at, trip in reversed(trips)
        if place in (trip.get("from"), trip.get("to"))
    ]
