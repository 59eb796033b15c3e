"""What a stage of a recipe takes: filler, treatment, coatings, water, discs; as containers, and in words."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from planner.trade import units
from planner.trade.dilution import mix, strength_after, treatment_volume
from planner.trade.filler import Containers, containers, disc_passes, filler_mass, joint_volume
from planner.trade.recipes.uses import Use
from planner.trade.trade_tables import Table
from planner.trade.water import fills, wait_for_supply, water_used

DRINKS = "20 %"
"""What paving and walls drink of what is sprayed on them before it dries: an assumption, common practice, no source."""

USUAL_HOSE_M = 25.0
"""Metres of hose on a reel; a longer way takes more hose along."""


@dataclass
class Amounts:
    """Whole containers to take, containers expected to be used and to be left, by material, and how to mix.

    What is left (rubble, dust, green waste) is counted in containers, the last of which need not be full.
    """

    uses: dict[str, int] = field(default_factory=dict)
    expected: dict[str, float] = field(default_factory=dict)
    leaves: dict[str, float] = field(default_factory=dict)
    mixing: str = ""
    chemical: str = ""


def amounts(key: str, stage: Table, use: Use, materials: dict[str, Table], *, area: float, run: float) -> Amounts:
    """What a stage takes whatever the method, for its area in m2 and run in m; `key` is its own in the recipe.

    Raises `ValueError` when the stock is too weak, or a material's figures cannot be read.
    """
    found = Amounts()
    for name, text in stage.get("uses", {}).items():
        needed = _amount(text, _unit(materials[name]), area, run) * _factor(use, name) * (1 + _waste(materials[name]))
        _take(found, name, containers(needed, _holds(materials[name])))
    for name in stage.get("joints", {}):
        _take_filler(found, key, use, name, materials[name])
    if "treatment" in stage:
        _take_treatment(found, stage["treatment"], use, materials, area)
    for name, text in stage.get("leaves", {}).items():
        found.leaves[name] = round(_left(name, text, use, materials[name], area, run) / _holds(materials[name]), 2)
    return found


def _left(name: str, text: str, use: Use, material: Table, area: float, run: float) -> float:
    """What a stage leaves, in the unit of its container: an amount, or what was in the joints, broken up.

    For joints, the part of their volume that is to be filled anew, at the density of the broken stuff as it lies in
    the bag: 1.4 to 1.9 kg/L for mortar and stone (from memory).

    Raises `ValueError` where the joints are not measured.
    """
    if text != "joints":
        return _amount(text, _unit(material), area, run) * _factor(use, name)
    m = use.measures
    lacking = [word for word in ("joint_run", "joint_width", "joint_depth") if word not in m]
    if lacking:
        raise ValueError(f"what it leaves goes by the joints, and {' and '.join(lacking)} is not given; add it here")
    litres = joint_volume(m["joint_run"], width_mm=m["joint_width"], depth_mm=m["joint_depth"])
    litres *= m.get("joints_empty", 100.0) / 100 * _factor(use, name)
    return litres * units.measure(material["density"], "kg/m3") / 1000 if _unit(material) == "kg" else litres


def film(key: str, use: Use) -> float:
    """The film in mm that a stage leaves on a dry surface: what is laid on (1 L/m2 is 1 mm), less what it drinks.

    The ground drinks a part: `DRINKS` where the recipe's stage does not say.
    """
    stage = use.recipe["stages"][key]
    drunk = units.measure(stage.get("drinks", DRINKS), "%") / 100
    if "treatment" in stage:
        laid, name = units.measure(stage["treatment"]["rate"], "L/m2"), stage["treatment"]["material"]
        return laid * _factor(use, name) * (1 - drunk)
    found = [units.measure(text, "L/m2") * _factor(use, name) for name, text in stage.get("uses", {}).items()]
    return sum(found) * (1 - drunk)


def filler_kg(use: Use, name: str, material: Table) -> float:
    """Kilograms of filler for all the joints of a use: run x width x depth x density, with waste.

    The run comes from slab size and area unless it is given, so a measured run is taken at its word.
    """
    m = use.measures
    litres = joint_volume(m["joint_run"], width_mm=m["joint_width"], depth_mm=m["joint_depth"])
    density = units.measure(material["density"], "kg/m3")
    empty = m.get("joints_empty", 100.0) / 100
    mass = filler_mass(litres, density_kg_m3=density, empty=empty, waste=_waste(material))
    return mass * _factor(use, name)


def _take_filler(found: Amounts, key: str, use: Use, name: str, material: Table) -> None:
    """The tubs that this layer opens: its share, rounded up; the last layer takes what is left."""
    total = containers(filler_kg(use, name, material), _holds(material))
    layers = {other: stage for other, stage in use.recipe["stages"].items() if name in stage.get("joints", {})}
    shares = [layer["joints"][name] for layer in layers.values()]
    number = list(layers).index(key)
    opened, opened_before = (
        math.ceil(total.taken * sum(shares[:n]) / sum(shares) - 1e-9) for n in (number + 1, number)
    )
    found.expected[name] = round(total.used * shares[number] / sum(shares), 2)
    if opened > opened_before:
        found.uses[name] = opened - opened_before


def _take(found: Amounts, name: str, total: Containers) -> None:
    found.uses[name] = found.uses.get(name, 0) + total.taken
    found.expected[name] = round(found.expected.get(name, 0.0) + total.used, 2)


def _take_treatment(found: Amounts, treatment: Table, use: Use, materials: dict[str, Table], area: float) -> None:
    name = treatment["material"]
    material = materials[name]
    days = use.measures.get("stock_age", 0.0) / units.MINUTES_IN_A_DAY
    stock = use.measures.get("stock", units.measure(material["strength"], "%"))
    strength = strength_after(stock, days) if days else stock
    wanted = units.measure(treatment["wanted"], "%")
    volume = treatment_volume(area, litres_each_m2=units.measure(treatment["rate"], "L/m2")) * _factor(use, name)
    mixed = mix(volume, wanted_percent=wanted, stock_percent=strength)
    aged = f", reckoned as {strength:.1f} % after {days:.0f} days" if days else ""
    places = 2 if mixed.stock_l < 1 else 1  # of 0.21 L a tenth of a litre is no measure; the two make up the whole
    whole, poured = round(mixed.volume_l, places), round(mixed.stock_l, places)
    found.mixing = (
        f"{whole:.{places}f} L of {wanted:g} %: {poured:.{places}f} L of stock ({stock:g} %{aged}) "
        f"and {whole - poured:.{places}f} L of water, 1 part to {mixed.water_parts:.2g}. "
        "The label decides."
    )
    found.chemical = material.get("chemical", "")
    _take(found, name, containers(mixed.stock_l, _holds(material)))


def add_water(
    method: Table, library_method: Table, use: Use, can: Table, *, area: float, run: float, at_tap: bool
) -> None:
    """Say in a method of the day what water it takes.

    That is cans carried in, or litres drawn, and the minutes lost to a tap that gives less than the work draws.

    Parameters
    ----------
    method
        The day's method, which is changed.
    library_method
        The library's, with what it draws or carries.
    can
        The material ``water``.
    area, run
        Measures of the stage in m2 and m.
    at_tap
        Whether its water comes from a tap on the ground, else from the van's tank.
    """
    if "water" in library_method:
        litres = _amount(library_method["water"], "L", area, run)
        method["uses"] = {**method.get("uses", {}), "water": fills(litres, _holds(can))}
        method["expected"] = {**method.get("expected", {}), "water": round(litres / _holds(can), 2)}
    if "draws" not in library_method:
        return
    rate = method.get("rate")
    measure = 0.0 if rate is None else {"m2": area, "m": run}[rate["unit"]] / rate["amount"] * 60
    work = (units.minutes(method.get("minutes", "0 min")) + measure) * method.get("factor", 1.0)
    litres = water_used(work * method.get("trigger", 0.7), units.measure(library_method["draws"], "L/min"))
    method["draws"] = f"{litres:.0f} L"
    if at_tap and (longer := use.measures.get("hose_run", 0.0) - USUAL_HOSE_M) > 0:
        method["consumables"] = [*method.get("consumables", []), f"more hose, {math.ceil(longer / 5) * 5} m"]
    if at_tap and "tap_flow" in use.measures:
        lost = wait_for_supply(litres, work, tank_l=0.0, supply_l_min=use.measures["tap_flow"])
        fixed = units.minutes(method.get("minutes", "0 min")) + lost / method.get("factor", 1.0)
        if lost:
            method["minutes"] = f"{fixed:.0f} min"
            method["notes"] = f"The tap gives less than the work draws: {lost:.0f} min of waiting for water counted in."


def disc_for(joint_mm: float, discs: list[str], own_mm: float | None) -> tuple[float, int]:
    """The thickest disc that goes into the joint, or the user's own, in mm, and the passes it takes.

    Raises `ValueError` when no disc goes in.
    """
    sizes = [units.measure(text, "mm") for text in discs] if own_mm is None else [own_mm]
    fitting = [size for size in sizes if size <= joint_mm] or [min(sizes)]
    disc = max(fitting)
    return disc, disc_passes(joint_mm, disc)


def _unit(material: Table) -> str:
    return "kg" if "holds_kg" in material else "L"


def _holds(material: Table) -> float:
    unit = _unit(material)
    return units.measure(material["holds_kg" if unit == "kg" else "holds_litres"], unit)


def _waste(material: Table) -> float:
    return units.measure(material["waste"], "%") / 100 if "waste" in material else 0.0


def _factor(use: Use, name: str) -> float:
    return math.prod(float(effect.get("material", {}).get(name, 1.0)) for effect in use.effects())


def _amount(text: str, unit: str, area: float, run: float) -> float:
    """An amount given for each m2, for each m, or as a whole."""
    if text.endswith("/m2"):
        return units.measure(text, f"{unit}/m2") * area
    if text.endswith("/m"):
        return units.measure(text, f"{unit}/m") * run
    return units.measure(text, unit)
