"""From one use of a recipe to the surface, stages, waits and notes of a job, as a person would write them."""

from __future__ import annotations

import math
from copy import deepcopy
from dataclasses import dataclass, field

from planner.trade import units
from planner.trade.equipment import Equipment, has_supply
from planner.trade.filler import passes
from planner.trade.library import METHOD_WORDS
from planner.trade.library_parts import Library
from planner.trade.lifting import USUAL_LOAD_LIMIT
from planner.trade.recipes.amounts import Amounts, add_water, amounts, disc_for, film
from planner.trade.recipes.links import without_stage
from planner.trade.recipes.uses import Faults, Use
from planner.trade.trade_tables import Table, table_in

_STAGE_WORDS = (
    "work", "methods", "by", "when", "unless", "uses", "leaves", "joints", "treatment", "drinks", "notes", "after",
    "slower", "lies_below", "spares_below", "spares_beside", "against_run_off",
)  # fmt: skip
SURFACE_WORDS = ("key", "lies_in", "over_paving")
_CUSTOMER = ("before", "handover", "after", "not_promised")


@dataclass
class WrittenParts:
    """What one use adds to its job, all keys as they stand in the job."""

    surface: Table = field(default_factory=dict)
    stages: dict[str, Table] = field(default_factory=dict)
    waits: list[Table] = field(default_factory=list)
    customer: dict[str, list[str]] = field(default_factory=dict)
    hazards: list[str] = field(default_factory=list)
    lying: list[str] = field(default_factory=list)
    """The stages whose sheets lie on what is below their surface."""
    sparing: list[str] = field(default_factory=list)
    """The stages that do no harm to it: sheets catch what they make."""
    staying: list[str] = field(default_factory=list)
    """The stages that do no harm beside it: what they make comes to their own surface and to what that lies in."""
    rinsing_first: list[str] = field(default_factory=list)
    """The stages that are there only where what runs down from above must be rinsed off before a treatment."""


def parts_of(use: Use, ground: Table, equipment: Equipment, library: Library, faults: Faults) -> WrittenParts:
    """Everything a use adds to its job; what is wrong is added to ``faults``."""
    parts = WrittenParts(surface=_surface(use))
    undone: dict[str, Table] = {}  # a re-wet for which there is no kit is none
    for key, stage in use.recipe["stages"].items():
        if not _is_there(stage, use):
            continue
        try:
            parts.stages[use.stage(key)] = _stage(key, stage, use, ground, equipment, library)
            if stage.get("lies_below"):
                parts.lying.append(use.stage(key))
            if stage.get("spares_below"):
                parts.sparing.append(use.stage(key))
            if stage.get("spares_beside"):
                parts.staying.append(use.stage(key))
            if stage.get("against_run_off"):
                parts.rinsing_first.append(use.stage(key))
        except ValueError as fault:
            if stage.get("only_if_needed"):
                undone[key] = stage
                continue
            wrong, _, right = str(fault).partition("; ")
            faults.add(use.place, f"stage '{key}': {wrong}", right or "see the recipe")
        except KeyError as fault:
            faults.add(
                use.place, f"stage '{key}' needs {fault}, which is not given", "add it here, or to the trade library"
            )
    parts.waits = _waits(use)
    absent = {key: stage for key, stage in use.recipe["stages"].items() if not _is_there(stage, use)} | undone
    for key, stage in absent.items():
        parts.stages[use.stage(key)] = {"after": [use.stage(other) for other in stage.get("after", [])]}
    for key in absent:
        without_stage(parts.stages, parts.waits, use.stage(key))
    for table in (use.recipe, *use.effects()):
        parts.hazards += [tag for tag in table.get("hazards", []) if tag not in parts.hazards]
        for word in _CUSTOMER:
            said = parts.customer.setdefault(word, [])
            said += [text for text in table.get("customer", {}).get(word, []) if text not in said]
    return parts


def _is_there(stage: Table, use: Use) -> bool:
    """Whether the conditions that hold call for the stage."""
    held = set(use.conditions)
    is_called_for = "when" not in stage or not held.isdisjoint(stage["when"])
    return is_called_for and held.isdisjoint(stage.get("unless", []))


