"""Tables from a spreadsheet: what they become, and how every bad row is named. Lines are counted by hand."""

import csv
import io
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.day.editing import with_value
from planner.day.file import DayFaults, day_from_text
from planner.day.job_rows import jobs_from_csv
from planner.day.rows import key_of, places_from_csv, trips_from_csv
from tests.day.small_day import SAMPLES

FILE = Path("table.csv")

BASE = """\
format = 1
date = 2026-06-16
start = "07:30"
finish = "18:00"

[van]
starts_at = "yard"
ends_at = "yard"

[hands.ash]
[hands.rowan]
"""


def told(read, text: str) -> list[str]:
    with pytest.raises(DayFaults) as caught:
        read(text, FILE)
    return str(caught.value).splitlines()


def test_the_shipped_tables_become_a_sound_day():
    jobs = jobs_from_csv((SAMPLES / "jobs.csv").read_text(), SAMPLES / "jobs.csv")
    trips = trips_from_csv((SAMPLES / "travel.csv").read_text(), SAMPLES / "travel.csv")
    places = {name: {} for trip in trips for name in (trip["from"], trip["to"])}
    text = BASE
    for place, value in [(("jobs", key), job) for key, job in jobs.items()] + [
        (("places",), places),
        (("travel",), {"trips": trips}),
    ]:
        text = with_value(text, place, value, FILE)
    day = day_from_text(text, FILE)
    assert list(day.jobs) == ["alder", "birch"]
    assert day.jobs["alder"].surfaces["patio"].area == 14
    assert day.jobs["alder"].grounds["rear"].way_in.restricted
    assert day.jobs["alder"].arrive == (480, 570)
    assert (day.drive_minutes("yard", "birch"), day.drive_minutes("birch", "yard")) == (22, 24)
    assert day.drive_minutes("alder", "yard") == day.drive_minutes("yard", "alder") == 16


def test_a_recipe_that_lacks_a_measure_is_told_at_its_row():
    text = "job;recipe;run;ground;way in;taps\n9 Elm;clear-gutters;5 m;Rear;2 min;1\n9 Elm;treat-wall;;Rear;;\n"
    faults = told(jobs_from_csv, text)
    assert len(faults) == 1
    assert faults[0].startswith("table.csv:3: ")
    assert "area" in faults[0]


def test_a_job_of_two_grounds():
    text = (
        "job,recipe,name,prefix,run,area,ground,way in,taps,sockets\n"
        "9 Elm,clear-gutters,,,5 m,,Front,1 min,1,1\n"
        "9 Elm,treat-steps,,,,6 m2,Rear,2 min,1,1\n"
        ",,,,,,,,,\n"
        "Oak,clear-gutters,,,7 m,,,,1,1\n"
    )
    jobs = jobs_from_csv(text, FILE)
    assert list(jobs) == ["9-elm", "oak"]
    assert jobs["9-elm"]["grounds"]["rear"] == {"way_in": {"minutes": "2 min"}, "supplies": {"tap": 1, "socket": 1}}
    assert [recipe["ground"] for recipe in jobs["9-elm"]["recipes"]] == ["front", "rear"]
    assert (jobs["oak"]["place"], jobs["oak"]["title"]) == ("oak", "Oak")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", ["table.csv: the table is empty; give a first line with the columns job, recipe"]),
        ("job,recipe\n", None),
        (
            "job,recpie\nx,y\n",
            ["1: recpie: unknown column 'recpie'; did you mean 'recipe'?", "1: recipe: there is no column"],
        ),
        ("job,recipe,run,run\n", ["1: run: column 'run' stands there twice; keep one"]),
        (
            "job,recipe,run\nA,clear-gutters,5 m,7,8\n",
            ["2: 5 cells for 3 columns; put a text that holds the separator"],
        ),
        ("job,recipe,run\nA,,5 m\n", ["2: recipe: 'recipe' is empty; fill it in"]),
        ("job,recipe,run\n,clear-gutters,5 m\n", ["2: job: 'job' is empty; fill it in"]),
        (
            "job,recipe,run\n???,clear-gutters,5 m\n",
            ["2: job: '???' cannot be a name; write letters a to z and figures"],
        ),
        (
            "job,recipe,run\nA,clear-guters,5 m\n",
            ["2: recipe: unknown recipe 'clear-guters'; did you mean 'clear-gutters'?"],
        ),
        ("job,recipe,run\nA,clear-gutters,five\n", ["2: run: 'five' is not a length; write for example '14 m'"]),
        (
            "job,recipe,run\nA,clear-gutters,5\n",
            ["2: run: '5' is not a length (it has no unit); write for example '14 m'"],
        ),
        (
            "job,recipe,run,restricted\nA,clear-gutters,5 m,maybe\n",
            ["2: restricted: 'maybe' is neither yes nor no; write yes or no"],
        ),
        (
            "job,recipe,run,done_by\nA,clear-gutters,5 m,noon\n",
            ["2: done_by: 'noon' is not a time of day; write for example '07:30'"],
        ),
        ("job,recipe,run,taps\nA,clear-gutters,5 m,-1\n", ["2: taps: '-1' is not a whole number; write for example 2"]),
        (
            "job,recipe,run,arrive_from\nA,clear-gutters,5 m,09:00\n",
            ["2: arrive_to: 'arrive_to' is empty; give both ends"],
        ),
        (
            "job,recipe,run,price\nA,clear-gutters,5 m,90\nA,clear-gutters,6 m,95\n",
            ["3: price: '95' here, and '90.0' in an earlier row of this job; say it in one row"],
        ),
        ('job,recipe,run\nA,clear-gutters,"5 m\n', ["this is no table (unexpected end of data)"]),
    ],
)
def test_bad_rows_of_jobs(text, expected):
    if expected is None:
        assert jobs_from_csv(text, FILE) == {}
        return
    found = told(jobs_from_csv, text)
    assert len(found) == len(expected)
    for line, words in zip(found, expected, strict=True):
        assert words in line


