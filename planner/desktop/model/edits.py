"""Changes to the text of a day that leave its comments and order as they are, whether or not the day is whole yet."""

import copy
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import Any

from planner.day.faults import Where
from planner.day.layout import is_section, section_to_toml, tables_to_toml
from planner.day.reading import tables_of


class _Gone(Enum):
    GONE = "gone"


GONE = _Gone.GONE
"""In place of a value: the key or list item is taken out."""


@dataclass(frozen=True)
class Change:
    """One value set at a place, or taken out when it is `GONE`.

    The number that follows a list's last adds to it; tables on the way are made when they are not there.
    """

    place: Where
    value: Any


def _tables(text: str) -> dict[str, Any]:
    return tables_of(text, Path("the day"))


def edited(text: str, changes: Iterable[Change]) -> str:
    """The text with changes made, one after another.

    Where a file is written so that a change cannot be put into it as it stands, the whole is laid out anew: the change
    counts for more than the comments.
    """
    for change in changes:
        wanted = _tables(text)
        _make(wanted, change, copy.deepcopy(change.value))
        if wanted == _tables(text):
            continue
        text = _in_place(text, change, wanted) or tables_to_toml(wanted)
    return text


def _in_place(text: str, change: Change, wanted: dict[str, Any]) -> str | None:
    """The text with one change; None when that does not come out as what is wanted."""
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        if isinstance(change.value, dict) and is_section(change.place) and not _has(_tables(text), change.place):
            made = text.rstrip("\n") + "\n\n" + section_to_toml(change.place, change.value)
        else:
            document = tomlkit.parse(text)
            _make(document, change, _inline(change.value))
            made = tomlkit.dumps(document)
        return made if _tables(made) == wanted else None
    except (TOMLKitError, ValueError, KeyError, IndexError, TypeError, AttributeError, RecursionError):
        return None


def _has(tables: Any, place: Where) -> bool:
    for part in place:
        try:
            tables = tables[part]
        except (KeyError, IndexError, TypeError):
            return False
    return True


def _make(tables: Any, change: Change, value: Any) -> None:
    """Make one change in tables of either kind, plain or tomlkit's."""
    *way, last = change.place
    for part in way:
        if isinstance(part, str) and part not in tables:
            if value is GONE:
                return
            tables[part] = {}
        tables = tables[part]
    if value is GONE:
        if isinstance(last, int) or last in tables:
            del tables[last]
    elif isinstance(last, int) and last == len(tables):
        tables.append(value)
    else:
        tables[last] = value


def _inline(value: Any) -> Any:
    """A value as tomlkit writes it on one line, tables inside it too."""
    import tomlkit

    if isinstance(value, dict):
        table = tomlkit.inline_table()
        for key, inner in value.items():
            table[key] = _inline(inner)
        return table
    if isinstance(value, list):
        array = tomlkit.array()
        for inner in value:
            array.append(_inline(inner))
        return array
    return value