def _surface(use: Use) -> Table:
    given: Table = {word: use.lists[word] for word in ("over", "worked_from", "drains_to") if word in use.lists}
    shipped = {word: deepcopy(value) for word, value in use.recipe["surface"].items() if word not in SURFACE_WORDS}
    surface: Table = {**shipped, "ground": use.ground, **given}
    if use.is_measured:
        surface["measured"] = True
    if use.name:
        surface["name"] = use.name
    for word, unit in (("area", "m2"), ("run", "m")):
        if word in use.measures:
            surface[word] = f"{use.measures[word]:g} {unit}"
    return surface


def _stage(key: str, stage: Table, use: Use, ground: Table, equipment: Equipment, library: Library) -> Table:
    """One stage as a table of the day."""
    stage = _as_conditions_have_it(key, stage, use)
    made: Table = {word: deepcopy(value) for word, value in stage.items() if word not in _STAGE_WORDS}
    made["surface"] = use.surface
    if "after" in stage:
        made["after"] = [use.stage(other) for other in stage["after"]]
    if "stays_for" in stage:
        made["stays_for"] = [use.stage(other) for other in stage["stays_for"]]
    area, run = _measured(made, stage.get("by", ""), use)
    taken = amounts(key, stage, use, equipment.materials, area=area, run=run)
    factor = math.prod(float(effect.get("factors", {}).get(key, 1.0)) for effect in use.effects())
    made["methods"] = _methods(key, stage, use, ground, equipment, library)
    for name, method in made["methods"].items():
        shipped = library.methods[_work(stage)][name]
        if taken.uses:
            method["uses"] = dict(taken.uses)
        if taken.leaves:
            method["leaves"] = dict(taken.leaves)
        if taken.expected:
            method["expected"] = dict(taken.expected)
        times = _passes(method, shipped, use)
        longer = times * factor * stage.get("slower", {}).get(name, 1.0)
        if longer != 1:
            method["factor"] = round(longer * method.get("factor", 1.0), 4)
        at_tap = "tap" in equipment.supplies_for(method.get("kit", []))
        can = equipment.materials["water"]
        add_water(method, shipped, use, can, area=area, run=run, at_tap=at_tap)
    notes = [stage.get("notes", ""), *(effect.get("notes", {}).get(key, "") for effect in use.effects())]
    notes += [effect.get("notes_by_kind", {}).get(stage["kind"], "") for effect in use.effects()]
    _say(made, taken, notes)
    return made


def _as_conditions_have_it(key: str, stage: Table, use: Use) -> Table:
    """The recipe's stage with the tags, the wear and the mix that the conditions ask for."""
    changed = dict(stage)
    for effect in use.effects():
        for word in ("tags", "wear"):
            if more := effect.get(word, {}).get(key, []):
                listed = changed.get(word, [])
                changed[word] = [*listed, *(name for name in more if name not in listed)]
        if key in effect.get("treatment", {}):
            changed["treatment"] = {**changed["treatment"], **effect["treatment"][key]}
    return changed


def _measured(made: Table, by: str, use: Use) -> tuple[float, float]:
    """Area in m2 and run in m of a stage; where it goes by a measure of its own, the stage says so."""
    area, run = use.measures.get("area", 0.0), use.measures.get("run", 0.0)
    if by == "joint_run":
        run = use.measures[by]
        made["run"] = f"{run:.1f} m"
    elif by:
        area = use.measures[by]
        made["area"] = f"{area:g} m2"
    return area, run


def _passes(method: Table, shipped: Table, use: Use) -> int:
    """How often a tool goes along each joint, by its width and its depth; a disc goes on the method's list."""
    deep = 1
    if "pass_depth" in shipped:
        deep = passes(use.measures["joint_depth"], units.measure(shipped["pass_depth"], "mm"))
    wide = 1
    if "discs" in shipped:
        disc, wide = disc_for(use.measures["joint_width"], shipped["discs"], use.measures.get("disc"))
        method["consumables"] = [f"cutting disc, {disc:g} mm"]
        tool = f"{disc:g} mm disc, {wide} pass{'es' if wide > 1 else ''} along each joint"
        method["notes"] = f"{tool}{f', {deep} deep' if deep > 1 else ''}."
    elif deep > 1:
        method["notes"] = f"Deep joints: {deep} times along each."
    return wide * deep


