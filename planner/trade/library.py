"""The trade library: kit, material, methods and recipes as the user wants them, checked and ready for use."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path

from planner.trade import trade_tables
from planner.trade.library_parts import Library, faults_in
from planner.trade.trade_tables import Table

MEASURES: dict[str, tuple[str, str]] = {
    "area": ("m2", "32 m2"),
    "run": ("m", "14 m"),
    "slab": ("mm", "600 x 300 mm"),
    "joint_width": ("mm", "15 mm"),
    "joint_depth": ("mm", "25 mm"),
    "block": ("mm", "200 x 100 mm"),
    "brick": ("mm", "215 x 65 mm"),
    "steps": ("steps", "8 steps"),
    "step_width": ("m", "1.2 m"),
    "tread_and_riser": ("mm", "460 mm"),
    "height": ("m", "5 m"),
    "hose_run": ("m", "30 m"),
    "moisture": ("%", "16 %"),
    "joint_run": ("m", "70 m"),
    "joints_empty": ("%", "80 %"),
    "loose_area": ("m2", "0.5 m2"),
    "sunken_area": ("m2", "1 m2"),
    "disc": ("mm", "6 mm"),
    "stock": ("%", "14 %"),
    "stock_age": ("min", "60 days"),
    "tap_flow": ("L/min", "10 L/min"),
}
"""Every measure a recipe may ask for: the unit it is turned into, and how it may be written."""

RANGES: dict[str, tuple[float, float]] = {
    "area": (0.01, 10_000),
    "run": (0.01, 10_000),
    "joint_width": (1, 100),
    "joint_depth": (3, 300),
    "joint_run": (0.01, 20_000),
    "joints_empty": (0.1, 100),
    "loose_area": (0.01, 10_000),
    "disc": (0.5, 25),
    "stock": (0.1, 50),
    "stock_age": (0, 2 * 365 * 24 * 60),
    "sunken_area": (0.01, 10_000),
    "steps": (1, 500),
    "step_width": (0.1, 50),
    "tread_and_riser": (100, 2_000),
    "height": (0.1, 60),
    "hose_run": (0.1, 500),
    "moisture": (0.1, 100),
    "tap_flow": (0.1, 200),
}
"""The least and the most that each can be, in that unit; what lies beyond is a slip of the pen. A stock is a solution:
there is none of a hundred per cent. Common practice, no source."""

EQUIPMENT_WORDS = ("density", "strength", "chemical", "waste", "source")
"""What the library says of kit and material to reckon with, and where it comes from; it is no word of a day."""

DRAINS = {
    "surface drain": "gully to a surface drain",
    "foul drain": "gully to the foul drain",
    "soil": "runs off to soil",
}
"""The kinds of drain that take what runs off a ground, each with the condition of the site that it stands for."""

SIDES = ("slab", "block", "brick")
"""Measures that are the two sides of what is laid; the joints in all follow from them and the area."""

METHOD_WORDS = ("discs", "pass_depth", "highest", "draws", "water", "no_tap", "any_ground")
"""What the library says of a method to choose and reckon with; it is no word of a day."""


ORDERS = ("same", "reversed", "any")
"""How the second stage of a wait goes over the surface: begun where the first began, where it ended, not known."""


def library() -> Library:
    """The shipped library with the user's own values laid over it; whoever asks again gets the same, to read only.

    Raises `ValueError` when the user's own file breaks it; the message names the file and the place.
    """
    return _library(*trade_tables.own_state())


@lru_cache(maxsize=4)
def _library(path: Path, state: trade_tables.State) -> Library:
    """It is checked once for each state of the user's own file, since every job in a day asks for it.

    What is shipped holds (a test sees to that), and is read when it is asked for: a day uses two recipes of twenty.
    """
    kit, materials, methods, sites = (trade_tables.table(name) for name in ("kit", "materials", "methods", "sites"))
    if state is None:
        return Library(kit, materials, methods, ShippedRecipes(sites))
    found = Library(kit, materials, methods, trade_tables.table("recipes"))
    if faults := list(faults_in(found, sites, MEASURES, ORDERS)):
        raise ValueError("\n".join(f"{path}: {place} {wrong}" for place, wrong in faults))
    for recipe in found.recipes.values():
        _add_conditions(recipe, sites)
    return found


class ShippedRecipes(Mapping[str, Table]):
    """The recipes as they are shipped, with the conditions of ``sites``; each is read when it is first asked for."""

    def __init__(self, sites: Table) -> None:
        self._sites = sites
        self._read: dict[str, Table | None] = dict.fromkeys(trade_tables.names_in("recipes"))

    def __getitem__(self, key: str) -> Table:
        recipe = self._read[key]
        if recipe is None:
            recipe = self._read[key] = trade_tables.shipped_in("recipes", key)
            _add_conditions(recipe, self._sites)
        return recipe

    def __iter__(self) -> Iterator[str]:
        return iter(self._read)

    def __len__(self) -> int:
        return len(self._read)


def _add_conditions(recipe: Table, sites: Table) -> None:
    conditions = recipe.setdefault("conditions", {})
    for condition, effect in sites.items():
        conditions.setdefault(condition, effect)
