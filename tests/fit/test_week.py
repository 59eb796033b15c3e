"""A folder of days: one line each, and a bad file spoils no other."""

from pathlib import Path

import pytest

from planner.cli import DONE, FAULTY, LATE, NO_PLAN, main
from planner.day.changes import with_job
from planner.day.file import write_day
from planner.fit.week import plan_week
from tests.fit.small_days import open_day


def folder(path: Path) -> Path:
    write_day(open_day({"a": 60}, date="2026-06-17"), path / "fits.toml")
    write_day(open_day({"a": 200, "b": 200}, date="2026-06-16"), path / "late.toml")
    (path / "bad.toml").write_text("date = 2026-06-18\nstart = 'soon'\n")
    (path / "notes.txt").write_text("no day")
    return path


def test_each_file_gets_its_line(tmp_path: Path) -> None:
    week = plan_week(folder(tmp_path), seconds=2, count=1)
    assert [line.file for line in week.lines] == ["late.toml", "fits.toml", "bad.toml"]
    late, fits, bad = week.lines
    assert (late.word, late.home) == ("does not fit", 480 + 420)
    assert (fits.word, fits.home, fits.on_time) == ("fits", 560, 1.0)
    assert bad.home is None
    assert "start" in bad.fault
    assert week.sentence == "Of 3 days 1 fit, 0 are tight and 1 do not fit; 1 could not be planned."


def test_the_command_prints_the_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(folder(tmp_path)), "--seconds", "2"]) == FAULTY
    told = capsys.readouterr().out
    for words in ("fits.toml", "late.toml", "bad.toml", "does not fit", "could not be planned"):
        assert words in told


def test_an_empty_folder_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(tmp_path)]) == FAULTY
    assert "no day file" in capsys.readouterr().err


@pytest.mark.usefixtures("in_this_process")
def test_the_command_on_a_late_day_tries_what_would_help(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "late.toml"
    write_day(open_day({"a": 150, "b": 160}, finish=780), file)
    assert main(["fit", str(file), "--seconds", "2", "--study-seconds", "10", "--chain"]) == LATE
    told = " ".join(capsys.readouterr().out.split())
    assert "Does not fit by 30 min" in told
    assert "Remedies" in told
    assert "A second hand from" in told
    assert "What carries the finish" in told


def test_a_method_that_is_not_there_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "day.toml"
    write_day(open_day({"a": 30}), file)
    assert main(["fit", str(file), "--pays", "elm.a.magic"]) == FAULTY
    assert "no stage of this day has more than one method" in capsys.readouterr().err


@pytest.mark.usefixtures("in_this_process")
def test_a_folder_is_planned_with_the_hands_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Ten minutes there, one stage each side by side, ten back: home 480 + 220."""
    write_day(open_day({"a": 200, "b": 200}), tmp_path / "late.toml")
    assert main(["fit", str(tmp_path), "--seconds", "2", "--hands", "2"]) == DONE
    assert "11:40" in capsys.readouterr().out


@pytest.mark.usefixtures("in_this_process")
def test_help_that_saves_so_many_minutes_may_be_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A stage cannot be parted: whoever is to save an hour does one of the two, and the shorter takes 150 minutes."""
    file = tmp_path / "day.toml"
    write_day(open_day({"a": 150, "b": 160}, finish=900), file)
    assert main(["fit", str(file), "--seconds", "2", "--study-seconds", "10", "--save", "60"]) == DONE
    told = " ".join(capsys.readouterr().out.split())
    assert "A second hand from" in told
    assert "(2 h 30 min, 60.00 in wages)" in told


@pytest.mark.usefixtures("in_this_process")
def test_a_day_without_a_plan_may_have_one_over_two(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Promised done by 10:00, there from 08:10 on: either stage can be done by then, not both."""
    file = tmp_path / "day.toml"
    write_day(with_job(open_day({"a": 100, "b": 90}), "elm", {"done_by": 600}), file)
    words = ["fit", str(file), "--seconds", "2", "--study-seconds", "10"]
    assert main(words) == NO_PLAN
    told = " ".join(capsys.readouterr().out.split())
    assert "cannot hold together" in told
    assert "Over two days: 1 stage, 1 h 30 min of work, on the second" in told
    assert main([*words, "--study", "none"]) == NO_PLAN
    assert "Over two days" not in capsys.readouterr().out
