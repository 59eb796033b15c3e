"""Drying: how fast a wet surface loses its film of water, when it is dry, how long a dwell may last.

One kilogram of water on a square metre is a film of one millimetre.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from planner.trade.weather import HourOfWeather, holding, surface_temperature, weather_at

FIELD_ERROR = 0.4
"""How far field evaporation strays from the formula, as a share.

K. C. Hover, ACI Materials Journal 103-5, 2006.
"""

WIND_AT_SURFACE = 2 / 3
"""What is left of the wind of a forecast, which is 10 m above open ground, half a metre above a surface.

The formula is for wind measured 0.5 m above the surface, as in the nomograph of ACI 305 that it stands for. By the
power law for open ground, exponent 1/7, 0.05^(1/7) = 0.65 is left; a yard between walls has less.
"""

# The forecast is drawn straight between its hours; over a quarter of an hour it hardly bends.
_STEP = 15
_COLDEST_C = -18.0


def evaporation(*, surface_c: float, air_c: float, humidity: float, wind_kmh: float) -> float:
    """Evaporation from a wet surface in kg/m2/h; below 0 where dew settles.

    P. J. Uno, ACI Materials Journal 95-M34, 1998:
    ``E = 5 ((Ts + 18)^2.5 - r (Ta + 18)^2.5) (V + 4) 1e-6``.

    Parameters
    ----------
    surface_c, air_c
        Temperatures of surface and air in C; the form holds above -18 C.
    humidity
        Relative humidity of the air, 0 to 1.
    wind_kmh
        Wind in km/h, half a metre above the surface.
    """
    if not (surface_c > _COLDEST_C and air_c > _COLDEST_C):
        raise ValueError(f"surface {surface_c:g} C and air {air_c:g} C: the formula holds above {_COLDEST_C:g} C")
    if not 0 <= humidity <= 1 or wind_kmh < 0:
        raise ValueError(f"humidity {humidity:g} must be a share from 0 to 1, and wind {wind_kmh:g} km/h not below 0")
    drive = (surface_c + 18) ** 2.5 - humidity * (air_c + 18) ** 2.5
    return float(5 * drive * (wind_kmh + 4) * 1e-6)


@dataclass(frozen=True, slots=True)
class DryingTime:
    """Minutes until a film is gone, if evaporation is the formula's and 40 % more (low) or less (high).

    Infinite where the film does not dry within the forecast.
    """

    low: float
    likely: float
    high: float

    @property
    def least_wait(self) -> int | None:
        """Whole minutes to wait for a dry surface, at least; None when it does not dry in the time known."""
        return None if math.isinf(self.likely) else math.ceil(self.likely)

    @property
    def cautious_wait(self) -> int | None:
        """The same when evaporation is at its slowest."""
        return None if math.isinf(self.high) else math.ceil(self.high)

    @property
    def most_dwell(self) -> int | None:
        """Whole minutes that a treatment may dwell before its film could dry; None when it does not dry."""
        return None if math.isinf(self.low) else math.floor(self.low)


Strength = Callable[[float], float]
"""How strong the sun is at a minute of the day, as a share of all its strength."""


def all_day_strong(_: float) -> float:
    """A sun that has all its strength whenever it shines, as on a wall that it faces."""
    return 1.0


def drying_time(
    hours: Sequence[HourOfWeather],
    film_mm: float,
    start: float,
    *,
    shaded: bool = False,
    strength: Strength = all_day_strong,
) -> DryingTime:
    """Minutes for a film of water to evaporate from a minute of the day on.

    Parameters
    ----------
    hours
        The forecast, in rising order, with the wind at 10 m. Rain is not counted here: it closes the stage by a gate.
    film_mm
        Thickness of the film in mm (= kg/m2). What the ground soaks up or a squeegee takes is left out.
    start
        When the drying begins, in minutes from midnight; within the forecast.
    shaded
        Whether the surface lies out of the sun.
    strength
        How strong the sun is at a minute, where it shines: low in the morning it warms level ground little.

    Returns
    -------
    DryingTime
        Its range is the formula's field error of 40 % either way.

    Raises
    ------
    ValueError
        When the film is not above 0 or the forecast does not cover the start.
    """
    if not 0 < film_mm < math.inf:
        raise ValueError(f"a film of {film_mm:g} mm is not above 0")
    if weather_at(hours, start) is None:
        raise ValueError("the forecast does not cover the minute at which drying begins")
    return DryingTime(
        *(
            _minutes_to_lose(hours, film_mm / share, start, shaded=shaded, strength=strength)
            for share in (1 + FIELD_ERROR, 1.0, 1 - FIELD_ERROR)
        )
    )


def _minutes_to_lose(
    hours: Sequence[HourOfWeather], film_mm: float, start: float, *, shaded: bool, strength: Strength
) -> float:
    """Add up evaporation in steps that lie on a fixed grid, so that a later start never ends earlier."""
    end_of_forecast = max(end for _, end, _ in holding(hours))
    now, left = start, film_mm
    while now < end_of_forecast:
        step_start = math.floor(now / _STEP) * _STEP
        step_end = min(step_start + _STEP, end_of_forecast)
        rate = _rate(hours, step_start, step_end, shaded=shaded, strength=strength)
        if rate * (step_end - now) >= left:
            return now + left / rate - start
        left -= rate * (step_end - now)
        now = step_end
    return math.inf


def _rate(hours: Sequence[HourOfWeather], start: float, end: float, *, shaded: bool, strength: Strength) -> float:
    """Evaporation in mm a minute at the middle of a step; dew does not add to the film."""
    weather = weather_at(hours, max((start + end) / 2, hours[0].minute))
    if weather is None or weather.air <= _COLDEST_C:
        return 0.0
    surface_c = surface_temperature(weather, shaded=shaded, strength=strength((start + end) / 2))
    wind = WIND_AT_SURFACE * weather.wind
    each_hour = evaporation(surface_c=surface_c, air_c=weather.air, humidity=weather.humidity, wind_kmh=wind)
    return max(0.0, each_hour) / 60
