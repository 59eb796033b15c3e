"""Mixing, against the mass balance C1 V1 = C2 V2 worked by hand (volumes taken as additive)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.dilution import mix, strength_after, treatment_volume

percents = st.floats(0.1, 100)


def test_stock_and_water_for_a_volume() -> None:
    # 20 L at 3.5 % from 14 % stock: 20 * 3.5 / 14 = 5 L of stock, 15 L of water, three parts to one.
    made = mix(20, wanted_percent=3.5, stock_percent=14)
    assert (made.stock_l, made.water_l, made.water_parts) == pytest.approx((5, 15, 3))


@given(st.floats(0.1, 1000), percents, percents)
def test_a_mix_has_the_strength_and_volume_asked_for(volume: float, one: float, other: float) -> None:
    wanted, stock = sorted((one, other))
    made = mix(volume, wanted_percent=wanted, stock_percent=stock)
    assert made.volume_l == pytest.approx(volume)
    assert made.stock_l * stock == pytest.approx(volume * wanted)


def test_a_stock_too_weak_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot make 7 %"):
        mix(10, wanted_percent=7, stock_percent=5)
    with pytest.raises(ValueError, match="not above 0"):
        mix(10, wanted_percent=0, stock_percent=14)


def test_strength_falls_with_age() -> None:
    # 14 % less a tenth is 12.6 %, less a tenth of that is 11.34 %.
    assert strength_after(14, 0) == 14
    assert strength_after(14, 30) == pytest.approx(12.6)
    assert strength_after(14, 60) == pytest.approx(11.34)


@given(percents, st.floats(0, 400), st.floats(0, 400), st.floats(0, 0.9))
def test_older_stock_is_never_stronger(stock: float, one: float, other: float, loss: float) -> None:
    young, old = sorted((one, other))
    younger = strength_after(stock, young, loss_in_30_days=loss)
    assert strength_after(stock, old, loss_in_30_days=loss) <= younger <= stock


def test_treatment_volume() -> None:
    assert treatment_volume(32, litres_each_m2=0.3, coats=2) == pytest.approx(19.2)
    with pytest.raises(ValueError, match="cannot be worked out"):
        treatment_volume(32, litres_each_m2=0.3, coats=0)
