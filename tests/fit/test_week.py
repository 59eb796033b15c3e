"""A folder of days: one line each, and a bad file spoils no other."""

from pathlib import Path

import pytest

from planner.cli import FAULTY, LATE, main
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
