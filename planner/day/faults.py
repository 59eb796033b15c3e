"""What is wrong in a day file, where, and what would be right."""

import difflib
import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

Where = tuple[str | int, ...]
"""A place in a day file: the names of tables and keys from the top, and numbers (from 0) in lists."""

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_MOST_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong.

    Attributes
    ----------
    place
        Where, from the top of the file; empty when it is the file as a whole.
    line
        The line of the file, counted from 1; None when there is no text that it could be found in.
    wrong, right
        What is wrong, and what would be right.
    is_too_much
        Whether less of the work would be right too: of what a recipe laid out by a measure, that is all that can be
        said.
    """

    place: Where
    line: int | None
    wrong: str
    right: str
    is_too_much: bool = False

    def __str__(self) -> str:
        said = f"{self.wrong}; {self.right}" if self.right else self.wrong
        return f"{dotted(self.place)}: {said}" if self.place else said


class DayFaults(ValueError):  # noqa: N818 - a fault is the project's word for what a person can put right
    """A day file cannot be used; the text has one line for each fault.

    Attributes
    ----------
    path : Path or None
        The file; None for a day that was made in code.
    faults : tuple of Fault
        Every fault that was found, in the order of the file.
    """

    is_told = True

    def __init__(self, path: Path | None, faults: Iterable[Fault]) -> None:
        self.path = path
        self.faults = tuple(sorted(faults, key=lambda fault: fault.line or 0))
        super().__init__("\n".join(self._line(fault) for fault in self.faults))

    def _line(self, fault: Fault) -> str:
        file = str(self.path) if self.path is not None else "the day"
        return f"{file}:{fault.line}: {fault}" if fault.line is not None else f"{file}: {fault}"


def dotted(place: Where) -> str:
    """A place as it is written in TOML: ``jobs.larch.waits[0].least``."""
    text = ""
    for part in place:
        if isinstance(part, int):
            text += f"[{part}]"
        else:
            text += f".{toml_key(part)}" if text else toml_key(part)
    return text


def toml_key(name: str) -> str:
    """A key as TOML writes it: bare where it may be, else in quotes."""
    return name if _BARE_KEY.fullmatch(name) else json.dumps(name, ensure_ascii=False)


def shown(value: object) -> str:
    """A value from a file, short, in quotes and on one line; a list or a table only by its kind."""
    if isinstance(value, list | tuple | dict):
        return "a table" if isinstance(value, dict) else "a list"
    text = str(value).lower() if isinstance(value, bool) else _text_of(value)
    text = text.encode("unicode_escape").decode("ascii") if not text.isprintable() else text
    return f"'{text if len(text) <= _MOST_SHOWN else text[:_MOST_SHOWN] + '...'}'"


def _text_of(value: object) -> str:
    try:
        return str(value)
    except ValueError:  # an integer of thousands of figures
        return "a number of thousands of figures"


def nearest(word: str, known: Iterable[str], likeness: float = 0.6) -> str | None:
    """The known word that was most likely meant; None when none is as like as that (1 is the same word)."""
    by_lower = {name.lower(): name for name in known}
    found = difflib.get_close_matches(word[:_MOST_SHOWN].lower(), by_lower, n=1, cutoff=likeness)
    return by_lower[found[0]] if found else None


def suggestion(word: str, known: Sequence[str] | Iterable[str], kind: str = "") -> str:
    """What would be right in place of an unknown word: the nearest one, else what there is."""
    names = list(known)
    near = nearest(word, names)
    if near is not None:
        return f"did you mean '{near}'?"
    if not names:
        return f"there is no {kind} in this file yet: add it, or leave this out" if kind else "leave it out"
    first = ", ".join(f"'{name}'" for name in names[:8])
    return f"it may be {first}" + (f" or {len(names) - 8} more" if len(names) > 8 else "")
