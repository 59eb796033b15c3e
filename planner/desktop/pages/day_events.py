"""What else becomes of a day under way: the van is there, rain, a hand gone home, work that nobody foresaw."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QMenu, QPushButton, QWidget

from planner.day.names import called
from planner.desktop.flow import Flow
from planner.desktop.look import FINGER
from planner.desktop.model.open_day import OpenDay
from planner.desktop.model.running_clock import now_on
from planner.plan.progress import Progress
from planner.trade.units import show_clock


class DayEvents(QWidget):
    """A button for each. ``minute`` gives the minute that is meant, None when it cannot be read; ``now`` the present.

    `noted` says that something was noted; `extra_wanted` that work is to be added to a job: that of the stage meant.
    """

    noted = Signal()
    extra_wanted = Signal(str)

    def __init__(
        self,
        open_day: OpenDay,
        minute: Callable[[], int | None],
        now: Callable[[], int],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.open_day, self._minute, self._now = open_day, minute, now
        self._job: str | None = None
        self.arrived_button = QPushButton("Van is there", self)
        self.rain_button = QPushButton("Rain", self)
        self.gone_button = QPushButton("Gone home", self)
        self.extra_button = QPushButton("Extra work …", self)
        self.hands = QMenu(self)
        self.gone_button.setMenu(self.hands)
        row = Flow(self, shares=True, most=2)
        buttons = (self.arrived_button, self.rain_button, self.gone_button, self.extra_button)
        for button in buttons:
            button.setMinimumHeight(FINGER)
            row.addWidget(button)
        self.arrived_button.clicked.connect(self.on_arrived)
        self.rain_button.clicked.connect(self.on_rain)
        self.extra_button.clicked.connect(self.on_extra)

    def show_job(self, job: str | None) -> None:
        """Another job is meant, that of the stage which is due or chosen. Whatever was told may be told again."""
        self._job = job
        shown, progress = self.open_day.shown, self.open_day.state.progress
        can = shown is not None and not self.open_day.is_read_only
        there = None if job is None else progress.arrived.get(job)
        self.arrived_button.setEnabled(can and job is not None)
        self.arrived_button.setText("Van is there" if there is None else f"Van there at {show_clock(there)}")
        self.rain_button.setEnabled(can)
        self.rain_button.setText(
            "Rain"
            if progress.rain is None
            else f"Rain since {show_clock(progress.rain)}"
        )
        self.extra_button.setEnabled(can and job is not None)
        here = {} if shown is None else {k: h for k, h in shown.day.hands.items() if k not in progress.gone}
        self.gone_button.setEnabled(can and bool(here))
        self.hands.clear()
        for key, hand in here.items():
            self.hands.addAction(called(hand, key)).triggered.connect(lambda _=False, key=key: self.on_gone(key))

    @Slot()
    def on_arrived(self) -> None:
        """The van is at the job that is meant."""
        minute = self._minute()
        if minute is not None and self._job is not None:
            there = {self._job: minute}
            self._note("The van is there", minute, lambda p: replace(p, arrived=p.arrived | there))

    @Slot()
    def on_rain(self) -> None:
        """It rains, or will."""
        minute = self._minute()
        if minute is not None:
            self._note("Rain", minute, lambda p: replace(p, rain=minute, rain_until=None))

    def on_gone(self, hand: str) -> None:
        """A hand has gone home."""
        minute = self._minute()
        if minute is not None:
            self._note("Gone home", minute, lambda p: replace(p, gone=p.gone | {hand: minute}))

    @Slot()
    def on_extra(self) -> None:
        """More is to be done at the job that is meant."""
        if self._job is not None:
            self.extra_wanted.emit(self._job)

    def _said(self, minute: int) -> int:
        """What is still to come is said now; on another day than today, when it is."""
        shown = self.open_day.shown
        now = None if shown is None else now_on(shown.day.date, self._now())
        return minute if now is None else min(minute, now)

    def _note(self, words: str, minute: int, change: Callable[[Progress], Progress]) -> None:
        self.open_day.note(words, self.open_day.state.progress.told_at(self._said(minute), change))
        self.noted.emit()
