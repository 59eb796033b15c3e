"""What would bring a quicker way of working back, said where the supply, the kit or the hand is asked for."""

from collections.abc import Callable

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QVBoxLayout, QWidget

from planner.desktop.plain import PlainLabel
from planner.desktop.thinking.missed import Missed
from planner.fit.within_reach import Reach


class OutOfReach(QWidget):
    """A line for each, of those that are asked about here; nothing where there is none."""

    def __init__(self, missed: Missed, is_here: Callable[[Reach], bool], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._missed, self._is_here = missed, is_here
        self._lines: list[PlainLabel] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        missed.changed.connect(self.on_changed)
        self.on_changed()

    @property
    def words(self) -> list[str]:
        """What is said, line by line."""
        return [one.words for one in self._missed.found if self._is_here(one)]

    @Slot()
    def on_changed(self) -> None:
        """Other things are out of reach now."""
        for old in self._lines:
            self._column.removeWidget(old)
            old.hide()
            old.deleteLater()
        self._lines = [PlainLabel(words, self) for words in self.words]
        for label in self._lines:
            label.setWordWrap(True)
            label.setProperty("role", "hint")
            self._column.addWidget(label)
        self.setVisible(bool(self.words))
