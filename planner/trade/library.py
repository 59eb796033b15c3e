"""The trade library: kit, material, methods and recipes as the user wants them, checked and ready for use."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from planner.trade import trade_tables

Table = dict[str, Any]
"""A table as a TOML file gives it."""

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


@dataclass(frozen=True)
class Library:
    """What the trade uses and how it works.

    Attributes
    ----------
    kit, materials, recipes
        Tables by their keys; each recipe knows the conditions of any site besides its own.
    methods
        Tables by kind of work, and in each by method.
    """

    kit: dict[str, Table]
    materials: dict[str, Table]
    methods: dict[str, dict[str, Table]]
    recipes: dict[str, Table]


def library() -> Library:
    """The shipped library with the user's own values laid over it; whoever asks again gets the same, to read only.

    Raises `ValueError` when the user's own file breaks it; the message names the file and the place.
    """
    return _library(*trade_tables.own_state())


@lru_cache(maxsize=4)
def _library(_path: Path, _state: trade_tables.State) -> Library:
    """It is checked once for each state of the user's own file, since every job in a day asks for it."""
    found = Library(*(trade_tables.table(name) for name in ("kit", "materials", "methods", "recipes")))
    _check_tables(found)
    faults, sites = [], trade_tables.table("sites")
    for name, recipe in found.recipes.items():
        try:
            _check_recipe(name, recipe, found)
            conditions = recipe.setdefault("conditions", {})
            for condition, effect in sites.items():
                conditions.setdefault(condition, effect)
        except ValueError as fault:
            faults.append(str(fault))
        except (KeyError, TypeError, AttributeError):  # a part that is of no kind we know
            faults.append(f"{trade_tables.user_file()}: recipes.{name} is not written as a recipe is")
    if faults:
        raise ValueError("\n".join(faults))
    return found


def _check_tables(found: Library) -> None:
    for word, entries in (("kit", found.kit), ("materials", found.materials), ("recipes", found.recipes)):
        for name, entry in entries.items():
            _check(isinstance(entry, dict), f"{word}.{name}", "must be a table")
    for kind, methods in found.methods.items():
        _check(isinstance(methods, dict), f"methods.{kind}", "must be a table of methods")
        for name, method in methods.items():
            _check(isinstance(method, dict), f"methods.{kind}.{name}", "must be a table")
            _check_names(method.get("kit", []), found.kit, f"methods.{kind}.{name}.kit", "kit")


def nearest_or_all(word: str, known: Iterable[str]) -> str:
    """What would be right in place of an unknown word: the nearest known one, else all there are."""
    names = sorted(known)
    near = difflib.get_close_matches(word.lower()[:60], names, n=1, cutoff=0.6)
    if near:
        return f"did you mean '{near[0]}'?"
    return "it may be " + ", ".join(f"'{name}'" for name in names) if names else "leave it out"


def _check_recipe(name: str, recipe: Table, found: Library) -> None:
    here = f"recipes.{name}"
    _check(isinstance(recipe.get("title"), str), here, 'needs title = "..."')
    surface = recipe.get("surface")
    _check(isinstance(surface, dict) and "key" in surface, here, 'needs surface = { key = "..." }')
    tick = recipe.get("tick", {})
    _check(
        isinstance(tick, dict) and isinstance(tick.get("words", ""), str) and isinstance(tick.get("name", ""), str),
        f"{here}.tick",
        'must be a table such as { words = "Walls: washed", often = true }',
    )
    stages = recipe.get("stages")
    _check(isinstance(stages, dict) and bool(stages), here, "needs at least one [stages.NAME]")
    for word in ("needs", "may_have", "usual", "at_most"):
        _check_names(recipe.get(word, []), MEASURES, f"{here}.{word}", "measure")
    for key, stage in recipe["stages"].items():
        place = f"{here}.stages.{key}"
        _check(isinstance(stage, dict), place, "must be a table")
        work = stage.get("work", stage.get("kind"))
        _check(work in found.methods, place, f"needs work that methods.toml knows, and has {work!r}")
        _check(bool(stage.get("methods")), place, 'needs methods = ["..."]')
        _check_names(stage["methods"], found.methods[work], f"{place}.methods", "method")
        _check_names(stage.get("slower", {}), stage["methods"], f"{place}.slower", "method")
        _check_names(stage.get("uses", {}), found.materials, f"{place}.uses", "material")
        _check_names(stage.get("leaves", {}), found.materials, f"{place}.leaves", "material")
        for material in stage.get("leaves", {}):
            holds = {"holds_kg", "holds_litres"} & found.materials[material].keys()
            _check(bool(holds), f"{place}.leaves", f"needs to know what a container of '{material}' holds")
        _check_names(stage.get("when", []), recipe.get("conditions", {}), f"{place}.when", "condition")
        _check_names(stage.get("stays_for", []), recipe["stages"], f"{place}.stays_for", "stage")
        _check_names(stage.get("unless", []), recipe.get("conditions", {}), f"{place}.unless", "condition")
    for key, wait in table_in(recipe, "waits").items():
        _check(isinstance(wait, dict) and "after" in wait, f"{here}.waits.{key}", 'needs after = "..."')
        ends = [wait[end] for end in ("after", "before") if end in wait]
        _check_names(ends, recipe["stages"], f"{here}.waits.{key}", "stage")
        if "order" in wait:
            _check_names([str(wait["order"])], ORDERS, f"{here}.waits.{key}.order", "order")


def _check_names(names: Iterable[str], known: Iterable[str], place: str, kind: str) -> None:
    _check(isinstance(names, list | dict), place, f"must be a list of {kind} names")
    known = list(known)
    for name in names:
        _check(name in known, place, f"names the unknown {kind} '{name}'; {nearest_or_all(name, known)}")


def _check(holds: bool, place: str, wrong: str) -> None:
    if not holds:
        raise ValueError(f"{trade_tables.user_file()}: {place} {wrong}")


def table_in(table: Table, key: str) -> Table:
    """The table under a key; an empty one when there is none, or something else."""
    value = table.get(key) if isinstance(table, dict) else None
    return value if isinstance(value, dict) else {}


def texts_in(table: Table, key: str) -> list[str]:
    """The texts in the list under a key; none when there is no list."""
    value = table.get(key) if isinstance(table, dict) else None
    return [text for text in value if isinstance(text, str)] if isinstance(value, list) else []
