"""Units at the edge: what a person writes, turned into plain floats and whole minutes, and back.

Inside the planner a length is a float in metres and a time is a float or an integer in minutes. This is
the one place where texts such as ``"32 m2"``, ``"1 h 10 min"`` and ``"07:30"`` are read and written. The
common units are read from a small table, because importing pint costs a third of a second and most
days need nothing else; every other unit is given to pint.
"""

from __future__ import annotations

import datetime as dt
import math
import re
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    import pint

MINUTES_IN_A_DAY = 24 * 60


class _Unit(NamedTuple):
    """A unit as powers of metre, kilogram and second, and its size in those."""

    powers: tuple[int, int, int]
    size: float


_LENGTH, _AREA, _VOLUME = (1, 0, 0), (2, 0, 0), (3, 0, 0)
_MASS, _TIME, _NUMBER = (0, 1, 0), (0, 0, 1), (0, 0, 0)
_STEPS = (0, 0, -9)  # steps of a stair are counted, and nothing else is measured so

_PLAIN: dict[str, _Unit] = {
    name: _Unit(powers, size)
    for powers, size, names in (
        (_LENGTH, 1.0, "m metre metres meter meters"),
        (_LENGTH, 1e3, "km"),
        (_LENGTH, 1e-2, "cm"),
        (_LENGTH, 1e-3, "mm"),
        (_LENGTH, 1e-6, "um"),
        (_AREA, 1.0, "m2"),
        (_AREA, 1e-4, "cm2"),
        (_AREA, 1e-6, "mm2"),
        (_VOLUME, 1.0, "m3"),
        (_VOLUME, 1e-3, "L l litre litres liter liters"),
        (_VOLUME, 1e-6, "mL ml"),
        (_MASS, 1.0, "kg"),
        (_MASS, 1e-3, "g"),
        (_MASS, 1e3, "t tonne tonnes"),
        (_TIME, 1.0, "s sec second seconds"),
        (_TIME, 60.0, "min mins minute minutes"),
        (_TIME, 3600.0, "h hr hrs hour hours"),
        (_TIME, 86400.0, "d day days"),
        ((0, 0, 2), 1.0, "s2"),
        (_NUMBER, 1e-2, "% percent"),
        (_STEPS, 1.0, "steps step"),
    )
    for name in names.split()
}

# What a unit measures, and a text that would be right: for error messages only.
_SPOKEN: dict[str, tuple[str, str]] = {
    "m": ("a length", "14 m"),
    "mm": ("a length", "25 mm"),
    "m2": ("an area", "32 m2"),
    "m3": ("a volume", "0.5 m3"),
    "L": ("a volume", "18 L"),
    "kg": ("a mass", "20 kg"),
    "min": ("a time", "1 h 10 min"),
    "kg/m2": ("a mass for each area", "2.5 kg/m2"),
    "kg/m3": ("a density", "1600 kg/m3"),
    "L/m2": ("a volume for each area", "0.3 L/m2"),
    "L/min": ("a flow", "12 L/min"),
    "m2/min": ("an area for each time", "0.5 m2/min"),
    "m/min": ("a length for each time", "2 m/min"),
    "km/h": ("a speed", "15 km/h"),
    "m/s2": ("a vibration", "4.5 m/s2"),
    "%": ("a share", "12 %"),
    "steps": ("a number of steps", "8 steps"),
}

# These differ between countries by a fifth, so a bare one is refused rather than guessed.
_TWO_MEANINGS = re.compile(r"\b(?:gal|gallons?|pints?|quarts?)\b")

_NUMBER_THEN_UNIT = re.compile(r"([+-]?(?:\d+\.?\d*|\.\d+))\s*(.*)")
_DURATION_PART = re.compile(r"(\d+\.?\d*|\.\d+)\s*([A-Za-z]*)\s*")
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?:\s*([+-]\d{1,2}))?")

MOST_SIGNS = 80
"""No measure, size, duration or time of day is longer; what is longer is not read at all."""

_MOST_SAID = 60

_NAME = r"[A-Za-z][A-Za-z_]{0,30}"
_UNIT = re.compile(rf"(?:{_NAME}[23]?|%)(?:/{_NAME}[23]?)?")
"""A unit as we know them: a name, squared or cubed, perhaps by another. No powers but those, and no expressions."""


