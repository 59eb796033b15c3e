"""Lifting and carrying: a load against the guideline figures for one hand or a team.

Loads are planned in armfuls: what one hand carries comfortably in one go is 1. By weight that is 16 kg, the lower of
the guideline figures, which hold for whoever carries; what is bulky counts for more than it weighs.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum
from typing import Literal

from planner.trade.limits import LiftingLimits

Person = Literal["man", "woman"]

KG_OF_AN_ARMFUL = 16.0
"""What an armful is by weight: the lower guideline figure."""

USUAL_LOAD_LIMIT = 1.5
"""Armfuls that one hand carries on one leg where a way in says nothing: 24 kg, below the higher guideline figure of 25
kg (HSE INDG143). Two armfuls, 32 kg, are no usual load."""

_HAIR = 1e-9


class LiftStanding(StrEnum):
    """Where a load stands against the guideline filter; above it the lift is assessed, split, or wheeled."""

    WITHIN = "within the guideline figures"
    LOWER = "above the lower guideline figure"
    OVER = "above both guideline figures"


def guideline(people: Sequence[Person], limits: LiftingLimits) -> float:
    """Guideline load in kg for a lift at waist height, close to the body.

    A pair lifts two thirds, three lift half, of the sum of their own figures (HSE INDG143 and L23). It is a
    filter, not a safe weight: reach, twisting, steps and wet ground all lower it.

    Raises
    ------
    ValueError
        For no people, or a team of more than three.
    """
    shares = {1: 1.0, 2: limits.pair_share, 3: limits.trio_share}
    if len(people) not in shares:
        raise ValueError(f"there is no guideline for {len(people)} people lifting together; it is given for 1 to 3")
    own = {"man": limits.man, "woman": limits.woman}
    return shares[len(people)] * sum(own[person] for person in people)


def of_guideline(mass_kg: float, team: int, person: Person, limits: LiftingLimits) -> float:
    """A load as a share of the guideline for so many such people lifting it together; 1 is just within.

    Four lift no more than three: for more the guideline has no figure.

    Raises
    ------
    ValueError
        For a mass, in kg, that is below zero or no number.
    """
    if not 0 <= mass_kg < math.inf:
        raise ValueError(f"a load of {mass_kg:g} kg cannot be lifted")
    return mass_kg / guideline([person] * min(team, 3), limits)


def lift_standing(mass_kg: float, team: int, limits: LiftingLimits) -> LiftStanding:
    """Where a load that so many lift together stands: the lower figure holds for women, the other for men."""
    if of_guideline(mass_kg, team, "woman", limits) <= 1 + _HAIR:
        return LiftStanding.WITHIN
    return LiftStanding.LOWER if of_guideline(mass_kg, team, "man", limits) <= 1 + _HAIR else LiftStanding.OVER
