"""Changing one value in the text of a day file, and nothing else: comments, blanks and order stay."""

import copy
import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, InlineTable, Table

from planner.day.faults import DayFaults, Fault, Where, shown
from planner.day.layout import is_list_of_sections, is_section, section_to_toml, toml_value
from planner.day.lines import end_of_part
from planner.day.reading import tables_of

_TOMLKIT_FAULTS = (TOMLKitError, ValueError, KeyError, IndexError, TypeError, AttributeError, RecursionError)


class Change(NamedTuple):
    """One value set at a place, or taken out where it is None.

    The number that follows a list's last adds to it; tables on the way are made when they are not there.
    """

    place: Where
    value: Any


def edited(text: str, changes: Iterable[tuple[Where, Any]], path: Path) -> str:
    """The text with changes made, one after another.

    Raises `DayFaults` when one of them cannot be made without laying out anew what else the file says.
    """
    for place, value in changes:
        text = without(text, place, path) if value is None else with_value(text, place, value, path)
    return text


def parsed(text: str, path: Path) -> tomlkit.TOMLDocument:
    """The text as tomlkit sees it. Raises `DayFaults` when tomlkit cannot read what the standard reader could."""
    try:
        return tomlkit.parse(text)
    except _TOMLKIT_FAULTS as fault:
        wrong = f"the file can be planned but not changed from here ({shown(str(fault))})"
        raise DayFaults(path, [Fault((), None, wrong, "write it plainly: headers, then name = value")]) from fault


def with_value(text: str, place: Where, value: Any, path: Path) -> str:
    """The text with a value set; missing tables on the way are made. Whether the day is sound then is not asked.

    Raises `DayFaults` when there can be no such value at that place.
    """
    wanted = _plain(value, place, path)
    if not place:
        raise _cannot(path, place, "the file as a whole is no value")
    document = parsed(text, path)
    after = _edited(tables_of(text, path), lambda tables: _set(tables, place, wanted, copy.deepcopy), place, path)
    if isinstance(wanted, dict) and _gets_a_header(document, place):
        longer = _with_section(text, place, wanted)
        if _says(longer, after, path):
            return longer
    _edited(document, lambda tables: _set(tables, place, wanted, _item), place, path)
    return _checked(document, after, place, path)


def without(text: str, place: Where, path: Path) -> str:
    """The text with a value or a table taken away, and a list with it that would be empty.

    Raises `DayFaults` when it is not there.
    """
    document = parsed(text, path)
    if not place or not _has(document, place):
        raise _cannot(path, place, "there is nothing to take away")
    after = _edited(tables_of(text, path), lambda tables: _unset(tables, place), place, path)
    _edited(document, lambda tables: _unset(tables, place), place, path)
    return _checked(document, after, place, path)


def _edited(tables: Any, edit: Callable[[Any], None], place: Where, path: Path) -> Any:
    try:
        edit(tables)
    except _TOMLKIT_FAULTS as fault:
        raise _cannot(path, place, "there can be no value here") from fault
    return tables


def _checked(document: tomlkit.TOMLDocument, after: dict[str, Any], place: Where, path: Path) -> str:
    """The document's text, once it is sure to say what was asked for and nothing else."""
    try:
        text = tomlkit.dumps(document)
    except _TOMLKIT_FAULTS as fault:
        raise _cannot(path, place, "this part of the file cannot be changed from here") from fault
    if not _says(text, after, path):
        raise _cannot(path, place, "this part of the file cannot be changed from here")
    return text


def _says(text: str, tables: dict[str, Any], path: Path) -> bool:
    try:
        return tables_of(text, path) == tables
    except DayFaults:
        return False


def _cannot(path: Path, place: Where, wrong: str) -> DayFaults:
    return DayFaults(path, [Fault(place, None, wrong, "change it in a text editor")])


def _plain(value: Any, place: Where, path: Path) -> Any:
    """A copy in plain types, as the standard reader would give it."""
    if isinstance(value, Mapping):
        return {str(key): _plain(item, place, path) for key, item in value.items() if item is not None}
    if isinstance(value, list | tuple):
        return [_plain(item, place, path) for item in value]
    if isinstance(value, bool | dt.date | dt.time):
        return value
    for kind in (str, int, float):
        if isinstance(value, kind):
            return kind(value)
    raise _cannot(path, place, f"a day file has no word for {shown(value)}")


def _has(tables: Any, place: Where) -> bool:
    try:
        for part in place:
            tables = tables[part]
    except _TOMLKIT_FAULTS:
        return False
    return True


def _gets_a_header(document: Any, place: Where) -> bool:
    """Whether a new table at this place is to be written with a header of its own."""
    if _has(document, place):
        return False
    around = document
    for part in place[:-1]:
        if not _has(around, (part,)):
            break
        around = around[part]
        if isinstance(around, InlineTable):
            return False
    if isinstance(place[-1], int):
        is_new_list = place[-1] == 0 and not _has(document, place[:-1])
        return is_list_of_sections(place[:-1]) and (is_new_list or isinstance(around, AoT))
    return is_section(place)


def _with_section(text: str, place: Where, table: Mapping[str, Any]) -> str:
    """The text with a new table where its like stand: after the last line of what lies in the same table."""
    lines = text.split("\n")
    end = next(end for depth in range(len(place) - 1, -1, -1) if (end := end_of_part(text, place[:depth])))
    before, rest = "\n".join(lines[:end]).rstrip(), "\n".join(lines[end:]).lstrip("\r\n")
    return f"{before}\n\n{section_to_toml(place, table)}" + (f"\n{rest}" if rest else "")


def _set(tables: Any, place: Where, value: Any, made: Callable[[Any], Any]) -> None:
    """Set a value in plain tables, or in tomlkit's; ``made`` makes an item of their kind."""
    for part, following in pairwise(place):
        if isinstance(part, str) and part not in tables:
            tables[part] = made([] if isinstance(following, int) else {})
        tables = tables[part]
    last = place[-1]
    if isinstance(last, int) and last == len(tables):
        tables.append(_table(value) if isinstance(tables, AoT) else made(value))
    elif isinstance(value, dict) and _has(tables, (last,)) and isinstance(tables[last], Mapping):
        _merge(tables[last], value, made)
    else:
        tables[last] = made(value)


def _merge(tables: Any, value: dict[str, Any], made: Callable[[Any], Any]) -> None:
    """Make a table hold what is wanted; what does not differ is left alone, and its comments stay."""
    for key in [key for key in tables if key not in value]:
        del tables[key]
    for key, item in value.items():
        if key not in tables or tables[key] != item:
            _set(tables, (key,), item, made)


def _unset(tables: Any, place: Where) -> None:
    around = None
    for part in place[:-1]:
        around, tables = tables, tables[part]
    del tables[place[-1]]
    if isinstance(place[-1], int) and len(tables) == 0 and around is not None:
        del around[place[-2]]


def _item(value: Any) -> Any:
    return tomlkit.parse(f"value = {toml_value(value)}\n")["value"]


def _table(value: dict[str, Any]) -> Table:
    table = tomlkit.table()
    for key, item in value.items():
        table[key] = _item(item)
    return table
