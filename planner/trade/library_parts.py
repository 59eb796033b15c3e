"""The trade library as data, and whether all that its parts name is there: kit, materials, methods, stages, conditions.

What is of another kind than belongs there is left alone here; that is told by the words of each table.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from planner.trade.trade_tables import Table, nearest_or_all, table_in, texts_in

Fault = tuple[str, str]
"""A place, and what is wrong there."""


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
    recipes: Mapping[str, Table]


def faults_in(found: Library, sites: Table, measures: Iterable[str], orders: Iterable[str]) -> Iterator[Fault]:
    """Every name in the library, and in the conditions of ``sites``, that nothing goes by; what a recipe lacks."""
    for name, kit in found.kit.items():
        yield from _unknown(f"kit.{name}.needs", texts_in(kit, "needs"), found.kit, "kit")
    for kind, methods in found.methods.items():
        for name, method in methods.items() if isinstance(methods, dict) else ():
            here = f"methods.{kind}.{name}"
            yield from _unknown(f"{here}.kit", texts_in(method, "kit"), found.kit, "kit")
            for word in ("uses", "expected", "leaves"):
                yield from _unknown(f"{here}.{word}", table_in(method, word), found.materials, "material")
    for name, recipe in found.recipes.items():
        if not isinstance(recipe, dict):
            yield f"recipes.{name}", "must be a table"
            continue
        yield from _of_a_recipe(f"recipes.{name}", recipe, found, measures, orders)
    every = {key: stage for recipe in found.recipes.values() for key, stage in table_in(recipe, "stages").items()}
    waits = {key for recipe in found.recipes.values() for key in table_in(recipe, "waits")}
    for name, site in sites.items():
        yield from _of_a_condition(f"sites.{_key(name)}", site, found, every, waits)


def _of_a_recipe(
    here: str, recipe: Table, found: Library, measures: Iterable[str], orders: Iterable[str]
) -> Iterator[Fault]:
    stages, conditions = (table_in(recipe, word) for word in ("stages", "conditions"))
    if not isinstance(recipe.get("title"), str):
        yield here, 'needs title = "..."'
    if "key" not in table_in(recipe, "surface"):
        yield here, 'needs surface = { key = "..." }'
    if not stages:
        yield here, "needs at least one [stages.NAME]"
    for word in ("needs", "may_have"):
        yield from _list(recipe, word, here, measures, "measure")
    for key in stages:
        yield from _of_a_stage(f"{here}.stages.{key}", stages[key], recipe, found, measures)
    waits = table_in(recipe, "waits")
    for key, wait in waits.items():
        place = f"{here}.waits.{key}"
        if not isinstance(wait, dict) or "after" not in wait:
            yield place, 'needs after = "..."'
            continue
        for word in ("after", "before", "extended_by"):
            yield from _unknown(f"{place}.{word}", [wait[word]] if word in wait else [], stages, "stage")
        yield from _unknown(f"{place}.order", [wait["order"]] if "order" in wait else [], orders, "order")
    for key, condition in conditions.items():
        yield from _of_a_condition(
            f"{here}.conditions.{_key(key)}", condition, found, stages, table_in(recipe, "waits")
        )


def _of_a_stage(place: str, stage: Any, recipe: Table, found: Library, measures: Iterable[str]) -> Iterator[Fault]:
    if not isinstance(stage, dict):
        yield place, "must be a table"
        return
    stages, conditions = (table_in(recipe, word) for word in ("stages", "conditions"))
    if not isinstance(stage.get("kind"), str):
        yield place, 'needs kind = "...", for example "wash"'
    work = stage.get("work", stage.get("kind"))
    methods = found.methods.get(work) if isinstance(work, str) else None
    if not isinstance(methods, dict):
        yield place, f"needs work that methods.toml knows, and has {work!r}"
    if not stage.get("methods"):
        yield place, 'needs methods = ["..."]'
    elif isinstance(methods, dict):
        yield from _list(stage, "methods", place, methods, "method")
    yield from _unknown(f"{place}.slower", table_in(stage, "slower"), texts_in(stage, "methods"), "method")
    for word in ("uses", "joints", "leaves"):
        yield from _unknown(f"{place}.{word}", table_in(stage, word), found.materials, "material")
    for material in table_in(stage, "leaves"):
        if material in found.materials and not {"holds_kg", "holds_litres"} & found.materials[material].keys():
            yield f"{place}.leaves", f"needs to know what a container of '{material}' holds"
    if "material" in (mix := table_in(stage, "treatment")):
        yield from _unknown(f"{place}.treatment.material", [mix["material"]], found.materials, "material")
    yield from _unknown(f"{place}.by", [stage["by"]] if "by" in stage else [], measures, "measure")
    for word, known, kind in (
        ("when", conditions, "condition"),
        ("unless", conditions, "condition"),
        ("after", stages, "stage"),
        ("stays_for", stages, "stage"),
    ):
        yield from _list(stage, word, place, known, kind)


def _of_a_condition(place: str, condition: Any, found: Library, stages: Table, waits: Iterable[str]) -> Iterator[Fault]:
    """What a condition of a recipe, or of a site, names that is not there."""
    for word in ("factors", "notes", "tags", "wear", "without", "treatment", "kit"):
        yield from _unknown(f"{place}.{word}", table_in(condition, word), stages, "stage")
    yield from _unknown(f"{place}.material", table_in(condition, "material"), found.materials, "material")
    yield from _unknown(f"{place}.waits", table_in(condition, "waits"), waits, "wait")
    for key in table_in(condition, "kit"):
        yield from _list(condition["kit"], key, f"{place}.kit", found.kit, "kit")
    for key in table_in(condition, "without"):
        if key in stages:
            yield from _list(condition["without"], key, f"{place}.without", texts_in(stages[key], "methods"), "method")


def _list(table: Table, word: str, place: str, known: Iterable[str], kind: str) -> Iterator[Fault]:
    value = table.get(word, [])
    if isinstance(value, list):
        yield from _unknown(f"{place}.{word}", value, known, kind)
    else:
        yield f"{place}.{word}", f"must be a list of {kind} names"


def _unknown(place: str, names: Iterable[Any], known: Iterable[str], kind: str) -> Iterator[Fault]:
    known = list(known)
    for name in names:
        if name not in known:
            yield place, f"names the unknown {kind} {_said(name)}; {nearest_or_all(str(name), known)}"


def _said(name: object) -> str:
    return f"'{name}'" if isinstance(name, str) else "that is no text"


def _key(name: str) -> str:
    """A name as a TOML file writes it: in quotes where it has spaces."""
    return f'"{name}"' if " " in name else name
