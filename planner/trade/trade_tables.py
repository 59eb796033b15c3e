"""Tables of the trade: the shipped ones, with the user's own file laid over them.

Each shipped table is a file ``resources/trade/NAME.toml``, or a folder of files (``recipes``). The user's
one file is ``trade.toml`` in their configuration folder; its table ``[NAME]`` is laid over the shipped table
of that name, value by value, so it need hold only what differs.
"""

from __future__ import annotations

import difflib
import os
import stat
import tomllib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from copy import deepcopy
from functools import lru_cache
from pathlib import Path
from typing import Any

from platformdirs import user_config_path

from planner.resources import resource
from planner.trade.deep_names import line_of_a_deep_name

Table = dict[str, Any]
"""A table as a TOML file gives it."""

_KINDS: dict[type, str] = {
    dict: "a table", list: "a list", str: "text", bool: "true or false", int: "a number", float: "a number",
}  # fmt: skip


MOST_BYTES = 2**20
"""The largest file of the user's own values that is read."""


OURS = ("hands", "yard", "van", "travel", "usual")
"""Tables of the user's file that no shipped one lies under: what a new day begins with (`planner.trade.ours`)."""

_looked_at: list[Path] = []
"""A file that is looked at in place of the user's own; the last counts."""


@contextmanager
def looking_at(path: Path) -> Iterator[None]:
    """Take another file for the user's own within this block, to see whether it would hold."""
    _looked_at.append(path)
    try:
        yield
    finally:
        _looked_at.pop()


def user_file() -> Path:
    """Where the user's own values lie; the file need not exist."""
    return _looked_at[-1] if _looked_at else user_config_path("slackwater", appauthor=False) / "trade.toml"


def table(name: str) -> dict[str, Any]:
    """A table of the trade as the user wants it: the shipped one, with their own values laid over it.

    Parameters
    ----------
    name
        The shipped file's name without ``.toml``: "limits", "chemicals", "cautions", ...

    Returns
    -------
    dict
        A copy that the caller may change. Entries stand in the order of the shipped file, new ones last.

    Raises
    ------
    ValueError
        When the user's file cannot be read; the message names the file and the place in it.
    FileNotFoundError
        When no such table is shipped.
    """
    return deepcopy(_merged(name, *own_state()))


State = tuple[int, int, int] | None
"""By which a state of the user's file is known again; None where there is no such file."""

_left_out: set[State] = set()
"""States of the user's file that do not hold: the shipped tables are used in their place."""


def state_of_user_file() -> State:
    """The state that the user's file is in now."""
    try:
        found = user_file().stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def own_state() -> tuple[Path, State]:
    """Where the user's own values lie, and the state of that file; None for one that is not there or is left out."""
    state = state_of_user_file()
    return user_file(), None if state in _left_out else state


def leave_out(state: State) -> None:
    """Use the shipped tables alone as long as the user's file stays in this state."""
    if state is not None:
        _left_out.add(state)


def take_in(state: State) -> None:
    """Use the user's file again, to look at it anew."""
    _left_out.discard(state)


def own_tables() -> dict[str, Any]:
    """All that the user's own file says.

    Raises `ValueError` when it cannot be read; the message names the file and the place in it.
    """
    return _read(user_file(), MOST_BYTES)


def laid_over(name: str, own: dict[str, Any]) -> dict[str, Any]:
    """A shipped table with values of a user laid over it; those of another kind than belongs there are left out."""
    return _lay_over(_shipped(name), own, user_file(), name, [])


def shipped(name: str) -> dict[str, Any]:
    """A table as it is shipped, without the user's own values."""
    return deepcopy(_shipped(name))


def text(entry: dict[str, Any], field: str, place: str) -> str:
    """A text that an entry must have; `place` is where the entry stands, for the error.

    Raises `ValueError` when it is missing, empty or no text.
    """
    value = entry.get(field)
    if not isinstance(value, str) or not value.strip():
        raise ValueError(f'{user_file()}: {place} needs {field} = "...", a text that is not empty')
    return value


def number(entry: dict[str, Any], field: str, place: str) -> float:
    """A number above 0 that an entry must have; `place` is where the entry stands, for the error.

    Raises `ValueError` when it is missing or no number above 0.
    """
    value = entry.get(field)
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < float("inf"):
        raise ValueError(f"{user_file()}: {place} needs {field} = a number above 0, and has {value!r}")
    return float(value)


def texts(entry: dict[str, Any], field: str, place: str) -> list[str]:
    """The texts in a list that an entry may have. Raises `ValueError` when it is there and no list of texts."""
    value = entry.get(field, [])
    if not isinstance(value, list) or not all(isinstance(one, str) and one.strip() for one in value):
        raise ValueError(f'{user_file()}: {place} needs {field} = ["..."], a list of texts')
    return value


