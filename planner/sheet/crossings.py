"""Crossings in words: their numbers in the order of the day, and what is carried; for the picture and for paper."""

from planner.day import Day
from planner.day.names import Names
from planner.plan.plan import Carried, Crossing, Plan
from planner.sheet.wording import counted, how_full


def crossing_numbers(plan: Plan) -> dict[Crossing, int]:
    """The crossings of all hands, numbered from 1 in order of time."""
    crossings = sorted(plan.crossings, key=lambda c: (c.start, c.hand))
    return {crossing: number for number, crossing in enumerate(crossings, 1)}


def carried_words(day: Day, carried: tuple[Carried, ...]) -> str:
    """What is carried on one leg, in words: "Pressure washer, 2 × Joint filler (tub)"."""
    names, words = Names(day), []
    for load in carried:
        name = names.material(load.what) if load.is_material else names.kit(load.what)
        full = "" if load.rest is None else f", {how_full(load.rest)}"
        words.append(counted(name, load.count) + full + (" (shared lift)" if load.share < 1 else ""))
    return ", ".join(words)
