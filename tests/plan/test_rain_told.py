"""Rain that somebody told: of an hour that no forecast covers nothing else is known, and nothing is said to be."""

from planner.plan.progress import Progress
from planner.plan.remarks import remarks
from planner.plan.unknown_weather import leaning
from planner.plan.went import with_rain
from planner.trade.weather import HourOfWeather, weather_at
from planner.trade.weather_gates import Tolerances, shut_spans
from tests.plan import worked

TOLD = Progress(560, rain=570, rain_until=780, said=560)
"""Rain from 09:30 to 13:00."""


def test_without_a_forecast_rain_that_was_told_makes_no_end_of_one() -> None:
    day, plan = worked.tiny()
    assert "not known" not in remarks(day, plan)
    rainy = with_rain(day, TOLD)
    assert leaning(rainy, plan) == []
    assert remarks(rainy, plan) == remarks(day, plan)


def test_without_a_forecast_nothing_is_made_up_beside_the_rain() -> None:
    """What asks for 15 C, no wind to speak of or dry air is shut out by no air that nobody knows; rain shuts rain."""
    day, _ = worked.tiny()
    hours = with_rain(day, TOLD).weather
    assert shut_spans(hours, Tolerances(coldest=15.0, hottest=5.0, windiest=0.5, above_dew=30.0)) == ()
    assert [(s.start, s.end) for s in shut_spans(hours, Tolerances(stopped_by_rain=True))] == [(570, 780)]
    assert weather_at(hours, 600) is None


def test_the_air_of_a_forecast_stays_as_it_was_forecast_and_ends_where_that_ends() -> None:
    """A forecast from 08:00 to 12:00, of 8 C at 08:00 and 20 C at 11:00; rain is told until 13:00."""
    day, plan = worked.tiny()
    forecast = tuple(HourOfWeather(480 + 60 * n, 8.0 + 4 * n, 0.6, 5.0, sun=True) for n in range(4))
    rainy = with_rain(day.model_copy(update={"weather": forecast}), TOLD)
    at_eleven = weather_at(rainy.weather, 690)
    assert at_eleven is not None
    assert at_eleven.air == 20.0
    assert at_eleven.rain_chance == 1.0
    assert not at_eleven.sun
    assert weather_at(rainy.weather, 725) is None
    assert [(s.start, s.end) for s in shut_spans(rainy.weather, Tolerances(stopped_by_rain=True))] == [(570, 780)]
    assert all(one.known_until == 720 for one in leaning(rainy, plan))
