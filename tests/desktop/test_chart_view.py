"""The picture as a widget: seen, moved, walked through and wished on, without planning anything itself."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QContextMenuEvent, QHelpEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QToolTip
from pytestqt.qtbot import QtBot

from planner.desktop.chart.chart_painting import screen_measure
from planner.desktop.chart.chart_view import ChartView
from planner.sheet.chart import Chart, Item
from planner.sheet.chart.themes import THEMES
from tests.plan import worked
from tests.sheet.busy import busy_day, busy_plan

TREAT = ("work", "elm", "treat")


@pytest.fixture
def view(qtbot: QtBot) -> Iterator[ChartView]:
    """The tiny day in a window of the smallest screen."""
    shown = ChartView()
    qtbot.addWidget(shown)
    shown.resize(1366, 700)
    shown.show_plan(*worked.tiny())
    shown.show()
    qtbot.waitExposed(shown)
    shown.activateWindow()
    shown.setFocus(Qt.FocusReason.OtherFocusReason)
    yield shown
    QToolTip.hideText()


def picture_of(view: ChartView) -> Chart:
    assert view.picture is not None
    return view.picture


def spot_of(view: ChartView, about: tuple[str | int, ...]) -> QPoint:
    """The middle of a thing, in the window."""
    item = picture_of(view).item(about)
    assert item is not None
    right, down = view.horizontalScrollBar().value(), view.verticalScrollBar().value()
    return QPoint(round(item.x + item.width / 2 - right), round(item.y + item.height / 2 - down))


def wheel(view: ChartView, place: QPoint, steps: int, modifiers: Qt.KeyboardModifier) -> None:
    event = QWheelEvent(
        QPointF(place), QPointF(view.viewport().mapToGlobal(place)), QPoint(), QPoint(0, 120 * steps),
        Qt.MouseButton.NoButton, modifiers, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(view.viewport(), event)


def test_the_picture_fits_the_window_at_first(view: ChartView) -> None:
    assert picture_of(view).width == view.viewport().width()
    assert picture_of(view).height <= view.viewport().height()
    assert view.horizontalScrollBar().maximum() == 0


def test_it_is_drawn_in_each_theme_and_each_differs(view: ChartView, monkeypatch: pytest.MonkeyPatch) -> None:
    shots = []
    for theme in ("light", "dark", "grey"):
        monkeypatch.setattr(ChartView, "theme", THEMES[theme])
        shots.append(view.grab().toImage())
        middle = shots[-1].pixelColor(5, shots[-1].height() - 5)
        assert middle.name() == view.theme.colour("paper")
    assert shots[0] != shots[1] != shots[2]


def test_grey_shows_no_hue_anywhere(view: ChartView, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ChartView, "theme", THEMES["grey"])
    image = view.grab().toImage()
    for x in range(0, image.width(), 3):
        for y in range(0, image.height(), 3):
            colour = image.pixelColor(x, y)
            spread = max(colour.red(), colour.green(), colour.blue()) - min(colour.red(), colour.green(), colour.blue())
            assert spread <= 2, (x, y, colour.name())


def test_texts_are_measured_with_the_face_they_are_drawn_in(view: ChartView) -> None:
    for label in picture_of(view).labels():
        assert label.length == screen_measure(label.text, label.size, label.bold)


def test_keys_zoom_and_fit(view: ChartView) -> None:
    QTest.keyClick(view, Qt.Key.Key_Plus)
    QTest.keyClick(view, Qt.Key.Key_Plus)
    assert view.zoom == pytest.approx(1.5625)
    assert view.horizontalScrollBar().maximum() > 0
    QTest.keyClick(view, Qt.Key.Key_Minus)
    assert view.zoom == pytest.approx(1.25)
    QTest.keyClick(view, Qt.Key.Key_F)
    assert view.zoom == 1.0
    QTest.keyClick(view, Qt.Key.Key_Plus)
    QTest.keyClick(view, Qt.Key.Key_0)
    assert view.zoom == 1.0


def test_the_wheel_with_control_zooms_about_the_mouse(view: ChartView) -> None:
    place = QPoint(900, 300)
    before = picture_of(view).minute_at(900)
    wheel(view, place, 3, Qt.KeyboardModifier.ControlModifier)
    assert view.zoom > 1.5
    assert abs(picture_of(view).minute_at(900 + view.horizontalScrollBar().value()) - before) <= 1


def test_more_is_told_in_the_picture_when_time_is_stretched(qtbot: QtBot) -> None:
    day = busy_day()
    view = ChartView()
    qtbot.addWidget(view)
    view.resize(1366, 700)
    view.show_plan(day, busy_plan(day))

    def letters() -> int:
        return sum(len(label.text) for label in picture_of(view).labels())

    before = letters()
    view.set_zoom(6)
    assert letters() > before


def test_dragging_empty_ground_moves_the_picture(view: ChartView) -> None:
    view.set_zoom(4)
    view.horizontalScrollBar().setValue(500)
    port, empty = view.viewport(), QPoint(700, picture_of_foot(view) + 40)
    QTest.mousePress(port, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, empty)
    QTest.mouseMove(port, empty - QPoint(120, 0))
    QTest.mouseRelease(port, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, empty - QPoint(120, 0))
    assert view.horizontalScrollBar().value() == 620


def picture_of_foot(view: ChartView) -> int:
    return round(picture_of(view).foot)


def test_tab_walks_through_every_thing_and_then_leaves(view: ChartView) -> None:
    seen = []
    view.item_focused.connect(seen.append)
    view.walk("first")
    while view.focusNextPrevChild(True) and len(seen) < 200 and view.focused_item() is not None:
        if seen[-1] == picture_of(view).items[-1].about:
            break
    assert seen == [item.about for item in picture_of(view).items]
    assert not view.walk("next")


def test_arrows_go_back_and_forth_and_up_and_down(view: ChartView) -> None:
    view.focus_item(TREAT)
    QTest.keyClick(view, Qt.Key.Key_Right)
    after = view.focused_item()
    assert after is not None
    assert after.minute >= 496
    QTest.keyClick(view, Qt.Key.Key_Left)
    assert focused(view).about == TREAT
    QTest.keyClick(view, Qt.Key.Key_Up)
    up = focused(view)
    item = picture_of(view).item(TREAT)
    assert item is not None
    assert up.y + up.height / 2 < item.y + item.height / 2
    QTest.keyClick(view, Qt.Key.Key_End)
    assert focused(view).about == picture_of(view).items[-1].about
    QTest.keyClick(view, Qt.Key.Key_Home)
    assert focused(view).about == picture_of(view).items[0].about


def focused(view: ChartView) -> Item:
    item = view.focused_item()
    assert item is not None
    return item


def test_a_thing_out_of_sight_is_brought_into_sight(view: ChartView) -> None:
    view.set_zoom(10)
    for item in picture_of(view).items:
        view.focus_item(item.about)
        here = picture_of(view).item(item.about)
        assert here is not None
        left = here.x - view.horizontalScrollBar().value()
        if here.x >= picture_of(view).margin:
            assert left >= picture_of(view).margin - 1
        assert left < view.viewport().width()


def test_what_the_keyboard_is_on_is_told_to_screen_readers(view: ChartView) -> None:
    assert view.accessibleName() == "Picture of the day"
    assert "home 09:34" in view.accessibleDescription()
    view.focus_item(TREAT)
    assert view.accessibleDescription().startswith("Treat")
    assert "08:16 to 08:28 (12 min)" in view.accessibleDescription()


def test_a_screen_reader_that_listens_hears_it(view: ChartView) -> None:
    QAccessible.setActive(True)
    try:
        view.focus_item(TREAT)
        heard = QAccessible.queryAccessibleInterface(view)
        assert heard.text(QAccessible.Text.Name) == "Picture of the day"
        assert heard.text(QAccessible.Text.Description).startswith("Treat")
    finally:
        QAccessible.setActive(False)


def test_the_ring_is_seen(view: ChartView) -> None:
    without = view.grab().toImage()
    view.focus_item(TREAT)
    assert view.grab().toImage() != without


def test_return_and_double_click_activate(view: ChartView, qtbot: QtBot) -> None:
    view.focus_item(TREAT)
    with qtbot.waitSignal(view.item_activated) as heard:
        QTest.keyClick(view, Qt.Key.Key_Return)
    assert heard.args == [TREAT]
    with qtbot.waitSignal(view.item_activated) as heard:
        QTest.mouseDClick(
            view.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, spot_of(view, TREAT)
        )
    assert heard.args == [TREAT]


def drag(view: ChartView, about: tuple[str | int, ...], pixels: int) -> None:
    port, spot = view.viewport(), spot_of(view, about)
    QTest.mousePress(port, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, spot)
    QTest.mouseMove(port, spot + QPoint(pixels // 2, 0))
    QTest.mouseMove(port, spot + QPoint(pixels, 0))
    view.grab()
    QTest.mouseRelease(port, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, spot + QPoint(pixels, 0))


def test_dragging_a_stage_wishes_it_to_another_time_and_plans_nothing(view: ChartView, qtbot: QtBot) -> None:
    per_minute = picture_of(view).x_of(1) - picture_of(view).x_of(0)
    with qtbot.waitSignal(view.stage_dragged) as heard:
        drag(view, TREAT, round(20 * per_minute))
    job, stage, minute = heard.args
    assert (job, stage) == ("elm", "treat")
    assert abs(minute - (496 + 20)) <= 1
    item = picture_of(view).item(TREAT)
    assert item is not None
    assert item.minute == 496


def test_a_twitch_or_escape_wishes_nothing(view: ChartView, qtbot: QtBot) -> None:
    with qtbot.assertNotEmitted(view.stage_dragged):
        drag(view, TREAT, 2)
        port, spot = view.viewport(), spot_of(view, TREAT)
        QTest.mousePress(port, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, spot)
        QTest.mouseMove(port, spot + QPoint(200, 0))
        QTest.keyClick(view, Qt.Key.Key_Escape)
        QTest.mouseRelease(port, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, spot + QPoint(200, 0))


def test_shift_and_arrow_wish_without_a_mouse(view: ChartView, qtbot: QtBot) -> None:
    view.focus_item(TREAT)
    with qtbot.waitSignal(view.stage_dragged) as heard:
        QTest.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert heard.args == ["elm", "treat", 501]


def test_a_menu_is_asked_for_by_mouse_and_by_key(view: ChartView, qtbot: QtBot) -> None:
    spot = spot_of(view, TREAT)
    for reason in (QContextMenuEvent.Reason.Mouse, QContextMenuEvent.Reason.Keyboard):
        event = QContextMenuEvent(reason, spot, view.viewport().mapToGlobal(spot))
        with qtbot.waitSignal(view.menu_wanted) as heard:
            QApplication.sendEvent(view.viewport(), event)
        assert heard.args is not None
        assert heard.args[0] == TREAT


def test_the_tooltip_tells_what_is_under_the_mouse(view: ChartView, qtbot: QtBot) -> None:
    spot = spot_of(view, TREAT)
    QApplication.sendEvent(view.viewport(), QHelpEvent(QEvent.Type.ToolTip, spot, view.viewport().mapToGlobal(spot)))
    qtbot.waitUntil(lambda: QToolTip.text().startswith("Treat"))


def test_the_now_line_is_drawn_where_it_is(view: ChartView) -> None:
    view.set_now(520)
    lines = [shape for shape in picture_of(view).shapes if shape.role == "now"]
    assert len(lines) == 1
    view.set_now(None)
    assert not [shape for shape in picture_of(view).shapes if shape.role == "now"]


def test_it_is_drawn_sharp_on_a_fine_screen(view: ChartView, monkeypatch: pytest.MonkeyPatch) -> None:
    """Twice as many pixels each way, and not the coarse picture blown up: neighbours in a pair of columns differ."""
    monkeypatch.setattr(view, "devicePixelRatioF", lambda: 2.0)
    fine = view._sheet().toImage()
    assert fine.width() == 2 * view.viewport().width()
    row = fine.height() // 3
    pairs = [
        (fine.pixel(x, y), fine.pixel(x + 1, y)) for y in range(row, row + 60) for x in range(0, fine.width() - 1, 2)
    ]
    assert any(one != other for one, other in pairs)


def test_a_new_plan_keeps_zoom_and_focus_and_drops_a_focus_that_is_gone(view: ChartView) -> None:
    view.set_zoom(3)
    view.focus_item(TREAT)
    day, plan = worked.tiny()
    view.show_plan(day, plan)
    assert view.zoom == 3
    assert focused(view).about == TREAT
    view.show_plan(*worked.pair())
    view.focus_item(("rest", "ash", worked.pair()[1].rests[0].start))
    view.show_plan(day, plan)
    assert view.focused_item() is None


def test_an_empty_view_takes_every_key_and_click_in_peace(qtbot: QtBot) -> None:
    view = ChartView()
    qtbot.addWidget(view)
    view.show()
    for key in (Qt.Key.Key_Plus, Qt.Key.Key_0, Qt.Key.Key_Right, Qt.Key.Key_Home, Qt.Key.Key_Return, Qt.Key.Key_Escape):
        QTest.keyClick(view, key)
    QTest.mouseClick(view.viewport(), Qt.MouseButton.LeftButton)
    view.grab()
    assert view.picture is None