def _say(made: Table, taken: Amounts, notes: list[str]) -> None:
    if taken.mixing:
        made["mixing"] = taken.mixing
    if taken.chemical:
        made["chemical"] = taken.chemical
    words = " ".join(note for note in notes if note)
    if words:
        made["notes"] = words[:400]


def _methods(
    key: str, stage: Table, use: Use, ground: Table, equipment: Equipment, library: Library
) -> dict[str, Table]:
    """The methods that conditions, kit, hands and the ground leave, without the library's own words.

    Raises `ValueError` when none is left; the message says why.
    """
    barred = {name for effect in use.effects() for name in effect.get("without", {}).get(key, [])}
    besides = list(dict.fromkeys(name for effect in use.effects() for name in effect.get("kit", {}).get(key, [])))
    found: dict[str, Table] = {}
    other: dict[str, Table] = {}  # by water from the van or from cans, which a ground with a tap does without if it can
    why: list[str] = []
    for name in stage["methods"]:
        method = library.methods[_work(stage)][name]
        if besides:
            method = {**method, "kit": [*method.get("kit", []), *besides]}
        reason = "does not suit the conditions" if name in barred else _why_not(method, use, ground, equipment)
        if reason is None:
            brings_water = _brings_water(method) and has_supply(table_in(ground, "supplies"), "tap")
            kept = {word: deepcopy(value) for word, value in method.items() if word not in METHOD_WORDS}
            (other if brings_water else found)[name] = kept
        else:
            why.append(f"'{name}' {reason}")
    found = found or other
    if not found:
        right = "bring that kit, give the ground what it takes, or change the conditions"
        if all("reaches no higher" in reason for reason in why):
            right = "measure the height again, or leave it to somebody who reaches so high safely"
        raise ValueError(f"no way is left to do it: {', '.join(why)}; {right}")
    return found


def _why_not(method: Table, use: Use, ground: Table, equipment: Equipment) -> str | None:
    """Why a method is no use on a ground, in words that follow its name; None when it is."""
    kit = method.get("kit", [])
    supplies, way = table_in(ground, "supplies"), table_in(ground, "way_in")
    limit = way.get("load_limit", USUAL_LOAD_LIMIT)
    if equipment.away(kit):
        return f"needs {' and '.join(equipment.away(kit))}, which is left at home"
    if heavy := equipment.too_heavy(kit, limit if isinstance(limit, int | float) else USUAL_LOAD_LIMIT):
        return f"needs {' and '.join(heavy)}, too heavy to carry in"
    if lacking := equipment.lacking(kit, supplies):
        return f"needs a {' and a '.join(lacking)} on ground '{use.ground}'"
    if "highest" in method and use.measures.get("height", 0.0) > units.measure(method["highest"], "m"):
        return f"reaches no higher than {method['highest']}"
    return None if _disc_fits(method, use) else "has no disc thin enough for the joints"


def _brings_water(method: Table) -> bool:
    return bool(method.get("no_tap")) or ("water" in method and not method.get("any_ground"))


def _disc_fits(method: Table, use: Use) -> bool:
    if "discs" not in method:
        return True
    try:
        disc_for(use.measures["joint_width"], method["discs"], use.measures.get("disc"))
    except ValueError:
        return False
    return True


def _waits(use: Use) -> list[Table]:
    """The recipe's waits, with what conditions make of them."""
    made = []
    for key, shipped in use.recipe.get("waits", {}).items():
        wait = {word: deepcopy(value) for word, value in shipped.items() if word != "source"}
        for effect in use.effects():
            wait |= effect.get("waits", {}).get(key, {})
        if wait.get("weather") == "film" and "film" not in wait:
            wait["film"] = round(film(wait["after"], use), 3)
        for end in ("after", "before", "extended_by"):
            if end in wait:
                wait[end] = use.stage(wait[end])
        made.append(wait)
    return made


def _work(stage: Table) -> str:
    return str(stage.get("work", stage["kind"]))
