"""Nothing is lost when the window ends badly."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QMessageBox
from pytestqt.qtbot import QtBot

from planner.day.file import read_day
from planner.desktop import starting
from planner.desktop.model.filing import open_file
from planner.desktop.model.open_day import OpenDay
from planner.desktop.model.safety_copy import SafetyCopy, left_behind, safety_folder
from planner.desktop.window import Window
from planner.plan.progress import NOTHING_TOLD, Noted
from tests.desktop.windows import pressing


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
    open_day.saved_text = open_day.draft.text
    copy = SafetyCopy(open_day)
    open_day.set("Change finish", ("finish",), "16:00")
    open_day.mark(Noted("elm", "treat", 500, 512))
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
    assert page.open_day.state.progress == NOTHING_TOLD.with_note(Noted("elm", "treat", 500, 512))
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


# --- brought back into the file's own tab -----------------------------------------------------------------------


def left(tiny_file: Path, finish: str = "16:00") -> None:
    """As a window leaves it that was killed with an unsaved change."""
    open_day = open_file(tiny_file, read_only=True).open_day
    open_day.is_read_only = False
    copy = SafetyCopy(open_day)
    open_day.set("Change finish", ("finish",), finish)
    copy.write()
    copy.leave()
    dead = subprocess.Popen([sys.executable, "-c", ""])
    dead.wait()
    for slip in safety_folder().glob(f"{os.getpid()}-*.json"):
        slip.rename(slip.with_name(slip.name.replace(str(os.getpid()), str(dead.pid), 1)))


def answering(monkeypatch: pytest.MonkeyPatch, *words: str) -> list[str]:
    """Presses the button of these words in one box after another; gives what was asked."""
    asked: list[str] = []
    monkeypatch.setattr(QMessageBox, "exec", pressing(*words, asked=asked))
    return asked


def test_asked_for_the_same_file_there_is_one_tab_and_it_can_be_saved(
    qtbot: QtBot, window: Window, tiny_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    left(tiny_file)
    asked = answering(monkeypatch, "Bring them back")
    starting.fill(window, [tiny_file])
    assert len(asked) == 1
    [page] = window.pages()
    assert page.open_day.draft.at(("finish",)) == "16:00"
    page.open_day.undo_stack.undo()
    assert page.open_day.draft.text == tiny_file.read_text(encoding="utf-8"), "the file's own is one step back"
    page.open_day.undo_stack.redo()
    assert window.save(page)
    assert read_day(tiny_file).finish == 16 * 60
    assert left_behind() == []


@pytest.mark.parametrize("choice", ["Keep mine", "Keep the file's", "Look at both"])
def test_a_file_changed_since_is_not_written_over_unasked(
    qtbot: QtBot, window: Window, tiny_file: Path, monkeypatch: pytest.MonkeyPatch, choice: str
) -> None:
    left(tiny_file)
    newer = tiny_file.read_text(encoding="utf-8") + "# written by somebody since\n"
    tiny_file.write_text(newer, encoding="utf-8")
    asked = answering(monkeypatch, "Bring them back", choice)
    starting.fill(window, [tiny_file])
    assert "has been changed since" in asked[1]
    texts = [page.open_day.draft.text for page in window.pages()]
    mine = [page for page in window.pages() if page.open_day.draft.at(("finish",)) == "16:00"]
    assert (newer in texts) is (choice != "Keep mine")
    assert len(mine) == (choice != "Keep the file's")
    assert tiny_file.read_text(encoding="utf-8") == newer
    if choice == "Keep mine":
        assert window.save(mine[0])
        assert "16:00" in tiny_file.read_text(encoding="utf-8")


def test_a_copy_is_offered_though_another_process_has_its_number_by_now(qtbot: QtBot, tiny_file: Path) -> None:
    """The copy was held, and is no more; that this very process has the number says nothing."""
    left(tiny_file)
    [slip] = safety_folder().glob("*.json")
    renamed = slip.with_name(f"{os.getpid()}-{slip.name.split('-')[1]}")
    slip.rename(renamed)
    assert left_behind() == [], "an earlier version's copy: in doubt it is kept by somebody"
    renamed.with_name(renamed.name + ".in-use").write_text("{}")
    assert [one.slip for one in left_behind()] == [renamed]


def test_nowhere_to_write_copies_is_said_once_and_closing_does_not_fail(
    qtbot: QtBot, window: Window, tiny_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("in the place of a folder")
    monkeypatch.setenv("SLACKWATER_SAFETY_COPIES", str(tmp_path / "file" / "copies"))
    page = window.open(tiny_file)
    assert page is not None
    said: list[str] = []
    page.safety_copy.failed.connect(said.append)
    for finish in ("16:00", "15:00"):
        page.open_day.set("Change finish", ("finish",), finish)
        page.safety_copy.write()
    assert len(said) == 1
    assert "No safety copy can be written" in said[0]
    page.end()


def test_an_interrupt_leaves_what_is_not_saved_to_be_offered(
    window: Window, tiny_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    ended: list[int] = []
    # In earnest, Qt runs no event loop any more after this, and every later test would wait for nothing.
    monkeypatch.setattr(QApplication, "exit", ended.append)
    page = window.open(tiny_file)
    assert page is not None
    page.open_day.set("Change finish", ("finish",), "16:00")
    window.interrupt()
    assert window.is_interrupted
    assert ended == [0]
    [slip] = safety_folder().glob("*.json")
    assert "16:00" in slip.read_text(encoding="utf-8")
