"""``take-in``: tables come into a day whole or not at all, and comments stay."""

from pathlib import Path
from shutil import copyfile

import pytest

from planner import cli
from planner.day.file import read_day
from tests.cli.commands import SAMPLES, Run

TRAVEL = "minutes,yard,mill,alder,birch\nyard,,14,16,22\nmill,14,,8,9\nalder,16,8,,9\nbirch,24,9,9,\n"


@pytest.fixture
def day(tmp_path: Path) -> Path:
    return Path(copyfile(SAMPLES / "by_recipe.toml", tmp_path / "day.toml"))


@pytest.fixture
def travel(tmp_path: Path) -> Path:
    path = tmp_path / "travel.csv"
    path.write_text(TRAVEL)
    return path


def test_jobs_and_travel_times_come_in(run: Run, day: Path, travel: Path) -> None:
    before = day.read_text()
    ran = run("take-in", day, "--jobs", SAMPLES / "jobs.csv", "--travel", travel)
    assert ran == (cli.DONE, f"{day}: took in 2 jobs, 7 travel times\n", "")
    after = read_day(day)
    assert list(after.jobs) == ["mill", "alder", "birch"]
    assert after.jobs["alder"].customer.name == "Mr Okafor"
    assert (after.drive_minutes("yard", "birch"), after.drive_minutes("birch", "yard")) == (22, 24)
    assert [line for line in before.splitlines() if line not in day.read_text().splitlines()] == []


def test_the_same_again_changes_nothing(run: Run, day: Path, travel: Path) -> None:
    words = ("take-in", day, "--jobs", SAMPLES / "jobs.csv", "--travel", travel)
    run(*words)
    before = day.read_text()
    again = run(*words)
    assert again.code == cli.FAULTY
    assert again.err == "the day has a job 'alder' already; --replace puts the new one in its place\n"
    assert day.read_text() == before
    assert run(*words, "--replace").code == cli.DONE
    assert read_day(day).jobs.keys() == {"mill", "alder", "birch"}
    assert run("take-in", day, "--travel", travel).code == cli.DONE
    assert day.read_text().count('from = "yard"') == 3  # to the mill, to Alder and, one way, to Birch


def test_a_new_travel_time_takes_the_place_of_the_old(run: Run, day: Path, travel: Path) -> None:
    run("take-in", day, "--jobs", SAMPLES / "jobs.csv", "--travel", travel)
    travel.write_text("from,to,minutes\nmill,yard,21\nyard,birch,23\n")
    assert run("take-in", day, "--travel", travel).code == cli.DONE
    after = read_day(day)
    assert (after.drive_minutes("yard", "mill"), after.drive_minutes("mill", "yard")) == (21, 21)
    assert (after.drive_minutes("yard", "birch"), after.drive_minutes("birch", "yard")) == (23, 23)
    assert after.drive_minutes("yard", "alder") == 16


def test_places_get_their_coordinates(run: Run, day: Path, tmp_path: Path) -> None:
    table = tmp_path / "places.csv"
    table.write_text("place,latitude,longitude\nAlder,53.12,-2.01\nBirch,53.13,-2.03\nmill,53.15,-2.06\n")
    ran = run("take-in", day, "--places", table, "--jobs", SAMPLES / "jobs.csv")
    assert ran == (cli.DONE, f"{day}: took in 2 jobs, 3 places\n", "")
    after = read_day(day)
    assert after.places["alder"].at == (53.12, -2.01)
    assert after.places["mill"].at == (53.15, -2.06)
    assert after.places["mill"].name == "2 Mill Lane"


def test_every_bad_row_is_named_and_nothing_comes_in(run: Run, day: Path, travel: Path, tmp_path: Path) -> None:
    before = day.read_bytes()
    table = tmp_path / "jobs.csv"
    table.write_text("job,recipe,run,way_in\nA,clear-gutters,x,1 min\nB,,5 m,1 min\nC,clear-guters,5 m,soon\n")
    ran = run("take-in", day, "--jobs", table, "--travel", travel)
    assert (ran.code, ran.out) == (cli.FAULTY, "")
    assert [line.removeprefix(f"{table}:")[0] for line in ran.told] == ["2", "3", "4"]
    assert day.read_bytes() == before


def test_a_job_that_cannot_be_reached_is_told_and_nothing_comes_in(run: Run, day: Path) -> None:
    before = day.read_bytes()
    ran = run("take-in", day, "--jobs", SAMPLES / "jobs.csv")
    assert ran.code == cli.FAULTY
    assert "no driving time" in ran.err
    assert day.read_bytes() == before


@pytest.mark.parametrize("name", ["forecast.csv", "forecast.json"])
def test_a_forecast_beside_the_day(run: Run, day: Path, name: str) -> None:
    forecast = day.with_name(name)
    forecast.write_text(
        "time,air,humidity,wind\n08:00,12,0.6,10\n09:00,13.5,0.55,10\n"
        if name.endswith("csv")
        else '[{"time": "08:00", "air": 12, "humidity": 0.6, "wind": 10},'
        ' {"time": "09:00", "air": 13.5, "humidity": 0.55, "wind": 10}]'
    )
    ran = run("take-in", day, "--forecast", forecast)
    assert ran == (cli.DONE, f"{day}: took in a forecast of 2 hours\n", "")
    assert [(hour.minute, hour.air) for hour in read_day(day).weather] == [(480, 12), (540, 13.5)]


def test_a_forecast_elsewhere_is_not_reached_for(run: Run, day: Path, tmp_path: Path) -> None:
    before = day.read_bytes()
    elsewhere = tmp_path.parent / f"{tmp_path.name}-elsewhere.csv"
    elsewhere.write_text("time,air,humidity,wind\n08:00,12,0.6,10\n")
    ran = run("take-in", day, "--forecast", elsewhere)
    elsewhere.unlink()
    assert ran.code == cli.FAULTY
    assert "leads out of the folder of the day file; put the forecast beside the day file" in ran.err
    assert day.read_bytes() == before


def test_a_forecast_with_bad_rows(run: Run, day: Path) -> None:
    forecast = day.with_name("forecast.csv")
    forecast.write_text("time,air,humidity,wind\n08:00,warm,0.6,10\n09:00,12,6,10\n")
    ran = run("take-in", day, "--forecast", forecast)
    assert ran.code == cli.FAULTY
    assert "row 1: " in ran.err
    assert "row 2: " in ran.err


def test_a_new_day_is_begun_from_the_shipped_tables(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "new.toml"
    words = ("take-in", file, "--jobs", SAMPLES / "jobs.csv", "--travel", SAMPLES / "travel.csv", "--new", "2026-06-16")
    assert run(*words) == (cli.DONE, f"{file}: took in 2 jobs, 4 travel times\n", "")
    day = read_day(file)
    assert (str(day.date), day.van.starts_at, day.van.ends_at) == ("2026-06-16", "yard", "yard")
    assert list(day.jobs) == ["alder", "birch"]
    again = run(*words)
    assert (again.code, again.err) == (
        cli.FAULTY,
        f"{file}: it is there already; leave out --new to take the tables into it\n",
    )


def test_a_new_day_needs_a_yard_and_sound_jobs(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "new.toml"
    ran = run("take-in", file, "--jobs", SAMPLES / "jobs.csv", "--new", "2026-06-16")
    assert (ran.code, "where the van starts" in ran.err) == (cli.FAULTY, True)
    ran = run("take-in", file, "--travel", SAMPLES / "travel.csv", "--new", "2026-06-16")
    assert ran.code == cli.FAULTY
    assert "jobs" in ran.err
    assert not file.exists()
