"""Words and quantities in a day file: what is read, and what a person is told when it cannot be."""

from datetime import date
from typing import get_args

import pytest
from pydantic import BaseModel

from planner.day import Day
from planner.day.faults import DayFaults
from planner.day.file import day_from_text, day_to_toml
from planner.day.jobs import Part
from planner.day.plain_words import EXAMPLES
from tests.day.small_day import SMALL

TRIP = 'minutes = "10 min"'
WALL_AREA = 'area = "20 m2"'


def read(tmp_path, *changes):
    text = SMALL
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    return day_from_text(text, tmp_path / "day.toml")


@pytest.mark.parametrize(
    ("written", "minutes"),
    [
        # an hour has 60 minutes, a minute 60 seconds; half minutes go up
        ('"1h10"', 70),
        ('"1 h 10 min"', 70),
        ('"90 s"', 2),
        ('"0.5 h"', 30),
        ('"0 min"', 0),
        ('"2 hours"', 120),
        ('"1 day"', 1440),
    ],
)
def test_lengths_of_time(tmp_path, written, minutes):
    day = read(tmp_path, (TRIP, f"minutes = {written}"))
    assert day.travel.trips[0].minutes == minutes


@pytest.mark.parametrize(
    ("written", "minute"),
    [('"07:30"', 450), ("07:30:00", 450), ('"00:00"', 0), ('"7:05"', 425)],
)
def test_times_of_day(tmp_path, written, minute):
    assert read(tmp_path, ('start = "08:00"', f"start = {written}")).start == minute


def test_a_time_of_the_next_morning(tmp_path):
    assert read(tmp_path, ('finish = "17:00"', 'finish = "01:30 +1"')).finish == 25 * 60 + 30


@pytest.mark.parametrize(
    ("written", "square_metres"),
    # 1 ft = 0.3048 m and 1 yd = 3 ft exactly: international yard and pound agreement, 1959
    [('"32 m2"', 32.0), ('"32 m²"', 32.0), ('"5000 cm^2"', 0.5), ('"10 ft^2"', 10 * 0.3048**2), ('"4 sq m"', 4.0)],
)
def test_areas(tmp_path, written, square_metres):
    day = read(tmp_path, (WALL_AREA, f"area = {written}"))
    assert day.jobs["elm"].surfaces["wall"].area == pytest.approx(square_metres)


def test_a_rate_as_text(tmp_path):
    day = read(tmp_path, ('{ amount = 60, unit = "m2" }', '"1 m2/min"'))
    rate = day.jobs["elm"].stages["rinse"].methods["lance"].rate
    assert (rate.amount, rate.unit) == (pytest.approx(60), "m2")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (TRIP, "minutes = 10", "travel.trips[0].minutes: 10 has no unit; write for example '10 min' or '1h10'"),
        (TRIP, 'minutes = "ten"', "'ten' is not a duration; write for example '6 min'"),
        (TRIP, 'minutes = "10 m"', "'10 m' is not a duration"),
        (TRIP, "minutes = true", "true is a yes or no, and belongs elsewhere; write a text or a number"),
        (TRIP, 'minutes = "99 days"', "'99 days' is too long; write at most '14 days'"),
        (
            'start = "08:00"',
            'start = "08:00 +9"',
            "'08:00 +9' is not of this day or the next; write '00:00' to '24:00 +1'",
        ),
        (TRIP, 'minutes = ["10 min"]', "a list is not what belongs here; write a whole number"),
        (WALL_AREA, "area = 20", "jobs.elm.surfaces.wall.area: 20 has no unit; write for example '32 m2'"),
        (WALL_AREA, 'area = "20 m"', "'20 m' is not an area; write for example '32 m2'"),
        (WALL_AREA, 'area = "20 sheep"', "'20 sheep' is not an area"),
        (WALL_AREA, 'area = "-4 m2"', "(it is below zero)"),
        (WALL_AREA, "area = nan", "nan has no unit"),
        ('start = "08:00"', 'start = "25:00"', "start: '25:00' is not a time of day; write for example '07:30'"),
        ('start = "08:00"', 'start = "8am"', "'8am' is not a time of day"),
        ('start = "08:00"', "start = 8", "'8' is not a time of day; write for example"),
        ('start = "08:00"', "start = 2026-06-16T08:00:00", "is not a time of day"),
        ("date = 2026-06-16", "date = 1826-06-16", "date: '1826-06-16' is below 2000-01-01"),
        ("date = 2026-06-16", "", "date: 'date' is missing; add date = 2026-06-16"),
        ("load = 0.5", "load = inf", "kit.broom.load: 'inf' is not what belongs here; write a number, for example 1.5"),
        ('to = "elm", ', "", "travel.trips[0].to: 'to' is missing; add to = \"larch\""),
        (
            "load = 0.5",
            'load = "heavy"',
            "kit.broom.load: 'heavy' is not what belongs here; write a number, for example 1.5",
        ),
        ("load = 0.5", "load = -1", "'-1' is below 0; give 0 or more"),
        ("load = 0.5", "load = true", "true is a yes or no"),
        ("load = 0.5", "laod = 0.5", "kit.broom.laod: unknown word 'laod'; did you mean 'load'?"),
        (
            "methods.broom",
            "methds.broom",
            "jobs.elm.stages.sweep.methds: unknown word 'methds'; did you mean 'methods'?",
        ),
        (
            'kind = "dwell"',
            'kind = "dwel"',
            "jobs.elm.waits[0].kind: 'dwel' is not a word for kind; write 'dwell', 'dry', 'cure', 'set' or 'order'",
        ),
        ('to = "elm"', 'too = "elm"', "travel.trips[0].too: unknown word 'too'; did you mean 'to'?"),
        (
            "[kit.broom]",
            '[kit."the broom"]',
            "'the broom' cannot be a name; write letters a to z, figures, '-' and '_'",
        ),
        ('hours = ["08:00", "17:00"]', 'hours = ["08:00"]', "hands.ash.hours[1]: the list is too short; give 2 values"),
        ("stood_on = false", 'stood_on = "maybe"', "'maybe' is not what belongs here; write true or false"),
        ("tap = 1", "tap = 1.5", "'1.5' is not a whole number"),
        ("[hands.ash]\nhours", "[hands]\nash", "hands.ash: a list is not what belongs here; write a table"),
    ],
)
def test_what_a_person_is_told(faults, old, new, told):
    assert any(told in line for line in faults((old, new))), faults((old, new))


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("format = 1\n", "", ":1: format: the file does not say its format; add format = 1 at its top"),
        (
            "format = 1\n",
            "format = 2\n",
            "format: this file is format '2'; this program reads format 1: install a newer slackwater",
        ),
        ("format = 1\n", "format = 0\n", "format: there is no format '0'; write format = 1"),
        ("format = 1\n", "format = true\n", "format: there is no format 'true'; write format = 1"),
    ],
)
def test_formats(faults, old, new, told):
    found = faults((old, new))
    assert len(found) == 1
    assert told.removeprefix(":") in found[0]


