"""The strip that always says where the day stands: the verdict, and the four numbers that matter."""

from PySide6.QtCore import QRect, QSize, Qt, Signal, Slot
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from planner.desktop.look import headline, inks_of
from planner.desktop.model.day_standing import Standing
from planner.desktop.pages.gap_line import GapLine
from planner.desktop.plain import PlainLabel, tip

LOW = 640
"""A window lower than this, in pixels, has no room for big figures."""

FEW, MANY, ALL = 2, 6, 99
"""Lines of the sentence: of a planned day, of one that has no plan, and once all of it is asked for."""


class Figure(QWidget):
    """One big quiet number with what it counts under it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.is_said = False
        self.number, self._label = PlainLabel(self), PlainLabel(self)
        self.number.setFont(headline(19))
        self._label.setProperty("role", "faint")
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.number)
        box.addWidget(self._label)

    def show_figure(self, number: str, label: str) -> None:
        """Show another number."""
        self.number.setText(number)
        self._label.setText(label)
        self.setAccessibleName(f"{label}: {number}")
        self.is_said = bool(label)


class FewLines(PlainLabel):
    """Words that wrap, up to so many lines; what has no room there ends in dots, and all of it is in the tip."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._most = 2
        self.setProperty("role", "faint")
        self.setTextFormat(Qt.TextFormat.PlainText)
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_lines(self, words: str, most: int) -> None:
        """Show words on so many lines at the most."""
        self._most = most
        self.setText(words)
        self.setToolTip(tip(words))
        self.updateGeometry()

    def hasHeightForWidth(self) -> bool:
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """As many lines as the words need, up to the most."""
        return min(self._high(self.text(), width), self._most * self.fontMetrics().lineSpacing()) if self.text() else 0

    def sizeHint(self) -> QSize:
        """One line."""
        return QSize(200, self.fontMetrics().lineSpacing())

    def minimumSizeHint(self) -> QSize:
        """It takes the width that there is."""
        return QSize(0, 0)

    def fits(self, words: str, width: int, most: int) -> bool:
        """Whether words fit so many lines of a width."""
        return self._high(words, width) <= most * self.fontMetrics().lineSpacing()

    @property
    def shown(self) -> str:
        """What there is room for."""
        words, room = self.text(), self._most * self.fontMetrics().lineSpacing()
        if self._high(words, self.width()) <= room:
            return words
        known = words.split(" ")
        least, most = 0, len(known)
        while least < most:
            middle = (least + most + 1) // 2
            fits = self._high(" ".join(known[:middle]) + " …", self.width()) <= room
            least, most = (middle, most) if fits else (least, middle - 1)
        return " ".join(known[:least]) + " …"

    def _high(self, words: str, width: int) -> int:
        room = QRect(0, 0, max(40, width), 10_000)
        return self.fontMetrics().boundingRect(room, Qt.TextFlag.TextWordWrap, words).height()

    def paintEvent(self, event: QPaintEvent) -> None:
        """As much of it as there is room for."""
        painter = QPainter(self)
        painter.drawText(self.rect(), Qt.TextFlag.TextWordWrap, self.shown)
        painter.end()


