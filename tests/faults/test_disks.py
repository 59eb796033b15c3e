"""A disk that is full or read-only, really mounted so: told in the command and in the window, and nothing lost."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from shutil import copyfile

import pytest
from PySide6.QtWidgets import QFileDialog, QMessageBox
from pytestqt.qtbot import QtBot

from planner import cli
from planner.day.file import read_day
from planner.desktop import starting
from planner.desktop.model.safety_copy import left_behind, safety_folder
from planner.desktop.window import Window
from planner.plan.plan_file import plan_to_json
from tests.cli.commands import SAMPLES, Run
from tests.faults.conftest import fill, read_only
from tests.sheet.plans import tiny_plan

MakesDisk = Callable[..., Path]


def test_a_command_that_changes_a_day_on_a_full_disk(run: Run, disk: MakesDisk, tmp_path: Path) -> None:
    folder = disk()
    day = Path(copyfile(SAMPLES / "tiny.toml", folder / "tiny.toml"))
    before = day.read_bytes()
    trips = tmp_path / "trips.csv"
    trips.write_text("from,to,minutes\nyard,elm,33\n")
    fill(folder)
    ran = run("take-in", day, "--travel", trips)
    assert ran.code == cli.FAULTY
    room = "make room or save to another disk; the file is as it was before"
    assert ran.told == [f"{day}: not saved: the disk is full; {room}"]
    assert day.read_bytes() == before


@pytest.mark.parametrize("what", ["full", "read-only"])
def test_a_plan_that_cannot_be_kept_is_printed_and_the_one_before_stays(run: Run, disk: MakesDisk, what: str) -> None:
    folder = disk()
    day = Path(copyfile(SAMPLES / "tiny.toml", folder / "tiny.toml"))
    kept = day.with_suffix(".plan.json")
    before = plan_to_json(tiny_plan(), read_day(day))
    kept.write_text(before)
    if what == "full":
        fill(folder)
    else:
        read_only(folder)
    ran = run("plan", day, "--seconds", "1", "--keep")
    assert ran.code == cli.FAULTY
    assert "Rinse" in ran.out
    assert len(ran.told) == 1
    assert ran.err.startswith(f"{kept}: not saved: the {'disk is full' if what == 'full' else 'folder is read-only'}")
    assert kept.read_text() == before


def test_the_window_on_a_full_disk_keeps_the_day_until_there_is_room(
    qtbot: QtBot, window: Window, disk: MakesDisk, tiny_file: Path, told: list[str]
) -> None:
    folder = disk()
    day = Path(copyfile(tiny_file, folder / "tiny.toml"))
    before = day.read_bytes()
    page = window.open(day)
    assert page is not None
    page.open_day.set("Change finish", ("finish",), "16:00")
    ballast = fill(folder)
    assert not window.save(page)
    assert "the disk is full" in told[0]
    assert day.read_bytes() == before
    assert not page.open_day.is_clean
    qtbot.waitUntil(lambda: page.safety_copy.is_written, timeout=5000)
    ballast.unlink()
    assert window.save(page)
    assert read_day(day).finish == 16 * 60


def test_the_window_in_a_read_only_folder_opens_to_read_and_saves_elsewhere(
    qtbot: QtBot, window: Window, disk: MakesDisk, tiny_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, elsewhere = disk(), tmp_path / "elsewhere.toml"
    day = Path(copyfile(tiny_file, folder / "tiny.toml"))
    read_only(folder)
    page = window.open(day)
    assert page is not None
    assert "read only" in window.windowTitle()
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(elsewhere), ""))
    assert window.save(page)
    assert elsewhere.read_text() == day.read_text()
    assert "read only" not in window.windowTitle()
    page.open_day.set("Change finish", ("finish",), "16:00")
    assert window.save(page)
    assert read_day(elsewhere).finish == 16 * 60


def test_work_goes_on_where_no_safety_copy_can_be_written(
    qtbot: QtBot, window: Window, disk: MakesDisk, tiny_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = disk()
    fill(folder)
    monkeypatch.setenv("SLACKWATER_SAFETY_COPIES", str(folder / "copies"))
    page = window.open(tiny_file)
    assert page is not None
    page.open_day.set("Change finish", ("finish",), "16:00")
    page.safety_copy.write()
    assert not page.safety_copy.is_written
    assert window.save(page)
    assert read_day(tiny_file).finish == 16 * 60


def test_what_was_left_behind_stays_until_it_is_safe_again(
    qtbot: QtBot, window: Window, disk: MakesDisk, tiny_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a full disk the old copy is the only one: it is not forgotten."""
    folder = disk("size=64k")
    monkeypatch.setenv("SLACKWATER_SAFETY_COPIES", str(folder))
    page = window.open(tiny_file)
    assert page is not None
    page.open_day.set("Change finish", ("finish",), "16:00")
    page.safety_copy.write()
    [slip] = safety_folder().glob("*.json")
    copy, text = slip.read_bytes(), page.open_day.draft.text
    original = tiny_file.read_text(encoding="utf-8")
    window.save(page)
    window.close_page(page)
    tiny_file.write_text(original, encoding="utf-8")
    dead = subprocess.Popen([sys.executable, "-c", ""])
    dead.wait()
    (folder / f"{dead.pid}-0.json").write_bytes(copy)
    fill(folder)

    def take(box: QMessageBox) -> int:
        box.buttons()[0].click()
        return 0

    monkeypatch.setattr(QMessageBox, "exec", take)
    starting.recover(window)
    assert window.pages()[-1].open_day.draft.at(("finish",)) == "16:00"
    assert [one.text for one in left_behind()] == [text]
