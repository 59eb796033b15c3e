"""Vibration and noise that a hand takes in a day, and how they stand against the limits.

Tools are given as pairs of a magnitude and the minutes for which the trigger is held. All of it is a reminder
for planning: makers' figures understate, and measured values on the job come first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from planner.trade.limits import NoiseLimits, VibrationLimits

EIGHT_HOURS = 480.0
"""The reference day of both exposures, in minutes."""

# Sums of squares and logarithms land a hair beside the round figures that the law names.
_HAIR = 1e-9


class Band(StrEnum):
    """Where an exposure stands: at an action value something must be done, over the limit work is refused."""

    BELOW = "below the action value"
    LOWER_ACTION = "at or above the lower action value"
    ACTION = "at or above the action value"
    OVER = "over the limit value"


@dataclass(frozen=True, slots=True)
class Exposure:
    """A day's exposure of one hand.

    Attributes
    ----------
    value
        A(8) in m/s2, or L_EP,d in dB(A).
    points
        The same as points, which add up over tools: 100 at the (upper) action value in Great Britain.
    standing
        Where it stands against the limits.
    at_ear
        Of noise, the value under the hearing protection that is worn; None where none is.
    """

    value: float
    points: float
    standing: Band
    at_ear: float | None = None

    @property
    def is_over(self) -> bool:
        """Whether the limit value is passed."""
        return self.standing is Band.OVER


def vibration_a8(uses: Iterable[tuple[float, float]]) -> float:
    """Daily vibration A(8) in m/s2 over all tools, from pairs of magnitude (m/s2) and trigger minutes.

    ``A(8) = sqrt(sum(a^2 T) / 8 h)``, ISO 5349-1:2001.
    """
    return math.sqrt(sum(a**2 * minutes for a, minutes in _checked(uses)) / EIGHT_HOURS)


def vibration_points(uses: Iterable[tuple[float, float]]) -> float:
    """Vibration points ``2 a^2 T[h]``, summed over tools (HSE hand-arm vibration ready reckoner)."""
    return sum(2 * a**2 * minutes / 60 for a, minutes in _checked(uses))


def vibration_exposure(uses: Iterable[tuple[float, float]], limits: VibrationLimits) -> Exposure:
    """A hand's vibration over a day and how it stands; see `vibration_a8`."""
    listed = list(uses)
    value = vibration_a8(listed)
    if value > limits.limit + _HAIR:
        standing = Band.OVER
    elif value >= limits.action - _HAIR:
        standing = Band.ACTION
    else:
        standing = Band.BELOW
    return Exposure(value, vibration_points(listed), standing)


def noise_daily(uses: Iterable[tuple[float, float]]) -> float:
    """Daily noise exposure L_EP,d in dB(A), from pairs of level at the ear (dB(A)) and minutes.

    ``10 log10(sum(T / 8 h * 10^(L / 10)))``, Control of Noise at Work Regulations 2005; minus infinity when
    there is none.
    """
    energy = sum(minutes / EIGHT_HOURS * 10 ** (level / 10) for level, minutes in _checked(uses))
    return 10 * math.log10(energy) if energy > 0 else -math.inf


def noise_points(daily: float) -> float:
    """Noise points of a daily exposure: 100 at 85 dB(A), in step with energy (HSE ready reckoner)."""
    return 100.0 * 10 ** ((daily - 85) / 10)


def noise_exposure(
    uses: Iterable[tuple[float, float]], limits: NoiseLimits, *, at_ear: Iterable[tuple[float, float]] | None = None
) -> Exposure:
    """A hand's noise over a day and how it stands.

    The action values are judged without regard to protection, the limit by what reaches the ear (Control of Noise at
    Work Regulations 2005, reg. 4).

    Parameters
    ----------
    uses
        Pairs of level (dB(A)) and minutes without protection.
    limits
        The country's limits.
    at_ear
        The same under the protection that is worn; without it the limit is judged by `uses`.
    """
    value = noise_daily(uses)
    under = None if at_ear is None else noise_daily(at_ear)
    if (value if under is None else under) > limits.limit + _HAIR:
        standing = Band.OVER
    elif value >= limits.upper_action - _HAIR:
        standing = Band.ACTION
    elif value >= limits.lower_action - _HAIR:
        standing = Band.LOWER_ACTION
    else:
        standing = Band.BELOW
    return Exposure(value, noise_points(value), standing, under)


def _checked(uses: Iterable[tuple[float, float]]) -> Iterable[tuple[float, float]]:
    for magnitude, minutes in uses:
        if not (0 <= magnitude < math.inf and 0 <= minutes < math.inf):
            raise ValueError(f"a magnitude of {magnitude:g} for {minutes:g} min must not be below 0")
        yield magnitude, minutes
