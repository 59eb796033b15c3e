"""The day: everything planned for one date."""

import datetime as dt
import math
from fractions import Fraction
from typing import Annotated, Any, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from planner.day.hands import Break, Hand, Meal, Place, Travel
from planner.day.jobs import Job, Stage
from planner.day.kit import Kit, Material
from planner.day.stage_kinds import LADDER
from planner.day.words import LATEST, Clock, Key, Litres, Minutes, Title, Words
from planner.trade.forecast import read_rows
from planner.trade.weather import HourOfWeather

FORMAT: Final = 1
"""The version of the day file that this program writes."""

EARTH_RADIUS_KM = 6371.0


class Van(Words):
    """Where the van starts and ends its day, the order in which things come out of it, and the water in its tank."""

    starts_at: Key
    ends_at: Key
    groups: tuple[Title, ...] = ()
    tank: Litres | None = None


class Day(Words):
    """Everything planned for one date: the van, the hands, the kit, the travel, the weather, the jobs.

    ``start`` is the earliest the van leaves, ``finish`` the latest it should be home; ``fixed_start`` makes
    it leave at ``start``. ``crossing_price`` is how many minutes at home one restricted crossing is worth. ``sure`` is
    the part of all days in which each promise, window, most of a wait and closing hour is to be kept, slow as stages
    may be (0.9: nine of ten); where it is left out they are kept on likely times.
    ``rest`` is the break that every hand gets; a file says ``rest = "none"`` for a day without. ``meal`` is
    that of a long day, if there is to be one. ``weather``
    keeps the forecast as far as a day's clock goes, to the end of the next day.
    """

    format: Literal[1] = FORMAT
    title: Title = ""
    date: Annotated[dt.date, Field(ge=dt.date(2000, 1, 1), lt=dt.date(2200, 1, 1))]
    time_zone: Title = "Europe/London"
    start: Clock = 450
    finish: Clock = 1050
    fixed_start: bool = False
    crossing_price: Minutes = 6
    sure: Annotated[float, Field(ge=0.5, le=0.99)] | None = None
    lights: bool = False
    van: Van
    rest: Break | None = Break()
    meal: Meal | None = None
    hands: Annotated[dict[Key, Hand], Field(min_length=1, max_length=6)]
    places: Annotated[dict[Key, Place], Field(min_length=1)]
    travel: Travel = Travel()
    kit: dict[Key, Kit] = {}
    materials: dict[Key, Material] = {}
    weather: tuple[HourOfWeather, ...] = ()
    jobs: Annotated[dict[Key, Job], Field(min_length=1)]

    @field_validator("rest", mode="before")
    @classmethod
    def _rest_or_none(cls, value: Any) -> Any:
        """TOML has no word for nothing, and leaving it out means the usual break."""
        return None if value == "none" else value

    @field_validator("weather", mode="before")
    @classmethod
    def _weather_rows(cls, value: Any, info: ValidationInfo) -> Any:
        """Rows of named values become hours; hours past the clock of the day are let go."""
        if not isinstance(value, list | tuple):
            return value
        hours = value
        if value and all(isinstance(row, dict) for row in value):
            try:
                hours = read_rows(value, date=info.data.get("date"), source="weather")
            except OverflowError:
                raise ValueError("a number is too large; air is in C, humidity a share, wind in km/h") from None
            except ValueError as fault:  # the place is said where it is told
                raise ValueError(str(fault).replace("weather: ", "")) from None
        return tuple(h for h in hours if not (isinstance(h, HourOfWeather) and h.minute >= LATEST))

    @property
    def how_sure(self) -> str:
        """In how many days what must not come too late is to be kept: 9 days of 10."""
        share = Fraction(self.sure or 0.5).limit_denominator(100)
        return f"{share.numerator} {'day' if share.numerator == 1 else 'days'} of {share.denominator}"

    def stages(self) -> list[tuple[str, str, Stage]]:
        """Every stage as (job, stage key, stage), in the order of the file."""
        return [(j, s, stage) for j, job in self.jobs.items() for s, stage in job.stages.items()]

    def kit_closure(self, keys: tuple[str, ...]) -> tuple[str, ...]:
        """The kit, and all that it needs, each once, in a steady order."""
        found: dict[str, None] = {}
        waiting = list(keys)
        while waiting:
            key = waiting.pop(0)
            if key not in found:
                found[key] = None
                waiting.extend(self.kit[key].needs)
        return tuple(found)

    def is_from_ladder(self, stage: Stage) -> bool:
        """Whether a stage is, or may be, done from a ladder: it says so, or one of its methods takes one."""
        kit = self.kit_closure(tuple(key for method in stage.methods.values() for key in method.kit))
        return LADDER in stage.tags or any(LADDER in self.kit[key].tags for key in kit)

    def rest_of(self, hand: str) -> Break | None:
        """The break that a hand must get, their own or the day's."""
        own = self.hands[hand].rest
        return self.rest if own is None else own

    def hours_of(self, hand: str) -> tuple[int, int]:
        """From and to, in minutes of the day; a hand without hours is there from start to finish."""
        return self.hands[hand].hours or (self.start, self.finish)

    def drive_minutes(self, start: str, end: str) -> int:
        """Whole minutes of driving between two places.

        Raises `KeyError` when neither a trip nor the coordinates of both places are given.
        """
        if start == end:
            return 0
        for trip in self.travel.trips:
            if (trip.from_, trip.to) == (start, end):
                return trip.minutes
        for trip in self.travel.trips:
            if (trip.from_, trip.to) == (end, start) and not trip.one_way:
                return trip.minutes
        here, there = self.places[start].at, self.places[end].at
        if here is None or there is None:
            raise KeyError(f"no driving time from '{start}' to '{end}'")
        return math.ceil(60 * self.travel.detour * great_circle_km(here, there) / self.travel.speed - 1e-9)


def great_circle_km(here: tuple[float, float], there: tuple[float, float]) -> float:
    """Distance over a sphere of radius 6371 km, by the haversine formula; coordinates in degrees."""
    lat1, lon1, lat2, lon2 = (math.radians(x) for x in (*here, *there))
    half = math.sin((lat2 - lat1) / 2) ** 2 + math.cos(lat1) * math.cos(lat2) * math.sin((lon2 - lon1) / 2) ** 2
    return 2 * EARTH_RADIUS_KM * math.asin(math.sqrt(half))
