"""Water: what the work draws, what tank and tap can give, and how many cans it fills."""

from __future__ import annotations

import math


def water_used(minutes: float, flow_l_min: float, *, waste: float = 0.1) -> float:
    """Litres drawn by so many minutes of trigger time, with a share on top for flushing and topping up."""
    _check(minutes=minutes, flow_l_min=flow_l_min, waste=waste)
    return minutes * flow_l_min * (1 + waste)


def wait_for_supply(litres: float, work_minutes: float, *, tank_l: float, supply_l_min: float) -> float:
    """Minutes the work stands still for want of water, over the whole of it.

    Parameters
    ----------
    litres
        Water the work draws in all.
    work_minutes
        Minutes of that work, during which the supply runs too.
    tank_l
        Water on hand at the start.
    supply_l_min
        Flow of the tap into the tank; with 0 the answer is infinite once the tank falls short.
    """
    _check(litres=litres, work_minutes=work_minutes, tank_l=tank_l, supply_l_min=supply_l_min)
    short = litres - tank_l
    if short <= 0:
        return 0.0
    if supply_l_min == 0:
        return math.inf
    return max(0.0, short / supply_l_min - work_minutes)


def fills(litres: float, each_l: float) -> int:
    """How many times a can, bucket or backpack of `each_l` litres is filled to bring `litres`."""
    _check(litres=litres)
    if not each_l > 0:
        raise ValueError(f"a can of {each_l:g} L holds nothing")
    return math.ceil(litres / each_l - 1e-9)


def _check(**amounts: float) -> None:
    for name, amount in amounts.items():
        if not 0 <= amount < math.inf:
            raise ValueError(f"{name} is {amount:g}; it cannot be below 0")
