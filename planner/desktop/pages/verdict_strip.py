"""The strip that always says where the day stands: the verdict, and the four numbers that matter."""

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from planner.desktop.look import headline, inks_of
from planner.desktop.model.day_standing import Standing
from planner.desktop.pages.gap_line import GapLine
from planner.desktop.plain import PlainLabel, tip


class Figure(QWidget):
    """One big quiet number with what it counts under it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._number, self._label = PlainLabel(self), PlainLabel(self)
        self._number.setFont(headline(19))
        self._label.setProperty("role", "faint")
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self._number)
        box.addWidget(self._label)

    def show_figure(self, number: str, label: str) -> None:
        """Show another number."""
        self._number.setText(number)
        self._label.setText(label)
        self.setAccessibleName(f"{label}: {number}")
        self.setVisible(bool(label))


class OneLine(PlainLabel):
    """A line of words that ends in dots where there is no room for more; all of it is in the tooltip."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "faint")
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def paintEvent(self, event: QPaintEvent) -> None:
        """As much of it as there is room for."""
        painter = QPainter(self)
        text = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text)
        painter.end()


class VerdictStrip(QWidget):
    """Verdict, spare minutes, time home, restricted crossings, proof; and the button that plans or stops."""

    plan_wanted = Signal()
    stop_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._mood, self._reach, self._standing = "open", "", Standing("open", "")
        self._word, self._sentence = PlainLabel(self), OneLine(self)
        self._word.setFont(headline(25, bold=True))
        self._figures = [Figure(self) for _ in range(4)]
        self.gap_line = GapLine(self)
        self._button = QPushButton(self)
        self._button.setMinimumWidth(96)
        self._button.clicked.connect(self.on_button)
        top = QHBoxLayout()
        top.setSpacing(26)
        top.addWidget(self._word)
        for figure in self._figures:
            top.addWidget(figure)
        top.addStretch(1)
        top.addWidget(self.gap_line)
        top.addWidget(self._button)
        box = QVBoxLayout(self)
        box.setContentsMargins(20, 8, 16, 6)
        box.setSpacing(2)
        box.addLayout(top)
        box.addWidget(self._sentence)
        self.show_busy(False)

    def show_standing(self, standing: Standing) -> None:
        """Say where the day stands now."""
        self._mood = standing.mood
        self._word.setText(standing.word)
        pairs = (
            (standing.spare, standing.spare_label),
            (standing.home, standing.home_label),
            (standing.crossings, standing.crossings_label),
            (standing.proof, standing.proof_label),
        )
        for figure, (number, label) in zip(self._figures, pairs, strict=True):
            figure.show_figure(number, label)
        self._standing = standing
        self._say()
        self.update()

    def show_reach(self, words: str) -> None:
        """Say what would bring a quicker way of working back; nothing when it is empty."""
        self._reach = words
        self._say()

    def _say(self) -> None:
        standing = self._standing
        words = " ".join(filter(None, (standing.sentence, self._reach)))
        self._sentence.setText(words)
        self._sentence.setToolTip(tip(words))
        self.setAccessibleName(" ".join(filter(None, (standing.as_text(), self._reach))))

    def show_busy(self, is_busy: bool) -> None:
        """Planning began or ended."""
        self._is_busy = is_busy
        self._button.setText("Stop" if is_busy else "Plan")
        self._button.setToolTip(
            "Stop and keep the best plan so far (Esc)" if is_busy else "Plan the day again (F5)"
        )
        self.gap_line.setVisible(is_busy or not self.gap_line.is_empty)

    @Slot()
    def on_button(self) -> None:
        """The button was pressed."""
        (self.stop_wanted if self._is_busy else self.plan_wanted).emit()

    def sizeHint(self) -> QSize:
        """Tall enough for the big word."""
        return QSize(900, 92)

    def paintEvent(self, event: QPaintEvent) -> None:
        """A sheet of paper with a bar at its side as wide as the verdict is grave."""
        inks = inks_of(self)
        colours = {"good": inks.good, "tight": inks.tight, "bad": inks.bad, "open": inks.line}
        widths = {"good": 4, "tight": 8, "bad": 12, "open": 4}
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(inks.sheet))
        painter.fillRect(0, 0, widths[self._mood], self.height(), QColor(colours[self._mood]))
        painter.setPen(QColor(inks.line))
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        painter.end()
