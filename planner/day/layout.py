"""How a day file is laid out: which tables get a header of their own, and which stay on one line."""

import datetime as dt
import json
from collections.abc import Iterable, Mapping
from fnmatch import fnmatchcase
from typing import Any

from planner.day.day import FORMAT, Day
from planner.day.faults import Where, dotted, toml_key
from planner.trade.units import show_clock
from planner.trade.weather import HourOfWeather

_SECTIONS = (
    "van", "rest", "meal", "places", "travel", "hands", "hands/*", "kit", "kit/*", "materials", "materials/*",
    "jobs", "jobs/*", "jobs/*/customer", "jobs/*/measures", "jobs/*/quoted", "jobs/*/grounds",
    "jobs/*/grounds/*", "jobs/*/surfaces", "jobs/*/stages", "jobs/*/stages/*",
    "customers", "customers/*", "customers/*/job", "customers/*/job/customer", "customers/*/job/grounds",
    "customers/*/job/grounds/*",
)  # fmt: skip
_LISTS_OF_SECTIONS = ("jobs/*/waits", "jobs/*/recipes", "customers/*/job/recipes")
_DOTTED = ("jobs/*/stages/*/methods",)
_WIDTH = 100


def day_to_toml(day: Day) -> str:
    """A day as the text of a day file: what is as usual is left out, and quantities carry their units."""
    return tables_to_toml(day_tables(day))


def day_tables(day: Day) -> dict[str, Any]:
    """A day as the plain tables that its file would hold."""
    said = day.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    tables: dict[str, Any] = {"format": FORMAT} | said | {"date": day.date}
    if day.rest is None:
        tables["rest"] = "none"
    if day.weather:
        tables["weather"] = [
            {"time": show_clock(hour.minute)} | {k: v for k, v in row.items() if k != "minute" and v is not None}
            for hour, row in zip(day.weather, said["weather"], strict=True)
        ]
    for key, piece in tables.get("kit", {}).items():
        if not piece:  # its name alone would mean the trade library's
            piece["load"] = day.kit[key].load
    for job in tables["jobs"].values():
        for stage in job["stages"].values():
            for method in stage["methods"].values():
                if "rate" not in method:
                    method.setdefault("minutes", "0 min")  # to say nothing of the time would be a fault
    return tables


def weather_tables(hours: Iterable[HourOfWeather]) -> list[dict[str, Any]]:
    """Hours of a forecast as the rows that a day file has of them."""
    words = ("air", "humidity", "wind", "rain_chance", "sun")
    return [{"time": show_clock(hour.minute)} | {word: getattr(hour, word) for word in words} for hour in hours]


def tables_to_toml(tables: Mapping[str, Any]) -> str:
    """Tables as the text of a day file, in their own order but for single values, which come first."""
    return "\n\n".join(_sections((), tables)) + "\n"


def section_to_toml(place: Where, table: Mapping[str, Any]) -> str:
    """One table with its header, and the tables inside it; at a place in a list, as its next item."""
    if isinstance(place[-1], int):
        return _list_item(place[:-1], table) + "\n"
    return "\n\n".join(_sections(place, table)) + "\n"


def is_section(place: Where) -> bool:
    """Whether a table at this place gets a header of its own."""
    return _is_among(place, _SECTIONS)


def is_list_of_sections(place: Where) -> bool:
    """Whether each item of a list at this place gets a header of its own."""
    return _is_among(place, _LISTS_OF_SECTIONS)


def _is_among(place: Where, patterns: tuple[str, ...]) -> bool:
    if any(isinstance(part, int) for part in place):
        return False
    parts = [str(part).replace("/", "-") for part in place]
    return any(pattern.count("/") == len(parts) - 1 and fnmatchcase("/".join(parts), pattern) for pattern in patterns)


def _sections(place: Where, table: Mapping[str, Any]) -> list[str]:
    """The texts of a table and of the tables inside it that have their own headers."""
    lines, inner = [], []
    for key, value in table.items():
        here = (*place, key)
        if isinstance(value, Mapping) and is_section(here):
            inner += _sections(here, value)
        elif isinstance(value, list) and value and is_list_of_sections(here):
            inner += [_list_item(here, row) for row in value]
        elif isinstance(value, Mapping) and value and _is_among(here, _DOTTED):
            lines += [_pair(f"{toml_key(key)}.{toml_key(k)}", v) for k, v in value.items()]
        else:
            lines.append(_pair(toml_key(key), value))
    if place and (lines or not inner):
        lines.insert(0, f"[{dotted(place)}]")
    return ["\n".join(lines), *inner] if lines else inner


def _list_item(place: Where, row: Mapping[str, Any]) -> str:
    return "\n".join([f"[[{dotted(place)}]]", *(_pair(toml_key(key), value) for key, value in row.items())])


def _pair(key: str, value: Any) -> str:
    line = f"{key} = {toml_value(value)}"
    if isinstance(value, list) and len(line) > _WIDTH:
        return "\n".join([f"{key} = [", *(f"    {toml_value(item)}," for item in value), "]"])
    return line


def toml_value(value: Any) -> str:
    """A plain value as TOML writes it on one line. Raises `ValueError` for what TOML has no word for."""
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, dt.date | dt.time):
        return value.isoformat()
    if isinstance(value, list | tuple):
        return f"[{', '.join(toml_value(item) for item in value)}]"
    if isinstance(value, Mapping):
        pairs = ", ".join(f"{toml_key(str(key))} = {toml_value(item)}" for key, item in value.items())
        return f"{{ {pairs} }}" if pairs else "{}"
    raise ValueError(f"a day file has no word for {value!r}")
