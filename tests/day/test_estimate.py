"""Waits from the forecast.

The evaporation formula is P. J. Uno, ACI Materials Journal 95-M34, 1998, written out here once more; its field error of
40 % is from K. C. Hover, ACI Materials Journal 103-5, 2006. In weather that does not change, drying time is the film
over that rate, so every bound can be reckoned by hand. Of the wind of a forecast two thirds are left over the ground.
"""

import math

import pytest

from planner.day import Day
from planner.day.estimate import drying, with_weather
from planner.day.file import day_from_text
from planner.day.words import LATEST
from tests.day.small_day import SMALL
from tests.days import tiny_day

AIR, HUMIDITY, WIND = 18.0, 0.5, 12.0
E = 5 * ((AIR + 18) ** 2.5 - HUMIDITY * (AIR + 18) ** 2.5) * (WIND * 2 / 3 + 4) * 1e-6  # kg/m2/h, which is mm/h


def steady(hours: range, **changes: float) -> list[dict[str, object]]:
    row = {"air": AIR, "humidity": HUMIDITY, "wind": WIND} | changes
    return [{"minute": 60 * hour, **row} for hour in hours]


def day_with(wait: dict[str, object], rows: list[dict[str, object]]) -> Day:
    tables = tiny_day().model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["waits"] = [job["waits"][0] | wait]
    return with_weather(Day.model_validate(tables | {"weather": rows}))


def test_without_a_forecast_or_a_wait_on_it_nothing_changes():
    assert with_weather(tiny_day()) == tiny_day()
    plain = day_with({}, steady(range(6, 22)))
    assert plain.jobs["elm"].waits == tiny_day().jobs["elm"].waits


def test_dry_at_the_slow_end():
    wait = day_with({"weather": "dry", "film": 0.3, "most": None}, steady(range(48))).jobs["elm"].waits[0]
    by_hand = 60 * 0.3 / (E * 0.6)
    for begins in (480, 545, 700):
        least, most = wait.bounds(begins)
        assert by_hand <= least < by_hand + 6  # rounded up to five minutes
        assert most is None


def test_the_film_at_the_fast_end():
    wait = day_with({"weather": "film", "film": 0.2, "least": 5, "most": 240}, steady(range(48))).jobs["elm"].waits[0]
    by_hand = 60 * 0.2 / (E * 1.4)
    assert by_hand < 240
    assert wait.bounds(500) == (5, math.floor(by_hand))


def test_the_most_on_the_label_still_holds():
    wait = day_with({"weather": "film", "film": 5.0, "least": 5, "most": 20}, steady(range(48))).jobs["elm"].waits[0]
    assert wait.bounds(500) == (5, 20)


def test_what_does_not_dry_while_the_forecast_lasts_is_not_dry_today():
    wait = day_with({"weather": "dry", "film": 0.3, "most": None}, steady(range(24), humidity=1.0)).jobs["elm"].waits[0]
    assert 600 + wait.bounds(600)[0] >= LATEST - 60


def test_times_that_the_forecast_does_not_cover_keep_the_bounds_of_the_file():
    wait = (
        day_with({"weather": "film", "film": 0.1, "least": 5, "most": 45}, steady(range(10, 12))).jobs["elm"].waits[0]
    )
    assert wait.bounds(500) == (5, 45)
    assert wait.bounds(600)[1] == pytest.approx(60 * 0.1 / (E * 1.4), abs=1)
    assert wait.bounds(13 * 60) == (5, 45)


def test_an_hour_takes_the_worst_of_its_minutes():
    """Evening falls: later is slower, and a wait that begins late in an hour must be safe too."""
    from planner.trade.drying import drying_time

    rows = [{"minute": 60 * h, "air": 20 - 2 * max(0, h - 12), "humidity": 0.5, "wind": 8} for h in range(6, 24)]
    day = day_with({"weather": "dry", "film": 0.2, "most": None}, rows)
    wait = day.jobs["elm"].waits[0]
    for begins in range(480, 900, 15):
        assert wait.bounds(begins)[0] >= drying_time(day.weather, 0.2, begins).high


def test_a_shaded_surface_dries_as_cool_as_the_air_and_the_range_is_told():
    tables = tiny_day().model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["waits"] = [job["waits"][0] | {"weather": "dry", "film": 0.3, "most": None}]
    job["surfaces"]["wall"]["shaded"] = True
    day = with_weather(Day.model_validate(tables | {"weather": steady(range(48), sun=True)}))
    time = drying(day, "elm", day.jobs["elm"].waits[0], 500)
    assert time is not None
    by_hand = 60 * 0.3 / E  # of the air's own temperature: the sun does not reach it
    assert (time.low, time.likely, time.high) == pytest.approx((by_hand / 1.4, by_hand, by_hand / 0.6), rel=1e-3)
    assert by_hand / 0.6 <= day.jobs["elm"].waits[0].bounds(500)[0] < by_hand / 0.6 + 6
    assert drying(tiny_day(), "elm", tiny_day().jobs["elm"].waits[0], 500) is None


def test_a_low_sun_dries_level_ground_slowly_and_a_wall_that_it_faces_at_once():
    """In June over London the sun has its strength about noon; at seven it stands 20 degrees high (almanacs)."""

    def most(begins: int, **surface: object) -> int:
        tables = tiny_day().model_dump(by_alias=True)
        job = tables["jobs"]["elm"]
        job["waits"] = [job["waits"][0] | {"weather": "film", "film": 0.2, "least": 5, "most": 240}]
        job["surfaces"]["wall"] |= surface
        wait = with_weather(Day.model_validate(tables | {"weather": steady(range(48), sun=True)})).jobs["elm"].waits[0]
        found = wait.bounds(begins)[1]
        assert found is not None
        return found

    assert most(485, stood_on=True) > most(780, stood_on=True)
    assert most(485, stood_on=True, shaded=True) > most(485, stood_on=True)
    assert most(485) == most(780) == most(780, stood_on=True)


def test_reading_a_file_fills_the_waits_in(tmp_path):
    (tmp_path / "forecast.csv").write_text(
        "time,air,humidity,wind\n" + "".join(f"{h:02d}:00,{AIR},{HUMIDITY},{WIND}\n" for h in range(24))
    )
    text = SMALL.replace("format = 1\n", 'format = 1\nweather_file = "forecast.csv"\n').replace(
        'most = "45 min"', 'most = "45 min"\nweather = "film"\nfilm = 0.2'
    )
    wait = day_from_text(text, tmp_path / "day.toml").jobs["elm"].waits[0]
    assert wait.bounds(600) == (30, math.floor(60 * 0.2 / (E * 1.4)))


@pytest.mark.parametrize(("measured", "least"), [(False, 300), (True, None)])
def test_a_forecast_makes_no_wait_shorter_than_the_file_says_unless_the_surface_is_measured(measured, least):
    """Deck oil asks five hours (as many labels do; from memory); a sunny hour dries the face in a fraction of that."""
    tables = tiny_day().model_dump(by_alias=True)
    job = tables["jobs"]["elm"]
    job["waits"] = [job["waits"][0] | {"weather": "dry", "film": 0.3, "most": None, "least": 300}]
    job["surfaces"]["wall"]["measured"] = measured
    wait = with_weather(Day.model_validate(tables | {"weather": steady(range(48))})).jobs["elm"].waits[0]
    by_hand = 60 * 0.3 / (E * 0.6)
    assert by_hand + 6 < 300
    for begins in (480, 545, 700):
        bound = wait.bounds(begins)[0]
        assert bound == least or (measured and by_hand <= bound < by_hand + 6)
