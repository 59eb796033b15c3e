"""Tables of the trade: the shipped ones, with the user's own file laid over them.

Each shipped table is a file ``resources/trade/NAME.toml``, or a folder of files (``recipes``). The user's
one file is ``trade.toml`` in their configuration folder; its table ``[NAME]`` is laid over the shipped table
of that name, value by value, so it need hold only what differs.
"""

from __future__ import annotations

import tomllib
from copy import deepcopy
from functools import lru_cache
from pathlib import Path
from typing import Any

from planner.resources import resource

_KINDS: dict[type, str] = {
    dict: "a table", list: "a list", str: "text", bool: "true or false", int: "a number", float: "a number",
}  # fmt: skip


def user_file() -> Path:
    """Where the user's own values lie; the file need not exist."""
    from platformdirs import user_config_path

    return user_config_path("slackwater", appauthor=False) / "trade.toml"


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
    path = user_file()
    try:
        changed = path.stat().st_mtime_ns
    except OSError:
        changed = None
    return deepcopy(_merged(name, path, changed))


def text(entry: dict[str, Any], field: str, place: str) -> str:
    """A text that an entry must have; `place` is where the entry stands, for the error.

    Raises
    ------
    ValueError
        When it is missing, empty or no text.
    """
    value = entry.get(field)
    if not isinstance(value, str) or not value.strip():
        raise ValueError(f'{user_file()}: {place} needs {field} = "...", a text that is not empty')
    return value


def number(entry: dict[str, Any], field: str, place: str) -> float:
    """A number above 0 that an entry must have; `place` is where the entry stands, for the error.

    Raises
    ------
    ValueError
        When it is missing or no number above 0.
    """
    value = entry.get(field)
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < float("inf"):
        raise ValueError(f"{user_file()}: {place} needs {field} = a number above 0, and has {value!r}")
    return float(value)


@lru_cache(maxsize=32)
def _merged(name: str, path: Path, changed: int | None) -> dict[str, Any]:
    shipped = _shipped(name)
    if changed is None:
        return shipped
    own = _read(path)
    known = sorted(file.stem for file in resource("trade").iterdir())
    for section, values in own.items():
        if section not in known:
            raise ValueError(f"{path}: [{section}] is no table of the trade; there are {', '.join(known)}")
        if not isinstance(values, dict):
            raise ValueError(f"{path}: {section} is {_kind(values)}; a table [{section}] belongs here")
    return _lay_over(shipped, own.get(name, {}), path, name)


def _shipped(name: str) -> dict[str, Any]:
    """A file of that name, or a folder of files, each a table of its own under the file's name."""
    folder = resource("trade") / name
    if folder.is_dir():
        return {file.stem: _read(file) for file in sorted(folder.glob("*.toml"))}
    return _read(resource("trade", f"{name}.toml"))


def _lay_over(shipped: dict[str, Any], own: dict[str, Any], path: Path, place: str) -> dict[str, Any]:
    """The shipped table with the user's values in place of its own; kinds must agree."""
    result = dict(shipped)
    for key, value in own.items():
        here = f"{place}.{key}"
        if key not in shipped:
            result[key] = value
        elif _kind(value) != _kind(shipped[key]):
            raise ValueError(f"{path}: {here} is {_kind(value)}; {_kind(shipped[key])} belongs here")
        elif isinstance(value, dict):
            result[key] = _lay_over(shipped[key], value, path, here)
        else:
            result[key] = value
    return result


def _kind(value: object) -> str:
    return _KINDS.get(type(value), "a date or time")


def _read(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except tomllib.TOMLDecodeError as fault:
        raise ValueError(f"{path}: this is not TOML: {fault}") from None
    except UnicodeDecodeError:
        raise ValueError(f"{path}: this is not text in UTF-8; save it as UTF-8") from None
    except OSError as fault:
        raise ValueError(f"{path}: this cannot be read: {fault.strerror}") from None