@pytest.mark.parametrize(
    ("old", "word", "meant"), [("format = 1", "wether_file", "weather_file"), ("[jobs.elm]", "recipie", "recipe")]
)
def test_words_that_are_worked_out_before_the_rest(faults, old, word, meant):
    found = faults((f"{old}\n", f'{old}\n{word} = "x"\n'))
    assert len(found) == 1
    assert f"unknown word '{word}'; did you mean '{meant}'?" in found[0]


def test_a_misspelt_word_is_not_called_missing_as_well(faults):
    assert len(faults(("methods.broom", "methds.broom"))) == 1


def test_a_newer_format_is_not_looked_at_further(faults):
    assert len(faults(("format = 1", "format = 3"), ("load = 0.5", "weight = 0.5"))) == 1


def test_no_break_at_all_is_kept(tmp_path):
    day = read(tmp_path, ("date = 2026-06-16", 'date = 2026-06-16\nrest = "none"'))
    assert day.rest is None
    assert day_from_text(day_to_toml(day), tmp_path / "again.toml").rest is None


def test_the_date_stays_a_date(tmp_path):
    assert "\ndate = 2026-06-16\n" in day_to_toml(read(tmp_path))
    assert read(tmp_path).date == date(2026, 6, 16)


def test_what_cannot_be_a_name_is_told_with_one_that_can(tmp_path):
    with pytest.raises(DayFaults) as faults:
        read(tmp_path, ("[jobs.elm.stages.treat]", '[jobs.elm.stages.treat]\nchemical = "algae remover"'))
    assert [fault.right.rpartition(", ")[2] for fault in faults.value.faults] == ["for example 'algae-remover'"]


def required(model: type[BaseModel], seen: set[type[BaseModel]]) -> set[str]:
    """The words that must be there, as a file writes them, in a model and in all that it holds."""
    if model in seen or model is Part:
        return set()
    seen.add(model)
    found = {field.alias or name for name, field in model.model_fields.items() if field.is_required()}
    kinds = [field.annotation for field in model.model_fields.values()]
    while kinds:
        kind = kinds.pop()
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            found |= required(kind, seen)
        kinds += get_args(kind)
    return found


def test_what_is_missing_is_told_with_an_example(tmp_path):
    """Of every word that must be there; the meal is asked for whole, by one word of it."""
    words = required(Day, set())
    assert {"date", "once_over", "jobs"} < words
    assert words <= set(EXAMPLES)
    with pytest.raises(DayFaults) as faults:
        read(tmp_path, ("[hands.ash]", '[meal]\nlength = "30 min"\n\n[hands.ash]'))
    told = [fault.right for fault in faults.value.faults]
    assert sorted(told) == ['add earliest = "11:45"', 'add latest = "13:30"', 'add once_over = "8 h"']


def test_who_lifts_too_little_for_shipped_kit_is_told_with_a_line(tmp_path):
    """The kit stands in no line of the file; the hands do."""
    text = SMALL.replace("[kit.washer]\nload = 1.5\nsupply = [\"tap\"]\n", "").replace(
        "[hands.ash]", '[hands.ash]\nlifts = "16 kg"'
    )
    with pytest.raises(DayFaults) as faults:
        day_from_text(text, tmp_path / "day.toml")
    (found,) = [fault for fault in faults.value.faults if fault.place == ("kit", "washer", "mass")]
    assert text.splitlines()[(found.line or 0) - 1] == "[hands.ash]"
