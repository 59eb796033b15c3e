"""Mixing a treatment: strength, parts, litres of stock, and what age has taken from it."""

from __future__ import annotations

import math
from dataclasses import dataclass

# An assumption, common practice with no source: a hypochlorite stock kept cool and dark loses about a tenth
# of what strength it still has in each 30 days; warm or in the sun it loses several times that.
LOSS_IN_30_DAYS = 0.10


@dataclass(frozen=True, slots=True)
class Mix:
    """Litres of stock and of water that make up one mix. Volumes are taken as additive."""

    stock_l: float
    water_l: float

    @property
    def volume_l(self) -> float:
        """Litres of the whole."""
        return self.stock_l + self.water_l

    @property
    def water_parts(self) -> float:
        """Parts of water to one part of stock."""
        return self.water_l / self.stock_l if self.stock_l else math.inf


def mix(volume_l: float, *, wanted_percent: float, stock_percent: float) -> Mix:
    """Stock and water for a volume of the wanted strength, by C1 V1 = C2 V2.

    Raises `ValueError` when the stock is weaker than the wanted strength.
    """
    _check_percent(wanted_percent)
    _check_percent(stock_percent)
    if volume_l < 0:
        raise ValueError(f"a volume of {volume_l:g} L is below zero")
    if wanted_percent > stock_percent:
        raise ValueError(
            f"a stock of {stock_percent:g} % cannot make {wanted_percent:g} %; use fresher or stronger stock"
        )
    stock_l = volume_l * (wanted_percent / stock_percent)
    return Mix(stock_l, volume_l - stock_l)


def strength_after(stock_percent: float, age_days: float, *, loss_in_30_days: float = LOSS_IN_30_DAYS) -> float:
    """Strength in per cent that is left of a stock, under the stated assumption on its loss.

    Parameters
    ----------
    stock_percent
        Strength when it was filled.
    age_days
        Days since then.
    loss_in_30_days
        Share of the strength still there that goes in each 30 days, from 0 to below 1.
    """
    _check_percent(stock_percent)
    if age_days < 0 or not 0 <= loss_in_30_days < 1:
        raise ValueError(f"an age of {age_days:g} days with a loss of {loss_in_30_days:g} makes no sense")
    return float(stock_percent * (1 - loss_in_30_days) ** (age_days / 30))


def treatment_volume(area_m2: float, *, litres_each_m2: float, coats: int = 1) -> float:
    """Litres of ready mix for an area at an application rate, over all coats."""
    if area_m2 < 0 or litres_each_m2 < 0 or coats < 1:
        raise ValueError(f"{coats} coats of {litres_each_m2:g} L/m2 on {area_m2:g} m2 cannot be worked out")
    return area_m2 * litres_each_m2 * coats


def _check_percent(strength: float) -> None:
    if not 0 < strength <= 100:
        raise ValueError(f"a strength of {strength:g} % is not above 0 and at most 100")