def test_every_bad_row_is_named_at_once():
    text = "job,recipe,run\nA,clear-gutters,x\nB,,5 m\nC,clear-gutters,5 m\nD,clear-gutters,y\n"
    assert [line.split(":")[1] for line in told(jobs_from_csv, text)] == ["2", "3", "5"]


def test_travel_as_pairs():
    trips = trips_from_csv("from,to,minutes\nYard,9 Elm,12\n9 Elm,Oak,1h10\n", FILE)
    assert trips == [
        {"from": "yard", "to": "9-elm", "minutes": "12 min"},
        {"from": "9-elm", "to": "oak", "minutes": "1 h 10 min"},
    ]


def test_travel_as_a_matrix_with_units():
    trips = trips_from_csv("\tyard\telm\nyard\t\t10 min\nelm\t12 min\t0 min\n", FILE)
    assert trips == [
        {"from": "yard", "to": "elm", "minutes": "10 min", "one_way": True},
        {"from": "elm", "to": "yard", "minutes": "12 min", "one_way": True},
    ]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "there are no travel times"),
        ("minutes,yard\n", "there are no travel times"),
        (",yard,elm\nyard,,10\n", "table.csv:2: elm: '10' is not a duration"),
        ("minutes,yard,elm\nyard,5,10\n", "table.csv:2: yard: '5' from 'yard' to itself; leave the cell empty"),
        ("minutes,yard,elm\nyard,,10\nyard,,11\n", "table.csv:3: elm: a second time from 'yard' to 'elm'"),
        ("minutes,yard\nyard,,10\n", "2 times for 1 places"),
        ("from,to,minutes\na,a,5\n", "table.csv:2: to: a trip from 'a' to itself"),
        ("from,to,minutes\na,b,5\na,b,6\n", "table.csv:3: to: a second time from 'a' to 'b'"),
        ("from,to,minutes\na,b,soon\n", "table.csv:2: minutes: 'soon' is not a duration"),
    ],
)
def test_bad_rows_of_travel(text, words):
    assert words in "\n".join(told(trips_from_csv, text))


def test_places():
    places = places_from_csv("place,latitude,longitude\n9 Elm,53.1,-2.05\n", FILE)
    assert places == {"9-elm": {"name": "9 Elm", "at": [53.1, -2.05]}}
    found = told(places_from_csv, "place,latitude,longitude\na,95,0\nb,north,0\nc,1,nan\na,1,2\n")
    assert [line.split(":")[1] for line in found] == ["2", "3", "4", "5"]
    assert "'95' lies off the globe; write degrees from -90 to 90" in found[0]


@settings(max_examples=80, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(
    st.lists(st.lists(st.text(max_size=8), max_size=6), max_size=6),
    st.sampled_from(["job,recipe,run\n", "from,to,minutes\n", "place,latitude,longitude\n", ""]),
)
def test_any_table_at_all(rows, head):
    file = io.StringIO()
    csv.writer(file).writerows(rows)
    for read in (jobs_from_csv, trips_from_csv, places_from_csv):
        for text in (head + file.getvalue(), head + "\x00" + "".join(map("".join, rows))):
            with suppress(DayFaults):  # anything else that is raised fails the test
                assert isinstance(read(text, FILE), dict | list)


def test_keys_from_names():
    assert key_of("  9 Larch Rise, rear ") == "9-larch-rise-rear"
    assert len(key_of("x" * 200)) == 60
