"""The record taken out as open files: CSV for a spreadsheet, JSON for everything else."""

import csv
import io
import json
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import Any

from planner.day.safekeeping import SaveFault, save_text
from planner.record import quotes, timings
from planner.record.database import Database

FORMAT = "slackwater record 1"

QUOTE_COLUMNS = ("id", "customer", "title", "quoted_on", "state", "day", "promises", "work")
"""The columns of the table of quotes."""

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def export(database: Database, path: Path) -> tuple[Path, ...]:
    """Write the whole record to one ``.json``, or timings and quotes to a ``.csv`` each; gives the files.

    Raises `SaveFault` when the ending is neither, or a file cannot be saved.
    """
    work_done, quoted = timings.read(database), quotes.everything(database)
    match path.suffix.lower():
        case ".json":
            everything = {
                "format": FORMAT,
                "timings": list(map(asdict, work_done)),
                "quotes": list(map(asdict, quoted)),
            }
            return (
                save_text(path, json.dumps(everything, default=str, ensure_ascii=False, indent=2) + "\n"),
            )
        case ".csv":
            rows = [
                asdict(quote) | {"promises": "\n".join(quote.promises), "work": _work(quote)}
                for quote in quoted
            ]
            return (
                save_text(path, _csv(timings.COLUMNS, list(map(asdict, work_done)))),
                save_text(path.with_stem(f"{path.stem}-quotes"), _csv(QUOTE_COLUMNS, rows)),
            )
    raise SaveFault(
        path, f"'{path.suffix}' is no ending the record is written in", "end the name in .csv or .json"
    )


def safe_cell(value: object) -> object:
    """A value as a spreadsheet may have it: before what it would take for a formula stands an apostrophe.

    Source: OWASP, "CSV Injection". Numbers stay numbers, also below 0.
    """
    if isinstance(value, str) and value.lstrip(" ").startswith(_FORMULA_STARTS):
        return f"'{value}"
    return value


def _csv(columns: tuple[str, ...], rows: list[dict[str, Any]]) -> str:
    """A table as RFC 4180 has it."""
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\r\n")
    table.writerow(columns)
    table.writerows([safe_cell(_plain(row[name])) for name in columns] for row in rows)
    return text.getvalue()


def _plain(value: object) -> object:
    return value.isoformat() if isinstance(value, date) else value


def _work(quote: quotes.Quote) -> str:
    """What is to be done, a line for each surface, for a person to read."""
    lines = []
    for work in quote.work:
        measures = ", ".join(f"{name} {value}" for name, value in work.measures.items())
        lines.append(f"{work.surface}: {work.recipe} ({measures})")
    return "\n".join(lines)
