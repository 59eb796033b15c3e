"""Weather gates: which spans are shut, checked minute by minute against the plain rule."""

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.weather import SUN_LIFT_C, HourOfWeather
from planner.trade.weather_gates import Shut, Tolerances, shut_spans

psychrolib.SetUnitSystem(psychrolib.SI)


def day(*hours: tuple[float, float, float, float, bool]) -> tuple[HourOfWeather, ...]:
    return tuple(HourOfWeather(420 + 60 * i, *hour) for i, hour in enumerate(hours))


WET = day((8, 0.6, 5, 0.1, False), (9, 0.6, 5, 0.7, False), (9, 0.6, 5, 0.9, False), (10, 0.6, 5, 0.2, False))


def test_rain_shuts_what_cannot_take_it_and_nothing_else() -> None:
    assert shut_spans(WET, Tolerances()) == ()
    assert shut_spans(WET, Tolerances(stopped_by_rain=True)) == (Shut(480, 600, "rain (chance 50% or more)"),)


def test_what_must_stay_dry_afterwards_closes_earlier() -> None:
    (shut,) = shut_spans(WET, Tolerances(stopped_by_rain=True, dry_after=45))
    assert (shut.start, shut.end) == (435, 600)


def test_frost_and_heat() -> None:
    hours = day((-1, 0.9, 5, 0, False), (6, 0.8, 5, 0, False), (22, 0.5, 5, 0, True), (22, 0.5, 40, 0, False))
    assert shut_spans(hours, Tolerances(coldest=5)) == (Shut(420, 480, "air below 5 C"),)
    assert 22 + SUN_LIFT_C > 30
    assert shut_spans(hours, Tolerances(hottest=30)) == (Shut(540, 600, "surface above 30 C"),)
    assert shut_spans(hours, Tolerances(hottest=30), shaded=True) == ()
    assert shut_spans(hours, Tolerances(windiest=35)) == (Shut(600, 660, "wind above 35 km/h"),)


@pytest.mark.parametrize("humidity", [0.0, 0.5, 0.8, 0.85, 0.95, 1.0])
def test_dew_against_psychrolib(humidity: float) -> None:
    # ISO 8502-4: a coating wants its surface 3 C above the dew point.
    dew = psychrolib.GetTDewPointFromRelHum(12, humidity) if humidity else -100
    shut = shut_spans(day((12, humidity, 5, 0, False)), Tolerances(above_dew=3))
    assert bool(shut) == (12 - dew < 3)


@given(
    st.lists(st.tuples(st.floats(-5, 35), st.just(0.5), st.just(5.0), st.floats(0, 1), st.booleans()), min_size=1),
    st.floats(-5, 20),
    st.integers(0, 180),
)
def test_a_minute_is_shut_when_an_hour_that_reaches_it_is(hours: list, coldest: float, lead: int) -> None:
    forecast = day(*hours)
    tolerances = Tolerances(stopped_by_rain=True, likely_rain=0.4, dry_after=lead, coldest=coldest)
    spans = shut_spans(forecast, tolerances)
    assert all(span.start < span.end for span in spans)
    for minute in range(0, 420 + 60 * len(hours), 7):
        rained = any(h.rain_chance >= 0.4 and h.minute - lead <= minute < h.minute + 60 for h in forecast)
        frozen = any(h.air < coldest and h.minute <= minute < h.minute + 60 for h in forecast)
        assert any(span.start <= minute < span.end for span in spans) == (rained or frozen)
