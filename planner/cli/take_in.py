"""``slackwater take-in FILE``: jobs, places, travel times and a forecast into a day file."""

import argparse
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from planner import cli
from planner.cli import adding, settling
from planner.cli.faults import Told
from planner.cli.saying import say
from planner.day.file import DayFile

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
    parser.add_argument("--replace", action="store_true", help="let a job take the place of one of the same name")


def run(asked: argparse.Namespace) -> int:
    """Read every table, change the day as a whole, and save it."""
    from planner.day.job_rows import jobs_from_csv
    from planner.day.rows import places_from_csv, trips_from_csv

    if not any((asked.jobs, asked.places, asked.travel, asked.forecast)):
        raise Told("there is nothing to take in; name a table with --jobs, --places, --travel or --forecast")
    file = DayFile.open(asked.file)
    jobs = _table(jobs_from_csv, asked.jobs) or {}
    places = _table(places_from_csv, asked.places) or {}
    trips = _table(trips_from_csv, asked.travel) or []
    names = [job["place"] for job in jobs.values()] + [trip[end] for trip in trips for end in ("from", "to")]
    changes = adding.changes_for_places(file.day, names, places)
    changes += adding.changes_for_trips(file, trips)
    changes += adding.changes_for_jobs(file.day, jobs, replace=asked.replace)
    if asked.forecast is not None:
        changes += _forecast(file, asked.forecast)
    file.change_all(changes)
    file.save()
    counts = {"job": len(jobs), "place": len(places), "travel time": len(trips)}
    taken = [f"{count} {what}{'s' if count != 1 else ''}" for what, count in counts.items() if count]
    taken += [f"a forecast of {len(file.day.weather)} hours"] if asked.forecast is not None else []
    say(f"{asked.file}: took in {', '.join(taken) or 'nothing: the tables hold no rows'}")
    return cli.DONE


def _table(read: Callable[[str, Path], T], path: Path | None) -> T | None:
    from planner.day.reading import day_text

    return None if path is None else read(day_text(path), path)


def _forecast(file: DayFile, path: Path) -> adding.Changes:
    """The forecast by its name beside the day file, in the place of the hours that the day had."""
    try:
        name = os.path.relpath(path.resolve(), file.path.resolve().parent).replace(os.sep, "/")
    except ValueError:  # on another drive
        raise Told(f"{path}: it lies on another drive; put the forecast beside the day file") from None
    before: adding.Changes = [(("weather",), None)] if "weather" in file.document else []
    return [*before, (("weather_file",), name)]
