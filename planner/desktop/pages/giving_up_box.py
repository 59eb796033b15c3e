"""What can be given up on the day where not all of it can be kept: what each saves, and what another day then takes."""

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from planner.desktop.flow import Flow
from planner.desktop.look import FINGER, headline
from planner.desktop.model.open_day import OpenDay, Shown
from planner.desktop.pages.told_rows import RowsView, ToldRow
from planner.desktop.plain import PlainLabel
from planner.desktop.thinking.studying import Studying
from planner.fit.giving_up import Offer
from planner.plan.measures import latest_finish
from planner.trade.units import show_clock

TASK = "giving up"


class GivingUpBox(QWidget):
    """Asked for by a button, since each offer is planned by ``studying``; hidden while all can be kept.

    `noted` says that something was given up, `left_wanted` that what is left is wanted as a day of its own.
    """

    noted = Signal()
    left_wanted = Signal()

    def __init__(self, open_day: OpenDay, studying: Studying | None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.open_day, self._studying = open_day, studying
        self._offers: tuple[Offer, ...] = ()
        self._asked_of: object = None
        self._is_looked = False
        self._words = PlainLabel(self)
        self._words.setWordWrap(True)
        self._words.setFont(headline(12.5, bold=True))
        self.look_button = QPushButton("What could be given u&p?", self)
        self.take_button = QPushButton("Gi&ve it up", self)
        self.left_button = QPushButton("What is left, as a day", self)
        self.rows = RowsView(self, least_height=FINGER)
        self.rows.setAccessibleName("What can be given up, the least first")
        self.rows.setMinimumHeight(3 * FINGER)
        row = Flow(shares=True)
        for button in (self.look_button, self.take_button, self.left_button):
            button.setMinimumHeight(FINGER)
            row.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 8)
        column.addWidget(self._words)
        column.addWidget(self.rows)
        column.addLayout(row)
        self.look_button.clicked.connect(self.on_look)
        self.take_button.clicked.connect(self.on_take)
        self.left_button.clicked.connect(self.left_wanted)
        self.rows.selectionModel().currentChanged.connect(self.on_picked)
        if studying is not None:
            studying.failed.connect(self.on_failed)
        self.hide()

    @property
    def words(self) -> str:
        """What is said now."""
        return self._words.text()

    def refresh(self) -> None:
        """Shown while something cannot be kept; what was offered before another word counts no more."""
        if self._asked_of != self.open_day.state:
            self._offers, self._asked_of, self._is_looked = (), None, False
            self.rows.tell([])
        why = self._why()
        self.setVisible(bool(why) or bool(self._dropped()))
        if self._is_looked:
            nothing = f"{why} Nothing that could be given up would help."
            self._words.setText("What could be given up, the least first:" if self._offers else nothing)
        elif self._asked_of is None:
            self._words.setText(why or "Given up for today: what is left is a day of its own.")
        self.look_button.setVisible(bool(why) and not self._is_looked and self._studying is not None)
        self.look_button.setEnabled(self._asked_of is None and not self.open_day.is_read_only)
        self.left_button.setVisible(self._dropped())
        self.rows.setVisible(bool(self._offers))
        self.take_button.setVisible(bool(self._offers))
        self.on_picked()

    def _dropped(self) -> bool:
        return bool(self.open_day.state.progress.dropped)

    def _why(self) -> str:
        """What cannot be kept, the worst first; empty where all can."""
        open_day = self.open_day
        shown, record = open_day.shown, open_day.record
        if shown is None or not open_day.state.progress.is_under_way or open_day.doubts:
            return ""
        if not open_day.is_shown_current:
            return "Not planned as it is now. Perhaps something must be given up." if open_day.is_stuck else ""
        if record.over:
            return "What is on stays on too long."
        if record.promised:
            return "A promised time cannot be kept."
        return "It cannot all be done today." if shown.plan.home > latest_finish(shown.day) else ""

    @Slot()
    def on_look(self) -> None:
        """What can be given up is to be looked for."""
        day, shown, state = self.open_day.day, self.open_day.shown, self.open_day.state
        if day is None or shown is None or self._studying is None:
            return
        self._asked_of = state
        self._words.setText("Looking what could be given up …")
        self.look_button.setEnabled(False)
        self._studying.ask(TASK, Shown(day, shown.plan), self.on_found, extra=self.open_day.told_since)

    def on_found(self, offers: tuple[Offer, ...]) -> None:
        """It was looked for."""
        day = self.open_day.day
        if day is None or self._asked_of != self.open_day.state:
            return
        self._offers, self._is_looked = tuple(offers), True
        progress = self.open_day.state.progress
        self.rows.tell([self._told(offer.what(day, progress), offer) for offer in self._offers])
        self.refresh()
        if self._offers:
            self.rows.setCurrentIndex(self.rows.model().index(0, 0))

    @staticmethod
    def _told(what: str, offer: Offer) -> ToldRow:
        return ToldRow(what=what, below=f"home at {show_clock(offer.home)}{offer.saves}; {offer.tomorrow}")

    @Slot(str, str)
    def on_failed(self, task: str, words: str) -> None:
        """Nothing came of it."""
        if task == TASK:
            self._asked_of = None
            self._words.setText(words)
            self.look_button.setEnabled(True)

    @Slot()
    def on_picked(self) -> None:
        """An offer is looked at."""
        self.take_button.setEnabled(self._picked() is not None and not self.open_day.is_read_only)

    @Slot()
    def on_take(self) -> None:
        """It is given up for today, as one step."""
        offer = self._picked()
        if offer is None:
            return
        self.open_day.note("Give up for today", offer.on(self.open_day.state.progress))
        self.noted.emit()

    def _picked(self) -> Offer | None:
        at = self.rows.currentIndex().row()
        return self._offers[at] if 0 <= at < len(self._offers) else None
