"""Names that look like HTML are shown as they are: no picture that one names is opened, by any label, tip or box."""

import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QApplication, QLabel, QToolTip
from pytestqt.qtbot import QtBot

from planner.day.file import day_to_toml
from planner.desktop.pages.day_page import DayPage
from planner.desktop.plain import PlainLabel, tip
from planner.desktop.window import Window
from tests.architecture import ROOT
from tests.faults.hostile_names import DISGUISES, Opened, boxes_with, hostile_day, looked_at, picture
from tests.faults.opened import openings_of

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="openings are counted by Linux's inotify")


@pytest.fixture
def canary(tmp_path: Path) -> Path:
    return picture(tmp_path)


@pytest.fixture
def opened(canary: Path) -> Iterator[Opened]:
    with openings_of(canary) as count:
        yield count


def test_a_picture_in_a_label_of_qt_would_be_opened(qtbot: QtBot, canary: Path, opened: Opened) -> None:
    """Else the silence below would mean nothing."""
    words = f"<img src='file://{canary}'>"
    label = QLabel(words)
    qtbot.addWidget(label)
    label.grab()
    assert opened() > 0
    before = opened()
    ours = PlainLabel(words)
    qtbot.addWidget(ours)
    ours.grab()
    assert opened() == before
    QToolTip.showText(QPoint(10, 10), tip(words), ours)
    QApplication.processEvents()
    assert opened() == before
    assert tip("plain < words") == "plain < words"


def test_no_page_opens_what_a_name_says(
    qtbot: QtBot,
    window: Window,
    tmp_path: Path,
    canary: Path,
    opened: Opened,
    planned: Callable[[DayPage], None],
) -> None:
    path = tmp_path / "hostile.toml"
    path.write_text(day_to_toml(hostile_day(DISGUISES[0].format(canary))), encoding="utf-8")
    page = window.open(path)
    assert page is not None
    planned(page)
    rich, tips = looked_at(window, page)
    assert any("img" in words for words in tips), "the chart tells names"
    assert [text for text in rich if "img" in text] == []
    assert opened() == 0


def test_no_box_opens_what_a_name_says(qtbot: QtBot, window: Window, canary: Path, opened: Opened) -> None:
    name = DISGUISES[0].format(canary)
    assert boxes_with(window, name) == [name] * 3
    assert opened() == 0


def test_labels_tips_and_boxes_are_made_in_one_place() -> None:
    """Read from the source: nothing else makes a label or a box, and every tip that is not a fixed text is marked."""
    found = []
    for path in (ROOT / "planner" / "desktop").rglob("*.py"):
        source = path.read_text(encoding="utf-8")
        if path.name == "plain.py":
            continue
        for line in source.splitlines():
            if "QLabel(" in line or "QMessageBox(" in line or "QMessageBox.warning(" in line:
                found.append((path.name, line.strip()))
            if "setToolTip(" in line and not re.search(r'setToolTip\((?:tip\(|"[^"{}]*"\))', line):
                found.append((path.name, line.strip()))
            if "QToolTip.showText(" in line and "tip(" not in line:
                found.append((path.name, line.strip()))
    assert [one for one in found if not one[1].endswith("setToolTip(")] == []
