"""Every page of a day, one by one: by keys, by ear, in large print, and where the keys are is seen."""

from collections.abc import Iterator

import numpy as np
import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QAccessible, QAccessibleInterface, QColor, QImage
from PySide6.QtWidgets import QAbstractItemView, QApplication, QWidget
from pytestqt.qtbot import QtBot

from planner.desktop.look import Scheme, wear
from planner.desktop.pages.catalogue import PAGES
from planner.desktop.pages.day_page import DayPage
from planner.desktop.pages.panel import Scrolled
from planner.desktop.window import Window
from tests.contrast import contrast
from tests.desktop.cut_text import cut_words

KEYS = [page.key for page in PAGES if page.key]
MOST_KEYS = 500


def in_front(qtbot: QtBot, window: Window) -> None:
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)


@pytest.fixture
def dressed() -> Iterator[None]:
    """As the window is worn, not as Qt would draw it bare."""
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    wear(application, Scheme.LIGHT)
    yield
    application.setStyleSheet("")


@pytest.fixture(params=[1.0, 2.0], ids=["usual print", "print at 200 %"])
def print_size(request: pytest.FixtureRequest, qtbot: QtBot) -> Iterator[float]:
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    before, larger = application.font(), application.font()
    larger.setPointSizeF(before.pointSizeF() * request.param)
    application.setFont(larger)
    wear(application, Scheme.LIGHT)
    yield request.param
    application.setFont(before)
    application.setStyleSheet("")


@pytest.mark.parametrize("key", [Qt.Key.Key_Tab, Qt.Key.Key_Backtab], ids=["Tab", "Shift+Tab"])
def test_the_keys_go_round_on_every_page(qtbot: QtBot, window: Window, page: DayPage, key: Qt.Key) -> None:
    in_front(qtbot, window)
    for name in KEYS:
        page.go_to(name)
        page.rail.setFocus()
        seen: list[QWidget] = []
        for _ in range(MOST_KEYS):
            focused = QApplication.focusWidget()
            assert focused is not None, name
            qtbot.keyClick(focused, key)
            now = QApplication.focusWidget()
            assert now is not None
            assert now.isVisible(), (name, now)
            seen.append(now)
            if now is page.rail:
                break
        assert seen[-1] is page.rail, f"{name}: it comes round to where it began"
        shown = page.page(name)
        reached = {widget for widget in seen if shown.isAncestorOf(widget)}
        wanted = {w for w in shown.findChildren(QWidget) if _takes_keys(w, shown)}
        assert wanted <= reached, (name, [_named(w) for w in wanted - reached])
        assert page.chart.chart in seen


def _takes_keys(widget: QWidget, around: QWidget) -> bool:
    takes = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus) and widget.focusProxy() is None
    return takes and widget.isEnabled() and widget.isVisibleTo(around) and not _is_within_a_field(widget)


def _is_within_a_field(widget: QWidget) -> bool:
    """Whether the keys go to what is around it: the line of a date field, the list of a choice."""
    around = widget.parentWidget()
    return (around is not None and around.focusProxy() is widget) or _named(widget).startswith("qt_")


def _named(widget: QWidget) -> str:
    return widget.objectName() or widget.accessibleName() or type(widget).__name__


def tree(interface: QAccessibleInterface) -> Iterator[QAccessibleInterface]:
    """What a screen reader finds below something, and the thing itself."""
    yield interface
    for at in range(interface.childCount()):
        child = interface.child(at)
        if child is not None and child.isValid() and not child.state().invisible:
            yield from tree(child)


def test_the_accessible_tree_names_all_that_takes_the_keys(qtbot: QtBot, window: Window, page: DayPage) -> None:
    """From the window down, as a screen reader goes: each page is found, and whatever takes the keys has a name."""
    in_front(qtbot, window)
    for name in KEYS:
        page.go_to(name)
        root = QAccessible.queryAccessibleInterface(window)
        assert root is not None
        found = list(tree(root))
        texts = {one.text(QAccessible.Text.Name) for one in found}
        title = next(entry.words for entry in PAGES if entry.key == name)
        assert any(title.lower() in text.lower() for text in texts), name
        assert "Picture of the day" in texts
        assert "Pages" in texts
        for one in found:
            if one.state().focusable:
                said = one.text(QAccessible.Text.Name) or one.text(QAccessible.Text.Value)
                assert said.strip(), (name, one.role(), one.rect())


