"""The kinds of value that a day file may hold, each read from the text a contractor writes.

Text is turned into one plain unit here and nowhere else: minutes, metres, square metres, kilograms, litres.
In Python code plain numbers in that unit are taken as they are; a file must say its units, so a bare number
there is a fault (``FILE`` is the validation context that says a file is read). Dumped in pydantic's "json"
mode each becomes such a text again.
"""

import datetime as dt
from decimal import Decimal
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainSerializer,
    StringConstraints,
    ValidationInfo,
    field_validator,
)

from planner.day.faults import shown
from planner.trade import units

FILE = {"file": True}
"""Validation context for values that come from a file: units are required."""


LONGEST = 14 * units.MINUTES_IN_A_DAY
"""The longest length of time, in minutes: a cure of two weeks."""

LATEST = 2 * units.MINUTES_IN_A_DAY
"""The last minute of a day's clock, which goes on through the night and the next day."""


class Words(BaseModel):
    """Base of everything in a day: frozen, and an unknown word is a fault, never ignored."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        populate_by_name=True,
        arbitrary_types_allowed=True,
        allow_inf_nan=False,
    )

    @field_validator("*", mode="before")
    @classmethod
    def _no_yes_for_a_number(cls, value: Any, info: ValidationInfo) -> Any:
        """Pydantic would take ``true`` for 1."""
        if isinstance(value, bool) and "bool" not in str(cls.model_fields[str(info.field_name)].annotation):
            raise ValueError(f"{str(value).lower()} is a yes or no, and belongs elsewhere; write a text or a number")
        return value


def _from_file(info: ValidationInfo) -> bool:
    return bool(info.context and info.context.get("file"))


def _minutes(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, str):
        minutes = round(units.minutes(value) + 1e-9)
        if minutes > LONGEST:
            raise ValueError(f"{shown(value)} is too long; write at most '{LONGEST // units.MINUTES_IN_A_DAY} days'")
        return minutes
    if isinstance(value, int | float) and _from_file(info):
        raise ValueError(f"{value} has no unit; write for example '{value} min' or '1h10'")
    return value


def _clock(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, str | dt.time):  # TOML has a time of its own
        minute = units.clock(value)
        if not 0 <= minute <= LATEST:
            raise ValueError(f"{shown(value)} is not of this day or the next; write '00:00' to '24:00 +1'")
        return minute
    if _from_file(info):
        raise ValueError(f"{shown(value)} is not a time of day; write for example '07:30'")
    return value


def _in_figures(value: float) -> str:
    """All the figures of a number, and no exponent: what `units.measure` reads back as the same number."""
    text = format(Decimal(repr(float(value))), "f")
    return text.removesuffix(".0")


def _measure_writer(unit: str) -> PlainSerializer:
    return PlainSerializer(lambda value: f"{_in_figures(value)} {unit}", return_type=str, when_used="json")


def _measure_reader(unit: str, example: str) -> BeforeValidator:
    def read(value: Any, info: ValidationInfo) -> Any:
        if isinstance(value, str):
            return units.measure(value, unit)
        if isinstance(value, int | float) and not isinstance(value, bool) and _from_file(info):
            raise ValueError(f"{value} has no unit; write for example '{example}'")
        return value

    return BeforeValidator(read)


Minutes = Annotated[
    int,
    BeforeValidator(_minutes),
    Field(ge=0, le=LONGEST),
    PlainSerializer(units.show_minutes, return_type=str, when_used="json"),
]
"""A length of time in whole minutes."""

BRIEFLY = 240
"""The longest that something on the side of the work takes, in minutes: four hours are a slip of the pen, or work."""


def _brief(minutes: int) -> int:
    if minutes > BRIEFLY:
        said, most = units.show_minutes(minutes), units.show_minutes(BRIEFLY)
        raise ValueError(f"'{said}' is too long for this; write at most '{most}'")
    return minutes


Brief = Annotated[Minutes, AfterValidator(_brief)]
"""Minutes of what is done on the side: arriving, setting up, a rest."""

AirTemperature = Annotated[float, Field(ge=-30, le=45)]
"""In C, of the air in which work can be asked for."""

SurfaceTemperature = Annotated[float, Field(ge=-30, le=90)]
"""In C, of a surface: dark paving in the sun is 60 and more."""

Clock = Annotated[
    int,
    BeforeValidator(_clock),
    Field(ge=0, le=LATEST),
    PlainSerializer(units.show_clock, return_type=str, when_used="json"),
]
"""A time of day in minutes after midnight of the day's date; past 24:00 is the next morning."""

Span = tuple[Clock, Clock]
"""From and to, two times of day."""

SquareMetres = Annotated[float, _measure_reader("m2", "32 m2"), Field(ge=0, le=20_000), _measure_writer("m2")]
Metres = Annotated[float, _measure_reader("m", "14 m"), Field(ge=0, le=20_000), _measure_writer("m")]
Litres = Annotated[float, _measure_reader("L", "18 L"), Field(ge=0, le=1e6), _measure_writer("L")]
Kilograms = Annotated[float, _measure_reader("kg", "12 kg"), Field(ge=0, le=2000), _measure_writer("kg")]
KilometresPerHour = Annotated[float, _measure_reader("km/h", "35 km/h"), Field(gt=0, le=200), _measure_writer("km/h")]

Key = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]*$", max_length=60)]
"""The short name by which one part of a file refers to another."""

Title = Annotated[str, StringConstraints(max_length=400, strip_whitespace=True)]
"""A free text for people: any language, any sign; it is escaped wherever it is shown."""

Armfuls = Annotated[float, Field(ge=0, le=100)]
"""Carry units: what one hand carries comfortably in one go is 1."""
