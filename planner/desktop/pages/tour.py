"""A tour of one planned day in six steps, from the verdict to the sheet on paper."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from planner.desktop.look import headline
from planner.desktop.plain import PlainLabel


@dataclass(frozen=True)
class TourStep:
    """One step: the page it shows, its heading, and what is said of it."""

    page: str
    title: str
    words: str


STEPS = (
    TourStep(
        "order",
        "Does it fit?",
        "The strip at the top answers first: whether the day fits, with how many minutes to spare, when the van is "
        "home, how often somebody walks through the house, and whether any plan could be better.",
    ),
    TourStep(
        "order",
        "The picture",
        "Time runs to the right. Each hand, a person who works, has a line: down is into the site, up is back to the "
        "van. Point at anything to read all of it; draw a stage to another time, and its price is told first.",
    ),
    TourStep(
        "house",
        "What is asked",
        "A few plain questions: whose, the way in, water and current, and the work, a tick and a measure each. Change "
        "one, and the day is planned anew. Take it back with Ctrl+Z.",
    ),
    TourStep(
        "order",
        "The order of work",
        "What each hand does, minute by minute, with the waits in which a treatment works or a surface dries, "
        "and what is done meanwhile.",
    ),
    TourStep(
        "load",
        "What goes into the van",
        "All kit and material in the order in which it comes out. The page Care says what to mind with it.",
    ),
    TourStep(
        "sheet",
        "On paper",
        "The run sheet has all of it for the van. Save it as a PDF now, and print it from there or from the menu Day.",
    ),
)


class Tour(QFrame):
    """Words at the foot of the window, one step after another. The last step saves the run sheet.

    Signals: `page_wanted` with the page that a step shows, `sheet_wanted` when the sheet is to be saved, `own_wanted`
    when a day of one's own is to be begun.
    """

    page_wanted = Signal(str)
    sheet_wanted = Signal()
    own_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.at = 0
        self._title, self._words = PlainLabel(self), PlainLabel(self)
        self._title.setFont(headline(12.5, bold=True))
        self._words.setWordWrap(True)
        self.back_button = self._button("Back", self.on_back)
        self.next_button = self._button("Next", self.on_next)
        self.next_button.setProperty("role", "first")
        self.sheet_button = self._button("Save the sheet as PDF …", self.sheet_wanted.emit)
        self.sheet_button.setProperty("role", "first")
        self.own_button = self._button("Now a day of my own", self.on_own)
        self.leave_button = self._button("End the tour", self.hide)
        words = QVBoxLayout()
        words.addWidget(self._title)
        words.addWidget(self._words)
        row = QHBoxLayout(self)
        row.setContentsMargins(20, 8, 16, 8)
        row.addLayout(words, 1)
        for button in (self.back_button, self.next_button, self.sheet_button, self.own_button, self.leave_button):
            row.addWidget(button, 0, Qt.AlignmentFlag.AlignVCenter)
        self.hide()

    @property
    def title(self) -> str:
        """The heading of the step that is shown."""
        return self._title.text()

    def begin(self) -> None:
        """Begin at the first step."""
        self.show()
        self.go_to(0)

    def go_to(self, at: int) -> None:
        """Show a step, and the page that it speaks of."""
        self.at = min(max(at, 0), len(STEPS) - 1)
        step = STEPS[self.at]
        is_last = self.at == len(STEPS) - 1
        self.page_wanted.emit(step.page)
        self._title.setText(f"{self.at + 1} of {len(STEPS)}   {step.title}")
        self._words.setText(step.words)
        self.setAccessibleName(f"Tour, {self._title.text()}: {step.words}")
        self.back_button.setEnabled(self.at > 0)
        self.next_button.setVisible(not is_last)
        self.sheet_button.setVisible(is_last)
        self.own_button.setVisible(is_last)
        (self.sheet_button if is_last else self.next_button).setFocus(Qt.FocusReason.OtherFocusReason)

    def say_saved(self, words: str) -> None:
        """The sheet is saved: that was the last of it."""
        self._words.setText(f"{words} That is all there is to it.")
        self.own_button.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot()
    def on_next(self) -> None:
        """On to the next step."""
        self.go_to(self.at + 1)

    @Slot()
    def on_back(self) -> None:
        """Back to the step before."""
        self.go_to(self.at - 1)

    @Slot()
    def on_own(self) -> None:
        """Enough of it: a day of one's own."""
        self.hide()
        self.own_wanted.emit()

    def _button(self, words: str, slot: Callable[[], object]) -> QPushButton:
        button = QPushButton(words, self)
        button.clicked.connect(lambda: slot())
        return button