def degrees(entry: dict[str, Any], field: str, place: str) -> float | None:
    """A temperature in C that an entry may have. Raises `ValueError` when it is there and no number."""
    value = entry.get(field)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not -100 < value < 100:
        raise ValueError(f"{user_file()}: {place} needs {field} = a temperature in C, and has {value!r}")
    return float(value)


@lru_cache(maxsize=32)
def _merged(name: str, path: Path, state: State) -> dict[str, Any]:
    shipped = _shipped(name)
    if state is None:
        return shipped
    own = _read(path, MOST_BYTES)
    known = sorted(file.stem for file in resource("trade").iterdir())
    faults = []
    for section, values in own.items():
        if section not in (*known, *OURS):
            faults.append(f"{path}: [{section}] is no table of the trade; there are {', '.join([*known, *OURS])}")
        elif not isinstance(values, dict):
            faults.append(f"{path}: {section} is {_kind(values)}; a table [{section}] belongs here")
    laid = {} if faults else _lay_over(shipped, own.get(name, {}), path, name, faults)
    if faults:
        raise ValueError("\n".join(faults))
    return laid


def _shipped(name: str) -> dict[str, Any]:
    """A file of that name, or a folder of files, each a table of its own under the file's name."""
    if (resource("trade") / name).is_dir():
        return {part: shipped_in(name, part) for part in names_in(name)}
    return _read(resource("trade", f"{name}.toml"))


def names_in(name: str) -> list[str]:
    """The names of the tables in a shipped folder, in their order."""
    return sorted(file.stem for file in resource("trade", name).glob("*.toml"))


def shipped_in(name: str, part: str) -> dict[str, Any]:
    """One table of a shipped folder, as it is shipped; the caller may change it."""
    return _read(resource("trade", name, f"{part}.toml"))


def _lay_over(
    shipped: dict[str, Any], own: dict[str, Any], path: Path, place: str, faults: list[str]
) -> dict[str, Any]:
    """The shipped table with the user's values in place of its own; kinds must agree, and faults say where not."""
    result = dict(shipped)
    for key, value in own.items():
        here = f"{place}.{key}"
        if key not in shipped:
            result[key] = value
        elif _kind(value) != _kind(shipped[key]):
            faults.append(f"{path}: {here} is {_kind(value)}; {_kind(shipped[key])} belongs here")
        elif isinstance(value, dict):
            result[key] = _lay_over(shipped[key], value, path, here, faults)
        else:
            result[key] = value
    return result


def _kind(value: object) -> str:
    return _KINDS.get(type(value), "a date or time")


def text_of_user_file() -> str:
    """The text of the user's file. Raises `ValueError` when it is no plain file of text, or far too large."""
    return _text(user_file(), MOST_BYTES)


def _read(path: Path, most: int | None = None) -> dict[str, Any]:
    text = _text(path, most)
    if (line := line_of_a_deep_name(text)) is not None:
        raise ValueError(f"{path}: a name has too many parts (at line {line}, column 1)")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise ValueError(f"{path}: this is not TOML: {fault}") from None
    except RecursionError:
        raise ValueError(f"{path}: this is nested far too deeply") from None
    except ValueError as fault:  # a number of thousands of figures
        raise ValueError(f"{path}: a value cannot be read ({fault})") from None


def _text(path: Path, most: int | None) -> str:
    try:
        if most is not None:
            found = os.stat(path)
            if not stat.S_ISREG(found.st_mode):  # a pipe or a device would keep us waiting
                raise ValueError(f"{path}: this is not a plain file")
            if found.st_size > most:
                raise ValueError(f"{path}: this is {found.st_size / 2**20:.1f} MB large; at most 1 MB is read")
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise ValueError(f"{path}: this is not text in UTF-8; save it as UTF-8") from None
    except OSError as fault:
        raise ValueError(f"{path}: this cannot be read: {fault.strerror}") from None


def nearest_or_all(word: str, known: Iterable[str]) -> str:
    """What would be right in place of an unknown word: the nearest known one, else all there are."""
    names = sorted(known)
    near = difflib.get_close_matches(word.lower()[:60], names, n=1, cutoff=0.6)
    if near:
        return f"did you mean '{near[0]}'?"
    return "it may be " + ", ".join(f"'{name}'" for name in names) if names else "leave it out"


def table_in(table: Any, key: str) -> Table:
    """The table under a key; an empty one when there is none, or something else."""
    value = table.get(key) if isinstance(table, dict) else None
    return value if isinstance(value, dict) else {}


def texts_in(table: Any, key: str) -> list[str]:
    """The texts in the list under a key; none when there is no list."""
    value = table.get(key) if isinstance(table, dict) else None
    return [text for text in value if isinstance(text, str)] if isinstance(value, list) else []
