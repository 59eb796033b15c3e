"""The weather of a day, hour by hour, and what it is at any minute between."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

# An assumption, common practice with no source: paving and walls in full sun run about this much warmer than
# the air, and in shade or under cloud they follow it.
SUN_LIFT_C = 10.0

LAST_HOUR_HOLDS = 60
"""Minutes for which the last hour of a forecast is taken to hold."""


@dataclass(frozen=True, slots=True)
class HourOfWeather:
    """One hour of forecast.

    Attributes
    ----------
    minute
        When the hour begins, in minutes from midnight of the day; the next day's hours go on past 1440.
    air
        Air temperature in C.
    humidity
        Relative humidity, a share from 0 to 1.
    wind
        Wind in km/h as forecasts give it, 10 m above open ground.
    rain_chance
        Chance of rain, a share from 0 to 1.
    sun
        Whether the sun shines on open ground.
    """

    minute: int
    air: float
    humidity: float
    wind: float
    rain_chance: float = 0.0
    sun: bool = False

    def __post_init__(self) -> None:
        for name, low, high, right in (
            ("air", -50, 60, "write degrees C from -50 to 60"),
            ("humidity", 0, 1, "write a share from 0 to 1, for example 0.65"),
            ("wind", 0, 300, "write km/h from 0 to 300"),
            ("rain_chance", 0, 1, "write a share from 0 to 1, for example 0.3"),
        ):
            value = getattr(self, name)
            if not (math.isfinite(value) and low <= value <= high):
                raise ValueError(f"{name} {value:g} cannot be; {right}")


@dataclass(frozen=True, slots=True)
class RainTold(HourOfWeather):
    """An hour of no forecast, of which only is known whether it rains, as somebody told; its air stands for none."""

    @classmethod
    def since(cls, minute: int, *, rains: bool) -> RainTold:
        """From a minute on, rain or none."""
        return cls(minute, air=12.0, humidity=0.8, wind=0.0, rain_chance=float(rains))


def holding(hours: Sequence[HourOfWeather]) -> Iterator[tuple[int, int, HourOfWeather]]:
    """Each hour with the minutes from and to which it holds: until the next, the last for an hour."""
    for i, hour in enumerate(hours):
        end = hours[i + 1].minute if i + 1 < len(hours) else hour.minute + LAST_HOUR_HOLDS
        yield hour.minute, end, hour


def weather_at(hours: Sequence[HourOfWeather], minute: float) -> HourOfWeather | None:
    """The weather at a minute: air, humidity and wind drawn straight between hours, rain and sun held.

    Parameters
    ----------
    hours
        In rising order of minute.
    minute
        Minutes from midnight.

    Returns
    -------
    HourOfWeather or None
        None before the first hour, when the last hour is over, and where only rain was told.
    """
    for i, (start, end, hour) in enumerate(holding(hours)):
        if start <= minute < end and not isinstance(hour, RainTold):
            after = hours[min(i + 1, len(hours) - 1)]
            after = hour if isinstance(after, RainTold) else after
            part = (minute - start) / (end - start)
            return HourOfWeather(
                math.floor(minute),
                hour.air + part * (after.air - hour.air),
                hour.humidity + part * (after.humidity - hour.humidity),
                hour.wind + part * (after.wind - hour.wind),
                hour.rain_chance,
                hour.sun,
            )
    return None


def surface_temperature(weather: HourOfWeather, *, shaded: bool = False, strength: float = 1.0) -> float:
    """Temperature in C of a dry surface: the air's, and `SUN_LIFT_C` more where the sun reaches it in all its strength.

    ``strength`` is what of that the sun has (0 to 1). An estimate under a stated assumption; a thermometer on the
    surface is better.
    """
    return weather.air + (SUN_LIFT_C * strength if weather.sun and not shaded else 0.0)