def test_the_picture_is_heard_whole_and_thing_by_thing(qtbot: QtBot, window: Window, page: DayPage) -> None:
    in_front(qtbot, window)
    chart = page.chart.chart
    heard = QAccessible.queryAccessibleInterface(chart)
    assert heard is not None
    whole = heard.text(QAccessible.Text.Description)
    assert chart.picture is not None
    for item in chart.picture.items:
        if item.about[0] == "work":
            assert item.words.split(",")[0] in whole
    chart.setFocus(Qt.FocusReason.TabFocusReason)
    one = heard.text(QAccessible.Text.Description)
    assert one
    assert one != whole


def test_in_every_list_it_is_seen_where_the_keys_are(
    qtbot: QtBot, dressed: None, window: Window, page: DayPage
) -> None:
    """WCAG 2.2, 2.4.13: what marks the focus differs by 3 to 1, over an area of at least its edge."""
    in_front(qtbot, window)
    seen = 0
    for name in KEYS:
        page.go_to(name)
        QApplication.processEvents()
        lists = [one for one in page.page(name).findChildren(QAbstractItemView) if one.isVisible()]
        for one in [page.rail, *lists]:
            if one.model() is None or not one.model().rowCount() or not one.focusPolicy() & Qt.FocusPolicy.TabFocus:
                continue
            one.setFocus(Qt.FocusReason.TabFocusReason)
            QApplication.processEvents()
            focused = one.grab().toImage()
            page.strip.setFocus()
            page.chart.tools.whole.setFocus()
            QApplication.processEvents()
            assert _marked(one.grab().toImage(), focused) >= one.width(), (name, one.accessibleName())
            seen += 1
    assert seen > len(KEYS)


def _marked(plain: QImage, focused: QImage) -> int:
    """How many pixels differ by 3 to 1 or more."""
    one, other = (np.frombuffer(_pixels(image), dtype=np.uint32) for image in (plain, focused))
    assert one.shape == other.shape
    pairs, counts = np.unique(np.stack([one, other])[:, one != other], axis=1, return_counts=True)
    colours = ((QColor(int(a)).name(), QColor(int(b)).name()) for a, b in pairs.T)
    return sum(int(count) for (a, b), count in zip(colours, counts, strict=True) if contrast(a, b) >= 3)


def _pixels(image: QImage) -> bytes:
    """The pixels of a picture, four bytes each."""
    return bytes(image.convertToFormat(QImage.Format.Format_RGB32).constBits())


@pytest.mark.parametrize("screen", [(1024, 600), (1366, 768)], ids=lambda size: f"{size[0]}x{size[1]}")
def test_no_word_of_any_page_is_cut(
    qtbot: QtBot, print_size: float, window: Window, page: DayPage, screen: tuple[int, int]
) -> None:
    window.resize(*screen)
    for name in KEYS:
        page.go_to(name)
        QApplication.processEvents()
        area = page.page(name) if isinstance(page.page(name), Scrolled) else page.page(name).parentWidget()
        assert area is not None
        QApplication.processEvents()
        assert cut_words(area) == [], name
        assert page.panels.width() <= window.width() - page.rail.width(), name
    for part in (page.strip, page.picture):
        assert cut_words(part) == []
    assert (window.width(), window.height()) == screen


def test_big_words_keep_their_size_when_the_look_is_changed(dressed: None, page: DayPage) -> None:
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    page.strip.show_standing(page.strip.standing)
    before = [label.font().pointSizeF() for label in page.strip.big_words]
    assert max(before) > 1.5 * application.font().pointSizeF()
    for scheme in (Scheme.DARK, Scheme.CONTRAST, Scheme.LIGHT):
        wear(application, scheme)
        assert [label.font().pointSizeF() for label in page.strip.big_words] == before


def test_a_page_that_is_tabbed_into_chooses_nothing(qtbot: QtBot, window: Window, page: DayPage) -> None:
    """On the day, the keys that only pass through the rows must not change what the large buttons mark."""
    in_front(qtbot, window)
    page.go_to("running")
    panel = page.page("running")
    due = panel.meant()  # type: ignore[attr-defined]
    panel.rows.setFocus(Qt.FocusReason.TabFocusReason)  # type: ignore[attr-defined]
    assert panel.meant() == due  # type: ignore[attr-defined]
    for _ in range(2):  # the first key goes in, the second one down
        qtbot.keyClick(panel.rows, Qt.Key.Key_End)  # type: ignore[attr-defined]
    assert panel.meant() != due  # type: ignore[attr-defined]


def test_what_is_on_the_screen_is_within_it(window: Window, page: DayPage) -> None:
    """On a screen of 1024 by 600 the window keeps to it, and each part of it has a place there."""
    window.resize(1024, 600)
    QApplication.processEvents()
    for part in (page.strip, page.rail, page.picture, page.panels):
        at = QRect(part.mapTo(window, part.rect().topLeft()), part.size())
        assert window.rect().contains(at), part
