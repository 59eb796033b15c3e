"""Names that look like pictures, pages or sheets of style which lie in a file: whoever takes them so opens that file.

The window shows a day with such a name in one of its places, or in all, on every page, in every tip and in its boxes,
and the kernel counts how often the file was opened.
"""

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QEvent, QPoint, QSettings, Qt
from PySide6.QtGui import QHelpEvent, QImage
from PySide6.QtGui import Qt as QtOfGui
from PySide6.QtWidgets import QAbstractItemView, QApplication, QLabel, QMessageBox, QToolTip, QWidget

from planner.day import Day
from planner.day.file import day_to_toml
from planner.day.safekeeping import ReadFault
from planner.desktop.chart.chart_view import ChartView
from planner.desktop.forms.asking import Option, ask_to_save, choose
from planner.desktop.menus import Menus
from planner.desktop.model.preferences import Preferences
from planner.desktop.pages.catalogue import PAGES
from planner.desktop.pages.day_page import DayPage
from planner.desktop.window import Window
from tests.days import tiny_day
from tests.desktop.windows import answered, processed, stand_in_process
from tests.faults.opened import openings_of
from tests.own_folders import laid_under

DISGUISES = (
    "<img src='file://{}'> x",
    "<b>x</b><img src='{}'>",
    "<table background='file://{}'><tr><td>x</td></tr></table>",
    "<body background='{}'>x</body>",
    "<link rel='stylesheet' href='file://{}'>x",
    "<style>@import url(file://{});</style>x",
    "<p style='background-image: url(file://{})'>x</p>",
    "![x](file://{})",
)
"""Ways in which a text may name a picture or a sheet of style, for readers of HTML, CSS and Markdown."""

TABLES = ("hands", "places", "kit", "materials")
PARTS = ("grounds", "surfaces", "stages")
PLACES = (None, "title", *TABLES, "job", *PARTS, "through", "customer")
"""Where such a name stands in a day; None: in all of these."""

CASES = len(DISGUISES) * len(PLACES)

Opened = Callable[[], int]


def hostile_day(name: str, place: str | None = None) -> Day:
    """The tiny day with a name in one of its places, or in all."""
    tables: dict[str, Any] = tiny_day(materials={"salt": {"container": "bag"}}).model_dump()
    job = tables["jobs"]["elm"]
    for part in TABLES:
        for one in tables[part].values() if place in (None, part) else ():
            one["name"] = name
    for part in PARTS:
        for one in job[part].values() if place in (None, part) else ():
            one["name"] = name
    if place in (None, "title"):
        tables["title"] = name
    if place in (None, "job"):
        job["title"] = name
    if place in (None, "through"):
        job["grounds"]["rear"]["way_in"]["through"] = name
    if place in (None, "customer"):
        job["customer"] = {"name": name, "before": (name,), "handover": (name,), "after": (name,)}
    return Day.model_validate(tables)


def picture(folder: Path) -> Path:
    """A picture that every reader of pictures can open."""
    path = folder / "canary.png"
    image = QImage(8, 8, QImage.Format.Format_RGB32)
    image.fill(0)
    assert image.save(str(path))
    return path


def looked_at(window: Window, page: DayPage, *, step: int = 1) -> tuple[list[str], set[str]]:
    """Look at every page and every tip of a day: texts that Qt would take for HTML, and the tips of the chart.

    With a longer ``step`` the chart's tips are asked for at fewer places.
    """
    rich = _texts_of(window)
    for entry in PAGES:
        if entry.key:
            page.go_to(entry.key)
            QApplication.processEvents()
            rich += _texts_of(window)
    chart = window.findChild(ChartView)
    assert chart is not None
    view, tips = chart.viewport(), set()
    for x in range(0, view.width(), 20 * step):
        for y in range(0, view.height(), 12 * step):
            place = QPoint(x, y)
            QApplication.sendEvent(view, QHelpEvent(QEvent.Type.ToolTip, place, view.mapToGlobal(place)))
            tips.add(QToolTip.text())
            QApplication.processEvents()
    return rich, tips


def _texts_of(widget: QWidget) -> list[str]:
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


def boxes_with(window: Window, name: str) -> list[str]:
    """Show a name in each kind of box; what each says."""
    said: list[str] = []

    def look(box: QMessageBox) -> int:
        box.show()
        QApplication.processEvents()
        box.grab()
        said.append(box.informativeText())
        box.hide()
        return 0

    with answered(look):
        ask_to_save(window, name, name)
        choose(window, name, name, [Option("one", name)])
        window._say_fault(ReadFault(Path(name), name, name))
    return said


def hostile_name(number: int, folder: Path) -> list[str]:
    """One disguise in one place (or all) of a day that the window shows: is the file opened that it names?"""
    disguise, place = DISGUISES[number % len(DISGUISES)], PLACES[number // len(DISGUISES) % len(PLACES)]
    _application = QApplication.instance() or QApplication([])
    canary, path = picture(folder), folder / "hostile.toml"
    name = disguise.format(canary)
    path.write_text(day_to_toml(hostile_day(name, place)), encoding="utf-8")
    settings = QSettings(str(folder / "settings.ini"), QSettings.Format.IniFormat)
    with laid_under(folder), openings_of(canary) as opened:
        window = Window(Preferences(settings), processes=stand_in_process)
        Menus(window)
        window.show()
        page = window.open(path)
        assert page is not None
        until = time.monotonic() + 90
        processed(lambda: page.open_day.plan is not None or time.monotonic() > until)
        looked_at(window, page, step=3)
        boxes_with(window, name)
        page.end()
        window.hide()
        window.deleteLater()
        processed(lambda: True)
        return [f"{name} as {place or 'every name'}: opened {opened()} times"] if opened() else []
