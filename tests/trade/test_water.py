"""Water drawn, supplied and carried, worked by hand and by pouring it minute by minute."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.water import fills, wait_for_supply, water_used


def test_water_used() -> None:
    assert water_used(45, 12, waste=0) == pytest.approx(540)
    assert water_used(45, 12, waste=0.1) == pytest.approx(594)


def test_waiting_for_the_tap() -> None:
    # 900 L in 60 min of work, 400 L in the tank, a tap of 5 L/min: 500 L take 100 min, 40 more than the work.
    assert wait_for_supply(900, 60, tank_l=400, supply_l_min=5) == pytest.approx(40)
    assert wait_for_supply(300, 60, tank_l=400, supply_l_min=0) == 0
    assert wait_for_supply(500, 60, tank_l=400, supply_l_min=0) == math.inf


@given(st.integers(1, 120), st.integers(1, 20), st.integers(0, 800), st.integers(1, 20))
def test_waiting_agrees_with_pouring_minute_by_minute(work: int, draw: int, tank: int, supply: int) -> None:
    waited, stored, done = 0, float(tank), 0
    while done < work:
        stored += supply
        if stored >= draw:
            stored, done = stored - draw, done + 1
        else:
            waited += 1
    figure = wait_for_supply(work * draw, work, tank_l=tank, supply_l_min=supply)
    assert waited == math.ceil(figure - 1e-9)


def test_fills() -> None:
    assert [fills(litres, 10) for litres in (0, 9, 10, 11)] == [0, 1, 1, 2]
    with pytest.raises(ValueError, match="holds nothing"):
        fills(10, 0)
    with pytest.raises(ValueError, match="below 0"):
        water_used(-1, 12)
