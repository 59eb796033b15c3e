"""Forecasts read from rows, CSV and JSON: the same hours must come out of each."""

import datetime as dt
import json

import pytest

from planner.trade.forecast import read_csv, read_json, read_rows
from planner.trade.weather import HourOfWeather

DATE = dt.date(2026, 6, 22)
EXPECTED = (
    HourOfWeather(420, air=12.5, humidity=0.8, wind=9, rain_chance=0.1, sun=True),
    HourOfWeather(480, air=14.0, humidity=0.7, wind=18, rain_chance=0.6, sun=False),
)
SERVICE = {
    "latitude": 51.5,
    "hourly_units": {"temperature_2m": "°C", "wind_speed_10m": "m/s"},
    "hourly": {
        "time": ["2026-06-21T23:00", "2026-06-22T07:00", "2026-06-22T08:00"],
        "temperature_2m": [11, 12.5, 14],
        "relative_humidity_2m": [85, 80, 70],
        "wind_speed_10m": [2, 2.5, 5],
        "precipitation_probability": [0, 10, 60],
        "cloud_cover": [100, 20, 90],
    },
}


def test_rows() -> None:
    rows = [
        {"time": "08:00", "air": 14, "humidity": "70 %", "wind": 18, "rain_chance": 0.6, "sun": "no"},
        {"time": "07:00", "air": 12.5, "humidity": 0.8, "wind": 9, "rain_chance": "10%", "sun": True},
    ]
    assert read_rows(rows) == EXPECTED


def test_csv_with_commas_and_with_semicolons() -> None:
    text = "time,air,humidity,wind,rain_chance,sun\n07:00,12.5,0.8,9,0.1,yes\n08:00,14,70 %,18,0.6,\n"
    assert read_csv(text) == EXPECTED
    assert read_csv("\ufeff" + text.replace(",", ";").replace("\n", "\r\n")) == EXPECTED


def test_json_of_a_service_keeps_the_hours_of_the_day_and_converts_units() -> None:
    # 1 m/s is 3.6 km/h; per cent become shares; the evening before is left out.
    assert read_json(json.dumps(SERVICE), date=DATE) == EXPECTED


def test_the_next_day_goes_on_past_midnight() -> None:
    hours = read_json(json.dumps(SERVICE), date=dt.date(2026, 6, 21))
    assert [hour.minute for hour in hours] == [23 * 60, 24 * 60 + 420, 24 * 60 + 480]


def test_fahrenheit_and_knots() -> None:
    # 59 F is 15 C; a knot is 1.852 km/h by definition.
    rows = [{"time": 420, "temp": 59, "humidity": 0.5, "wind": 10}]
    (hour,) = read_rows(rows, unit_of={"temp": "°F", "wind": "kn"})
    assert (hour.air, hour.wind) == pytest.approx((15, 18.52))


def test_every_bad_row_is_named_with_what_would_be_right() -> None:
    text = (
        "time,air,humidity,wind\n"
        "07:00,12,0.8,9\n"
        "7am,12,0.8,9\n"
        "09:00,warm,0.8,9\n"
        "10:00,12,80,9\n"
        "11:00,12,0.8,\n"
        "12:00,99,0.8,9\n"
    )
    with pytest.raises(ValueError, match=r"field\.csv") as error:
        read_csv(text, source="field.csv")
    assert str(error.value).splitlines() == [
        "field.csv: row 2: '7am' is not a time of day; write for example '07:30'",
        "field.csv: row 3: air 'warm' is not a number; write for example 12.5",
        "field.csv: row 4: humidity '80' is not a share; write 0.65 or '65 %'",
        "field.csv: row 5: no wind (a column named wind, wind_kmh, wind_speed, wind_speed_10m or windspeed_10m)",
        "field.csv: row 6: air 99 cannot be; write degrees C from -50 to 60",
    ]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("{", "line 1: this is not JSON"),
        ("{}", "no object 'hourly'"),
        ('{"hourly": {"time": ["07:00"], "air": []}}', "differ in length"),
        ("3", "expected an object with 'hourly'"),
        ("[]", "give at least one row"),
        ('[{"time": "2026-06-22T07:00Z", "air": 1, "humidity": 0.5, "wind": 1}]', "carries a time zone"),
        ('[{"time": "2026-13-22T07:00", "air": 1, "humidity": 0.5, "wind": 1}]', "is not a time"),
        ('[{"time": "07:00", "air": 1, "humidity": 0.5, "wind": 1, "sun": "maybe"}]', "neither yes nor no"),
        ('[{"time": 420, "air": 1, "humidity": 0.5, "wind": 1}, {"time": "07:00", "air": 1, '
         '"humidity": 0.5, "wind": 1}]', "two rows for 07:00"),
    ],
)  # fmt: skip
def test_a_broken_file_is_named(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=r"^sky\.json: ") as error:
        read_json(text, source="sky.json")
    assert says in str(error.value)


def test_a_forecast_for_another_day_is_refused() -> None:
    with pytest.raises(ValueError, match="no hour for 2026-07-01"):
        read_json(json.dumps(SERVICE), date=dt.date(2026, 7, 1))


def test_an_unknown_unit_of_wind_is_refused() -> None:
    with pytest.raises(ValueError, match="give it in km/h"):
        read_rows([{"time": 420, "air": 1, "humidity": 0.5, "wind": 1}], unit_of={"wind": "furlongs"})
