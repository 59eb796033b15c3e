"""The tables of a plan as CSV (RFC 4180), safe to open in a spreadsheet."""

import csv
import io
from typing import TYPE_CHECKING, Any

from planner.day import Day
from planner.plan import tables
from planner.plan.plan import Plan
from planner.trade.units import show_clock

if TYPE_CHECKING:
    import pandas as pd

BYTE_ORDER_MARK = "\ufeff"
"""Tells spreadsheets that the text is UTF-8."""

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "'")
"""A text that begins so may be run as a formula (OWASP, CSV injection); an apostrophe before it prevents that."""

CLOCK_COLUMNS = ("start", "end", "needed_at")
"""Columns in minutes after midnight, which get a column of times of day beside them."""

TABLES = {
    "timeline": tables.timeline,
    "crossings": tables.crossings,
    "waits": tables.waits,
    "load_list": tables.load_list,
    "quantities": tables.quantities,
    "exposure": tables.exposure,
    "hours": tables.hours,
}
"""Each table by the name of its file."""


def csv_tables(day: Day, plan: Plan) -> dict[str, str]:
    """The text of each table by its name, with the columns that `planner.plan.tables` documents.

    Beside ``start``, ``end`` and ``needed_at`` stands the same as a time of day (``start_clock``). A text that a
    spreadsheet might run as a formula has an apostrophe before it.
    """
    return {name: csv_text(table(day, plan)) for name, table in TABLES.items()}


def csv_text(table: "pd.DataFrame") -> str:
    """A table as CSV with a head line; an empty cell stands for None."""
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\r\n")
    names = [str(name) for name in table.columns]
    writer.writerow([cell for name in names for cell in _head(name)])
    for row in table.itertuples(index=False, name=None):
        writer.writerow([cell for name, value in zip(names, row, strict=True) for cell in _cells(name, value)])
    return BYTE_ORDER_MARK + written.getvalue()


def _head(name: str) -> list[str]:
    return [name, f"{name}_clock"] if name in CLOCK_COLUMNS else [name]


def _cells(name: str, value: Any) -> list[Any]:
    """A value, and where it is a minute of the day the time of day too."""
    if value != value:  # not a number, which tables hold where they have nothing
        value = None
    if name in CLOCK_COLUMNS:
        return [value, None if value is None else show_clock(value)]
    return [guarded(value) if isinstance(value, str) else value]


def guarded(text: str) -> str:
    """A text that no spreadsheet takes for a formula."""
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text
