"""For the window's tests: a window with the stand-in for planning, its own settings and its own safety copies."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QMessageBox
from pytestqt.qtbot import QtBot

from planner.day.file import day_to_toml
from planner.desktop.menus import Menus
from planner.desktop.model.preferences import Preferences
from planner.desktop.pages.day_page import DayPage
from planner.desktop.thinking import planning_process
from planner.desktop.window import Window
from tests.days import tiny_day
from tests.desktop.windows import at_once
from tests.own_folders import own_folders


@pytest.fixture(autouse=True)
def apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing of the person's own is read or written."""
    for name, folder in own_folders(tmp_path).items():
        monkeypatch.setenv(name, folder)


@pytest.fixture(autouse=True)
def never_too_slow(monkeypatch: pytest.MonkeyPatch) -> None:
    """However busy the machine is, no plan is given up before it comes; tests of that set a time of their own."""
    monkeypatch.setattr(planning_process, "GRACE_SECONDS", 600.0)


@pytest.fixture(autouse=True)
def no_silent_question(monkeypatch: pytest.MonkeyPatch) -> None:
    """A message box that no test expects is a failure, not a test that stands still."""

    def fail(box: QMessageBox) -> int:
        raise AssertionError(f"unexpected question: {box.text()} {box.informativeText()}")

    monkeypatch.setattr(QMessageBox, "exec", fail)


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What the window tells in boxes, each closed at once."""
    said: list[str] = []
    monkeypatch.setattr(QMessageBox, "exec", lambda box: said.append(f"{box.text()} {box.informativeText()}"))
    return said


@pytest.fixture
def preferences(tmp_path: Path) -> Preferences:
    return Preferences(QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat))


@pytest.fixture
def window(qtbot: QtBot, preferences: Preferences) -> Iterator[Window]:
    made = Window(preferences, processes=at_once)
    Menus(made)
    made.resize(1366, 740)
    made.show()
    qtbot.waitExposed(made)
    yield made
    for page in made.pages():
        page.end()
    made.hide()
    made.deleteLater()


@pytest.fixture
def tiny_file(tmp_path: Path) -> Path:
    path = tmp_path / "tiny.toml"
    path.write_text("# a remark to keep\n" + day_to_toml(tiny_day()), encoding="utf-8")
    return path


@pytest.fixture
def planned(qtbot: QtBot) -> Callable[[DayPage], None]:
    """Waits until a page has a plan and rests; where its planning broke down, waiting ends with what was said."""

    def wait(page: DayPage) -> None:
        failed: list[str] = []
        hear = page.process.failed.connect(lambda message: failed.append(message.words))

        def is_over() -> bool:
            return bool(failed) or (page.open_day.plan is not None and not page.planning.is_busy)

        qtbot.waitUntil(is_over, timeout=90_000)
        page.process.failed.disconnect(hear)
        assert not failed, failed

    return wait


@pytest.fixture
def page(window: Window, planned: Callable[[DayPage], None], tiny_file: Path) -> DayPage:
    """The tiny day, open and planned."""
    opened = window.open(tiny_file)
    assert opened is not None
    planned(opened)
    return opened
