"""Vibration and noise against the published ready reckoners and the formulas of the standards."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.exposure import (
    Band,
    noise_daily,
    noise_exposure,
    noise_points,
    vibration_a8,
    vibration_exposure,
    vibration_points,
)
from planner.trade.limits import limits

VIBRATION, NOISE = limits().vibration, limits().noise
uses = st.lists(st.tuples(st.floats(0, 20), st.floats(0, 480)), max_size=5)


@pytest.mark.parametrize(("magnitude", "hours", "points"), [(2.5, 8, 100), (5, 8, 400), (5, 3, 150)])
def test_vibration_points(magnitude: float, hours: float, points: float) -> None:
    # HSE hand-arm vibration ready reckoner; Control of Vibration at Work Regulations 2005.
    assert vibration_points([(magnitude, 60 * hours)]) == pytest.approx(points)


def test_a8_of_one_and_of_several_tools() -> None:
    # ISO 5349-1:2001: a sqrt(T / 8 h), and the root of the sum of squares over tools.
    assert vibration_a8([(5, 120)]) == pytest.approx(5 * math.sqrt(2 / 8))
    one, other = vibration_a8([(6, 45)]), vibration_a8([(3, 90)])
    assert vibration_a8([(6, 45), (3, 90)]) == pytest.approx(math.hypot(one, other))
    assert vibration_a8([]) == 0


@given(uses)
def test_points_and_a8_say_the_same(tools: list[tuple[float, float]]) -> None:
    # 100 points are 2.5 m/s2 and points go with the square: A(8) = 2.5 sqrt(points / 100).
    assert vibration_a8(tools) == pytest.approx(2.5 * math.sqrt(vibration_points(tools) / 100), abs=1e-6)


def test_standing_at_and_about_the_vibration_values() -> None:
    # The action value is reached at 2.5, the limit passed only above 5 (the Regulations, reg. 4 and 6).
    stand = [vibration_exposure([(a, 480)], VIBRATION).standing for a in (2.49, 2.5, 5.0, 5.01)]
    assert stand == [Band.BELOW, Band.ACTION, Band.ACTION, Band.OVER]
    assert vibration_exposure([(5.01, 480)], VIBRATION).is_over
    assert vibration_exposure([(5, 480)], VIBRATION).points == pytest.approx(400)


def test_daily_noise() -> None:
    # Control of Noise at Work Regulations 2005, schedule 1: 8 h at a level is that level; half the time takes
    # 3 dB off.
    assert noise_daily([(85, 480)]) == pytest.approx(85)
    assert noise_daily([(85, 240)]) == pytest.approx(85 - 10 * math.log10(2))
    assert noise_daily([(85, 240), (85, 240)]) == pytest.approx(85)
    assert noise_daily([]) == -math.inf


@pytest.mark.parametrize(("daily", "points"), [(95, 1000), (90, 315), (88, 200), (85, 100), (82, 50), (80, 32)])
def test_noise_points(daily: float, points: float) -> None:
    # HSE noise exposure ready reckoner (weekly), whose figures are rounded.
    assert noise_points(daily) == pytest.approx(points, rel=0.015)


def test_standing_at_and_about_the_noise_values() -> None:
    stand = [noise_exposure([(level, 480)], NOISE).standing for level in (79.9, 80, 85, 87, 87.1)]
    assert stand == [Band.BELOW, Band.LOWER_ACTION, Band.ACTION, Band.ACTION, Band.OVER]


def test_hearing_protection_counts_for_the_limit_only() -> None:
    # The Regulations, reg. 4: the limit is judged at the ear, the action values without protection.
    assert noise_exposure([(95, 480)], NOISE).is_over
    worn = noise_exposure([(95, 480)], NOISE, at_ear=[(80, 480)])
    assert (worn.standing, worn.at_ear) == (Band.ACTION, pytest.approx(80))
    assert noise_exposure([(120, 480)], NOISE, at_ear=[(88, 480)]).is_over


@given(uses, st.floats(0, 100), st.floats(0, 480))
def test_one_more_use_never_lowers_an_exposure(
    tools: list[tuple[float, float]], magnitude: float, minutes: float
) -> None:
    more = [*tools, (magnitude, minutes)]
    assert vibration_a8(more) >= vibration_a8(tools)
    assert noise_daily(more) >= noise_daily(tools)


@pytest.mark.parametrize("wrong", [(-1.0, 10.0), (5.0, -10.0), (math.nan, 10.0), (5.0, math.inf)])
def test_what_makes_no_sense_is_refused(wrong: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="must not be below 0"):
        vibration_a8([wrong])
    with pytest.raises(ValueError, match="must not be below 0"):
        noise_daily([wrong])
