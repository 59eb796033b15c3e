"""The window by keys alone: Tab and Shift+Tab go round and come back, with one day open and with two."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from planner.desktop.forms.picking import Picking
from planner.desktop.pages.day_page import DayPage
from planner.desktop.window import Window

MOST = 400


def test_tab_goes_round_and_back_again(qtbot: QtBot, window: Window, page: DayPage) -> None:
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    for key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
        page.rail.setFocus()
        seen: list[QWidget] = []
        for _ in range(MOST):
            focused = QApplication.focusWidget()
            assert focused is not None
            qtbot.keyClick(focused, key)
            now = QApplication.focusWidget()
            assert now is not None
            assert now.isVisible()
            if now is not focused:
                seen.append(now)
            if now is page.rail:
                break
        assert seen
        assert seen[-1] is page.rail, "it comes round to where it began"
        assert page.chart.chart in seen
        assert page.chart.tools.wider in seen
        assert window.tabs.tabBar() not in seen


def test_the_accessible_tree_says_of_what_pages_scroll_and_of_what_something_is_taken_away(
    qtbot: QtBot, window: Window, tiny_file: Path
) -> None:
    page = window.open(tiny_file)
    assert isinstance(page, DayPage)
    for key in ("day", "hands", "kit", "jobs"):
        page.go_to(key)
        shown = QAccessible.queryAccessibleInterface(page.page(key))
        assert shown is not None
        assert shown.text(QAccessible.Text.Name).lower() == key
    page.go_to("kit")
    picking = [one for one in page.page("kit").findChildren(Picking) if one.list.count()]
    assert picking
    for one in picking:
        one.list.setCurrentRow(0)
        said = QAccessible.queryAccessibleInterface(one.remove_button).text(QAccessible.Text.Name)
        assert said == f"Take away {one.list.currentItem().text()}"
