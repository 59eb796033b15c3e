"""How the window is dressed, wherever it is installed."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication, QComboBox
from pytestqt.qtbot import QtBot

from planner.desktop import look
from planner.desktop.model.preferences import Scheme
from planner.desktop.plain import PlainLabel
from planner.desktop.window import Window
from planner.resources import resource
from tests.contrast import contrast


@pytest.mark.parametrize("folder", ["plain", "it's über here", 'a "quoted" (name)', "back\\slash"])
def test_it_keeps_its_style_under_a_path_with_any_sign(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, folder: str
) -> None:
    """The arrow of a list is drawn from a file: its dark pixels are there only where the file is found."""
    strange = tmp_path / folder
    strange.mkdir()
    for name in ("down", "close", "tick-light", "tick-dark"):
        drawing = resource("icons", f"{name}.svg").read_text(encoding="utf-8")
        (strange / f"{name}.svg").write_text(drawing, encoding="utf-8")
    monkeypatch.setattr(look, "resource", lambda _, name: strange / name)
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    try:
        look.wear(application, Scheme.LIGHT)
        box = QComboBox()
        qtbot.addWidget(box)
        box.resize(120, 30)
        image = box.grab().toImage()
        shades = {image.pixelColor(QPoint(x, y)).lightness() for x in range(98, 116) for y in range(8, 22)}
        assert min(shades) < 200
        assert "1px solid" in application.styleSheet()
    finally:
        monkeypatch.undo()
        look.wear(application, Scheme.LIGHT)


@pytest.mark.parametrize("inks", [look.DAYLIGHT, look.LAMPLIGHT, look.STARK], ids=["light", "dark", "contrast"])
def test_text_and_edges_are_told_from_what_they_lie_on(inks: look.Inks) -> None:
    """WCAG 2.1, 1.4.3 (text, at least 4.5 to 1) and 1.4.11 (edges and marks of what can be worked, 3 to 1)."""
    for ground in (inks.paper, inks.sheet, inks.shade):
        for text in (inks.ink, inks.faint, inks.water, inks.good, inks.tight, inks.bad):
            assert contrast(text, ground) >= 4.5, (text, ground)
        assert contrast(inks.edge, ground) >= 3, (inks.edge, ground)
    assert contrast(inks.on_water, inks.water) >= 4.5


@pytest.mark.parametrize("inks", [look.DAYLIGHT, look.LAMPLIGHT, look.STARK], ids=["light", "dark", "contrast"])
def test_fields_and_buttons_are_bounded_by_the_ink_for_edges(inks: look.Inks) -> None:
    rules = look._sheet(inks)
    bounded = ("QPushButton {", "QLineEdit, QComboBox", 'QToolButton[autoRaise="false"] {', "QCheckBox::indicator, QL")
    for what in bounded:
        rule = rules[rules.index(what) : rules.index("}", rules.index(what))]
        assert inks.edge in rule
        assert inks.line == inks.edge or inks.line not in rule


def test_a_hint_has_a_bar_at_its_left(qtbot: QtBot) -> None:
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    look.wear(application, Scheme.LIGHT)
    hint = PlainLabel("With an extra socket: 18 min, not 29 min.")
    hint.setProperty("role", "hint")
    qtbot.addWidget(hint)
    assert hint.grab().toImage().pixelColor(1, hint.height() // 2) == QColor(look.DAYLIGHT.water)


def test_the_high_contrast_look_reaches_seven_to_one() -> None:
    """WCAG 2.1, 1.4.6: text at least 7 to 1."""
    inks = look.STARK
    for ground in (inks.paper, inks.sheet, inks.shade):
        for ink in (inks.ink, inks.faint, inks.water, inks.good, inks.tight, inks.bad, inks.edge, inks.line):
            assert contrast(ink, ground) >= 7, (ink, ground)
    assert contrast(inks.on_water, inks.water) >= 7


def test_the_window_goes_with_the_system_when_that_goes_to_high_contrast(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Qt tells of it by a signal of its own, apart from that of light and dark."""
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    window.preferences.scheme = Scheme.SYSTEM
    monkeypatch.setattr(look, "_system_wants_contrast", lambda _: True)
    try:
        hints = application.styleHints()
        wishes = hints.accessibility()
        wishes.contrastPreferenceChanged.emit(Qt.ContrastPreference.HighContrast)
        assert look.inks_of(window) is look.STARK
    finally:
        monkeypatch.undo()
        look.wear(application, Scheme.LIGHT)


def test_the_high_contrast_look_is_worn_by_name(qtbot: QtBot) -> None:
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    try:
        look.wear(application, Scheme.CONTRAST)
        box = QComboBox()
        qtbot.addWidget(box)
        assert look.inks_of(box) is look.STARK
    finally:
        look.wear(application, Scheme.LIGHT)