class VerdictStrip(QWidget):
    """Verdict, spare minutes, time home, restricted crossings, proof; and the button that plans or stops."""

    plan_wanted = Signal()
    stop_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._mood, self._reach, self._standing = "open", "", Standing("open", "")
        self._word, self._sentence = PlainLabel(self), FewLines(self)
        self._in_line = FewLines(self)
        self._in_line.setProperty("role", "")
        self._in_line.hide()
        self._figures = [Figure(self) for _ in range(4)]
        self.gap_line = GapLine(self)
        self.more_button = QToolButton(self)
        self.more_button.setText("All of it")
        self.more_button.setAccessibleName("All that is said of the verdict")
        self.more_button.setCheckable(True)
        self.more_button.hide()
        self.more_button.toggled.connect(self.on_more)
        self._button = QPushButton(self)
        self._button.setMinimumWidth(96)
        self._button.clicked.connect(self.on_button)
        top = QHBoxLayout()
        top.setSpacing(26)
        top.addWidget(self._word)
        for figure in self._figures:
            top.addWidget(figure)
        top.addWidget(self._in_line, 1)
        top.addStretch(0)
        top.addWidget(self.gap_line)
        top.addWidget(self._button)
        box = QVBoxLayout(self)
        box.setContentsMargins(20, 8, 16, 6)
        box.setSpacing(2)
        box.addLayout(top)
        below = QHBoxLayout()
        below.setSpacing(10)
        below.addWidget(self._sentence, 1)
        below.addWidget(self.more_button, 0, Qt.AlignmentFlag.AlignBottom)
        box.addLayout(below)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.show_busy(False)

    @property
    def standing(self) -> Standing:
        """Where the day stands, as it is said now."""
        return self._standing

    @property
    def big_words(self) -> tuple[PlainLabel, ...]:
        """What is set larger than the rest: the verdict's word and the figures."""
        return (self._word, *(figure.number for figure in self._figures))

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
        self._in_line.show_lines(" · ".join(in_a_line(number, label) for number, label in pairs if label), 3)
        self._standing = standing
        self._say()
        self._fit()
        self.update()

    def show_reach(self, words: str) -> None:
        """Say what would bring a quicker way of working back; nothing when it is empty."""
        self._reach = words
        self._say()

    def _say(self) -> None:
        standing = self._standing
        said = f"{standing.sentence.removesuffix('.')}." if standing.sentence and self._reach else standing.sentence
        words = " ".join(filter(None, (said, self._reach)))
        few = FEW if standing.home_label else MANY
        room = self.width() - 36
        is_long = room > 0 and not self._sentence.fits(words, room, few)
        self.more_button.setVisible(is_long)
        self._sentence.show_lines(words, ALL if is_long and self.more_button.isChecked() else few)
        self.setAccessibleName(" ".join(filter(None, (standing.as_text(), self._reach))))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """There is more room, or less."""
        super().resizeEvent(event)
        self._say()
        self._fit()

    def _fit(self) -> None:
        """Big figures where there is room for them; else all of them in line, beside a smaller word."""
        figures = sum(figure.sizeHint().width() + 26 for figure in self._figures if figure.is_said)
        word = QFontMetrics(headline(25, bold=True)).horizontalAdvance(self._standing.word)
        room = self.width() - 36 - self._button.sizeHint().width() - self.gap_line.sizeHint().width() - 2 * 26
        is_small = word + figures > room or self.window().height() < LOW
        self._word.setFont(headline(15 if is_small else 25, bold=True))
        for figure in self._figures:
            figure.setVisible(figure.is_said and not is_small)
        self._in_line.setVisible(is_small)
        self.updateGeometry()

    def show_busy(self, is_busy: bool) -> None:
        """Planning began or ended."""
        self._is_busy = is_busy
        self._button.setText("Stop" if is_busy else "Plan")
        self._button.setToolTip(
            "Stop and keep the best plan so far (Esc)" if is_busy else "Plan the day again (F5)"
        )
        self.gap_line.setVisible(is_busy or not self.gap_line.is_empty)

    @Slot(bool)
    def on_more(self, is_all: bool) -> None:
        """All of the sentence is wanted, or as much as leaves room for the day."""
        self.more_button.setText("Less" if is_all else "All of it")
        self._say()
        self.updateGeometry()

    @Slot()
    def on_button(self) -> None:
        """The button was pressed."""
        (self.stop_wanted if self._is_busy else self.plan_wanted).emit()

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


def in_a_line(figure: str, label: str) -> str:
    """A figure and what it means as one reads them: "2 h spare", but "Proven best, no plan is better"."""
    if figure == "–":
        return label
    return f"{figure} {label}" if figure[:1].isdigit() else f"{figure}, {label}"
