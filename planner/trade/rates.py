"""How long a piece of work takes: a fixed part, and a measure over a rate, each with a spread."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Spread:
    """Minutes as a person estimates them: at best, most likely, at worst.

    Attributes
    ----------
    low, likely, high
        Minutes, with ``0 <= low <= likely <= high``.
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.likely <= self.high < math.inf:
            raise ValueError(
                f"low {self.low:g}, likely {self.likely:g}, high {self.high:g} is not a spread of minutes; "
                "it must not fall below 0 and must rise from low to high"
            )

    @property
    def mean(self) -> float:
        """Mean minutes of the PERT distribution, (low + 4 likely + high) / 6.

        Malcolm, Roseboom, Clark and Fazar, Operations Research 7(5), 1959.
        """
        return (self.low + 4 * self.likely + self.high) / 6

    def times(self, factor: float) -> Spread:
        """The same work under a condition that makes it `factor` times as long."""
        return Spread(self.low * factor, self.likely * factor, self.high * factor)

    def whole(self) -> tuple[int, int, int]:
        """Low, likely and high in whole minutes."""
        return whole_minutes(self.low), whole_minutes(self.likely), whole_minutes(self.high)


def duration(
    *,
    fixed: float = 0.0,
    measure: float = 0.0,
    per_hour: float | None = None,
    factors: Iterable[float] = (),
    spread: tuple[float, float, float] = (1.0, 1.0, 1.0),
) -> Spread:
    """Minutes of a piece of work: ``fixed + measure / rate``, times each condition's factor.

    Parameters
    ----------
    fixed
        Minutes that do not grow with the measure.
    measure
        How much there is (m2, m, pieces).
    per_hour
        How much of that measure an hour gets done; needed when `measure` is not 0.
    factors
        One for each condition that holds (1.3 for heavy growth, say). Conditions act one on top of another.
    spread
        Low, likely and high as parts of the time so found.

    Raises
    ------
    ValueError
        For a measure without a rate, or a rate, factor or measure that makes no sense.
    """
    if fixed < 0 or measure < 0:
        raise ValueError(f"a fixed part of {fixed:g} min and a measure of {measure:g} must not be below 0")
    if measure and per_hour is None:
        raise ValueError(f"a measure of {measure:g} needs a rate to become minutes")
    if per_hour is not None and not 0 < per_hour < math.inf:
        raise ValueError(f"a rate of {per_hour:g} an hour is not above 0")
    minutes = fixed + (60 * measure / per_hour if per_hour is not None else 0.0)
    for factor in factors:
        if not 0 < factor < math.inf:
            raise ValueError(f"a condition's factor must be above 0, and {factor:g} is not")
        minutes *= factor
    low, likely, high = spread
    return Spread(minutes * low, minutes * likely, minutes * high)


def whole_minutes(minutes: float) -> int:
    """Whole minutes, half up; at least 1 for anything above 0, so that no work vanishes from a plan.

    Raises
    ------
    ValueError
        For minutes below zero, or no number.
    """
    if not 0 <= minutes < math.inf:
        raise ValueError(f"{minutes:g} minutes cannot be planned; minutes start from 0")
    return max(math.floor(minutes + 0.5), int(minutes > 0))
