"""What the small pictures beside the day have in common: all that is written in them is in small letters."""

from PySide6.QtCore import QEvent
from PySide6.QtGui import QFont, QFontMetricsF
from PySide6.QtWidgets import QSizePolicy, QWidget


class Lettered(QWidget):
    """A painted picture as wide as its page, whose height comes from its letters."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def small(self) -> QFont:
        """The font of all that is written."""
        small = QFont(self.font())
        small.setPointSizeF(small.pointSizeF() * 0.9)
        return small

    @property
    def row(self) -> float:
        """The height of a line of small letters, in pixels."""
        return QFontMetricsF(self.small).height() + 2

    def changeEvent(self, event: QEvent) -> None:
        """Letters of another size need other room."""
        super().changeEvent(event)
        if event.type() is QEvent.Type.FontChange:
            self.updateGeometry()
