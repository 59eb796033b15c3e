"""What a job says of the recipes it uses: which, on what, with which measures, under which conditions."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from planner.trade import units
from planner.trade.filler import joint_run
from planner.trade.library import DRAINS, MEASURES, RANGES, SIDES
from planner.trade.library_parts import Library
from planner.trade.trade_tables import Table, nearest_or_all, table_in

Where = tuple[str | int, ...]
"""A place in a day file: the names of tables and keys from the top, and numbers (from 0) in lists."""

_TEXTS = ("recipe", "ground", "surface", "name", "prefix", "quoted", "drain")
_TICKS = ("measured",)
_LISTS = ("conditions", "before", "after", "over", "worked_from", "drains_to")


@dataclass(frozen=True, slots=True)
class RecipeFault:
    """One thing that is wrong with a recipe's use: where, what, and what would be right."""

    place: Where
    wrong: str
    right: str


class RecipeFaults(ValueError):  # noqa: N818 - a fault is the project's word for what a person can put right
    """Recipes that cannot be worked out; ``faults`` has every fault that was found."""

    def __init__(self, faults: Iterable[RecipeFault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(f"{'.'.join(map(str, f.place))}: {f.wrong}; {f.right}" for f in faults))


class Faults(list[RecipeFault]):
    """Faults as they are found."""

    def add(self, place: Where, wrong: str, right: str) -> None:
        """Note one more."""
        self.append(RecipeFault(place, wrong, right))


@dataclass(frozen=True)
class Use:
    """One use of a recipe by a job.

    Attributes
    ----------
    place
        Where it stands in the file.
    key, recipe
        The recipe's name and table.
    ground, surface
        Keys of the ground and of the surface that is worked on.
    name
        What the surface is called; empty when the user does not say.
    prefix
        Goes before the keys of the stages, so that a recipe can be used twice.
    conditions
        Names of conditions that hold.
    measures
        Numbers in the units of `MEASURES`; ``slab`` is left out, ``joint_run`` worked out from it.
    lists
        What the use says of its place among the job's other surfaces and stages.
    is_measured
        Whether the surface's moisture is measured before work that needs it dry.
    """

    place: Where
    key: str
    recipe: Table
    ground: str
    surface: str
    name: str
    prefix: str
    quoted: str
    conditions: tuple[str, ...]
    measures: dict[str, float]
    lists: dict[str, list[str]]
    is_measured: bool = False

    def stage(self, key: str) -> str:
        """The key in the job of a stage of the recipe."""
        return f"{self.prefix}-{key}" if self.prefix else key

    def effects(self) -> list[Table]:
        """The tables of the conditions that hold."""
        return [self.recipe["conditions"][name] for name in self.conditions]


def uses_of(key: str, job: Table, library: Library, faults: Faults) -> list[Use]:
    """The recipes a job uses, in the order of the file; what is wrong is added to ``faults``."""
    here: Where = ("jobs", key)
    asked: list[tuple[Where, Any]] = []
    if "recipe" in job:
        measures = job.get("measures", {})
        if isinstance(measures, dict):
            asked.append(((*here, "measures"), {**measures, "recipe": job["recipe"]}))
        else:
            faults.add((*here, "measures"), "this is no table", f"write [jobs.{key}.measures]")
    elif "measures" in job:
        right = 'say which recipe they are for, for example recipe = "clear-gutters"'
        faults.add((*here, "measures"), "these measures have no recipe", right)
    listed = job.get("recipes", [])
    if not isinstance(listed, list):
        faults.add((*here, "recipes"), "this is no list", f"write [[jobs.{key}.recipes]]")
        listed = []
    asked += [((*here, "recipes", i), table) for i, table in enumerate(listed)]
    found = [_use(place, table, job, library, faults) for place, table in asked]
    return [use for use in found if use is not None]


def _use(place: Where, table: Any, job: Table, library: Library, faults: Faults) -> Use | None:
    """One use, or None when something in it is wrong."""
    known = len(faults)

    def fault(word: str, wrong: str, right: str) -> None:
        # The short form has its recipe beside the measures, not among them.
        at = (*place[:2], word) if word == "recipe" and place[-1] == "measures" else (*place, word)
        faults.add(at if word else place, wrong, right)

    if not isinstance(table, dict):
        fault("", "this is no table", f'write [[{place[0]}.{place[1]}.recipes]] and below it recipe = "..."')
        return None
    key = table.get("recipe")
    if not isinstance(key, str) or key not in library.recipes:
        wrong = "no recipe is named here" if key is None else f"unknown recipe {key!r}"
        fault("recipe" if key is not None else "", wrong, nearest_or_all(str(key or ""), library.recipes))
        return None
    recipe = library.recipes[key]
    _check_words(table, recipe, fault)
    ground = _ground(table, job, fault)
    if len(faults) > known:
        return None
    conditions = _with_drain(tuple(table.get("conditions", ())), table, recipe, job, ground, fault)
    possible = recipe.get("conditions", {})
    for name in conditions:
        if name not in possible:
            fault("conditions", f"unknown condition '{name}'", nearest_or_all(name, possible))
    measures = _measures(_with_hose_run(table, recipe, job, ground), recipe, conditions, fault)
    prefix = table.get("prefix", "")
    own = recipe["surface"]["key"]
    use = Use(
        place,
        key,
        recipe,
        ground,
        table.get("surface", f"{prefix}-{own}" if prefix else own),
        table.get("name", ""),
        prefix,
        table.get("quoted", ""),
        conditions,
        measures,
        {word: table[word] for word in _LISTS if word in table and word != "conditions"},
        table.get("measured", False) is True or "moisture" in measures,
    )
    return use if len(faults) == known else None


def _check_words(table: Table, recipe: Table, fault: Callable[[str, str, str], None]) -> None:
    """Each word is one that may stand here, and is of its kind."""
    takes = [*recipe.get("needs", []), *recipe.get("may_have", [])]
    for word, value in table.items():
        if word in _TEXTS:
            if not isinstance(value, str):
                fault(word, f"{value!r} is no text", 'write it in quotes, for example "rear"')
        elif word in _LISTS:
            if not (isinstance(value, list) and all(isinstance(item, str) for item in value)):
                fault(word, f"{value!r} is no list of texts", 'write for example ["patio"]')
        elif word in _TICKS:
            if not isinstance(value, bool):
                fault(word, f"{value!r} is neither yes nor no", "write true or false")
        elif word not in takes:
            known = [*takes, *_TEXTS, *_LISTS, *_TICKS]
            fault(word, f"this recipe asks for no '{word}'", nearest_or_all(word, known))


def _ground(table: Table, job: Table, fault: Callable[[str, str, str], None]) -> str:
    """The ground that the use names, or the only one there is."""
    grounds = job.get("grounds")
    known = list(grounds) if isinstance(grounds, dict) else []
    ground = table.get("ground", known[0] if len(known) == 1 else None)
    if ground is None:
        fault("", "no ground is named here", nearest_or_all("", known) if known else "give the job a ground")
    elif ground not in known:
        fault("ground", f"unknown ground {ground!r}", nearest_or_all(str(ground), known))
    return str(ground)


def _with_hose_run(table: Table, recipe: Table, job: Table, ground: str) -> Table:
    """The use with the way of the hose from its ground, where the recipe asks for it and the use does not say it."""
    run = table_in(table_in(job, "grounds"), ground).get("hose_run")
    return {"hose_run": run, **table} if run is not None and "hose_run" in recipe.get("may_have", []) else table


def _with_drain(
    conditions: tuple[str, ...],
    table: Table,
    recipe: Table,
    job: Table,
    ground: str,
    fault: Callable[[str, str, str], None],
) -> tuple[str, ...]:
    """The conditions of a use, with that of its kind of drain, or of its ground's, where the recipe lets water run."""
    kind = table.get("drain", table_in(table_in(job, "grounds"), ground).get("drain"))
    if "drain" in table and kind not in DRAINS:
        fault("drain", f"unknown kind of drain {kind!r}", nearest_or_all(str(kind), DRAINS))
    if not isinstance(kind, str) or kind not in DRAINS or not _lets_water_run(recipe):
        return conditions
    said = [name for name in conditions if name in DRAINS.values()]
    if said and "drain" not in table:
        return conditions  # the use knows better than its ground
    if said and said != [DRAINS[kind]]:
        fault("drain", f"drain = '{kind}' and the condition '{said[0]}' cannot both be so", "say one of them")
    return tuple(dict.fromkeys([*conditions, DRAINS[kind]]))


def _lets_water_run(recipe: Table) -> bool:
    """Whether any of its work washes, rinses or flushes."""
    kinds = [str(stage.get("kind", "")).split()[:1] for stage in recipe["stages"].values()]
    return any(kind in (["wash"], ["rinse"], ["flush"]) for kind in kinds)


def _measures(
    table: Table, recipe: Table, conditions: tuple[str, ...], fault: Callable[[str, str, str], None]
) -> dict[str, float]:
    """Every measure as a number: what the use gives, else what a condition or the recipe holds usual."""
    usual = dict(recipe.get("usual", {}))
    for name in conditions:
        usual |= recipe.get("conditions", {}).get(name, {}).get("usual", {})
    texts = usual | {word: table[word] for word in MEASURES if word in table}
    found: dict[str, float] = {}
    sides: tuple[float, ...] = ()
    for word, text in texts.items():
        unit, example = MEASURES[word]
        try:
            if word in SIDES:
                sides = _two_sides(text, unit, word)
            else:
                value = units.minutes(text) if unit == "min" else units.measure(text, unit)
                least, most = RANGES[word]
                if not least <= value <= most:
                    unit = "min" if word == "stock_age" else unit
                    raise ValueError(f"'{text}' cannot be: {word} lies between {least:g} and {most:g} {unit}")
                if word in recipe.get("at_most", {}):
                    _check_most(text, value, recipe["at_most"][word], unit)
                found[word] = value
        except ValueError as wrong:
            said, _, right = str(wrong).partition("; ")
            fault(word, said, right or f"write for example '{example}'")
    if sides and "area" in found:
        found.setdefault("joint_run", found["area"] * joint_run(*sides))
    if "steps" in found and "step_width" in found:
        found.setdefault("area", found["steps"] * found["step_width"] * found.get("tread_and_riser", 460.0) / 1000)
    for word in recipe.get("needs", []):
        if word not in texts and word not in found and not (word in SIDES and "joint_run" in texts):
            instead = ', or steps = "8 steps" and step_width' if "steps" in recipe.get("may_have", []) else ""
            fault("", f"this recipe needs {word}", f'add for example {word} = "{MEASURES[word][1]}"{instead}')
    if found.get("loose_area", 0.0) > found.get("area", math.inf):
        more = f"the loose area, {found['loose_area']:g} m2, is more than the area, {found['area']:g} m2"
        fault("loose_area", more, "give the part of the area that is loose")
    return found


def _two_sides(text: Any, unit: str, word: str) -> tuple[float, ...]:
    sides = units.lengths(text, unit)
    if len(sides) != 2 or not all(10 <= side <= 10_000 for side in sides):
        raise ValueError(f"'{text}' is not the two sides of a {word}")
    return sides


def _check_most(text: Any, value: float, most: str, unit: str) -> None:
    """What is measured must not be over what the work bears: wet boards take no oil."""
    if value > units.measure(most, unit):
        raise ValueError(f"'{text}' is too much: this work bears {most} at the most; put it off, then measure again")
