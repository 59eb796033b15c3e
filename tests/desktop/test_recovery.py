"""Nothing is lost when the window ends badly."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from PySide6.QtWidgets import QMessageBox
from pytestqt.qtbot import QtBot

from planner.day.file import read_day
from planner.desktop import starting
from planner.desktop.model.filing import open_file
from planner.desktop.model.marks import Mark, Progress
from planner.desktop.model.open_day import OpenDay
from planner.desktop.model.safety_copy import SafetyCopy, left_behind, safety_folder
from planner.desktop.window import Window


def step_of(title: str) -> int:
    return int(title.removeprefix("step ")) if title else 0


@pytest.mark.parametrize("milliseconds", [0, 1, 2, 3, 5, 8, 13, 21])
def test_a_kill_while_saving_loses_nothing(qtbot: QtBot, tiny_file: Path, milliseconds: int) -> None:
    """SIGKILL leaves no time to tidy up (POSIX): the file is whole, and the last step is in it or in the copy."""
    writer = subprocess.Popen(
        [sys.executable, "-m", "tests.desktop.saving_forever", str(tiny_file)], stdout=subprocess.PIPE, text=True
    )
    assert writer.stdout is not None
    for _ in range(3):
        writer.stdout.readline()
    time.sleep(milliseconds / 1000)
    writer.send_signal(signal.SIGKILL)
    said = [int(line) for line in writer.communicate()[0].split() if line.isdecimal()]
    last = max([3, *said])
    on_disk = read_day(tiny_file)
    copies = left_behind()
    kept = max(step_of(OpenDay(copy.text).draft.at(("title",), "")) for copy in copies) if copies else 0
    assert max(step_of(on_disk.title), kept) >= last
    filed = open_file(tiny_file)
    assert not filed.open_day.is_read_only, "the mark of a dead process holds nobody up"
    filed.let_go()


def test_what_was_left_behind_is_brought_back_with_its_marks(
    qtbot: QtBot, window: Window, tiny_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    open_day = OpenDay(tiny_file.read_text(encoding="utf-8"), tiny_file)
    copy = SafetyCopy(open_day)
    open_day.set("Change finish", ("finish",), "16:00")
    open_day.mark(Mark("elm", "treat", 500, 512))
    copy.write()
    dead = subprocess.Popen([sys.executable, "-c", ""])
    dead.wait()
    for slip in safety_folder().glob("*.json"):
        slip.rename(slip.with_name(slip.name.replace(str(os.getpid()), str(dead.pid), 1)))
    asked: list[str] = []

    def press_first(box: QMessageBox) -> int:
        asked.append(box.text())
        box.buttons()[0].click()
        return 0

    monkeypatch.setattr(QMessageBox, "exec", press_first)
    starting.recover(window)
    assert asked
    page = window.pages()[0]
    assert page.open_day.draft.at(("finish",)) == "16:00"
    assert page.open_day.state.progress == Progress((Mark("elm", "treat", 500, 512),))
    assert page.open_day.path == tiny_file
    assert not page.open_day.is_clean, "it is not saved yet"
    assert window.save(page)
    assert read_day(tiny_file).finish == 16 * 60
    assert left_behind() == []


def test_a_copy_that_makes_no_sense_is_put_aside(qtbot: QtBot) -> None:
    folder = safety_folder()
    folder.mkdir(parents=True)
    dead = subprocess.Popen([sys.executable, "-c", ""])
    dead.wait()
    (folder / f"{dead.pid}-0000.json").write_text("{", encoding="utf-8")
    assert left_behind() == []
    assert [path.suffix for path in folder.iterdir()] == [".unreadable"]


def test_the_copy_goes_when_all_is_saved(qtbot: QtBot, window: Window, tiny_file: Path) -> None:
    page = window.open(tiny_file)
    assert page is not None
    page.open_day.set("Change finish", ("finish",), "16:00")
    qtbot.waitUntil(lambda: any(safety_folder().glob("*.json")), timeout=5000)
    assert window.save(page)
    assert not list(safety_folder().glob("*"))
