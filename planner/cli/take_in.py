"""``slackwater take-in FILE``: jobs, places, travel times and a forecast into a day file."""

import argparse
import datetime as dt
import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from planner import cli
from planner.cli import adding, settling
from planner.cli.saying import say
from planner.cli.telling import Told
from planner.day.day import FORMAT
from planner.day.file import DayFile
from planner.day.job_rows import jobs_from_csv
from planner.day.layout import tables_to_toml
from planner.day.reading import day_text
from planner.day.rows import places_from_csv, trips_from_csv
from planner.day.safekeeping import followed

T = TypeVar("T")


def add(commands: Any) -> None:
    """The words of this command."""
    parser = commands.add_parser(
        "take-in",
        help="take jobs, places, travel times or a forecast into a day file",
        description="Take tables (CSV) into a day file. All of them come in, or none: each bad row is named.",
    )
    settling.add_day(parser, "the day file (TOML) to put them into")
    parser.add_argument("--jobs", type=Path, metavar="CSV", help="jobs: a row for each surface, worked by a recipe")
    parser.add_argument("--places", type=Path, metavar="CSV", help="places: place, latitude, longitude")
    parser.add_argument("--travel", type=Path, metavar="CSV", help="travel times: from, to, minutes; or a matrix")
    parser.add_argument("--forecast", type=Path, metavar="FILE", help="a forecast (CSV or JSON) beside the day file")
    parser.add_argument("--new", type=dt.date.fromisoformat, metavar="DATE", help="begin a new day file of this date")
    parser.add_argument("--replace", action="store_true", help="let a job take the place of one of the same name")


def run(asked: argparse.Namespace) -> int:
    """Read every table, change the day as a whole, and save it."""
    if not any((asked.jobs, asked.places, asked.travel, asked.forecast)):
        raise Told("there is nothing to take in; name a table with --jobs, --places, --travel or --forecast")
    tables = _tables(asked)
    file = DayFile.open(asked.file) if asked.new is None else _begun(asked, tables)
    if asked.new is None:
        changes = adding.changes_for_places(file.day, tables.place_names(), tables.places)
        changes += adding.changes_for_trips(file, tables.trips)
        changes += adding.changes_for_jobs(file.day, tables.jobs, replace=asked.replace)
        if asked.forecast is not None:
            before: adding.Changes = [(("weather",), None)] if "weather" in file.document else []
            changes += [*before, (("weather_file",), _beside(asked.file, asked.forecast))]
        file.change_all(changes)
    file.save()
    counts = {"job": len(tables.jobs), "place": len(tables.places), "travel time": len(tables.trips)}
    taken = [f"{count} {what}{'s' if count != 1 else ''}" for what, count in counts.items() if count]
    taken += [f"a forecast of {len(file.day.weather)} hours"] if asked.forecast is not None else []
    say(f"{asked.file}: took in {', '.join(taken) or 'nothing: the tables hold no rows'}")
    return cli.DONE


@dataclass(frozen=True)
class _Tables:
    """What the tables hold, as a day file has it."""

    jobs: dict[str, dict[str, Any]]
    places: dict[str, dict[str, Any]]
    trips: list[dict[str, Any]]

    def place_names(self) -> list[str]:
        """Every place that is named, those of trips and of their own table first."""
        ends = [trip[end] for trip in self.trips for end in ("from", "to")]
        return list(dict.fromkeys([*self.places, *ends, *(job["place"] for job in self.jobs.values())]))


def _tables(asked: argparse.Namespace) -> _Tables:
    return _Tables(
        _table(jobs_from_csv, asked.jobs) or {},
        _table(places_from_csv, asked.places) or {},
        _table(trips_from_csv, asked.travel) or [],
    )


def _begun(asked: argparse.Namespace, tables: _Tables) -> DayFile:
    """A new day with one hand; the van starts and ends at the first place that is named and is no job's."""
    if asked.file.exists():
        raise Told(f"{asked.file}: it is there already; leave out --new to take the tables into it")
    sites = {job["place"] for job in tables.jobs.values()}
    yard = next((name for name in tables.place_names() if name not in sites), None)
    if yard is None:
        raise Told("a new day needs to know where the van starts; name that place with --travel or --places")
    day: dict[str, Any] = {"format": FORMAT, "date": asked.new}
    if asked.forecast is not None:
        day["weather_file"] = _beside(asked.file, asked.forecast)
    day |= {
        "van": {"starts_at": yard, "ends_at": yard},
        "places": {name: tables.places.get(name, {}) for name in tables.place_names()},
        "travel": {"trips": tables.trips},
        "hands": {"hand-1": {"name": "Hand 1"}},
        "jobs": tables.jobs,
    }
    return DayFile(asked.file, tables_to_toml(day))


def _table(read: Callable[[str, Path], T], path: Path | None) -> T | None:
    return None if path is None else read(day_text(path), path)


def _beside(file: Path, path: Path) -> str:
    """The name of a forecast as a day file gives it; whether it lies in its folder is asked when the day is read."""
    try:
        return os.path.relpath(followed(path), followed(file).parent).replace(os.sep, "/")
    except ValueError:  # on another drive
        raise Told(f"{path}: it lies on another drive; put the forecast beside the day file") from None
