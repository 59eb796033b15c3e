"""The look of the window: paper and ink, large quiet numbers, one accent the colour of still water.

Nothing is told by colour alone: whatever a colour says stands beside it as a word, a weight or a pattern.
"""

from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetrics, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from planner.resources import resource

_SERIFS = ("Charter", "Iowan Old Style", "Cambria", "Georgia", "Noto Serif", "DejaVu Serif")


FINGER = 46
"""Pixels: no target on a page for the day itself is smaller (44 is the usual least for a finger: WCAG 2.2, 2.5.5)."""

USUAL_POINTS = 11.0
"""No system sets its letters larger than this unasked."""


class Scheme(StrEnum):
    """Which light to draw in; ``SYSTEM`` follows the desktop."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"
    CONTRAST = "contrast"


@dataclass(frozen=True)
class Inks:
    """The colours of one scheme, named for what they mean.

    ``line`` only parts what would be told apart without it; ``edge`` is what bounds something that can be worked,
    in so many pixels as ``width`` says.
    """

    paper: str
    sheet: str
    shade: str
    line: str
    edge: str
    ink: str
    faint: str
    water: str
    on_water: str
    good: str
    tight: str
    bad: str
    width: int = 1


DAYLIGHT = Inks(
    paper="#f6f4ee",
    sheet="#fffefb",
    shade="#ebe7dd",
    line="#cfc9ba",
    edge="#857d69",
    ink="#1c2427",
    faint="#5d6668",
    water="#0f5963",
    on_water="#ffffff",
    good="#1f6140",
    tight="#845000",
    bad="#99291f",
)

LAMPLIGHT = Inks(
    paper="#14191b",
    sheet="#1a2023",
    shade="#242c2f",
    line="#3d484c",
    edge="#7d8a8f",
    ink="#e9e6dd",
    faint="#a3aaa8",
    water="#7cc4c8",
    on_water="#0d1517",
    good="#8fcfa5",
    tight="#e5b567",
    bad="#f0968a",
)


STARK = Inks(
    paper="#ffffff",
    sheet="#fefefe",
    shade="#f2f2f2",
    line="#000000",
    edge="#000000",
    ink="#000000",
    faint="#1f1f1f",
    water="#00307a",
    on_water="#ffffff",
    good="#004a19",
    tight="#5a3400",
    bad="#860000",
    width=2,
)
"""The high-contrast look: every text at 7 to 1 and more (WCAG 2.1, 1.4.6), every edge black and twice as wide."""


def inks_of(widget: QWidget) -> Inks:
    """The colours that a widget is drawn in now."""
    if widget.window().palette().window().color().name() == STARK.paper:
        return STARK
    return LAMPLIGHT if widget.window().palette().window().color().lightness() < 128 else DAYLIGHT


def wear(application: QApplication, scheme: Scheme) -> None:
    """Dress the whole application in a scheme."""
    dark = scheme is Scheme.DARK or (scheme is Scheme.SYSTEM and _system_is_dark(application))
    inks = LAMPLIGHT if dark else DAYLIGHT
    if scheme is Scheme.CONTRAST or (scheme is Scheme.SYSTEM and _system_wants_contrast(application)):
        inks = STARK
    has_own = Qt.WidgetAttribute.WA_SetFont
    worn = [(one, QFont(one.font())) for one in application.allWidgets() if one.testAttribute(has_own)]
    if application.style().objectName() != "fusion":
        application.setStyle("Fusion")
    application.setPalette(_palette(inks))
    application.setStyleSheet(_sheet(inks))
    for one, font in worn:  # with another sheet Qt gives each the face that it was first drawn in
        one.setFont(font)


def headline(points: float, *, bold: bool = False) -> QFont:
    """The face of big words and numbers."""
    known = set(QFontDatabase.families())
    font = QFont([name for name in _SERIFS if name in known] or ["serif"])
    font.setStyleHint(QFont.StyleHint.Serif)
    font.setPointSizeF(points * larger_print())
    font.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    return font


def larger_print() -> float:
    """How much larger than usual the system wants letters; big words grow by half of that, being big already."""
    own = QApplication.font().pointSizeF()
    return 1.0 + max(0.0, own / USUAL_POINTS - 1.0) / 2


def tick_size() -> int:
    """The side of a box to tick, in pixels: it grows with the letters beside it."""
    return max(13, round(0.75 * QFontMetrics(QApplication.font()).height()))


def _system_wants_contrast(application: QApplication) -> bool:
    style = application.styleHints()  # what it hands out lives no longer than this name for it
    hints = style.accessibility()
    return hints is not None and hints.contrastPreference() is Qt.ContrastPreference.HighContrast


def _system_is_dark(application: QApplication) -> bool:
    return application.styleHints().colorScheme() is Qt.ColorScheme.Dark


def _palette(inks: Inks) -> QPalette:
    palette = QPalette()
    role = QPalette.ColorRole
    for which, colour in (
        (role.Window, inks.paper),
        (role.WindowText, inks.ink),
        (role.Base, inks.sheet),
        (role.AlternateBase, inks.shade),
        (role.Text, inks.ink),
        (role.PlaceholderText, inks.faint),
        (role.Button, inks.shade),
        (role.ButtonText, inks.ink),
        (role.BrightText, inks.bad),
        (role.Highlight, inks.water),
        (role.HighlightedText, inks.on_water),
        (role.Accent, inks.water),
        (role.Link, inks.water),
        (role.LinkVisited, inks.water),
        (role.ToolTipBase, inks.sheet),
        (role.ToolTipText, inks.ink),
        (role.Mid, inks.edge),
        (role.Midlight, inks.shade),
        (role.Light, inks.sheet),
        (role.Dark, inks.faint),
        (role.Shadow, inks.edge),
    ):
        palette.setColor(which, QColor(colour))
    for which in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, QColor(inks.faint))
    return palette


def _sheet(inks: Inks) -> str:
    """The few rules that a palette cannot say."""
    return f"""
    QScrollBar:vertical {{ background: transparent; width: 10px; margin: 0; }}
    QScrollBar:horizontal {{ background: transparent; height: 10px; margin: 0; }}
    QScrollBar::handle {{ background: {inks.edge}; border-radius: 3px; min-height: 28px; margin: 2px; }}
    QScrollBar::handle:hover {{ background: {inks.faint}; }}
    QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
    QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
    QToolTip {{ border: 1px solid {inks.line}; padding: 4px; }}
    QSplitter::handle {{ background: {inks.line}; }}
    QSplitter::handle:horizontal {{ width: 1px; }}
    QSplitter::handle:vertical {{ height: 1px; }}
    QScrollArea, QScrollArea > QWidget > QWidget {{ background: transparent; border: none; }}
    QLineEdit, QComboBox, QPlainTextEdit, QDateEdit, QSpinBox {{
        background: {inks.sheet}; border: {inks.width}px solid {inks.edge}; border-radius: 2px; padding: 4px 6px;
        selection-background-color: {inks.water}; selection-color: {inks.on_water};
    }}
    QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus, QDateEdit:focus, QSpinBox:focus {{
        border: 2px solid {inks.water}; padding: 3px 5px;
    }}
    QComboBox::drop-down, QDateEdit::drop-down {{ border: none; width: 22px; }}
    QComboBox::down-arrow, QDateEdit::down-arrow {{ image: {_icon("down")}; width: 14px; height: 14px; }}
    QLineEdit[wrong="true"] {{ border: 2px solid {inks.bad}; padding: 3px 5px; }}
    QLabel[role="wrong"] {{ color: {inks.bad}; }}
    QLabel[role="faint"] {{ color: {inks.faint}; }}
    QLabel[role="hint"] {{
        color: {inks.ink}; padding-left: 8px;
        border: 0px solid {inks.water}; border-left: 3px solid {inks.water};  /* one side alone is not drawn */
    }}
    QPushButton {{
        background: {inks.sheet}; border: {inks.width}px solid {inks.edge}; border-radius: 2px; padding: 6px 12px;
        outline: none;  /* else a bar of the style's own lies in it where the keys are */
    }}
    QPushButton:hover {{ border-color: {inks.water}; }}
    QPushButton:focus {{ border: 2px solid {inks.water}; padding: 5px 11px; }}
    QPushButton:pressed, QPushButton:checked {{ background: {inks.water}; color: {inks.on_water}; }}
    QPushButton:disabled {{ color: {inks.faint}; background: {inks.paper}; }}
    QPushButton[role="first"] {{ background: {inks.water}; color: {inks.on_water}; border-color: {inks.water}; }}
    QPushButton[role="first"]:disabled {{ background: {inks.shade}; color: {inks.faint}; }}
    QToolButton {{ border: 2px solid transparent; border-radius: 2px; padding: 2px 4px; }}
    QToolButton[autoRaise="false"] {{
        background: {inks.sheet}; border: {inks.width}px solid {inks.edge}; padding: 4px 8px;
    }}
    QToolButton:hover {{ border-color: {inks.water}; }}
    QToolButton:focus {{ border: 2px solid {inks.water}; }}
    QToolButton[autoRaise="false"]:focus {{ border: 2px solid {inks.water}; padding: 3px 7px; }}
    QToolButton[autoRaise="false"]:checked {{ background: {inks.water}; color: {inks.on_water}; }}
    QCheckBox::indicator, QListView::indicator {{
        width: {tick_size()}px; height: {tick_size()}px; border-radius: 2px;
        background: {inks.sheet}; border: {inks.width}px solid {inks.edge};
    }}
    QCheckBox::indicator:checked, QListView::indicator:checked {{
        background: {inks.water}; border-color: {inks.water}; image: {_icon(f"tick-{_tick_for(inks)}")};
    }}
    QCheckBox::indicator:disabled {{ border-color: {inks.faint}; background: {inks.paper}; }}
    QCheckBox:focus {{ color: {inks.water}; text-decoration: underline; }}
    QTabBar::tab {{ background: transparent; padding: 6px 14px; border-bottom: 3px solid transparent; }}
    QTabBar::tab:selected {{ border-bottom-color: {inks.water}; font-weight: 600; }}
    QTabBar::tab:focus {{ color: {inks.water}; }}
    QTabBar::close-button {{ image: {_icon("close")}; subcontrol-position: right; }}
    QMenuBar {{ background: {inks.paper}; }}
    QStatusBar {{ color: {inks.faint}; }}
    QStatusBar::item {{ border: none; }}
    QListView, QTreeView, QTableView, QTextBrowser {{
        background: {inks.sheet}; border: {inks.width}px solid {inks.edge};
    }}
    QListView:focus, QTreeView:focus, QTableView:focus, QTextBrowser:focus {{ border: 2px solid {inks.water}; }}
    QListView::item {{ padding: 3px 0; }}
    QHeaderView::section {{
        background: {inks.paper}; border: none; border-bottom: 1px solid {inks.line}; padding: 4px 6px;
    }}
    """


def _tick_for(inks: Inks) -> str:
    """Which drawing of a tick shows on the accent."""
    return "light" if QColor(inks.on_water).lightness() > 128 else "dark"


def _icon(name: str) -> str:
    """A drawing that is grey enough for both lights; a folder may be called anything, so its name stands in quotes."""
    path = resource("icons", f"{name}.svg").as_posix()
    return 'url("' + path.replace("\\", "\\\\").replace('"', '\\"') + '")'
