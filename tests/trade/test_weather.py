"""Weather between the hours of a forecast, against a straight line drawn by numpy."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.weather import SUN_LIFT_C, HourOfWeather, holding, surface_temperature, weather_at

MORNING = (
    HourOfWeather(420, air=10, humidity=0.9, wind=5, rain_chance=0.6),
    HourOfWeather(480, air=14, humidity=0.7, wind=8, sun=True),
    HourOfWeather(600, air=20, humidity=0.5, wind=20),
)


@given(st.floats(420, 600))
def test_between_hours_the_weather_lies_on_a_straight_line(minute: float) -> None:
    found = weather_at(MORNING, minute)
    assert found is not None
    at = [hour.minute for hour in MORNING]
    for field in ("air", "humidity", "wind"):
        expected = np.interp(minute, at, [getattr(hour, field) for hour in MORNING])
        assert getattr(found, field) == pytest.approx(expected)


def test_rain_and_sun_hold_for_their_hour() -> None:
    late, early = weather_at(MORNING, 479), weather_at(MORNING, 481)
    assert late is not None
    assert early is not None
    assert (late.rain_chance, late.sun) == (0.6, False)
    assert (early.rain_chance, early.sun) == (0, True)


def test_beyond_the_forecast_nothing_is_known() -> None:
    assert weather_at(MORNING, 419) is None
    assert weather_at(MORNING, 659) == HourOfWeather(659, 20, 0.5, 20)
    assert weather_at(MORNING, 660) is None
    assert weather_at((), 500) is None
    assert [(start, end) for start, end, _ in holding(MORNING)] == [(420, 480), (480, 600), (600, 660)]


def test_surfaces_in_the_sun_are_warmer_by_the_stated_assumption() -> None:
    sunny = MORNING[1]
    assert surface_temperature(sunny) == 14 + SUN_LIFT_C
    assert surface_temperature(sunny, shaded=True) == 14
    assert surface_temperature(MORNING[0]) == 10


@pytest.mark.parametrize(
    ("field", "value"),
    [("air", 400), ("humidity", 65), ("wind", -1), ("rain_chance", 30), ("air", float("nan"))],
)
def test_weather_that_cannot_be_is_refused(field: str, value: float) -> None:
    said = {"minute": 420, "air": 10.0, "humidity": 0.5, "wind": 5.0} | {field: value}
    with pytest.raises(ValueError, match=f"{field} .* cannot be; write"):
        HourOfWeather(**said)  # type: ignore[arg-type]
