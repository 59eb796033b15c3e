"""Quoted work in and out: from a table of jobs to quotes, and from a quote to the job of a day, whole.

A quote is written in the words of the table of jobs (`planner.day.job_rows`): each surface with its recipe is a piece
of work, and every other cell of its row is kept with it. So what is brought into a day has been through the same
questions as on the day it was quoted, and nothing falls by the way.
"""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from planner.day.job_rows import COLUMNS, jobs_from_csv
from planner.day.rows import RowFaults, key_of, rows_of
from planner.record.quotes import Quote, QuotedWork
from planner.trade.recipes.laying_out import expand

_APART = ("job", "title", "customer", "recipe", "name")
"""Columns that have a place of their own in a quote."""


def quotes_from_csv(text: str, path: Path, quoted_on: date, promises: Sequence[str] = ()) -> list[Quote]:
    """A quote for each job of a table.

    Parameters
    ----------
    text, path
        The table, and its file as faults call it.
    quoted_on
        The day of the quotes.
    promises
        What was promised, in the customer's words; goes with every job of the table.

    Raises
    ------
    DayFaults
        Naming every bad row.
    ValueError
        When a quote would be too long to keep.
    """
    jobs_from_csv(text, path)  # every question that a day will ask is asked today
    jobs: dict[str, list[dict[str, str]]] = {}
    for row in rows_of(text, RowFaults(path), known=COLUMNS, needed=("job", "recipe")):
        jobs.setdefault(key_of(row.cells["job"]), []).append(row.cells)
    return [_quote(rows, quoted_on, promises) for rows in jobs.values()]


def job_of(quote: Quote) -> tuple[str, dict[str, Any]]:
    """The job that a quote becomes in a day file: its key and its tables, with every promise in them.

    As many promises as pieces of work are taken to be theirs, one by one; otherwise each stands for the whole job.

    Raises
    ------
    DayFaults
        When a piece of work cannot be worked out, for example because a recipe is no longer there.
    ValueError
        When there is no work in the quote.
    """
    if not quote.work:
        raise ValueError(f"quote {quote.id} '{quote.title}' holds no work; add it again with its work")
    rows: list[dict[str, str]] = []
    for work in quote.work:
        cells = {name: _cell(value) for name, value in work.measures.items()}
        rows.append(cells | {"job": quote.title, "recipe": work.recipe, "name": work.surface})
    if len(quote.promises) == len(rows):
        for row, promise in zip(rows, quote.promises, strict=True):
            row["quoted"] = promise
    [(key, job)] = jobs_from_csv(table_of_jobs(rows), Path(f"quote {quote.id}")).items()
    if quote.customer:
        job["customer"] = {"name": quote.customer}
    if quote.promises and len(quote.promises) != len(rows):
        job["quoted"] = {promise: _stages(job) for promise in quote.promises}
    return key, job


def table_of_jobs(rows: Iterable[Mapping[str, str]]) -> str:
    """Rows of named cells as a table of jobs."""
    rows = list(rows)
    text = io.StringIO()
    table = csv.DictWriter(text, list(dict.fromkeys(name for row in rows for name in row)), lineterminator="\n")
    table.writeheader()
    table.writerows(rows)
    return text.getvalue()


def _quote(rows: Sequence[Mapping[str, str]], quoted_on: date, promises: Sequence[str]) -> Quote:
    job = rows[0]["job"]
    said = {name: next((row[name] for row in rows if name in row), "") for name in ("title", "customer", "place")}
    work = [
        QuotedWork(row["recipe"], row.get("name", ""), {k: v for k, v in row.items() if k not in _APART})
        for row in rows
    ]
    if not said["place"]:
        work[0] = QuotedWork(work[0].recipe, work[0].surface, {"place": key_of(job), **work[0].measures})
    return Quote(said["customer"], said["title"] or job, quoted_on, tuple(promises), tuple(work))


def _cell(value: str | float | bool) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else f"{value:g}"


def _stages(job: Mapping[str, Any]) -> list[str]:
    """The keys of all stages that the job's recipes come to."""
    return list(expand({"jobs": {"job": job}})["jobs"]["job"]["stages"])
