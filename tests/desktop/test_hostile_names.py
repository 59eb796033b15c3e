"""Names that look like HTML are shown as they are: no picture that one names is opened, by any label, tip or box."""

import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QHelpEvent, QImage
from PySide6.QtGui import Qt as QtOfGui
from PySide6.QtWidgets import QAbstractItemView, QApplication, QLabel, QMessageBox, QToolTip, QWidget
from pytestqt.qtbot import QtBot

from planner.day import Day
from planner.day.file import day_to_toml
from planner.day.safekeeping import ReadFault
from planner.desktop.chart.chart_view import ChartView
from planner.desktop.forms.asking import Option, ask_to_save, choose
from planner.desktop.pages.catalogue import PAGES
from planner.desktop.pages.day_page import DayPage
from planner.desktop.plain import PlainLabel, tip
from planner.desktop.window import Window
from tests.architecture import ROOT
from tests.days import tiny_day
from tests.faults.opened import openings_of

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="openings are counted by Linux's inotify")

Opened = Callable[[], int]


@pytest.fixture
def canary(tmp_path: Path) -> Path:
    path = tmp_path / "canary.png"
    image = QImage(8, 8, QImage.Format.Format_RGB32)
    image.fill(0)
    assert image.save(str(path))
    return path


@pytest.fixture
def opened(canary: Path) -> Iterator[Opened]:
    with openings_of(canary) as count:
        yield count


def hostile(canary: Path) -> Day:
    """The tiny day, every text in it a picture that is to be opened."""
    name = f"<img src='file://{canary}'> x"
    tables: dict[str, Any] = tiny_day().model_dump()
    tables["title"] = name
    for part in ("hands", "places", "kit", "materials"):
        for one in tables.get(part, {}).values():
            one["name"] = name
    job = tables["jobs"]["elm"]
    job["title"] = name
    for part in ("grounds", "surfaces", "stages"):
        for one in job[part].values():
            one["name"] = name
    for ground in job["grounds"].values():
        if ground.get("way_in"):
            ground["way_in"]["through"] = name
    job["customer"] = {"name": name, "before": (name,), "handover": (name,), "after": (name,)}
    return Day.model_validate(tables)


def seen(widget: QWidget) -> list[str]:
    """Every text of a widget whose format Qt would guess, and which it would take for HTML; each tip is shown."""
    rich = []
    for one in [widget, *widget.findChildren(QWidget)]:
        if isinstance(one, QLabel) and one.textFormat() is not Qt.TextFormat.PlainText and one.text():
            rich += [one.text()] if QtOfGui.mightBeRichText(one.text()) else []
        if one.toolTip():
            QToolTip.showText(QPoint(10, 10), one.toolTip(), widget)
            QApplication.processEvents()
        if isinstance(one, QAbstractItemView) and one.model() is not None:
            model = one.model()
            for row in range(model.rowCount()):
                told = model.index(row, 0).data(Qt.ItemDataRole.ToolTipRole)
                if told:
                    QToolTip.showText(QPoint(10, 10), str(told), widget)
                    QApplication.processEvents()
    widget.grab()
    return rich


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
    path.write_text(day_to_toml(hostile(canary)), encoding="utf-8")
    page = window.open(path)
    assert page is not None
    planned(page)
    rich = seen(window)
    for entry in PAGES:
        if entry.key:
            page.go_to(entry.key)
            QApplication.processEvents()
            rich += seen(window)
    chart = window.findChild(ChartView)
    assert chart is not None
    view, tips = chart.viewport(), set()
    for x in range(0, view.width(), 20):
        for y in range(0, view.height(), 12):
            place = QPoint(x, y)
            QApplication.sendEvent(view, QHelpEvent(QEvent.Type.ToolTip, place, view.mapToGlobal(place)))
            tips.add(QToolTip.text())
            QApplication.processEvents()
    assert any("img" in words for words in tips), "the chart tells names"
    assert [text for text in rich if "img" in text] == []
    assert opened() == 0


def test_no_box_opens_what_a_name_says(
    qtbot: QtBot, window: Window, canary: Path, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    boxes: list[str] = []

    def look(box: QMessageBox) -> int:
        box.show()
        QApplication.processEvents()
        box.grab()
        boxes.append(box.informativeText())
        box.hide()
        return 0

    monkeypatch.setattr(QMessageBox, "exec", look)
    name = f"<img src='file://{canary}'>"
    ask_to_save(window, name, name)
    choose(window, name, name, [Option("one", name)])
    window._say_fault(ReadFault(Path(name), name, name))
    assert boxes == [name] * 3
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
