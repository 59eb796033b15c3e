"""Lifting and carrying: guideline loads for one hand or a team, and loads as armfuls."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planner.trade.limits import LiftingLimits

Person = Literal["man", "woman"]

# An assumption: two armfuls, one at each side, are what the lower guideline figure (16 kg) allows one hand.
ARMFUL_KG = 8.0


@dataclass(frozen=True, slots=True)
class Lift:
    """A load in kg, and the guideline figure in kg for those who lift it."""

    mass: float
    guideline: float

    @property
    def is_within(self) -> bool:
        """Whether the load passes the guideline filter; if not, assess the lift or split the load."""
        return self.mass <= self.guideline + 1e-9


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


def lift(mass_kg: float, people: Sequence[Person], limits: LiftingLimits) -> Lift:
    """A load against the guideline for those who lift it."""
    if not 0 <= mass_kg < math.inf:
        raise ValueError(f"a load of {mass_kg:g} kg cannot be lifted")
    return Lift(mass_kg, guideline(people, limits))


def hands_needed(mass_kg: float, person: Person, limits: LiftingLimits) -> int | None:
    """The least team of people of that kind whose guideline covers the load; None when no team's does."""
    for count in (1, 2, 3):
        if lift(mass_kg, [person] * count, limits).is_within:
            return count
    return None


def armfuls(mass_kg: float, *, armful_kg: float = ARMFUL_KG) -> float:
    """A load in armfuls by its weight, rounded up to a tenth; what is bulky may count for more."""
    if not 0 <= mass_kg < math.inf or not armful_kg > 0:
        raise ValueError(f"{mass_kg:g} kg in armfuls of {armful_kg:g} kg cannot be carried")
    return math.ceil(10 * mass_kg / armful_kg - 1e-9) / 10
