"""Water: what the work draws, what tank and tap can give, and how often cans have to be filled."""

from __future__ import annotations

import math


def water_used(minutes: float, flow_l_min: float, *, waste: float = 0.1) -> float:
    """Litres drawn by so many minutes of trigger time, with a share on top for flushing and topping up."""
    _check(minutes=minutes, flow_l_min=flow_l_min, waste=waste)
    return minutes * flow_l_min * (1 + waste)


def tank_lasts(tank_l: float, *, draw_l_min: float, supply_l_min: float = 0.0) -> float:
    """Minutes of work until a full tank is empty, fed by a tap meanwhile; infinite when the tap keeps up."""
    _check(tank_l=tank_l, draw_l_min=draw_l_min, supply_l_min=supply_l_min)
    shortfall = draw_l_min - supply_l_min
    return tank_l / shortfall if shortfall > 0 else math.inf


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


def refill_trips(litres: float, *, each_l: float, at_once: int = 1, full_at_start: int = 0) -> int:
    """Trips to a tap elsewhere that a ground without one needs: each is a real crossing in the plan.

    Parameters
    ----------
    litres
        Water needed on the ground.
    each_l
        Litres in one can.
    at_once
        Cans carried on one trip.
    full_at_start
        Cans that came in full with the kit.
    """
    if at_once < 1 or full_at_start < 0:
        raise ValueError(f"{at_once} cans a trip with {full_at_start} full at the start cannot be carried")
    left = fills(litres, each_l) - full_at_start
    return math.ceil(max(0, left) / at_once)


def _check(**amounts: float) -> None:
    for name, amount in amounts.items():
        if not 0 <= amount < math.inf:
            raise ValueError(f"{name} is {amount:g}; it cannot be below 0")
