"""Tables from a spreadsheet (CSV): places by their coordinates and travel times, every bad row named.

Jobs are read by ``planner.day.job_rows``. What is read here are plain tables as a day file holds them; they become
part of a day by `planner.day.file.DayFile.change_all`.
"""

import csv
import io
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planner.day.faults import DayFaults, Fault, shown, suggestion
from planner.trade import units

_NOT_IN_KEYS = re.compile(r"[^a-z0-9]+")
_MINUTES = {"min", "mins", "minute", "minutes"}


@dataclass(frozen=True)
class Row:
    """One row of a table: its line in the file, and what stands in each column, empty ones left out."""

    line: int
    cells: dict[str, str]


class RowFaults:
    """Faults as they are found, each with its line and column."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.found: list[Fault] = []

    def add(self, line: int | None, column: str, wrong: str, right: str) -> None:
        """Note one fault."""
        self.found.append(Fault((column,) if column else (), line, wrong, right))

    def value(self, row: Row, column: str, read: Callable[[str], Any]) -> Any:
        """What ``read`` makes of a cell; None when it is empty, or when that fails, which is noted."""
        if column not in row.cells:
            return None
        try:
            return read(row.cells[column])
        except ValueError as fault:
            wrong, _, right = str(fault).partition("; ")
            self.add(row.line, column, wrong, right or "write another value")
            return None

    def check(self) -> None:
        """Raise what was found, if anything was."""
        if self.found:
            raise DayFaults(self.path, self.found)


def key_of(text: str) -> str:
    """The key that a name in a spreadsheet becomes: ``"9 Larch Rise"`` is ``9-larch-rise``.

    Raises
    ------
    ValueError
        When nothing in it can stand in a key.
    """
    key = _NOT_IN_KEYS.sub("-", text.lower()).strip("-")[:60].strip("-")
    if not key:
        raise ValueError(f"{shown(text)} cannot be a name; write letters a to z and figures")
    return key


def rows_of(text: str, faults: RowFaults, *, known: Iterable[str], needed: Iterable[str]) -> list[Row]:
    """The rows below a line of column names, which may be parted by commas, semicolons or tabs.

    Column names are taken in small letters, with ``_`` for blanks; a row that is empty is left out.

    Parameters
    ----------
    text
        The table as it is written.
    faults
        Where what is wrong is noted.
    known, needed
        Columns that there may be, and those that there must be.
    """
    lines = _lines(text, faults)
    if not lines:
        faults.add(None, "", "the table is empty", f"give a first line with the columns {', '.join(needed)}")
        return []
    first, names = lines[0][0], [re.sub(r"[\s_-]+", "_", name.strip().lower()) for name in lines[0][1]]
    names_known = list(known)
    for name in dict.fromkeys(names):
        if name not in names_known:
            faults.add(first, name, f"unknown column {shown(name)}", suggestion(name, names_known))
        elif names.count(name) > 1:
            faults.add(first, name, f"column '{name}' stands there twice", "keep one")
    for name in needed:
        if name not in names:
            faults.add(first, name, f"there is no column '{name}'", "add it to the first line")
    if faults.found:
        return []
    rows = []
    for line, cells in lines[1:]:
        if len(cells) > len(names) and any(cell.strip() for cell in cells[len(names) :]):
            right = "put a text that holds the separator in quotes"
            faults.add(line, "", f"{len(cells)} cells for {len(names)} columns", right)
            continue
        row = Row(line, {name: cell.strip() for name, cell in zip(names, cells, strict=False) if cell.strip()})
        if row.cells:
            rows.append(row)
            for name in needed:
                if name not in row.cells:
                    faults.add(line, name, f"'{name}' is empty", "fill it in")
    return rows


def places_from_csv(text: str, path: Path) -> dict[str, dict[str, Any]]:
    """Tables for ``[places]``: columns ``place``, ``latitude`` and ``longitude`` in degrees.

    Raises `DayFaults` naming every bad row.
    """
    faults = RowFaults(path)
    columns = ("place", "latitude", "longitude")
    places: dict[str, dict[str, Any]] = {}
    for row in rows_of(text, faults, known=columns, needed=columns):
        key = faults.value(row, "place", key_of)
        at = [
            faults.value(row, column, lambda said, limit=limit: _degrees(said, limit))  # type: ignore[misc]
            for column, limit in (("latitude", 90), ("longitude", 180))
        ]
        if key in places:
            faults.add(row.line, "place", f"a second row for place '{key}'", "keep one")
        elif key is not None:
            places[key] = {"name": row.cells["place"], "at": at}
    faults.check()
    return places


def _degrees(text: str, limit: int) -> float:
    try:
        value = float(text)
    except ValueError:
        raise ValueError(f"{shown(text)} is not a number of degrees; write for example 53.1") from None
    if not -limit <= value <= limit:
        raise ValueError(f"{shown(text)} lies off the globe; write degrees from -{limit} to {limit}")
    return value


def trips_from_csv(text: str, path: Path) -> list[dict[str, Any]]:
    """Tables for ``travel.trips``: as pairs (columns ``from``, ``to``, ``minutes``) or as a matrix of places.

    In a matrix the first line and the first column name the places; a row is where one comes from. Times carry their
    unit ("18 min"), or the corner says ``minutes`` for all of them. Where the two directions differ, each becomes a
    one-way trip; an empty cell is no trip. Raises `DayFaults` naming every bad row.
    """
    faults = RowFaults(path)
    lines = _lines(text, faults)
    names = {name.strip().lower() for name in lines[0][1]} if lines else set()
    times = _pairs(text, faults) if {"from", "to"} <= names else _matrix(lines, faults)
    faults.check()
    trips: dict[tuple[str, str], dict[str, Any]] = {}
    for (start, end), minutes in times.items():
        there = units.show_minutes(minutes)
        if times.get((end, start), minutes) != minutes:
            trips[start, end] = {"from": start, "to": end, "minutes": there, "one_way": True}
        elif (end, start) not in trips:
            trips[start, end] = {"from": start, "to": end, "minutes": there}
    return list(trips.values())


def _pairs(text: str, faults: RowFaults) -> dict[tuple[str, str], float]:
    times: dict[tuple[str, str], float] = {}
    columns = ("from", "to", "minutes")
    for row in rows_of(text, faults, known=columns, needed=columns):
        start, end = faults.value(row, "from", key_of), faults.value(row, "to", key_of)
        minutes = faults.value(row, "minutes", _minutes_in_minutes)
        if start is None or end is None or minutes is None:
            continue
        if start == end or (start, end) in times:
            wrong = f"a second time from '{start}' to '{end}'" if start != end else f"a trip from '{start}' to itself"
            faults.add(row.line, "to", wrong, "take this row away")
        else:
            times[start, end] = minutes
    return times


def _matrix(lines: list[tuple[int, list[str]]], faults: RowFaults) -> dict[tuple[str, str], float]:
    times: dict[tuple[str, str], float] = {}
    if len(lines) < 2:
        faults.add(None, "", "there are no travel times", "name the places in the first line and the first column")
        return times
    read = _minutes_in_minutes if lines[0][1][0].strip().lower() in _MINUTES else units.minutes
    names = lines[0][1][1:]
    ends = [
        faults.value(Row(lines[0][0], {f"column {i + 2}": name}), f"column {i + 2}", key_of)
        for i, name in enumerate(names)
    ]
    for line, cells in lines[1:]:
        start = faults.value(Row(line, {"column 1": cells[0]}), "column 1", key_of)
        if len(cells) - 1 > len(ends):
            faults.add(line, "", f"{len(cells) - 1} times for {len(ends)} places", "name every place in the first line")
        for name, end, cell in zip(names, ends, cells[1:], strict=False):
            minutes = faults.value(Row(line, {name: cell.strip()} if cell.strip() else {}), name, read)
            if minutes is None or start is None or end is None:
                continue
            if start == end and minutes:
                faults.add(line, name, f"{shown(cell)} from '{start}' to itself", "leave the cell empty")
            elif (start, end) in times:
                faults.add(line, name, f"a second time from '{start}' to '{end}'", "name each place once")
            elif start != end:
                times[start, end] = minutes
    return times


def _minutes_in_minutes(text: str) -> float:
    """Minutes where the table says that they are minutes; a unit may stand there all the same."""
    return units.minutes(f"{text} min" if re.fullmatch(r"\d+(\.\d+)?", text) else text)


def _lines(text: str, faults: RowFaults) -> list[tuple[int, list[str]]]:
    """The lines that are not empty, each with its number."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    first_line = text.lstrip("\ufeff\n").partition("\n")[0]
    delimiter = max(",;\t", key=first_line.count)
    reader = csv.reader(
        io.StringIO(text.removeprefix("\ufeff")), delimiter=delimiter, skipinitialspace=True, strict=True
    )
    lines = []
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                lines.append((reader.line_num, cells))
    except csv.Error as fault:
        faults.add(reader.line_num or None, "", f"this is no table ({fault})", "save it as CSV from your spreadsheet")
    return lines
