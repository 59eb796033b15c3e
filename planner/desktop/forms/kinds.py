"""The kinds of value that a field takes: how each is read from what a person types, and shown again.

What is read is what the day file holds: text with its unit for measures and times, plain numbers for counts.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from planner.trade import units

_NUMBER = re.compile(r"\d+(?:\.\d+)?|\.\d+")
_SHORT_CLOCK = re.compile(r"(\d{1,2})[.:h]?(\d{2})?")


@dataclass(frozen=True)
class Kind:
    """A kind of value.

    ``read`` turns text into the value and raises `ValueError` with a plain message; ``show`` turns it back. ``unit``
    stands beside the field, ``example`` in it while it is empty.
    """

    unit: str
    example: str
    read: Callable[[str], Any]
    show: Callable[[Any], str] = str


def measured(unit: str, example: str, most: float) -> Kind:
    """A measure; a bare number is taken in the unit that stands beside the field."""

    def read(text: str) -> str:
        written = f"{text} {unit}" if _NUMBER.fullmatch(text) else text
        number = units.measure(written, unit)
        if number > most:
            raise ValueError(f"at most {most:g} {unit}")
        return f"{number:.10g} {unit}"

    def show(value: Any) -> str:
        return str(value).removesuffix(unit).strip() if isinstance(value, str) else f"{value:g}"

    return Kind(unit, example, read, show)


def counted(example: str, least: int, most: int, unit: str = "") -> Kind:
    """A whole number."""

    def read(text: str) -> int:
        if not text.isdecimal() or not least <= int(text) <= most:
            raise ValueError(f"a whole number from {least} to {most}")
        return int(text)

    return Kind(unit, example, read)


def numbered(unit: str, example: str, least: float, most: float, *, above_least: bool = False) -> Kind:
    """A number; ``above_least`` refuses the least itself."""

    def read(text: str) -> float:
        if not _NUMBER.fullmatch(text) or not least <= float(text) <= most or (above_least and float(text) == least):
            raise ValueError(
                f"a number {'above' if above_least else 'from'} {least:g} {'up ' if above_least else ''}to {most:g}"
            )
        return float(text)

    return Kind(unit, example, read, lambda value: f"{value:g}" if isinstance(value, int | float) else str(value))


def lasting(example: str, most: int = 14 * 24 * 60) -> Kind:
    """A length of time; a bare number is minutes."""

    def read(text: str) -> str:
        minutes = round(units.minutes(f"{text} min" if _NUMBER.fullmatch(text) else text) + 1e-9)
        if minutes > most:
            raise ValueError(f"at most {units.show_minutes(most)}")
        return units.show_minutes(minutes)

    def show(value: Any) -> str:
        try:
            minutes = units.minutes(value)
        except ValueError:
            return str(value)
        return f"{minutes:g}" if minutes < 60 else units.show_minutes(minutes)

    return Kind("min", example, read, show)


def _read_clock(text: str) -> str:
    short = _SHORT_CLOCK.fullmatch(text)
    if short is not None:
        text = f"{int(short[1]):02d}:{short[2] or '00'}"
    return units.show_clock(units.clock(text))


def _read_text(text: str) -> str:
    if len(text) > 400:
        raise ValueError("at most 400 letters")
    return text


def _read_spans(text: str) -> list[list[str]]:
    found = []
    for part in (part for part in re.split(r"[;,]", text) if part.strip()):
        ends = [end.strip() for end in re.split(r"-|–|\bto\b", part)]
        if len(ends) != 2:
            raise ValueError("from and to, for example 12:00 to 13:00; 18:00 to 20:00")
        first, second = (_read_clock(end) for end in ends)
        if units.clock(first) >= units.clock(second):
            raise ValueError(f"{first} to {second} ends before it begins")
        found.append([first, second])
    return found


def _show_spans(value: Any) -> str:
    return "; ".join(" to ".join(CLOCK.show(end) for end in span) for span in value)


def _read_words(text: str) -> list[str]:
    return [word.strip() for word in text.split(";") if word.strip()]


TEXT = Kind("", "", _read_text)
WORDS = Kind("", "one; another", _read_words, lambda value: "; ".join(str(word) for word in value))
CLOCK = Kind(
    "", "07:30", _read_clock, lambda value: value if isinstance(value, str) else units.show_clock(units.clock(value))
)
MINUTES = lasting("25")
LONG = lasting("1 h 10 min")
AREA = measured("m2", "32", 20_000)
RUN = measured("m", "14", 20_000)
MASS = measured("kg", "24", 2000)
LIFT = measured("kg", "25", 100)
LITRES = measured("L", "300", 20_000)
WHEELS = measured("kg", "80", 500)
ARMFULS = numbered("armfuls", "1", 0, 100)
LOAD_LIMIT = numbered("armfuls", "1.5", 0, 100, above_least=True)
MONEY = numbered("an hour", "24", 0, 1e5)
SPANS = Kind("", "12:00 to 13:00", _read_spans, _show_spans)
PRICE = numbered("", "420", 0, 1e7)
