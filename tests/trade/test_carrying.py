"""Lifting against the guideline filter of HSE INDG143 and L23; armfuls worked by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.carrying import armfuls, guideline, hands_needed, lift
from planner.trade.limits import limits

LIFTING = limits().lifting


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


def test_a_load_at_the_figure_is_within_and_above_it_is_not() -> None:
    assert lift(25, ["man"], LIFTING).is_within
    assert not lift(25.1, ["man"], LIFTING).is_within
    with pytest.raises(ValueError, match="cannot be lifted"):
        lift(-1, ["man"], LIFTING)


def test_hands_needed() -> None:
    # One man to 25 kg, two to 33.3 kg, three to 37.5 kg; one woman to 16 kg.
    assert [hands_needed(mass, "man", LIFTING) for mass in (25, 26, 33.3, 34, 38)] == [1, 2, 2, 3, None]
    assert hands_needed(20, "woman", LIFTING) == 2


def test_armfuls() -> None:
    # Two armfuls are 16 kg, the lower guideline figure (the stated assumption).
    assert [armfuls(mass) for mass in (0, 0.1, 8, 16, 20)] == [0, 0.1, 1, 2, 2.5]
    assert armfuls(25, armful_kg=12.5) == 2
    with pytest.raises(ValueError, match="cannot be carried"):
        armfuls(5, armful_kg=0)


@given(st.floats(0, 200), st.floats(1, 20))
def test_armfuls_never_understate_the_load(mass: float, each: float) -> None:
    assert mass - 1e-6 <= armfuls(mass, armful_kg=each) * each < mass + 0.1 * each + 1e-6
