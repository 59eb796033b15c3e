"""The load list of small days by shipped recipes, as a practitioner would look it over; common practice, no source."""

from functools import lru_cache
from typing import Any

import pytest

from planner.engine import first_plan
from planner.plan.loading import Load, loads
from tests.days import by_recipes

OPEN = {"minutes": "1 min", "wheeled": True}

USES: dict[str, dict[str, Any]] = {
    "drive": {"recipe": "treat-drive", "area": "20 m2", "conditions": ["by the pavement"]},
    "joints": {"recipe": "grind-and-refill-joints", "area": "5 m2", "slab": "900 x 600 mm", "joint_width": "10 mm"},
    "efflorescence": {"recipe": "remove-efflorescence", "area": "6 m2"},
    "seal": {"recipe": "wash-dry-seal", "area": "12 m2", "measured": True},
    "gutter joints": {"recipe": "reseal-gutter-joints", "run": "8 m"},
    "blocks": {"recipe": "wash-and-sand-blocks", "area": "12 m2"},
    "leave": {"recipe": "treat-and-leave", "area": "20 m2"},
}


@lru_cache
def listed(use: str, *, tap: int = 1, hands: int = 1) -> dict[str, Load]:
    """What is loaded for a small day, by name."""
    ground = {"supplies": {"tap": tap, "socket": 2}, "way_in": OPEN}
    people: dict[str, Any] = {f"hand-{n}": {} for n in range(hands)}
    day = by_recipes({"grounds": {"rear": ground}, "recipes": [USES[use]]}, hands=people)
    plan = first_plan(day)
    assert plan is not None
    return {load.name: load for load in loads(day, plan)}


@pytest.mark.parametrize(
    ("use", "names"),
    [
        ("drive", ["measuring jug", "mixing bucket", "tap adaptor", "spare nozzle and O-rings", "cones and a sign"]),
        ("drive", ["eyewash, 500 mL", "rinse water at hand, 10 L", "double check valve", "drain cover mat"]),
        ("joints", ["Rubble", "cutting disc, 10 mm", "dust mask FFP3", "eyewash, 500 mL", "30 mA RCD plug"]),
        ("efflorescence", ["measuring jug for acid", "eyewash, 500 mL", "spare bucket, never used for hypochlorite"]),
        ("seal", ["rags"]),
        ("gutter joints", ["rags", "sealant gun"]),
        ("leave", ["measuring jug", "mixing bucket"]),
    ],
)
def test_what_is_small_and_missed_most_is_on_the_list(use: str, names: list[str]) -> None:
    assert set(names) <= set(listed(use))


@pytest.mark.parametrize("use", USES)
def test_first_aid_is_in_the_van_on_every_day(use: str) -> None:
    assert "first aid kit" in listed(use)


def test_an_engine_brings_its_fuel_and_what_soaks_it_up() -> None:
    by_plate, by_tank = listed("blocks", hands=2), listed("drive", tap=0)
    for found in (by_plate, by_tank):
        assert {"fuel can, full", "absorbent granules", "ear defenders"} <= set(found)


def test_nobody_wears_ear_defenders_for_a_broom() -> None:
    assert "ear defenders" not in listed("leave")
    assert "ear defenders" not in listed("gutter joints")
    # Two hands grind, sweep and fill; only who runs the loud kit needs them.
    assert listed("joints", hands=2)["ear defenders"].count <= 1
