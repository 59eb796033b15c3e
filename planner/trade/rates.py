"""How long a piece of work takes: a fixed part, and a measure over a rate, each with a spread."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache


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

    def within(self, share: float) -> float:
        """The minutes within which it is done in that share of days (0 to 1), by the same distribution."""
        wide = self.high - self.low
        if wide <= 0:
            return self.high
        return self.low + wide * _quantile(round((self.likely - self.low) / wide, 6), share)

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


STEPS = 2000
"""Into so many steps the density is cut to be summed."""


@lru_cache(maxsize=512)
def _quantile(rising: float, share: float) -> float:
    """The quantile of PERT's beta distribution on [0, 1] whose likely value is ``rising``.

    Its density goes by x^(p-1) (1-x)^(q-1) with p = 1 + 4 rising and q = 5 - 4 rising; it is summed by the midpoint
    rule, whose error is below a thousandth with so many steps.
    """
    p, q = 1 + 4 * rising, 5 - 4 * rising
    middles = [(n + 0.5) / STEPS for n in range(STEPS)]
    density = [math.pow(x, p - 1) * math.pow(1 - x, q - 1) for x in middles]
    wanted, seen = share * sum(density), 0.0
    for n, part in enumerate(density):
        if seen + part >= wanted:
            return (n + (wanted - seen) / part) / STEPS
        seen += part
    return 1.0
