"""For everybody: by keys and by ear, on a small screen, in large print."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QAccessible, QFont, QFontMetrics
from PySide6.QtWidgets import QApplication, QPushButton, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from planner.desktop.forms.customers_dialog import CustomersDialog
from planner.desktop.forms.dialog import FieldsDialog
from planner.desktop.forms.field import Entry, Field
from planner.desktop.forms.kinds import MINUTES
from planner.desktop.forms.new_work import NewWork
from planner.desktop.forms.quote_dialog import QuoteDialog
from planner.desktop.pages.catalogue import PAGES
from planner.desktop.pages.day_page import DayPage
from planner.desktop.pages.rail import Rail, RailEntry
from planner.desktop.pages.verdict_strip import in_a_line
from planner.desktop.starting import new_day
from planner.desktop.window import Window

FORMS = ("house", "day", "hands", "kit", "jobs", "own")
MOST_KEYS = 500


def said(widget: QWidget, what: QAccessible.Text) -> str:
    interface = QAccessible.queryAccessibleInterface(widget)
    assert interface is not None
    return interface.text(what)


def in_front(qtbot: QtBot, window: Window) -> None:
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)


def test_what_is_wrong_is_in_the_description_of_its_field_and_goes_with_it(qtbot: QtBot) -> None:
    field = Field("Drive from our yard", MINUTES)
    qtbot.addWidget(field)
    qtbot.keyClicks(field.line, "soon")
    assert "in min" in said(field.line, QAccessible.Text.Description)
    assert field.message
    assert field.message in said(field.line, QAccessible.Text.Description)
    field.line.selectAll()
    qtbot.keyClicks(field.line, "12")
    assert said(field.line, QAccessible.Text.Description) == "in min"


@pytest.mark.parametrize(
    ("place", "value", "label"),
    [
        (("hands", "hand-1", "hours"), ["17:00", "noon"], "Works from"),
        (("jobs", "elm", "done_by"), "noon", "Promised done by"),
        (("start",), "early", "Van leaves from"),
    ],
)
def test_after_a_fault_the_keys_are_at_the_first_field_at_fault(
    qtbot: QtBot, window: Window, page: DayPage, place: tuple[str, ...], value: object, label: str
) -> None:
    in_front(qtbot, window)
    if place[0] == "hands":
        place = ("hands", next(iter(page.open_day.draft.at(("hands",)))), "hours")
    page.open_day.set("a slip", place, value)
    assert page.open_day.day is None
    page.plan_again()
    focused = QApplication.focusWidget()
    assert focused is not None
    assert said(focused, QAccessible.Text.Name) == label
    entry = next(entry for entry in page.findChildren(Entry) if entry.worked is focused)
    assert entry.message
    assert entry.message in said(focused, QAccessible.Text.Description)


def test_of_a_house_without_work_the_first_tick_gets_the_keys(qtbot: QtBot, window: Window) -> None:
    page = window.add(new_day())
    qtbot.waitUntil(lambda: page.rail.chosen == "house")
    in_front(qtbot, window)
    page.open_day.set("place", ("places", "elm"), {"name": "Elm Road"})
    page.open_day.set("job", ("jobs", "elm"), {"place": "elm", "grounds": {"rear": {"name": "Rear"}}})
    page.strip.plan_wanted.emit()
    focused = QApplication.focusWidget()
    assert focused is not None
    assert said(focused, QAccessible.Text.Name) in ("Drive from Our yard", "Patio: washed, joints refilled")


def test_scroll_areas_and_what_takes_away_say_of_what(page: DayPage) -> None:
    for key in FORMS:
        shown = page.page(key)
        areas = [shown, *shown.findChildren(QScrollArea)] if isinstance(shown, QScrollArea) else []
        assert areas
        assert all(said(area, QAccessible.Text.Name) for area in areas), key
        for button in shown.findChildren(QPushButton):
            if button.text() == "Take away" and button.isEnabled():
                assert said(button, QAccessible.Text.Name) != "Take away", key


def test_tab_goes_round_with_several_days_open(qtbot: QtBot, window: Window, page: DayPage) -> None:
    other = window.add(new_day())
    qtbot.waitUntil(lambda: other.picture_shown is not None)
    in_front(qtbot, window)
    for day in (page, other):
        window.tabs.setCurrentWidget(day)
        day.rail.setFocus()
        seen: list[QWidget] = []
        for _ in range(MOST_KEYS):
            focused = QApplication.focusWidget()
            assert focused is not None
            qtbot.keyClick(focused, Qt.Key.Key_Tab)
            seen.append(QApplication.focusWidget() or window)
            if seen[-1] is day.rail:
                break
        assert seen[-1] is day.rail
        assert window.tabs.tabBar() in seen, "with several days the row of them can be reached"
        hidden = other if day is page else page
        assert not any(hidden.isAncestorOf(widget) for widget in seen), "only the day in front is walked through"


@pytest.fixture(params=[1.0, 2.0], ids=["usual print", "print at 200 %"])
def print_size(request: pytest.FixtureRequest, qtbot: QtBot) -> Iterator[float]:
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    before = application.font()
    larger = application.font()
    larger.setPointSizeF(before.pointSizeF() * request.param)
    application.setFont(larger)
    yield request.param
    application.setFont(before)


def test_on_1024_by_600_nothing_is_cut_at_the_side_of_a_page(
    qtbot: QtBot, print_size: float, window: Window, page: DayPage
) -> None:
    window.resize(1024, 600)
    for key in FORMS:
        page.go_to(key)
        area = page.page(key)
        assert isinstance(area, QScrollArea)
        qtbot.waitUntil(lambda area=area: area.horizontalScrollBar().maximum() == 0)
    assert (window.width(), window.height()) == (1024, 600)
    assert page.strip.height() < 220


def test_on_1024_by_600_no_button_of_a_page_lies_on_another(window: Window, page: DayPage) -> None:
    window.resize(1024, 600)
    for key in [one.key for one in PAGES if one.key]:
        page.go_to(key)
        QApplication.processEvents()
        shown = page.page(key)
        buttons = [button for button in shown.findChildren(QPushButton) if button.isVisible()]
        places = [QRect(button.mapTo(shown, QPoint(0, 0)), button.size()) for button in buttons]
        for at, one in enumerate(places):
            for other, more in zip(places[at + 1 :], buttons[at + 1 :], strict=True):
                assert not one.intersects(other), (key, buttons[at].text(), more.text())


@pytest.mark.parametrize("make", [QuoteDialog, CustomersDialog, NewWork], ids=lambda make: make.__name__)
def test_a_dialog_on_a_low_screen_scrolls_with_its_buttons_in_sight(
    qtbot: QtBot, print_size: float, make: type[FieldsDialog], tiny_file: Path
) -> None:
    from planner.desktop.model.draft import Draft

    draft = Draft(tiny_file.read_text("utf-8"), tiny_file)
    dialog = NewWork(draft, "elm") if make is NewWork else make()
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.resize(360, 240)
    qtbot.waitUntil(lambda: dialog.height() == 240)
    for button in dialog.buttons.buttons():
        at = QRect(button.mapTo(dialog, QPoint(0, 0)), button.size())
        assert dialog.rect().contains(at), button.text()


def test_the_chosen_page_is_named_whole_on_the_rail_in_large_print(qtbot: QtBot) -> None:
    """It is set bolder than the others, which makes it wider."""
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    usual = application.font()
    large = QFont(usual)
    large.setPointSizeF(2 * usual.pointSizeF())
    application.setFont(large)
    try:
        rail = Rail([RailEntry(page.words, page.key) for page in PAGES])
        qtbot.addWidget(rail)
        rail.resize(rail.width(), 200)
        rail.show()
        bold = QFont(rail.font())
        bold.setWeight(QFont.Weight.DemiBold)
        room = rail.viewport().width() - 24
        assert rail.verticalScrollBar().isVisible()
        rail.choose("quotes")
        rail.resize(rail.width(), 120)
        assert rail.viewport().rect().contains(rail.visualItemRect(rail.currentItem()))
        assert max(QFontMetrics(bold).horizontalAdvance(page.words) for page in PAGES) <= room
    finally:
        application.setFont(usual)


@pytest.mark.parametrize(
    ("figure", "label", "line"),
    [
        ("2 h 42 min", "spare", "2 h 42 min spare"),
        ("15:18", "home, at the latest 18:00", "15:18 home, at the latest 18:00"),
        ("Proven best", "no plan is better", "Proven best, no plan is better"),
        ("Gap < 1 %", "at most 1 min better", "Gap < 1 %, at most 1 min better"),
        ("–", "nothing proven yet", "nothing proven yet"),
    ],
)
def test_on_a_low_screen_a_figure_and_its_label_read_as_one_line(figure: str, label: str, line: str) -> None:
    assert in_a_line(figure, label) == line


@pytest.mark.parametrize(("width", "most"), [(1366, 420), (1920, 560)])
def test_on_a_wide_screen_the_page_beside_the_picture_takes_its_share(
    qtbot: QtBot, window: Window, width: int, most: int
) -> None:
    window.resize(width, 1000)
    page = window.add(new_day())
    qtbot.waitUntil(lambda: page.picture_shown is not None)
    assert 390 <= page.panels.width() <= most
    if width > 1366:
        assert page.panels.width() > 500
