"""The bar under the strip that says what a wish costs before it is done, or why it cannot be."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from planner.desktop.look import headline, inks_of
from planner.desktop.model.wishes import Wish
from planner.desktop.plain import PlainLabel
from planner.desktop.thinking.wishing import WeighedWish


class Notice(QWidget):
    """Says one thing at a time; nothing is done until it is accepted."""

    accepted = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title, self._words = PlainLabel(self), PlainLabel(self)
        self._title.setFont(headline(12.5, bold=True))
        for label in (self._title, self._words):
                label.setWordWrap(True)
        self._is_urgent = False
        self.do_button = QPushButton("Do it", self)
        self.do_button.setProperty("role", "first")
        self.leave_button = QPushButton("Leave it", self)
        texts = QVBoxLayout()
        texts.setSpacing(1)
        texts.addWidget(self._title)
        texts.addWidget(self._words)
        row = QHBoxLayout(self)
        row.setContentsMargins(20, 8, 16, 8)
        row.addLayout(texts, 1)
        row.addWidget(self.do_button)
        row.addWidget(self.leave_button)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.do_button.clicked.connect(self.on_do)
        self.leave_button.clicked.connect(self.on_leave)
        self.hide()

    @property
    def words(self) -> str:
        """What is said now."""
        return f"{self._title.text()} {self._words.text()}"

    def show_thinking(self, wish: Wish) -> None:
        """A wish is being weighed."""
        self._say(wish.words, "Weighing it …", leave="Leave it", may_do=False)

    def show_weighed(self, weighed: WeighedWish) -> None:
        """What a wish costs."""
        words = "With it: {changes}." if weighed.is_last else "With it, so far: {changes} …"
        self._say(weighed.wish.words, words.format(changes="; ".join(weighed.changes)), leave="Leave it")
        self.do_button.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_refused(self, wish: Wish, reasons: tuple[str, ...]) -> None:
        """Why a wish cannot be."""
        title = f"Cannot be: {wish.words}"
        self._say(title, "; ".join(reasons) + ".", leave="Good to know", may_do=False)
        self.leave_button.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_urgent(self, words: tuple[str, ...]) -> None:
        """What must be done before all else: in large print, to be seen at arm's length; without words, no longer."""
        if not words:
            if self._is_urgent:
                self.hide()
            return
        self._say("First of all", "\n".join(words), leave="Understood", may_do=False, is_large=True)

    def on_do(self) -> None:
        """It is accepted."""
        self.hide()
        self.accepted.emit()

    def on_leave(self) -> None:
        """It is not wanted."""
        self.hide()
        self.left.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        """A slip of another paper, with a rule under it."""
        inks = inks_of(self)
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(inks.shade))
        painter.fillRect(0, 0, 4, self.height(), QColor(inks.water))
        painter.setPen(QColor(inks.line))
        painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
        painter.end()

    def _say(self, title: str, words: str, *, leave: str, may_do: bool = True, is_large: bool = False) -> None:
        self._is_urgent = is_large
        self._title.setText(title)
        self._words.setFont(headline(19, bold=True) if is_large else self.font())
        self.leave_button.setMinimumHeight(64 if is_large else 0)
        self._words.setText(words)
        self.leave_button.setText(leave)
        self.do_button.setVisible(may_do)
        self.setAccessibleName(f"{title} {words}")
        self.show()
