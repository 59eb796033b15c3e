"""A box to tick whose words wrap, so that long ones are not cut on small screens and in large print."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QCheckBox, QSizePolicy, QStyle, QStyleOptionButton, QStylePainter, QWidget

from planner.desktop.look import tick_size


class TickBox(QCheckBox):
    """As Qt's own, with its words on as many lines as they need."""

    def __init__(self, words: str, parent: QWidget | None = None) -> None:
        super().__init__(words, parent)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def hasHeightForWidth(self) -> bool:
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """As high as its words at a width."""
        return max(super().sizeHint().height(), self._words_in(width).height() + 4)

    def minimumSizeHint(self) -> QSize:
        """As wide as its longest word."""
        widest = max((self.fontMetrics().horizontalAdvance(word) for word in self.text().split()), default=0)
        return QSize(self._beside + widest + 2, super().sizeHint().height())

    def hitButton(self, pos: QPoint) -> bool:
        """Its words are a part of it."""
        return self.rect().contains(pos)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The box beside the first line, and the words."""
        painter, option = QStylePainter(self), QStyleOptionButton()
        self.initStyleOption(option)
        words, option.text = option.text, ""
        option.rect = QRect(0, 0, self._beside, max(self.fontMetrics().height() + 4, 20))
        option.state &= ~QStyle.StateFlag.State_HasFocus
        painter.drawControl(QStyle.ControlElement.CE_CheckBox, option)
        font = painter.font()
        font.setUnderline(self.hasFocus())
        painter.setFont(font)
        role = option.palette.ColorRole.WindowText
        painter.setPen(option.palette.color(option.palette.currentColorGroup(), role))
        painter.drawText(self._words_in(self.width()), Qt.TextFlag.TextWordWrap, words)
        painter.end()

    @property
    def _beside(self) -> int:
        return tick_size() + 13

    def _words_in(self, width: int) -> QRect:
        room = QRect(self._beside, 2, max(40, width - self._beside), 10_000)
        return self.fontMetrics().boundingRect(room, Qt.TextFlag.TextWordWrap, self.text())
