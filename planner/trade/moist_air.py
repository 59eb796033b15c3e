"""Moist air: how much vapour it can hold, how much it holds, and where dew falls.

The saturation curves are those of Hyland and Wexler (1983) as the ASHRAE Handbook of Fundamentals, chapter 1,
gives them (equations 5 over ice and 6 over water).
"""

from __future__ import annotations

import math

_KELVIN = 273.15
_TRIPLE_POINT_C = 0.01
_COLDEST_C, _HOTTEST_C = -100.0, 100.0


def saturation_pressure(air_c: float) -> float:
    """Vapour pressure in pascals of saturated air, from -100 to 100 C."""
    if not _COLDEST_C <= air_c <= _HOTTEST_C:
        raise ValueError(f"{air_c:g} C is outside the range of -100 to 100 C")
    t = air_c + _KELVIN
    if air_c <= _TRIPLE_POINT_C:
        logarithm = (
            -5.6745359e3 / t
            + 6.3925247
            - 9.677843e-3 * t
            + 6.2215701e-7 * t**2
            + 2.0747825e-9 * t**3
            - 9.484024e-13 * t**4
            + 4.1635019 * math.log(t)
        )
    else:
        logarithm = (
            -5.8002206e3 / t
            + 1.3914993
            - 4.8640239e-2 * t
            + 4.1764768e-5 * t**2
            - 1.4452093e-8 * t**3
            + 6.5459673 * math.log(t)
        )
    return math.exp(logarithm)


def vapour_pressure(air_c: float, humidity: float) -> float:
    """Vapour pressure in pascals of air with a relative humidity from 0 to 1."""
    if not 0 <= humidity <= 1:
        raise ValueError(f"a humidity of {humidity:g} is not a share from 0 to 1")
    return humidity * saturation_pressure(air_c)


def dew_point(air_c: float, humidity: float) -> float:
    """Temperature in C at which the vapour in the air begins to settle as dew or frost.

    Found by halving, to a millionth of a degree; humidity must be above 0 and not so low that the answer
    leaves the range of the curves.
    """
    pressure = vapour_pressure(air_c, humidity)
    low, high = _COLDEST_C, air_c
    if pressure < saturation_pressure(low):
        raise ValueError(f"air of {air_c:g} C and humidity {humidity:g} is too dry to have a dew point")
    while high - low > 1e-6:
        middle = (low + high) / 2
        if saturation_pressure(middle) < pressure:
            low = middle
        else:
            high = middle
    return (low + high) / 2
