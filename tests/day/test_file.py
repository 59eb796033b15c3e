"""The day file: what is read, what a change leaves as it was, and what is refused."""

import json
import os
import tomllib
from pathlib import Path

import pytest
import tomlkit

from planner.day import Day
from planner.day.editing import with_value, without
from planner.day.file import DayFaults, DayFile, day_from_text, day_to_toml, read_day, write_day
from tests.day.small_day import REMARKED, SAMPLES, SMALL
from tests.days import tiny_day


@pytest.fixture
def small(tmp_path: Path) -> Path:
    path = tmp_path / "day.toml"
    path.write_text(SMALL, encoding="utf-8")
    return path


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A copy of the sample day with the most remarks in it."""
    path = tmp_path / "rear_patio.toml"
    path.write_bytes(REMARKED.read_bytes())
    return path


def lines_that_differ(before: str, after: str) -> list[str]:
    return [line for line in after.splitlines() if line not in before.splitlines()]


@pytest.mark.parametrize("path", sorted(SAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_sample_days_are_sound_and_survive_being_written_anew(path, tmp_path):
    day = read_day(path)
    written = write_day(day, tmp_path / "anew.toml")
    assert read_day(written) == day


def test_a_day_made_in_code_survives(tmp_path):
    for day in (
        tiny_day(),
        tiny_day(rest=None),
        tiny_day(weather=[{"minute": 480, "air": 12.25, "humidity": 0.6, "wind": 5}]),
    ):
        assert read_day(write_day(day, tmp_path / "day.toml")) == day


def test_what_stands_in_a_text_cannot_break_the_file(tmp_path):
    title = 'quote " backslash \\ tab \t line \n hash # é 木 \x7f \x00'
    day = tiny_day(title=title)
    text = day_to_toml(day)
    assert tomllib.loads(text)["title"] == tomlkit.parse(text)["title"] == title
    assert day_from_text(text, tmp_path / "day.toml").title == title


def test_numbers_keep_all_their_figures(tmp_path):
    tables = tiny_day().model_dump(by_alias=True)
    tables["jobs"]["elm"]["surfaces"]["wall"]["area"] = 0.1 + 0.2
    tables["jobs"]["elm"]["surfaces"]["path"]["area"] = 1e-7
    tables["kit"]["broom"]["mass"] = 19.999
    day = Day.model_validate(tables)
    assert read_day(write_day(day, tmp_path / "day.toml")) == day


# --- changes ---------------------------------------------------------------------------------------------------


def test_a_change_touches_its_own_line_only(copy):
    file = DayFile.open(copy)
    before = file.text
    file.change(("jobs", "larch", "waits", 0, "closes"), True)
    assert lines_that_differ(before, file.text) == [
        "closes = true          # walls: one may stand on the patio in front of them"
    ]
    assert file.day.jobs["larch"].waits[0].closes is True
    file.save()
    assert copy.read_text() == file.text
    assert read_day(copy) == file.day


@pytest.mark.parametrize(
    ("place", "value", "line"),
    [
        (("title",), "Another", 'title = "Another"'),
        (
            ("jobs", "larch", "surfaces", "patio", "area"),
            "30 m2",
            'patio = { name = "Patio", ground = "rear", area = "30 m2" }',
        ),
        (("jobs", "larch", "grounds", "front", "way_in", "minutes"), "3 min", 'way_in = { minutes = "3 min" }'),
        (("hands", "ash", "hours", 1), "17:00", 'hours = ["07:00", "17:00"]'),
        (("kit", "rake", "load"), 0.5, None),
        (
            ("jobs", "larch", "stages", "wet", "methods", "hose", "minutes"),
            "9 min",
            'methods.hose = { kit = ["hose"], minutes = "9 min" }',
        ),
        (("jobs", "larch", "done_by"), "18:00", 'done_by = "18:00"'),
        (("lights",), True, "lights = true"),
        (
            ("jobs", "larch", "stages", "wet", "methods", "can"),
            {"minutes": "12 min"},
            'methods.can = { minutes = "12 min" }',
        ),
    ],
)
def test_changes_of_every_kind(copy, place, value, line):
    file = DayFile.open(copy)
    before = file.text
    file.change(place, value)
    if line is not None:
        assert lines_that_differ(before, file.text) == [line]
    assert file.text.count("#") == before.count("#")
    found = tomllib.loads(file.text)
    for part in place:
        found = found[part]
    assert found == value


def test_a_new_stage_stands_after_the_others_and_before_the_waits(copy):
    file = DayFile.open(copy)
    before = file.text
    day = file.change(
        ("jobs", "larch", "stages", "check"), {"surface": "patio", "methods": {"look": {"minutes": "4 min"}}}
    )
    assert list(day.jobs["larch"].stages)[-1] == "check"
    new = '[jobs.larch.stages.check]\nsurface = "patio"\nmethods.look = { minutes = "4 min" }\n\n'
    assert file.text.replace(new, "") == before
    assert file.text.index("stages.compact-2]") < file.text.index(new) < file.text.index("[[jobs.larch.waits]]")


def test_new_kit_stands_with_the_kit(copy):
    file = DayFile.open(copy)
    before = file.text
    file.change(("kit", "ladder"), {"load": 1.5, "lift": 1})
    new = "[kit.ladder]\nload = 1.5\nlift = 1\n\n"
    assert file.text.replace(new, "") == before
    assert file.text.index("[kit.pointing]") < file.text.index(new) < file.text.index("[materials.filler]")


def test_a_new_wait_and_a_new_job(copy):
    file = DayFile.open(copy)
    count = len(file.day.jobs["larch"].waits)
    file.change(("jobs", "larch", "waits", count), {"after": "sweep", "before": "wet", "least": "5 min"})
    assert file.day.jobs["larch"].waits[count].least == 5
    job = {
        "place": "larch",
        "grounds": {"front": {}},
        "surfaces": {"drive": {"ground": "front"}},
        "stages": {"sweep": {"surface": "drive", "methods": {"broom": {"kit": ["brooms"], "minutes": "20 min"}}}},
    }
    file.change(("jobs", "second"), job)
    assert list(file.day.jobs) == ["larch", "second"]
    assert file.text.count("#") == REMARKED.read_text().count("#")
    file.remove(("jobs", "second"))
    assert list(file.day.jobs) == ["larch"]


def test_a_first_wait(small):
    file = DayFile.open(small)
    file.remove(("jobs", "elm", "waits", 0))
    assert file.day.jobs["elm"].waits == ()
    file.change(("jobs", "elm", "waits", 0), {"after": "treat", "before": "rinse", "least": "1 h"})
    assert file.day.jobs["elm"].waits[0].least == 60


def test_a_change_that_brings_a_fault_is_taken_back(copy):
    file = DayFile.open(copy)
    before = file.day, file.text
    with pytest.raises(
        DayFaults, match=r"larch\.stages\.grind\.surface: unknown surface 'patoi'; did you mean 'patio'\?"
    ):
        file.change(("jobs", "larch", "stages", "grind", "surface"), "patoi")
    with pytest.raises(DayFaults, match="unknown surface 'patio'"):
        file.remove(("jobs", "larch", "surfaces", "patio"))
    with pytest.raises(DayFaults, match="nothing to take away"):
        file.remove(("jobs", "larch", "stages", "no-such"))
    with pytest.raises(DayFaults, match="there can be no value here"):
        file.change(("title", "inside", "a", "text"), 1)
    with pytest.raises(DayFaults, match="a day file has no word for"):
        file.change(("title",), object())
    with pytest.raises(DayFaults, match="no value"):
        file.change((), {})
    assert (file.day, file.text) == before


def test_changes_that_are_sound_only_together(copy):
    file = DayFile.open(copy)
    day = file.change_all(
        [
            (("hands", "ash", "hours"), ["13:00", "22:00"]),
            (("start",), "13:00"),
            (("finish",), "22:00"),
            (("jobs", "larch", "arrive"), None),
        ]
    )
    assert (day.start, day.finish, day.jobs["larch"].arrive) == (780, 1320, None)


def test_a_text_that_is_not_sound_yet_can_be_changed_too():
    text = "format = 1  # begun\n\n[van]\nstarts_at = 'yard'\n"
    longer = with_value(text, ("hands", "ash"), {"name": "Ash"}, Path("begun.toml"))
    assert longer == text + '\n[hands.ash]\nname = "Ash"\n'
    assert without(longer, ("hands",), Path("begun.toml")).strip() == text.strip()


def test_undo_is_going_back_to_an_earlier_text(copy):
    file = DayFile.open(copy)
    day, text = file.day, file.text
    file.change(("title",), "Another")
    assert file.put_back(text) == day
    assert file.text == text


def test_a_whole_table_changed_keeps_the_remarks_on_what_stays(copy):
    file = DayFile.open(copy)
    wait = tomllib.loads(file.text)["jobs"]["larch"]["waits"][0]
    file.change(("jobs", "larch", "waits", 0), {**wait, "most": "55 min"})
    assert "closes = false          # walls: one may stand on the patio" in file.text
    assert file.day.jobs["larch"].waits[0].most == 55


def test_line_ends_of_another_system_are_kept(tmp_path):
    path = tmp_path / "day.toml"
    path.write_bytes(SMALL.replace("\n", "\r\n").encode())
    file = DayFile.open(path)
    file.change(("title",), "x")
    file.save()
    assert path.read_bytes().count(b"\r\n") >= SMALL.count("\n")
    assert read_day(path) == file.day


# --- saving ----------------------------------------------------------------------------------------------------


def test_a_file_that_someone_else_changed_is_not_overwritten(small):
    file = DayFile.open(small)
    file.change(("title",), "mine")
    small.write_text(SMALL.replace("08:00", "09:00"))
    with pytest.raises(DayFaults, match="changed by someone else"):
        file.save()
    file.save(overwrite=True)
    assert read_day(small).title == "mine"


def test_saving_under_another_name(small, tmp_path):
    file = DayFile.open(small)
    file.save(tmp_path / "other.toml")
    assert file.path.name == "other.toml"
    assert read_day(tmp_path / "other.toml") == read_day(small)


def test_saving_where_nothing_can_be(small, tmp_path):
    with pytest.raises(DayFaults, match="not saved: there is no such folder; make the folder first"):
        DayFile.open(small).save(tmp_path / "no" / "such" / "day.toml")
    with pytest.raises(DayFaults, match="not saved: it is a folder"):
        write_day(tiny_day(), tmp_path)


# --- files that are no day files ---------------------------------------------------------------------------------


def told(path: Path) -> str:
    with pytest.raises(DayFaults) as caught:
        read_day(path)
    assert str(caught.value).startswith(str(path))
    return str(caught.value)


def test_files_that_cannot_be_read(tmp_path):
    assert "there is no such file; check its name" in told(tmp_path / "none.toml")
    assert "it is not a plain file" in told(tmp_path)
    (tmp_path / "noise").write_bytes(bytes(range(256)))
    assert "is not UTF-8 text; save it as UTF-8" in told(tmp_path / "noise")
    (tmp_path / "empty.toml").write_text("")
    assert "format: the file does not say its format" in told(tmp_path / "empty.toml")
    with (tmp_path / "large.toml").open("wb") as file:
        file.truncate(10 * 2**20)
    assert "it is 10.0 MB large; at most 1 MB are read: is it the right file?" in told(tmp_path / "large.toml")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="nothing is barred to the superuser")
def test_a_barred_file(small):
    small.chmod(0)
    assert "it may not be read by you" in told(small)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("a = 1\na = 2\n", ":2: this name is given twice; keep one of them"),
        ("[a]\n[a]\n", ":2: this table is given twice; put both together"),
        ("start = 07:30 min\n", ":1: something stands after the value"),
        ("start = quarter past\n", ":1: this is no value; put texts"),
        ('title = "half\nx = 1\n', ":1: a sign may not stand here, or a text is not closed on its line"),
        ("just words\n", ":1: a name is not followed by '='"),
        ("x = [1, 2\n", ":2: a list is not closed"),
        ("x = { a = 1, }\n", ":1: a comma stands before the end of a table in curly brackets; take that comma away"),
        ("x = { a = 1,\n b = 2 }\n", ":1: a table in curly brackets goes on past the end of its line"),
        ("x = {  # so many\n b = 2 }\n", ":1: a table in curly brackets goes on past the end of its line"),
        ("x = { a = 1\n", "curly"),
        ("date = 2026-02-31\n", ":1: this date does not exist"),
        ("x = " + "[" * 5000 + "]" * 5000, "lie too deep in one another"),
        ("x = " + "9" * 5000, "a value cannot be read"),
    ],
)
def test_texts_that_are_not_toml(tmp_path, text, words):
    path = tmp_path / "day.toml"
    path.write_text(text)
    assert words in told(path)


# --- recipes ---------------------------------------------------------------------------------------------------


def test_a_faulty_recipe_is_told_beside_every_other_fault(tmp_path):
    path = tmp_path / "day.toml"
    path.write_text(
        SMALL.replace("load = 0.5", "laod = 0.5") + '\n[jobs.oak]\nplace = "elm"\nrecipe = "clean-the-moon"\n'
    )
    assert "jobs.oak" in told(path)
    assert "clean-the-moon" in told(path)
    assert "unknown word 'laod'" in told(path)


# --- forecasts beside the file -------------------------------------------------------------------------------------

CSV = "time,air,humidity,wind\n08:00,12,0.6,8\n09:00,14,0.55,8\n"


def with_forecast(tmp_path: Path, name: str) -> Path:
    path = tmp_path / "day.toml"
    path.write_text(SMALL.replace("format = 1\n", f"format = 1\nweather_file = {name}\n"))
    return path


def test_a_forecast_beside_the_day(tmp_path):
    (tmp_path / "forecast.csv").write_text(CSV)
    day = read_day(with_forecast(tmp_path, '"forecast.csv"'))
    assert [(hour.minute, hour.air) for hour in day.weather] == [(480, 12.0), (540, 14.0)]


def test_a_forecast_as_json(tmp_path):
    hours = {"time": ["2026-06-16T08:00"], "temperature_2m": [12], "relative_humidity_2m": [60], "wind_speed_10m": [8]}
    (tmp_path / "forecast.json").write_text(json.dumps({"hourly": hours}))
    assert read_day(with_forecast(tmp_path, '"forecast.json"')).weather[0].humidity == 0.6


def test_faults_of_a_forecast_are_all_named(tmp_path):
    (tmp_path / "forecast.csv").write_text(CSV + "10:00,hot,0.5,8\n11:00,14,0.5,fast\n")
    text = told(with_forecast(tmp_path, '"forecast.csv"'))
    assert text.count("weather_file: 'forecast.csv': forecast: row") == 2


@pytest.mark.parametrize(
    "name",
    [
        '"/etc/passwd"',
        '"../forecast.csv"',
        "'C:\\forecast.csv'",
        "'..\\forecast.csv'",
        '"x/../../forecast.csv"',
        '"link.csv"',
        '"a\\u0000b"',
    ],
)
def test_nothing_outside_the_folder_is_read(tmp_path, name):
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "forecast.csv").write_text(CSV)
    (inside / "link.csv").symlink_to(tmp_path / "forecast.csv")
    assert "leads out of the folder of the day file; put the forecast beside" in told(with_forecast(inside, name))


def test_a_forecast_that_is_not_there(tmp_path):
    assert "weather_file: 'none.csv': there is no such file" in told(with_forecast(tmp_path, '"none.csv"'))
    assert "is no name of a file" in told(with_forecast(tmp_path, "7"))


@pytest.mark.parametrize(
    "text",
    [
        "\nx." + "x." * 20_000 + "y = 1\n",
        "\n[" + "'x' . " * 20_000 + "y]\n",
        '\na = { "x"' + '."x"' * 20_000 + " = 1 }\n",
    ],
)
def test_a_name_of_very_many_parts_is_told_before_it_is_read(tmp_path, text):
    path = tmp_path / "day.toml"
    path.write_text(text)
    assert told(path) == f"{path}:2: a name has too many parts; a day file needs six levels at most"
