"""Joints: how much filler they take, how many containers to load, how often the disc runs along them."""

from __future__ import annotations

import math
from dataclasses import dataclass

# Sums such as 3 x 15 kg / 45 kg land a hair above a whole number; that hair must not buy a container.
_HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class Joints:
    """The joints of a paved surface.

    Attributes
    ----------
    length_mm, width_mm
        Size of one slab.
    joint_mm, depth_mm
        Width of a joint, and the depth that is filled. Joints are cut out to about 25 mm (common practice,
        no source).
    """

    length_mm: float
    width_mm: float
    joint_mm: float
    depth_mm: float = 25.0

    def __post_init__(self) -> None:
        for name in ("length_mm", "width_mm", "joint_mm", "depth_mm"):
            if not 0 < getattr(self, name) < math.inf:
                raise ValueError(f"{name} is {getattr(self, name):g}; it must be above 0 mm")

    @property
    def run_m(self) -> float:
        """Metres of joint in each square metre."""
        return joint_run(self.length_mm, self.width_mm)

    @property
    def volume_l(self) -> float:
        """Litres of joint in each square metre."""
        return self.run_m * self.joint_mm * self.depth_mm * 1e-3

    def filler_kg(self, density_kg_m3: float) -> float:
        """Kilograms of filler that full joints hold in each square metre, before waste."""
        return self.volume_l * 1e-3 * density_kg_m3


def joint_run(length_mm: float, width_mm: float) -> float:
    """Metres of joint in each square metre of slabs, (L + W) / (L W).

    Each slab owns one long and one short joint. The width of the joint itself is left out of the slab's
    share of the ground, which counts a few per cent too much for wide joints: on the safe side for a load
    list. It is the form in which the tile-grout trade gives consumption.
    """
    if not (length_mm > 0 and width_mm > 0):
        raise ValueError(f"a slab of {length_mm:g} x {width_mm:g} mm has no size")
    return 1000 * (length_mm + width_mm) / (length_mm * width_mm)


def filler_needed(
    area_m2: float, joints: Joints, *, density_kg_m3: float, empty: float = 1.0, waste: float = 0.1
) -> float:
    """Kilograms of filler for an area.

    Parameters
    ----------
    area_m2
        Paved area.
    joints
        Slab size, joint width and depth.
    density_kg_m3
        Of the filler as it lies compacted; from its label.
    empty
        Share of the joint volume that has to be filled, 0 to 1: 1 when the joints are gone or cut out.
    waste
        Share lost in sweeping in and left on the faces, on top of what the joints hold.
    """
    _check_shares(empty=empty, waste=waste)
    if area_m2 < 0:
        raise ValueError(f"an area of {area_m2:g} m2 is below zero")
    return area_m2 * joints.filler_kg(density_kg_m3) * empty * (1 + waste)


@dataclass(frozen=True, slots=True)
class Containers:
    """Containers expected to be used (a fraction: 2.25 tubs), and whole ones to take."""

    used: float
    taken: int


def containers(needed: float, each: float, *, spare: float = 0.15) -> Containers:
    """Containers for an amount, rounded up with a spare.

    Parameters
    ----------
    needed, each
        Amount expected to be used and amount in one container, in the same unit (kg or L).
    spare
        Share kept in hand on top of `needed` before rounding up, so that 2.25 tubs take 3 and 2.9 take 4.
    """
    _check_shares(spare=spare)
    if needed < 0 or not each > 0:
        raise ValueError(f"{needed:g} in containers of {each:g} cannot be loaded")
    return Containers(used=needed / each, taken=math.ceil(needed * (1 + spare) / each - _HAIR))


def disc_passes(joint_mm: float, disc_mm: float) -> int:
    """Passes of a disc to clear a joint of its whole width.

    Raises
    ------
    ValueError
        When the disc is thicker than the joint and would cut into the slabs.
    """
    if not 0 < disc_mm <= joint_mm:
        raise ValueError(
            f"a {disc_mm:g} mm disc does not go into a {joint_mm:g} mm joint; use a thinner disc or a rake"
        )
    return math.ceil(joint_mm / disc_mm - _HAIR)


def _check_shares(**shares: float) -> None:
    for name, share in shares.items():
        if not 0 <= share <= 1:
            raise ValueError(f"{name} is {share:g}; it is a share from 0 to 1")
