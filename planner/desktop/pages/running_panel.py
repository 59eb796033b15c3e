"""On the day: what comes now, in large print, with buttons that a wet thumb can press."""

import datetime as dt
from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from planner.day.names import Names
from planner.desktop.forms.field import Field
from planner.desktop.forms.kinds import CLOCK
from planner.desktop.look import headline
from planner.desktop.model.marks import Mark
from planner.desktop.model.open_day import OpenDay, Shown
from planner.desktop.model.running_clock import clock_now
from planner.desktop.pages.day_events import DayEvents
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.told_rows import RowsView, Told
from planner.plan.plan import Work
from planner.trade import units
from planner.trade.units import show_clock, show_minutes

BUTTON_HEIGHT = 72
_TICK_MILLISECONDS = 15_000


class RunningPanel(Panel):
    """The stage that is due, two large buttons, what else may become of the day, and what is still to come.

    `extra_wanted` names the job to which work is to be added.
    """

    extra_wanted = Signal(str)

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None, *, now: Callable[[], int] = clock_now) -> None:
        super().__init__(open_day, self.tr("On the day"), parent)
        self._now = now
        self._clock, self._what, self._when = QLabel(self), QLabel(self), QLabel(self)
        self._clock.setProperty("role", "faint")
        self._clock.setFont(headline(13))
        self._what.setFont(headline(20, bold=True))
        self._what.setWordWrap(True)
        self._when.setWordWrap(True)
        self._when.setFont(headline(12.5))
        for label in (self._clock, self._what, self._when):
            self.column.addWidget(label)
        self.start_button, self.done_button = QPushButton(self), QPushButton(self)
        large = QHBoxLayout()
        for button in (self.start_button, self.done_button):
            button.setMinimumHeight(BUTTON_HEIGHT)
            button.setFont(headline(17, bold=True))
            large.addWidget(button)
        self.column.addLayout(large)
        self.done_button.setProperty("role", "first")
        self.at = Field(self.tr("At another time than now"), CLOCK, self)
        self.at.line.setMinimumHeight(46)
        row = QHBoxLayout()
        row.addWidget(self.at)
        self.drop_button = QPushButton(self.tr("Not today"), self)
        self.drop_button.setMinimumHeight(46)
        row.addWidget(self.drop_button, 0, Qt.AlignmentFlag.AlignBottom)
        self.column.addLayout(row)
        self.events = DayEvents(open_day, self._minute, now, self)
        self.column.addWidget(self.events)
        self.events.noted.connect(self.refresh)
        self.events.extra_wanted.connect(self.extra_wanted)
        self.rows = RowsView(self)
        self.rows.setAccessibleName(self.tr("Done, running and still to come"))
        self.column.addWidget(self.rows, 1)
        self.start_button.clicked.connect(self.on_start)
        self.done_button.clicked.connect(self.on_done)
        self.drop_button.clicked.connect(self.on_drop)
        self._timer = QTimer(self, interval=_TICK_MILLISECONDS)
        self._timer.timeout.connect(self.on_tick)
        self._timer.start()

    def refresh(self) -> None:
        """Say what is due."""
        shown = self.open_day.shown
        work = self.due()
        self._clock.setText(self._clock_words(shown))
        for button in (self.start_button, self.done_button):
            button.setEnabled(work is not None and not self.open_day.is_read_only)
        is_running = self.open_day.state.progress.now is not None
        self.events.show_due(work)
        self.drop_button.setEnabled(work is not None and is_running and not self.open_day.is_read_only)
        if shown is None or work is None:
            done = shown is not None and is_running
            self._what.setText(self.tr("All is done") if done else self.tr("There is no plan yet."))
            self._when.setText("")
            self.rows.tell([])
            return
        mark = self.open_day.state.progress.mark_of(work.job, work.stage)
        self._what.setText(Names(shown.day).stage(work.job, work.stage))
        self._when.setText(self._due_words(work, mark))
        self.start_button.setText(self.tr("Started"))
        self.start_button.setVisible(mark is None)
        self.done_button.setText(self.tr("Done"))
        self.rows.tell(self._told(shown))

    def _clock_words(self, shown: Shown | None) -> str:
        """The time; on another day than this one, that too, lest it be marked unawares."""
        clock = show_clock(self._now())
        if shown is None or shown.day.date == dt.date.today():
            return clock
        return self.tr("{clock}, but this day is {date}").format(clock=clock, date=f"{shown.day.date:%d %b %Y}")

    def due(self) -> Work | None:
        """The first stage that is not done, one that runs before all others."""
        shown, progress = self.open_day.shown, self.open_day.state.progress
        if shown is None:
            return None
        marks = {(m.job, m.stage): m for m in progress.marks}
        left = [
            work
            for work in sorted(shown.plan.works, key=lambda w: (w.start, w.end))
            if (work.job, work.stage) not in progress.dropped
            and ((work.job, work.stage) not in marks or marks[work.job, work.stage].done is None)
        ]
        running = [work for work in left if progress.mark_of(work.job, work.stage) is not None]
        return next(iter([*running, *left]), None)

    @Slot()
    def on_start(self) -> None:
        """The stage that is due was started."""
        work, minute = self.due(), self._minute()
        if work is not None and minute is not None:
            self.open_day.mark(Mark(work.job, work.stage, minute))
            self.refresh()

    @Slot()
    def on_done(self) -> None:
        """The stage that is due is done."""
        work, minute = self.due(), self._minute()
        if work is not None and minute is not None:
            mark = self.open_day.state.progress.mark_of(work.job, work.stage)
            self.open_day.mark(Mark(work.job, work.stage, mark.started if mark else None, minute))
            self.refresh()

    @Slot()
    def on_drop(self) -> None:
        """The stage that is due is given up for today."""
        work = self.due()
        if work is not None:
            self.open_day.drop(work.job, work.stage)
            self.refresh()

    @Slot()
    def on_tick(self) -> None:
        """The clock went on."""
        if self.isVisible():
            self.refresh()

    def _minute(self) -> int | None:
        """The minute that stands in the field, or now; None when the field cannot be read."""
        try:
            said = self.at.value()
        except ValueError as fault:
            self.at.say(str(fault))
            return None
        self.at.line.clear()
        return self._now() if said is None else units.clock(said)

    def _due_words(self, work: Work, mark: Mark | None) -> str:
        begins, ends = show_clock(work.start), show_clock(work.end)
        words = self.tr("planned {begins} to {ends}").format(begins=begins, ends=ends)
        if mark is not None and mark.started is not None:
            return self.tr("running since {time}, {planned}").format(time=show_clock(mark.started), planned=words)
        shown = self.open_day.shown
        is_today = shown is not None and shown.day.date == dt.date.today()
        return f"{words}{self._slip_words(self._now() - work.start)}" if is_today else words

    def _told(self, shown: Shown) -> list[Told]:
        names, progress = Names(shown.day), self.open_day.state.progress
        told = []
        for work in sorted(shown.plan.works, key=lambda w: (w.start, w.end)):
            mark = progress.mark_of(work.job, work.stage)
            is_done = mark is not None and mark.done is not None
            below = ""
            if mark is not None and mark.done is not None:
                below = self.tr("done {time}").format(time=show_clock(mark.done))
                below += self._slip_words(mark.done - work.end)
            elif mark is not None and mark.started is not None:
                below = self.tr("running since {time}").format(time=show_clock(mark.started))
            what = names.stage(work.job, work.stage)
            told.append(
                Told(when=show_clock(work.start), what=what, below=below, is_strong=not is_done, is_bare=is_done)
            )
        return told

    def _slip_words(self, late: int) -> str:
        if late > 0:
            return self.tr(", {time} late").format(time=show_minutes(late))
        return self.tr(", {time} early").format(time=show_minutes(-late)) if late < 0 else ""