@cache
def registry() -> pint.UnitRegistry[float]:
    """The one pint registry of the program, made when it is first needed."""
    import pint

    return pint.UnitRegistry()


def measure(text: object, unit: str) -> float:
    """Read a measure such as ``"32 m2"`` and give its number in the unit asked for.

    Parameters
    ----------
    text
        A number and a unit. Square metres may be written ``m2``, ``m²``, ``m^2`` or ``sq m``.
    unit
        The unit of the result, for example ``"m2"``, ``"mm"``, ``"L"``, ``"kg/m2"``, ``"%"``.

    Returns
    -------
    float
        The number, at least 0, in `unit`.

    Raises
    ------
    ValueError
        When the text is no number with a unit of that kind; the message says what would be right.
    """
    if not isinstance(text, str):
        raise ValueError(_not_of_its_kind(text, unit, "it has no unit"))
    if len(text) > MOST_SIGNS:
        raise ValueError(_not_of_its_kind(text, unit, "it is far too long"))
    if "," in text:
        raise ValueError(_not_of_its_kind(text, unit, "write numbers without a comma"))
    found = _NUMBER_THEN_UNIT.fullmatch(text.strip())
    if found is None:
        raise ValueError(_not_of_its_kind(text, unit))
    number, written = float(found[1]), _tidy(found[2])
    if not written:
        raise ValueError(_not_of_its_kind(text, unit, "it has no unit"))
    if number < 0:
        raise ValueError(_not_of_its_kind(text, unit, "it is below zero"))
    if _TWO_MEANINGS.search(written):
        raise ValueError(_not_of_its_kind(text, unit, "this unit differs between countries"))
    ratio = _ratio(written, unit)
    if ratio is None or not math.isfinite(number * ratio):
        raise ValueError(_not_of_its_kind(text, unit))
    return number * ratio


def lengths(text: object, unit: str = "mm") -> tuple[float, ...]:
    """Read sizes such as ``"600 x 300 mm"`` or ``"0.6 m x 30 cm"``; a part without a unit takes the last one.

    Raises `ValueError` when a part is not a length above zero.
    """
    if not isinstance(text, str) or len(text) > MOST_SIGNS:
        raise ValueError(_not_sizes(text))
    parts = [part.strip() for part in re.split(r"[x×*]", text)]
    last = re.sub(r"^[\d.\s]*", "", parts[-1])
    sizes = []
    for part in parts:
        whole = part if re.search(r"[A-Za-z]", part) else f"{part} {last}"
        try:
            size = measure(whole, unit)
        except ValueError:
            raise ValueError(_not_sizes(text)) from None
        if size == 0:
            raise ValueError(_not_sizes(text))
        sizes.append(size)
    return tuple(sizes)


def minutes(text: object) -> float:
    """Read a duration: ``"1h10"``, ``"1 h 10 min"``, ``"6 min"``, ``"90 s"``, ``"0.5 h"``, ``"2 days"``.

    Returns
    -------
    float
        Minutes, at least 0.

    Raises
    ------
    ValueError
        For a bare number (its unit cannot be guessed) and for anything that is not a duration.
    """
    if isinstance(text, str) and text.strip() and len(text) <= MOST_SIGNS:
        total, rest, after_hours = 0.0, text.strip(), False
        while found := _DURATION_PART.match(rest):
            number, unit = float(found[1]), found[2]
            if not unit and not (after_hours and number < 60 and found.end() == len(rest)):
                break
            ratio = _ratio(unit or "min", "min")
            if ratio is None:
                break
            after_hours = _ratio(unit or "min", "h") == 1
            total += number * ratio
            rest = rest[found.end() :]
        if not rest and math.isfinite(total):
            return total
    raise ValueError(f"{_said(text)} is not a duration; write for example '6 min', '1 h 10 min' or '90 s'")


def show_minutes(minutes: float) -> str:
    """Write minutes for a person, to the whole minute: ``70`` becomes ``"1 h 10 min"``."""
    whole = math.floor(abs(minutes) + 0.5)
    hours, rest = divmod(whole, 60)
    shown = " ".join([f"{hours} h"] * (hours > 0) + [f"{rest} min"] * (rest > 0 or hours == 0))
    return f"-{shown}" if minutes < 0 < whole else shown


