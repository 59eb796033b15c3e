"""A day as it is being settled: its text, and the day it says once nothing in it is wrong.

The text is the day file's own, so comments and order live through every change, and undoing is going back to an
earlier text. A draft may have faults (a new day has no job yet); it can be changed and kept all the same, but
not planned.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from planner.day import Day
from planner.day.day import FORMAT
from planner.day.editing import Change, edited
from planner.day.faults import DayFaults, Fault, Where
from planner.day.layout import tables_to_toml
from planner.day.reading import day_from_text, tables_of
from planner.trade.ours import ours
from planner.trade.recipes.laying_out import RecipeFaults, expand
from planner.trade.visits import usual_meal

__all__ = ["Change", "Draft", "new_text"]


@dataclass(frozen=True)
class Draft:
    """A text of a day, and what it says; ``path`` is where its file lies, for a forecast beside it."""

    text: str
    path: Path = field(default=Path("new day.toml"), compare=False)

    @cached_property
    def tables(self) -> dict[str, Any]:
        """What the text says as plain tables, as they are written; empty when it is no TOML."""
        try:
            return tables_of(self.text, self.path)
        except DayFaults:
            return {}

    @cached_property
    def spelled_out(self) -> dict[str, Any]:
        """The same with every job that uses recipes written out, where that can be done."""
        try:
            return expand(self.tables)
        except RecipeFaults:
            return self.tables

    @cached_property
    def _read(self) -> tuple[Day | None, tuple[Fault, ...]]:
        try:
            return day_from_text(self.text, self.path), ()
        except DayFaults as found:
            return None, found.faults

    @property
    def day(self) -> Day | None:
        """The day; None while something is wrong."""
        return self._read[0]

    @property
    def faults(self) -> tuple[Fault, ...]:
        """All that is wrong."""
        return self._read[1]

    def at(self, place: Where, default: Any = None) -> Any:
        """The value at a place, as it is written or as a recipe gives it."""
        return _at(self.spelled_out, place, default)

    def written_at(self, place: Where) -> Any:
        """The value at a place as the file itself says it; None where it says nothing."""
        return _at(self.tables, place, None)

    def uses_in(self, job: str) -> list[tuple[Where, str]]:
        """Where a job uses which recipe; the short form has its measures in a table of their own."""
        found: list[tuple[Where, str]] = []
        short, listed = self.written_at(("jobs", job, "recipe")), self.written_at(("jobs", job, "recipes"))
        if isinstance(short, str):
            found.append((("jobs", job, "measures"), short))
        if isinstance(listed, list):
            found += [
                (("jobs", job, "recipes", at), str(use.get("recipe")))
                for at, use in enumerate(listed)
                if isinstance(use, dict)
            ]
        return found

    def faults_at(self, place: Where) -> list[Fault]:
        """What is wrong at a place or inside it."""
        return [fault for fault in self.faults if fault.place[: len(place)] == place]

    def changed(self, changes: Iterable[Change]) -> "Draft":
        """The draft with changes made, one after another; taking out what is not there does nothing.

        Raises `DayFaults` when one of them cannot be made as the file is written.
        """
        text = self.text
        for change in changes:
            if change.value is not None or Draft(text).written_at(change.place) is not None:
                text = edited(text, [change], self.path)
        return type(self)(text, self.path)


def _at(tables: Any, place: Where, default: Any) -> Any:
    for part in place:
        try:
            tables = tables[part]
        except (KeyError, IndexError, TypeError):
            return default
    return tables


def new_text(date: dt.date, *, time_zone: str = "Europe/London") -> str:
    """The text of a day with nothing in it but its date, and what we begin every day with: yard, hands, hours, meal."""
    own = ours()
    return tables_to_toml(
        {
            "format": FORMAT,
            "title": "",
            "date": date,
            "time_zone": time_zone,
            **own["usual"],
            "van": {"starts_at": "yard", "ends_at": "yard", **own["van"]},
            "places": {"yard": own["yard"]},
            "travel": own["travel"],
            "meal": usual_meal(),
            "hands": own["hands"],
        }
    )
