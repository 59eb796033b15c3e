"""Joints: how much filler they take, how many containers to load, how often the disc runs along them."""

from __future__ import annotations

import math
from dataclasses import dataclass

# Sums such as 3 x 15 kg / 45 kg land a hair above a whole number; that hair must not buy a container.
_HAIR = 1e-9

SPARE = 0.15
"""The share that is kept in hand on top of what is reckoned to be used; common practice, no source."""


def joint_run(length_mm: float, width_mm: float) -> float:
    """Metres of joint in each square metre of slabs, (L + W) / (L W).

    Each slab owns one long and one short joint. The width of the joint itself is left out of the slab's
    share of the ground, which counts a few per cent too much for wide joints: on the safe side for a load
    list. It is the form in which the tile-grout trade gives consumption.
    """
    if not (length_mm > 0 and width_mm > 0):
        raise ValueError(f"a slab of {length_mm:g} x {width_mm:g} mm has no size")
    return 1000 * (length_mm + width_mm) / (length_mm * width_mm)


def joint_volume(run_m: float, *, width_mm: float, depth_mm: float) -> float:
    """Litres that joints of so many metres hold, of that width and filled to that depth.

    Joints are cut out to about 25 mm (common practice, no source).
    """
    if not (0 <= run_m < math.inf and 0 < width_mm < math.inf and 0 < depth_mm < math.inf):
        raise ValueError(f"joints of {run_m:g} m, {width_mm:g} mm wide and {depth_mm:g} mm deep hold nothing")
    return run_m * width_mm * depth_mm * 1e-3


def filler_mass(volume_l: float, *, density_kg_m3: float, empty: float = 1.0, waste: float = 0.1) -> float:
    """Kilograms of filler for joints of a volume.

    Parameters
    ----------
    volume_l
        Litres that the joints hold when empty.
    density_kg_m3
        Of the filler as it lies compacted; from its label.
    empty
        Share of the volume that has to be filled, 0 to 1: 1 when the joints are gone or cut out.
    waste
        Share lost in sweeping in and left on the faces, on top of what the joints hold.
    """
    _check_shares(empty=empty, waste=waste)
    if volume_l < 0 or not density_kg_m3 > 0:
        raise ValueError(f"{volume_l:g} L of filler at {density_kg_m3:g} kg/m3 cannot be weighed")
    return volume_l * 1e-3 * density_kg_m3 * empty * (1 + waste)


@dataclass(frozen=True, slots=True)
class Containers:
    """Containers expected to be used (a fraction: 2.25 tubs), and whole ones to take."""

    used: float
    taken: int


def containers(needed: float, each: float, *, spare: float = SPARE) -> Containers:
    """Containers for an amount, rounded up with a spare.

    Parameters
    ----------
    needed, each
        Amount expected to be used and amount in one container, in the same unit (kg or L).
    spare
        Share kept in hand on top of `needed` before rounding up, so that 2.25 tubs take 3 and 2.9 take 4; no more than
        one container of it, as all of them are carried in and, full, out again: common practice, no source.
    """
    _check_shares(spare=spare)
    if needed < 0 or not each > 0:
        raise ValueError(f"{needed:g} in containers of {each:g} cannot be loaded")
    enough = math.ceil(needed / each - _HAIR)
    return Containers(used=needed / each, taken=min(math.ceil(needed * (1 + spare) / each - _HAIR), enough + 1))


def disc_passes(joint_mm: float, disc_mm: float) -> int:
    """Passes of a disc to clear a joint of its whole width.

    Raises `ValueError` when the disc is thicker than the joint and would cut into the slabs.
    """
    if not 0 < disc_mm <= joint_mm:
        raise ValueError(
            f"a {disc_mm:g} mm disc does not go into a {joint_mm:g} mm joint; use a thinner disc or a rake"
        )
    return math.ceil(joint_mm / disc_mm - _HAIR)


def passes(joint_mm: float, pass_mm: float) -> int:
    """Passes of a tool that clears so many mm of a joint's depth at a time."""
    if not (pass_mm > 0 and 0 < joint_mm < math.inf):
        raise ValueError(f"a joint {joint_mm:g} mm deep cannot be cleared {pass_mm:g} mm at a time")
    return math.ceil(joint_mm / pass_mm - _HAIR)


def _check_shares(**shares: float) -> None:
    for name, share in shares.items():
        if not 0 <= share <= 1:
            raise ValueError(f"{name} is {share:g}; it is a share from 0 to 1")
