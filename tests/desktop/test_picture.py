"""The picture in its page: room is made for it, and what moved since the last plan is marked and said."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QAction, QKeySequence, QNativeGestureEvent, QPointingDevice
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from planner.desktop.pages.day_page import DayPage
from planner.desktop.window import Window
from planner.sheet.chart import Label


def action(window: Window, words: str) -> QAction:
    """An entry of the menus, by its words."""
    return next(a for a in window.findChildren(QAction) if a.text().replace("&", "") == words)


def test_buttons_stretch_time_and_show_the_whole_day(qtbot: QtBot, page: DayPage) -> None:
    tools, chart = page.chart.tools, page.chart.chart
    qtbot.mouseClick(tools.wider, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(tools.wider, Qt.MouseButton.LeftButton)
    assert chart.zoom == pytest.approx(1.5625)
    qtbot.mouseClick(tools.narrower, Qt.MouseButton.LeftButton)
    assert chart.zoom == pytest.approx(1.25)
    qtbot.mouseClick(tools.whole, Qt.MouseButton.LeftButton)
    assert chart.zoom == 1.0


def test_the_menu_stretches_time_folds_kit_and_the_page_beside(window: Window, page: DayPage) -> None:
    chart = page.chart.chart
    action(window, "Stretch time").trigger()
    assert chart.zoom > 1
    action(window, "Press time together").trigger()
    action(window, "Whole day").trigger()
    assert chart.zoom == 1
    kit = [s for s in chart.picture.shapes if s.role == "kit name"] if chart.picture else []
    assert kit
    action(window, "Fold kit, or name it").trigger()
    assert chart.picture is not None
    assert not [s for s in chart.picture.shapes if s.role == "kit name"]
    assert [item for item in chart.picture.items if item.about[0] == "stay"], "folded kit can still be pointed at"
    wide = chart.viewport().width()
    action(window, "Picture alone").trigger()
    QApplication.processEvents()
    assert page.panels.isHidden()
    assert chart.viewport().width() > wide + 200
    action(window, "Picture alone").trigger()
    assert not page.panels.isHidden()


def test_two_fingers_stretch_time(page: DayPage) -> None:
    chart = page.chart.chart
    spot = QPointF(300, 100)
    pinch = QNativeGestureEvent(
        Qt.NativeGestureType.ZoomNativeGesture, QPointingDevice.primaryPointingDevice(), 2, spot, spot, spot, 0.5,
        QPointF(),
    )  # fmt: skip
    QApplication.sendEvent(chart.viewport(), pinch)
    assert chart.zoom == pytest.approx(1.5)


def test_no_two_entries_of_the_menus_share_their_keys(window: Window) -> None:
    keys = [key.toString() for a in window.findChildren(QAction) for key in a.shortcuts() if key != QKeySequence()]
    assert len(keys) == len(set(keys))


def test_what_moved_since_the_last_plan_is_marked_and_said(page: DayPage) -> None:
    shown = page.open_day.shown
    assert shown is not None
    assert page.chart.tools.moved.text() == "", "the first plan moved nothing"
    plan = shown.plan
    later = replace(
        plan,
        works=tuple(replace(w, start=w.start + 10, end=w.end + 10) if w.stage == "rinse" else w for w in plan.works),
    )
    before = page.chart.chart.grab().toImage()
    page.open_day.keep_plan(later)
    work = plan.work("elm", "rinse")
    assert work is not None
    said = page.chart.tools.moved.text()
    assert said.startswith("Moved: Rinse")
    assert f", {work.start // 60:02d}:{work.start % 60:02d} to " in said
    marked = page.chart.chart.grab().toImage()
    page.chart.chart.mark_moved({})
    assert before != marked != page.chart.chart.grab().toImage()


def test_every_thing_that_is_written_can_be_pointed_at(page: DayPage) -> None:
    """Whatever in the body bears a text about a thing of the plan has that thing's words."""
    picture = page.chart.chart.picture
    assert picture is not None
    known = {item.about for item in picture.items}
    told = [shape for shape in picture.shapes if isinstance(shape, Label) and shape.about]
    assert told
    assert {shape.about for shape in told} <= known
    assert ("job", "elm") in known


def test_the_words_of_a_walk_in_and_out_have_the_times_of_each(page: DayPage) -> None:
    shown, picture = page.open_day.shown, page.chart.chart.picture
    assert shown is not None
    assert picture is not None
    crossing = shown.plan.crossings[0]
    item = picture.item(("crossing", crossing.job, crossing.ground, crossing.hand, crossing.start))
    assert item is not None
    walk = shown.day.jobs[crossing.job].grounds[crossing.ground].way_in.minutes
    out = crossing.end - walk
    assert f"{out // 60:02d}:{out % 60:02d} to {crossing.end // 60:02d}:{crossing.end % 60:02d} out with" in item.words


def test_whatever_is_pointed_at_has_words(page: DayPage) -> None:
    chart = page.chart.chart
    assert chart.picture is not None
    for item in chart.picture.items:
        place = QPoint(round(item.x + item.width / 2), round(item.y + item.height / 2))
        found = chart.item_under(QPointF(place))
        assert found is not None
        assert found.words
