"""A day, or one of its jobs, copied to another date."""

import datetime as dt
from typing import Any

from planner.desktop.forms.day_form import trip_between, trip_changes
from planner.desktop.forms.naming import key_for
from planner.desktop.model.draft import Change, Draft

FORECAST = ("weather", "weather_file")
"""What belongs to one date alone."""


def day_again(draft: Draft, date: dt.date) -> Draft:
    """The same day on another date; its forecast was another date's, and stays behind."""
    changes: list[Change] = [Change((word,), None) for word in FORECAST if draft.written_at((word,)) is not None]
    return Draft(draft.changed([*changes, Change(("date",), date)]).text)


def job_again(source: Draft, job: str, target: Draft) -> list[Change]:
    """What puts a job of one day into another, with its place and the drives that are known there.

    What is done with kit or material of the day itself takes that along where the other day has none of that name.
    """
    table: dict[str, Any] = source.written_at(("jobs", job)) or {}
    place = str(table.get("place", ""))
    changes: list[Change] = []
    if place not in (target.written_at(("places",)) or {}):
        changes.append(Change(("places", place), source.written_at(("places", place)) or {"name": ""}))
    made = target.changed(changes)
    for other in target.at(("places",), {}):
        at = trip_between(source, place, other)
        if at is not None and trip_between(made, place, other) is None:
            trip = trip_changes(made, other, place, source.at(("travel", "trips", at, "minutes")))
            changes, made = [*changes, *trip], made.changed(trip)
    for word in ("kit", "materials"):
        for key, own in (source.written_at((word,)) or {}).items():
            if target.written_at((word, key)) is None and _names(table, key):
                changes.append(Change((word, key), own))
    return [*changes, Change(("jobs", key_for(job, target.at(("jobs",), {}), "job")), table)]


def _names(table: Any, key: str) -> bool:
    """Whether a table says a key anywhere."""
    if isinstance(table, dict):
        return key in table or any(_names(value, key) for value in table.values())
    if isinstance(table, list):
        return any(_names(value, key) for value in table)
    return bool(table == key)