def clock(text: object) -> int:
    """Read a time of day as minutes from midnight: ``"07:30"`` is 450; ``"00:20 +1"`` is 1460.

    A `datetime.time`, which is what TOML makes of an unquoted ``07:30:00``, is read too.

    Raises
    ------
    ValueError
        When the text is no time from 00:00 to 24:00.
    """
    if isinstance(text, dt.time) and text.tzinfo is None and text.second == text.microsecond == 0:
        return text.hour * 60 + text.minute
    found = _CLOCK.fullmatch(text.strip()) if isinstance(text, str) and len(text) <= MOST_SIGNS else None
    if found is not None:
        minute = int(found[1]) * 60 + int(found[2])
        if int(found[2]) < 60 and minute <= MINUTES_IN_A_DAY:
            return minute + int(found[3] or 0) * MINUTES_IN_A_DAY
    raise ValueError(f"{_said(text)} is not a time of day; write for example '07:30'")


def show_clock(minute: float) -> str:
    """Write minutes from midnight as a time of day: 450 is ``"07:30"``, 1460 is ``"00:20 +1"``."""
    whole = math.floor(minute + 0.5)
    if whole == MINUTES_IN_A_DAY:
        return "24:00"
    days, rest = divmod(whole, MINUTES_IN_A_DAY)
    shown = f"{rest // 60:02d}:{rest % 60:02d}"
    return f"{shown} {days:+d}" if days else shown


def _tidy(unit: str) -> str:
    """One spelling for the ways in which people write powers and quotients."""
    unit = unit.strip().replace("²", "2").replace("³", "3").replace("µ", "u")
    unit = re.sub(r"\s+per\s+|^per\s+|\s*/\s*", "/", unit)
    unit = re.sub(r"\b(?:sq|square)\.?\s+([A-Za-z]+)", r"\g<1>2", unit)
    unit = re.sub(r"\b(?:cu|cubic)\.?\s+([A-Za-z]+)", r"\g<1>3", unit)
    unit = re.sub(r"\b(?:metres?|meters?)([23])\b", r"m\1", unit)
    return re.sub(r"(?:\^|\*\*)(?=[23])", "", unit)


def _ratio(written: str, unit: str) -> float | None:
    """How many of `unit` one `written` is; None when they do not measure the same thing."""
    if written == unit:
        return 1.0 if _from_table(unit) or _by_pint(unit, unit) else None
    one, other = _from_table(written), _from_table(unit)
    if one is None or other is None:
        return _by_pint(written, unit)
    return one.size / other.size if one.powers == other.powers else None


def _from_table(unit: str) -> _Unit | None:
    """A plain unit, or a quotient of two, when the table has them."""
    above, slash, below = unit.partition("/")
    top = _PLAIN.get(above)
    if top is None or not slash:
        return top
    bottom = _PLAIN.get(below)
    if bottom is None:
        return None
    a, b = top.powers, bottom.powers
    return _Unit((a[0] - b[0], a[1] - b[1], a[2] - b[2]), top.size / bottom.size)


@lru_cache(maxsize=512)
def _by_pint(written: str, unit: str) -> float | None:
    if not _UNIT.fullmatch(written):
        return None
    import pint

    units: Any = registry()
    theirs, ours = (re.sub(r"([A-Za-z])(\d)\b", r"\1**\2", text) for text in (written, unit))
    try:
        one, two = (units.Quantity(n, units.parse_units(theirs)).to(ours).magnitude for n in (1.0, 2.0))
    except (pint.PintError, AttributeError, ValueError, TypeError, LookupError, ArithmeticError):
        return None
    # A temperature scale has its zero elsewhere, so a ratio would be wrong.
    return float(one) if math.isclose(two, 2 * one) else None


def _not_of_its_kind(text: object, unit: str, why: str = "") -> str:
    kind, example = _SPOKEN.get(unit, (f"a measure in {unit}", f"10 {unit}"))
    reason = f" ({why})" if why else ""
    return f"{_said(text)} is not {kind}{reason}; write for example '{example}'"


def _not_sizes(text: object) -> str:
    return f"{_said(text)} is not a size; write for example '600 x 300 mm'"


def _said(text: object) -> str:
    """What was written, in quotes and short: who wrote it knows it again, and nobody reads a page of it."""
    try:
        words = str(text)
    except ValueError:  # an integer of thousands of figures
        words = "a number of thousands of figures"
    return f"'{words}'" if len(words) <= _MOST_SAID else f"'{words[:_MOST_SAID]}...'"
