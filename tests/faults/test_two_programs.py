"""Two windows, or a window and a command, on one file: whoever comes second is told, and nobody's work is lost."""

from pathlib import Path

from pytestqt.qtbot import QtBot

from planner import cli
from planner.day.file import read_day
from planner.day.holding import hold
from planner.desktop.window import Window
from tests.cli.commands import Run


def test_a_command_leaves_a_file_alone_that_a_window_works_on(
    qtbot: QtBot, run: Run, window: Window, tiny_file: Path, tmp_path: Path
) -> None:
    page = window.open(tiny_file)
    assert page is not None
    before = tiny_file.read_bytes()
    trips = tmp_path / "trips.csv"
    trips.write_text("from,to,minutes\nyard,elm,33\n")
    ran = run("take-in", tiny_file, "--travel", trips)
    assert ran.code == cli.FAULTY
    assert "not saved: it is in use by" in ran.err
    assert "close it there, then do this again" in ran.err
    assert tiny_file.read_bytes() == before
    assert window.close_page(page)
    assert run("take-in", tiny_file, "--travel", trips).code == cli.DONE
    assert read_day(tiny_file).drive_minutes("yard", "elm") == 33


def test_the_window_whose_file_was_taken_over_keeps_its_work_and_says_so(
    qtbot: QtBot, window: Window, tiny_file: Path, told: list[str]
) -> None:
    page = window.open(tiny_file)
    assert page is not None
    page.open_day.set("Change finish", ("finish",), "16:00")
    before = tiny_file.read_bytes()
    with hold(tiny_file, take_over=True):
        assert not window.save(page)
    assert "another window has taken the file over" in told[0]
    assert tiny_file.read_bytes() == before
    assert page.open_day.draft.at(("finish",)) == "16:00"
    assert not page.open_day.is_clean


def test_a_file_that_an_editor_changed_meanwhile_is_not_overwritten(
    qtbot: QtBot, window: Window, tiny_file: Path, told: list[str]
) -> None:
    """Editors know nothing of our lock."""
    page = window.open(tiny_file)
    assert page is not None
    page.open_day.set("Change finish", ("finish",), "16:00")
    theirs = tiny_file.read_text(encoding="utf-8") + "# written by an editor\n"
    tiny_file.write_text(theirs, encoding="utf-8")
    assert not window.save(page)
    assert "another program has changed the file" in told[0]
    assert "save under another name" in told[0]
    assert tiny_file.read_text(encoding="utf-8") == theirs
    assert not page.open_day.is_clean


def test_a_file_that_is_gone_is_written_anew(qtbot: QtBot, window: Window, tiny_file: Path) -> None:
    page = window.open(tiny_file)
    assert page is not None
    page.open_day.set("Change finish", ("finish",), "16:00")
    tiny_file.unlink()
    assert window.save(page)
    assert window.save(page), "and again"
    assert read_day(tiny_file).finish == 16 * 60
