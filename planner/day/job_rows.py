"""Jobs from a spreadsheet (CSV): a row for each surface, worked by a recipe, every bad row named."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from planner.day.faults import Where, shown
from planner.day.lines import line_of
from planner.day.rows import Row, RowFaults, key_of, rows_of
from planner.trade import units
from planner.trade.library import MEASURES
from planner.trade.recipes.laying_out import RecipeFaults, expand

Read = Callable[[str], Any]
"""Makes a value of a cell's text, or raises a ValueError in plain words."""

_YES = {"yes", "y", "true", "1"}
_NO = {"no", "n", "false", "0"}


def _yes(text: str) -> bool:
    if text.lower() not in _YES | _NO:
        raise ValueError(f"{shown(text)} is neither yes nor no; write yes or no")
    return text.lower() in _YES


def _number(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        raise ValueError(f"{shown(text)} is not a number; write for example 1.5") from None
    if not 0 <= value < 1e9:
        raise ValueError(f"{shown(text)} cannot be; write a number from 0 up")
    return value


def _whole(text: str) -> int:
    if not (text.isascii() and text.isdecimal() and len(text) < 10):
        raise ValueError(f"{shown(text)} is not a whole number; write for example 2")
    return int(text)


def _clock(text: str) -> str:
    return units.show_clock(units.clock(text))


def _duration(text: str) -> str:
    return units.show_minutes(units.minutes(text))


def _words(text: str) -> list[str]:
    return [word.strip() for word in text.split("|") if word.strip()]


def _measure(column: str) -> Read:
    unit, _ = MEASURES[column]

    def read(text: str) -> str:
        if column == "slab":
            units.lengths(text)
        elif unit == "min":
            units.minutes(text)
        else:
            units.measure(text, unit)
        return text

    return read


_JOB: dict[str, Read] = {
    "title": str,
    "place": key_of,
    "priority": _whole,
    "done_by": _clock,
    "price": _number,
    "visits": _whole,
}
_WAY_IN: dict[str, Read] = {
    "way_in": _duration,
    "restricted": _yes,
    "through": str,
    "load_limit": _number,
    "protection": str,
}
_SUPPLIES: dict[str, Read] = {"taps": _whole, "sockets": _whole}
_LISTS = ("conditions", "before", "after", "over", "worked_from", "drains_to")
_RECIPE: dict[str, Read] = {
    "name": str,
    "surface": key_of,
    "prefix": key_of,
    "quoted": str,
    **{word: _words for word in _LISTS},  # noqa: C420 - the type is known only so
    **{word: _measure(word) for word in MEASURES},
}
COLUMNS = (
    "job", "recipe", *_JOB, "customer", "arrive_from", "arrive_to", "ground", *_WAY_IN, *_SUPPLIES, *_RECIPE
)  # fmt: skip
"""Every column that a table of jobs may have; ``job`` and ``recipe`` it must have. Lists are parted by ``|``."""


def jobs_from_csv(text: str, path: Path) -> dict[str, dict[str, Any]]:
    """Tables for ``[jobs.NAME]``, from a row for each surface that is worked; recipes are still to be written out.

    Rows with the same ``job`` belong to one job, rows with the same ``ground`` to one ground of it; what is said of the
    job or the ground need stand in one of its rows only. ``recipe`` names a recipe of the library, and the columns of
    measures carry units ("24 m2"); see `COLUMNS`. Raises `DayFaults` naming every bad row, what is wrong in it and what
    would be right; ``path`` is the file, as faults call it.
    """
    faults = RowFaults(path)
    jobs: dict[str, dict[str, Any]] = {}
    lines: dict[Where, int] = {}
    for row in rows_of(text, faults, known=COLUMNS, needed=("job", "recipe")):
        key = faults.value(row, "job", key_of)
        if key is None:
            continue
        lines.setdefault(("jobs", key), row.line)
        job = jobs.setdefault(key, {"name": row.cells["job"], "said": {}, "grounds": {}, "recipes": []})
        _add_said(job["said"], row, faults)
        ground = _add_ground(job["grounds"], row, faults)
        lines["jobs", key, "recipes", len(job["recipes"])] = row.line
        job["recipes"].append(_recipe(row, ground, faults))
    tables = {
        key: {
            "title": job["name"],
            "place": key,
            **job["said"],
            "grounds": job["grounds"],
            "recipes": job["recipes"],
        }
        for key, job in jobs.items()
    }
    try:
        expand({"jobs": tables})
    except RecipeFaults as found:
        told = {fault.line for fault in faults.found}  # what else is wrong in those rows may only follow from it
        for fault in found.faults:
            column = next((str(part) for part in reversed(fault.place) if isinstance(part, str)), "")
            if (line := line_of(fault.place, lines)) not in told:
                faults.add(line, column, fault.wrong, fault.right)
    faults.check()
    return tables


def _put(table: dict[str, Any], word: str, value: Any, row: Row, column: str, faults: RowFaults) -> None:
    """Say something of a job or a ground, which an earlier row must not have said otherwise."""
    if value is None:
        return
    if word in table and table[word] != value:
        wrong = f"{shown(row.cells[column])} here, and {shown(table[word])} in an earlier row of this job"
        faults.add(row.line, column, wrong, "say it in one row, or the same in each")
    table[word] = value


def _add_said(said: dict[str, Any], row: Row, faults: RowFaults) -> None:
    """What a row says of the job as a whole."""
    for column, read in _JOB.items():
        _put(said, column, faults.value(row, column, read), row, column, faults)
    if "customer" in row.cells:
        _put(said.setdefault("customer", {}), "name", row.cells["customer"], row, "customer", faults)
    first, last = (faults.value(row, column, _clock) for column in ("arrive_from", "arrive_to"))
    if ("arrive_from" in row.cells) != ("arrive_to" in row.cells):
        empty = "arrive_to" if "arrive_from" in row.cells else "arrive_from"
        faults.add(row.line, empty, f"'{empty}' is empty", "give both ends of the time to arrive, or none")
    elif first is not None and last is not None:
        _put(said, "arrive", [first, last], row, "arrive_from", faults)


def _add_ground(grounds: dict[str, Any], row: Row, faults: RowFaults) -> str:
    """What a row says of the ground that its surface lies on; its key."""
    key: str = faults.value(row, "ground", key_of) or "front"
    ground = grounds.setdefault(key, {})
    for column, read in _WAY_IN.items():
        value = faults.value(row, column, read)
        if value is not None:
            word = "minutes" if column == "way_in" else column
            _put(ground.setdefault("way_in", {}), word, value, row, column, faults)
    for column, read_count in _SUPPLIES.items():
        count = faults.value(row, column, read_count)
        if count is not None:
            _put(ground.setdefault("supplies", {}), column.removesuffix("s"), count, row, column, faults)
    return key


def _recipe(row: Row, ground: str, faults: RowFaults) -> dict[str, Any]:
    said = {column: faults.value(row, column, read) for column, read in _RECIPE.items()}
    recipe = {"recipe": row.cells.get("recipe", ""), "ground": ground}
    return recipe | {column: value for column, value in said.items() if value is not None}
