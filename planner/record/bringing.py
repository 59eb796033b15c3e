"""A quote on its way into a day: the record and the day's file are two files, and what ends us may come between.

With the mark that a quote is planned goes a note of the file and the job that it is to be found in. Who saved the file
takes the note away. A note that is still there when its process is gone is looked into at the next opening: where the
file does not have the job, the quote is open again. So no quote is lost, and none is in a day twice.
"""

import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from planner.day.faults import DayFaults
from planner.day.processes import is_running
from planner.day.reading import day_text, tables_of
from planner.record.database import Database

_NAME = "bringing "
"""What a note's name in the settings begins with; the number of the quote follows."""


@dataclass(frozen=True)
class Bringing:
    """A quote, the file and the job that it was to be found in, and the process that was at it."""

    quote: int
    file: Path
    job: str
    process: int


def note(database: Database, quote: int, file: Path, job: str) -> None:
    """Note where a quote is going; to be called within the writing that marks it as planned."""
    told = json.dumps({"file": str(file.absolute()), "job": job, "process": os.getpid()})
    with database.writing() as connection:
        connection.execute("INSERT OR REPLACE INTO settings VALUES (?, ?)", (f"{_NAME}{quote}", told))


def is_there(database: Database, quote: int) -> None:
    """The quote is in its day; nothing is to be looked into."""
    with database.writing() as connection:
        connection.execute("DELETE FROM settings WHERE name = ?", (f"{_NAME}{quote}",))


def repair(database: Database) -> str:
    """Look into every note whose process is gone; gives what the user must be told."""
    told = []
    for one in _left(database):
        found = _is_in(one)
        if found is None:
            continue
        with database.writing() as connection:
            if not found:
                back = connection.execute(
                    "UPDATE quotes SET state = 'open', day = NULL WHERE id = ? AND state = 'planned'", (one.quote,)
                )
                if back.rowcount:
                    told.append(f"Quote {one.quote} is open again: it never came into {one.file}.")
            is_there(database, one.quote)
    return " ".join(told)


def _left(database: Database) -> Iterator[Bringing]:
    for row in database.rows("SELECT name, value FROM settings WHERE name LIKE ?", (f"{_NAME}%",)):
        try:
            said = json.loads(row["value"])
            number = int(row["name"].removeprefix(_NAME))
            one = Bringing(number, Path(said["file"]), str(said["job"]), int(said["process"]))
        except (ValueError, KeyError, TypeError, RecursionError):  # anyone may have written it
            continue
        if not is_running(one.process):
            yield one


def _is_in(one: Bringing) -> bool | None:
    """Whether the file has the job; None when that cannot be seen now."""
    try:
        jobs = tables_of(day_text(one.file), one.file).get("jobs")
    except DayFaults:
        return None if one.file.exists() or not one.file.parent.exists() else False
    return isinstance(jobs, dict) and one.job in jobs
