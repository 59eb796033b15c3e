"""What must be answered before the rest of the day can be planned: the question in place, a button for each answer."""

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from planner.desktop.flow import Flow
from planner.desktop.look import headline
from planner.desktop.plain import PlainLabel
from planner.plan.doubts import Doubt, Reply

REPLY_HEIGHT = 56
"""Pixels: for a wet thumb, like the other targets of the page."""

MOST_REPLIES = 3


class DoubtBox(QWidget):
    """The first open question with its answers, the likely one first; hidden while nothing is asked.

    `answered` carries the reply that was chosen, `all_likely` that everything is as is likely.
    """

    answered = Signal(object)
    all_likely = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._replies: tuple[Reply, ...] = ()
        self._words = PlainLabel(self)
        self._words.setFont(headline(17, bold=True))
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self.buttons = [QPushButton(self) for _ in range(MOST_REPLIES)]
        self.buttons[0].setProperty("role", "first")
        self.likely_button = QPushButton("All &as likely", self)
        row = Flow(shares=True)
        for at, button in enumerate(self.buttons):
            button.setMinimumHeight(REPLY_HEIGHT)
            button.clicked.connect(lambda _=False, at=at: self.on_reply(at))
            row.addWidget(button)
        self.likely_button.setMinimumHeight(REPLY_HEIGHT)
        self.likely_button.clicked.connect(self.all_likely)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 8)
        column.addWidget(self._words)
        column.addLayout(row)
        column.addWidget(self.likely_button)
        self.hide()

    @property
    def words(self) -> str:
        """What is asked now; empty when nothing is."""
        return self._words.text() if self._replies else ""

    def show_doubts(self, doubts: tuple[Doubt, ...]) -> None:
        """Ask the first of these; nothing when there is none."""
        self._replies = doubts[0].replies[:MOST_REPLIES] if doubts else ()
        self._words.setText(doubts[0].words if doubts else "")
        self.setAccessibleName(self._words.text())
        for at, button in enumerate(self.buttons):
            button.setVisible(at < len(self._replies))
            button.setText(self._replies[at].words if at < len(self._replies) else "")
        self.likely_button.setVisible(len(doubts) > 1)
        self.setVisible(bool(doubts))

    @Slot()
    def on_reply(self, at: int) -> None:
        """An answer was chosen."""
        if at < len(self._replies):
            self.answered.emit(self._replies[at])
