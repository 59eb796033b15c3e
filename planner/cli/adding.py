"""Jobs, places and travel times put into a day file, as one change that keeps its comments."""

from collections.abc import Iterable, Mapping
from typing import Any

from planner.cli.telling import Told
from planner.day import Day, Trip
from planner.day.faults import Where
from planner.day.file import DayFile
from planner.day.rows import key_of
from planner.trade import units

Changes = list[tuple[Where, Any]]
"""What `planner.day.file.DayFile.change_all` takes."""


def changes_for_jobs(day: Day, jobs: Mapping[str, Mapping[str, Any]], *, replace: bool = False) -> Changes:
    """The jobs, and the places of theirs that the day does not have yet.

    Raises `Told` when the day has a job of that key and it is not to be replaced.
    """
    changes: Changes = []
    for key, job in jobs.items():
        if key in day.jobs and not replace:
            raise Told(f"the day has a job '{key}' already; --replace puts the new one in its place")
        if key in day.jobs:
            changes.append((("jobs", key), None))
        changes.append((("jobs", key), dict(job)))
    return changes


def changes_for_places(day: Day, names: Iterable[str], at: Mapping[str, Mapping[str, Any]] | None = None) -> Changes:
    """Places that the day does not have yet, and coordinates for those that have a row of their own."""
    at = at or {}
    changes: Changes = []
    for name in dict.fromkeys([*names, *at]):
        if name not in day.places:
            changes.append((("places", name), dict(at.get(name, {}))))
        elif name in at:
            changes.append((("places", name, "at"), at[name]["at"]))
    return changes


def changes_for_trips(file: DayFile, trips: Iterable[Mapping[str, Any]]) -> Changes:
    """Travel times: one that the day has between two places otherwise is replaced, whichever way it was written."""
    new = [dict(trip) for trip in trips]
    if new and "travel" not in file.document:
        return [(("travel",), {"trips": new})]
    before = file.day.travel.trips
    read = [Trip.model_validate(trip) for trip in new]
    gone = [n for n, trip in enumerate(before) if trip not in read and any(_ends(trip) == _ends(x) for x in read)]
    added = [said for said, trip in zip(new, read, strict=True) if trip not in before]
    left = len(before) - len(gone)
    changes: Changes = [(("travel", "trips", n), None) for n in reversed(gone)]
    return changes + [(("travel", "trips", left + n), trip) for n, trip in enumerate(added)]


def _ends(trip: Trip) -> set[str]:
    return {trip.from_, trip.to}


def drives_from(words: Iterable[str], place: str) -> list[dict[str, Any]]:
    """Trips to a place from words such as ``yard=16 min``. Raises `Told` when a word is not of that form."""
    trips = []
    for word in words:
        start, is_said, minutes = word.partition("=")
        try:
            if not is_said:
                raise ValueError(f"'{word}' names no place and minutes; write for example 'yard=16 min'")
            time = units.minutes(minutes)
            trips.append({"from": key_of(start), "to": place, "minutes": units.show_minutes(time)})
        except ValueError as fault:
            raise Told(f"--drive: {fault}") from None
    return trips
