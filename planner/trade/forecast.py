"""Reading a forecast: typed rows, CSV, or the JSON that hourly forecast services commonly give.

That JSON is an object with an object ``hourly`` of equally long lists (``time``, ``temperature_2m``, ...)
and, beside it, ``hourly_units``. Temperatures are in C and winds in km/h unless a unit says otherwise.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
import json
from collections.abc import Iterable, Mapping
from itertools import pairwise
from typing import Any

from planner.trade import units
from planner.trade.weather import HourOfWeather

# The names that each field goes by. Names in _PER_CENT carry per cent by convention, the others a share.
_NAMES = {
    "minute": ("minute", "time", "hour", "date"),
    "air": ("air", "air_c", "temperature", "temperature_2m", "temp", "temp_c"),
    "humidity": ("humidity", "relative_humidity", "relative_humidity_2m", "relativehumidity_2m", "rh"),
    "wind": ("wind", "wind_kmh", "wind_speed", "wind_speed_10m", "windspeed_10m"),
    "rain_chance": ("rain_chance", "rain", "precipitation_probability", "rain_percent"),
    "sun": ("sun", "sunny", "cloud_cover", "cloudcover", "cloud_percent"),
}
_PER_CENT = {
    "relative_humidity", "relative_humidity_2m", "relativehumidity_2m", "rh",
    "precipitation_probability", "rain_percent", "cloud_cover", "cloudcover", "cloud_percent",
}  # fmt: skip
_CLOUD = {"cloud_cover", "cloudcover", "cloud_percent"}
_NEEDED = ("minute", "air", "humidity", "wind")

_KMH_IN = {"km/h": 1.0, "kmh": 1.0, "m/s": 3.6, "mph": 1.609344, "mp/h": 1.609344, "kn": 1.852}
_YES = {"yes", "true", "1", "sun", "sunny"}
_NO = {"no", "false", "0", "shade", "cloud", ""}

# The sun is taken to shine on open ground when less than this share of the sky is covered: an assumption.
_COVERED = 0.5


def read_rows(
    rows: Iterable[Mapping[str, object]],
    *,
    date: dt.date | None = None,
    source: str = "forecast",
    unit_of: Mapping[str, str] | None = None,
) -> tuple[HourOfWeather, ...]:
    """Read a forecast from rows of named values.

    Parameters
    ----------
    rows
        Mappings with a time (``"07:00"``, ``"2026-06-21T07:00"``, or whole minutes from midnight), air in C,
        humidity, wind in km/h, and, if known, the chance of rain and sun (or cloud cover). Times are local.
    date
        The planned day. Rows with a date are counted from its midnight and those before it are left out.
    source
        What errors call the forecast: a file name.
    unit_of
        Units by column name, where they differ from those above ("m/s", "mph", "kn", "°F").

    Returns
    -------
    tuple of HourOfWeather
        In rising order of minute.

    Raises
    ------
    ValueError
        Naming every bad row, what is wrong in it and what would be right.
    """
    read, faults = [], []
    for number, row in enumerate(rows, start=1):
        try:
            hour = _hour(row, date, unit_of or {})
        except ValueError as fault:
            faults.append(f"{source}: row {number}: {fault}")
        else:
            if hour.minute >= 0:
                read.append(hour)
    read.sort(key=lambda hour: hour.minute)
    for one, next_one in pairwise(read):
        if one.minute == next_one.minute:
            faults.append(f"{source}: two rows for {units.show_clock(one.minute)}; keep one")
    if faults:
        raise ValueError("\n".join(faults))
    if not read:
        raise ValueError(f"{source}: no hour" + (f" for {date} or later" if date else "; give at least one row"))
    return tuple(read)


def read_csv(text: str, *, date: dt.date | None = None, source: str = "forecast") -> tuple[HourOfWeather, ...]:
    """Read a forecast from CSV text with a line of column names; see `read_rows`.

    Raises
    ------
    ValueError
        When it is no table, or a row of it is at fault.
    """
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").strip()
    first_line = text.partition("\n")[0]
    delimiter = max(",;\t", key=first_line.count)
    reader = csv.DictReader(io.StringIO(text), delimiter=delimiter, skipinitialspace=True)
    try:
        rows = [{(k or "").strip().lower(): v for k, v in row.items() if isinstance(v, str)} for row in reader]
    except csv.Error as fault:
        raise ValueError(f"{source}: line {reader.line_num}: this is no table of values ({fault})") from None
    return read_rows(rows, date=date, source=source)


def read_json(text: str, *, date: dt.date | None = None, source: str = "forecast") -> tuple[HourOfWeather, ...]:
    """Read a forecast from the JSON of an hourly service, or from a list of rows; see `read_rows`.

    Raises
    ------
    ValueError
        When it is not JSON, or not of that form; the text begins with ``source``.
    """
    try:
        found: Any = json.loads(text)
    except json.JSONDecodeError as fault:
        raise ValueError(f"{source}: line {fault.lineno}: this is not JSON ({fault.msg})") from None
    except (ValueError, RecursionError) as fault:  # a number of thousands of figures; lists in lists in lists
        raise ValueError(f"{source}: this cannot be read ({str(fault)[:60]})") from None
    unit_of: dict[str, str] = {}
    if isinstance(found, dict):
        columns, written = found.get("hourly"), found.get("hourly_units")
        if not isinstance(columns, dict) or not all(isinstance(column, list) for column in columns.values()):
            raise ValueError(f"{source}: there is no object 'hourly' with a list for each of time, temperature, ...")
        sizes = {name: len(column) for name, column in columns.items()}
        if len(set(sizes.values())) > 1:
            raise ValueError(f"{source}: the lists in 'hourly' differ in length: {sizes}")
        found = [dict(zip(columns, row, strict=True)) for row in zip(*columns.values(), strict=True)]
        unit_of = {str(k): str(v) for k, v in written.items()} if isinstance(written, dict) else {}
    if not isinstance(found, list) or not all(isinstance(row, dict) for row in found):
        raise ValueError(f"{source}: expected an object with 'hourly', or a list of rows")
    return read_rows(found, date=date, source=source, unit_of=unit_of)


def _hour(row: Mapping[str, object], date: dt.date | None, unit_of: Mapping[str, str]) -> HourOfWeather:
    values: dict[str, tuple[str, object]] = {}
    for field, names in _NAMES.items():
        name = next((name for name in names if row.get(name) not in (None, "")), None)
        if name is not None:
            values[field] = (name, row[name])
        elif field in _NEEDED:
            raise ValueError(f"no {names[0]} (a column named {', '.join(names[:-1])} or {names[-1]})")
    minute = _minute(values["minute"][1], date)
    air_name, air = values["air"]
    wind_name, wind = values["wind"]
    return HourOfWeather(
        minute,
        _celsius(_number(air_name, air), unit_of.get(air_name, "")),
        _share(*values["humidity"]),
        _number(wind_name, wind) * _kmh(unit_of.get(wind_name, "km/h")),
        _share(*values["rain_chance"]) if "rain_chance" in values else 0.0,
        _sun(*values["sun"]) if "sun" in values else False,
    )


def _minute(value: object, date: dt.date | None) -> int:
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    if isinstance(value, str) and "-" in value:
        try:
            moment = dt.datetime.fromisoformat(value.strip())
        except ValueError:
            raise ValueError(f"'{value}' is not a time; write for example '2026-06-21T07:00'") from None
        if moment.tzinfo is not None:
            raise ValueError(f"'{value}' carries a time zone; ask the service for local times without one")
        days = (moment.date() - (date or moment.date())).days
        return days * units.MINUTES_IN_A_DAY + moment.hour * 60 + moment.minute
    return units.clock(value)


def _number(name: str, value: object) -> float:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    try:
        return float(str(value).strip())
    except ValueError:
        raise ValueError(f"{name} '{value}' is not a number; write for example 12.5") from None


def _share(name: str, value: object) -> float:
    marked = isinstance(value, str) and value.strip().endswith("%")
    number = _number(name, str(value).strip().removesuffix("%") if marked else value)
    if marked or name in _PER_CENT:
        number /= 100
    if not 0 <= number <= 1:
        raise ValueError(f"{name} '{value}' is not a share; write 0.65 or '65 %'")
    return number


def _sun(name: str, value: object) -> bool:
    if name in _CLOUD:
        return _share(name, value) < _COVERED
    word = str(value).strip().lower()
    if word not in _YES | _NO:
        raise ValueError(f"{name} '{value}' is neither yes nor no")
    return word in _YES


def _celsius(number: float, unit: str) -> float:
    return (number - 32) / 1.8 if unit.strip().lower().endswith("f") else number


def _kmh(unit: str) -> float:
    if unit.strip().lower() not in _KMH_IN:
        raise ValueError(f"wind in '{unit}' is not understood; give it in km/h")
    return _KMH_IN[unit.strip().lower()]
