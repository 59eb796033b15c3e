"""The line under the picture: what moved since the last plan, and buttons for what is shown of the day."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QResizeEvent
from PySide6.QtWidgets import QToolButton, QVBoxLayout, QWidget

from planner.desktop.flow import Flow
from planner.desktop.plain import PlainLabel, tip


class PictureTools(QWidget):
    """A sentence on the left; on the right, buttons that stretch time, fit the day, fold kit and the page beside."""

    stretched = Signal(int)
    """Time is to be stretched (1) or pressed together (-1)."""
    day_fitted = Signal()
    kit_folded = Signal(bool)
    page_folded = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._words = self._briefly = ""
        self.moved = PlainLabel(self)
        self.moved.setProperty("role", "faint")
        self.moved.setWordWrap(True)
        self.moved.hide()
        self.narrower = self._button("−", "Press time together (Ctrl and −)")
        self.wider = self._button("+", "Stretch time (Ctrl and +)")
        self.whole = self._button("Whole day", "Show the whole day at once")
        self.kit = self._button("Fold kit", "Kit as bare lines, without names")
        self.kit.setCheckable(True)
        self.page = self._button("Fold page", "The page beside the picture goes, or comes back (F11)")
        self.narrower.clicked.connect(lambda: self.stretched.emit(-1))
        self.wider.clicked.connect(lambda: self.stretched.emit(1))
        self.whole.clicked.connect(self.day_fitted)
        self.kit.toggled.connect(self.kit_folded)
        self.page.clicked.connect(self.page_folded)
        row = Flow(gap=4)
        for button in (self.narrower, self.wider, self.whole, self.kit, self.page):
            row.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 2, 8, 2)
        column.setSpacing(2)
        column.addWidget(self.moved)
        column.addLayout(row)

    def say(self, words: str, briefly: str = "") -> None:
        """Say what moved, to the eye and to screen readers; ``briefly`` where there is no room. Empty is silence."""
        self._words, self._briefly = words, briefly or words
        self._fit_words()
        self.moved.setToolTip(tip(words))
        self.moved.setVisible(bool(words))
        if words and QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, words))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """There is more room, or less."""
        super().resizeEvent(event)
        self._fit_words()

    def _fit_words(self) -> None:
        """All of it on two lines, else the brief words."""
        room = max(1, self.width() - 20)
        is_short = self.moved.fontMetrics().horizontalAdvance(self._words) < 1.8 * room
        self.moved.setText(self._words if is_short else self._briefly)

    def _button(self, words: str, about: str) -> QToolButton:
        button = QToolButton(self)
        button.setText(words)
        button.setToolTip(tip(about))
        button.setAccessibleName(about)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        return button
