"""Lifting against the guideline filter of HSE INDG143 and L23; loads in armfuls against the shipped figures."""

from typing import Any

import pytest

from planner.day.jobs import WayIn
from planner.trade.library import library
from planner.trade.lifting import USUAL_LOAD_LIMIT, LiftStanding, guideline, lift_standing, of_guideline
from planner.trade.limits import limits
from planner.trade.recipes.laying_out import expand
from planner.trade.units import measure

LIFTING = limits().lifting
ARMFUL_KG = 16.0  # HSE INDG143 / L23: the lower figure at the waist, close to the body


def test_guideline_figures() -> None:
    # HSE INDG143 / L23: 25 kg and 16 kg at the waist close to the body; a pair lifts two thirds of the sum.
    assert guideline(["man"], LIFTING) == 25
    assert guideline(["woman"], LIFTING) == 16
    assert guideline(["man", "woman"], LIFTING) == pytest.approx((25 + 16) * 2 / 3)
    # L23: three lift half the sum (from memory).
    assert guideline(["man"] * 3, LIFTING) == pytest.approx(37.5)
    for team in ([], ["man"] * 4):
        with pytest.raises(ValueError, match="no guideline for"):
            guideline(team, LIFTING)


@pytest.mark.parametrize(
    ("mass", "team", "standing"),
    [
        (16, 1, LiftStanding.WITHIN),
        (16.1, 1, LiftStanding.LOWER),
        (25, 1, LiftStanding.LOWER),
        (25.1, 1, LiftStanding.OVER),
        (21.3, 2, LiftStanding.WITHIN),  # two thirds of 32 kg
        (33.3, 2, LiftStanding.LOWER),  # two thirds of 50 kg
        (40, 2, LiftStanding.OVER),
        (37.5, 4, LiftStanding.LOWER),  # four are given no more than three
    ],
)
def test_a_load_at_a_figure_is_within_it(mass: float, team: int, standing: LiftStanding) -> None:
    assert lift_standing(mass, team, LIFTING) is standing


def test_a_load_below_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot be lifted"):
        of_guideline(-1, 1, "man", LIFTING)


@pytest.mark.parametrize("word", ["kit", "materials"])
def test_no_shipped_load_is_lighter_in_armfuls_than_by_its_weight(word: str) -> None:
    """To the nearest quarter: bulk may add to it, nothing takes away from it."""
    things: dict[str, dict[str, Any]] = getattr(library(), word)
    for name, thing in things.items():
        by_weight = round(4 * measure(thing["mass"], "kg") / ARMFUL_KG) / 4
        assert thing.get("load", 1.0) >= by_weight, name


def test_a_usual_leg_is_below_the_higher_figure_and_takes_whatever_we_have() -> None:
    # 2 armfuls of 16 kg would be 32 kg, above the 25 kg of HSE INDG143; 1.5 are 24 kg.
    assert USUAL_LOAD_LIMIT * ARMFUL_KG <= 25 < 2 * ARMFUL_KG
    for key, kit in library().kit.items():
        assert kit.get("load", 1.0) <= USUAL_LOAD_LIMIT * kit.get("lift", 1), key
    for key, material in library().materials.items():
        assert material["load"] <= USUAL_LOAD_LIMIT, key


@pytest.mark.parametrize(("said", "carried"), [({}, 1.5), ({"load_limit": 2.5}, 2.5)])
def test_any_job_carries_a_usual_leg_unless_its_way_in_says_otherwise(said: dict[str, Any], carried: float) -> None:
    way = {"minutes": 3, **said}
    assert WayIn.model_validate(way).load_limit == carried
    job = {"grounds": {"rear": {"supplies": {"tap": 1}, "way_in": way}}, "recipe": "treat-wall"}
    made = expand({"hands": {"ash": {}}, "jobs": {"elm": job | {"measures": {"area": "9 m2"}}}})
    assert made["jobs"]["elm"]["grounds"]["rear"]["way_in"] == way
