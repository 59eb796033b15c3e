"""Moist air against PsychroLib, which implements the ASHRAE Handbook of Fundamentals."""

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.moist_air import dew_point, saturation_pressure, vapour_pressure

psychrolib.SetUnitSystem(psychrolib.SI)
AIR = [*range(-30, 61, 3), 0.0, 0.01, 0.02]
HUMIDITY = [0.05, 0.2, 0.4, 0.6, 0.8, 0.95, 1.0]


@pytest.mark.parametrize("air", AIR)
def test_saturation_pressure(air: float) -> None:
    assert saturation_pressure(air) == pytest.approx(psychrolib.GetSatVapPres(air), rel=1e-9)


@pytest.mark.parametrize("air", AIR)
@pytest.mark.parametrize("humidity", HUMIDITY)
def test_vapour_pressure_and_dew_point(air: float, humidity: float) -> None:
    assert vapour_pressure(air, humidity) == pytest.approx(psychrolib.GetVapPresFromRelHum(air, humidity), rel=1e-9)
    theirs = psychrolib.GetTDewPointFromRelHum(air, humidity)
    assert dew_point(air, humidity) == pytest.approx(theirs, abs=0.002)  # PsychroLib itself stops at 0.001 C


@given(st.floats(-30, 50), st.floats(0.05, 1))
def test_air_cooled_to_its_dew_point_is_saturated(air: float, humidity: float) -> None:
    assert saturation_pressure(dew_point(air, humidity)) == pytest.approx(vapour_pressure(air, humidity), rel=1e-5)


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(ValueError, match="outside the range"):
        saturation_pressure(101)
    with pytest.raises(ValueError, match="share from 0 to 1"):
        vapour_pressure(20, 65)
    with pytest.raises(ValueError, match="too dry"):
        dew_point(20, 0)
