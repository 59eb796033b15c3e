"""On the day: what comes now, in large print, with buttons that a wet thumb can press."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QModelIndex, Qt, QTimer, Signal, Slot
from PySide6.QtWidgets import QPushButton, QWidget

from planner.day.names import Names
from planner.desktop.flow import Flow
from planner.desktop.forms.field import Field
from planner.desktop.forms.kinds import CLOCK
from planner.desktop.look import FINGER, headline
from planner.desktop.model.open_day import OpenDay, Shown
from planner.desktop.model.running_clock import clock_now
from planner.desktop.pages.day_events import DayEvents
from planner.desktop.pages.doubt_box import DoubtBox
from planner.desktop.pages.giving_up_box import GivingUpBox
from planner.desktop.pages.more_to_tell import MoreToTell
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.told_rows import RowsView, ToldRow
from planner.desktop.plain import PlainLabel
from planner.desktop.thinking.studying import Studying
from planner.plan.doubts import Reply
from planner.plan.pieces import with_pieces
from planner.plan.plan import Work
from planner.plan.progress import Noted, ProgressError
from planner.plan.running import running_waits
from planner.trade import units
from planner.trade.units import show_clock, show_minutes

Stage = tuple[str, str]
"""A job and a stage of it."""

BUTTON_HEIGHT = 72
MOST_NEXT = 2
"""So many stages are named after the one that is due."""

_TICK_MILLISECONDS = 15_000


class RunningPanel(Panel):
    """The stage that is due or chosen, large buttons, the clock of each running wait, and the day's rows to pick from.

    Whatever row is chosen is marked: started, done, not today; a mark is corrected by marking again, or taken back.
    `extra_wanted` names the job to which work is to be added; `left_wanted` asks for what is left as a day of its own.
    """

    extra_wanted = Signal(str)
    left_wanted = Signal()

    def __init__(
        self,
        open_day: OpenDay,
        parent: QWidget | None = None,
        *,
        studying: Studying | None = None,
        now: Callable[[], int] = clock_now,
    ) -> None:
        super().__init__(open_day, "On the day", parent)
        self._now = now
        self._stages: list[Stage] = []
        self._is_telling = False
        self._clock, self._what, self._when = PlainLabel(self), PlainLabel(self), PlainLabel(self)
        self._waits, self._next = PlainLabel(self), PlainLabel(self)
        self._clock.setProperty("role", "faint")
        self._clock.setFont(headline(13))
        self._what.setFont(headline(20, bold=True))
        self._when.setFont(headline(12.5))
        self._next.setFont(headline(12.5))
        self._waits.setFont(headline(12.5, bold=True))
        self.doubts = DoubtBox(self)
        self.doubts.answered.connect(self.on_answered)
        self.doubts.all_likely.connect(self.on_all_likely)
        self.column.addWidget(self.doubts)
        for label in (self._clock, self._what, self._when, self._next, self._waits):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            self.column.addWidget(label)
        self.start_button, self.done_button = QPushButton("&Started", self), QPushButton("&Done", self)
        large = Flow(shares=True)
        for button in (self.start_button, self.done_button):
            button.setMinimumHeight(BUTTON_HEIGHT)
            button.setFont(headline(17, bold=True))
            large.addWidget(button)
        self.column.addLayout(large)
        self.done_button.setProperty("role", "first")
        self.drop_button, self.back_button = QPushButton("&Not today", self), QPushButton("Take &back", self)
        self.due_button = QPushButton("What is d&ue", self)
        small = Flow(shares=True)
        for button in (self.drop_button, self.back_button, self.due_button):
            button.setMinimumHeight(FINGER)
            small.addWidget(button)
        self.column.addLayout(small)
        self.giving_up = GivingUpBox(open_day, studying, self)
        self.giving_up.noted.connect(self.refresh)
        self.giving_up.left_wanted.connect(self.left_wanted)
        self.column.addWidget(self.giving_up)
        self.at = Field("At another time than now", CLOCK, self)
        self.at.line.setMinimumHeight(FINGER)
        self.column.addWidget(self.at)
        self.events = DayEvents(open_day, self._minute, now, self)
        self.column.addWidget(self.events)
        self.events.noted.connect(self.refresh)
        self.events.extra_wanted.connect(self.extra_wanted)
        self.more = MoreToTell(open_day, self.meant, self._minute, self._until, now, self)
        self.more_button = QPushButton("More to tell …", self, checkable=True)  # type: ignore[call-overload]
        self.more_button.setMinimumHeight(FINGER)
        self.more_button.toggled.connect(self.more.setVisible)
        self.more.hide()
        self.more.noted.connect(self.refresh)
        self.more.left_wanted.connect(self.left_wanted)
        self.column.addWidget(self.more_button)
        self.column.addWidget(self.more)
        self.rows = RowsView(self, least_height=FINGER)
        self.rows.setAccessibleName("Stages of the day: choose one to mark it")
        self.rows.setMinimumHeight(4 * FINGER)
        self.column.addWidget(self.rows, 1)
        self.start_button.clicked.connect(self.on_start)
        self.done_button.clicked.connect(self.on_done)
        self.drop_button.clicked.connect(self.on_drop)
        self.back_button.clicked.connect(self.on_back)
        self.due_button.clicked.connect(self.on_due)
        self.rows.selectionModel().currentChanged.connect(self.on_chosen)
        self.rows.selectionModel().selectionChanged.connect(self.on_chosen)
        self._timer = QTimer(self, interval=_TICK_MILLISECONDS)
        self._timer.timeout.connect(self.on_tick)
        self._timer.start()

    def refresh(self) -> None:
        """Say what is due, or what is chosen."""
        shown = self.open_day.shown
        self._clock.setText(self._clock_words(shown))
        self.more.refresh()
        self.doubts.show_doubts(self.open_day.doubts)
        self.giving_up.refresh()
        self._tell_rows(shown)
        self._show_meant()

    def _show_meant(self) -> None:
        """The stage that the buttons are about, and what they can do with it."""
        shown, stage, progress = self.open_day.shown, self.meant(), self.open_day.state.progress
        self.events.show_job(None if stage is None else stage[0])
        self.more.show_meant()
        can = stage is not None and not self.open_day.is_read_only
        mark = None if stage is None else progress.of_stage(*stage)
        is_dropped = stage in progress.dropped
        self.start_button.setEnabled(can and not is_dropped and (mark is None or mark.end is None))
        self.done_button.setEnabled(can and not is_dropped)
        self.drop_button.setEnabled(can and not is_dropped and (mark is None or mark.end is None))
        self.back_button.setEnabled(can and (mark is not None or is_dropped))
        self.due_button.setEnabled(self._chosen() is not None)
        if shown is None or stage is None:
            done = shown is not None and progress.now is not None
            self._what.setText("All is done" if done else "There is no plan yet.")
            for label in (self._when, self._next, self._waits):
                label.setText("")
            return
        self._what.setText(self._name(shown, *stage))
        self._when.setText("given up for today" if is_dropped else self._due_words(shown, stage, mark))
        self._next.setText(self._next_words(shown, stage))
        self._next.setVisible(bool(self._next.text()))
        running = [*self._away_words(shown), *self._wait_words(shown)]
        self._waits.setText("\n".join(running))
        self._waits.setVisible(bool(running))

    def _name(self, shown: Shown, job: str, stage: str) -> str:
        """A stage's name, also of one that is given up, and so no more in the day as it went."""
        whole = with_pieces(self.open_day.day or shown.day, self.open_day.state.progress)
        days = [day for day in (shown.day, whole) if job in day.jobs and stage in day.jobs[job].stages]
        return Names(days[0]).stage(job, stage) if days else stage

    def _wait_words(self, shown: Shown) -> list[str]:
        now, told = self._now(), self.open_day.state.progress
        return [wait.words(now) for wait in running_waits(shown.day, shown.plan, told, now)]

    def _away_words(self, shown: Shown) -> list[str]:
        """That the van is away, and until when."""
        names, away = Names(shown.day), [x for x in shown.plan.fetches if x.leaves <= self._now() < x.back]
        return [f"The van is away for {names.kit(x.kit)}, back at {show_clock(x.back)}" for x in away]

    def _clock_words(self, shown: Shown | None) -> str:
        """The time; on another day than this one, that too, lest it be marked unawares."""
        clock = show_clock(self._now())
        if shown is None or shown.day.date == dt.date.today():
            return clock
        return f"{clock}, but this day is {shown.day.date:%d %b %Y}"

    @property
    def waits_words(self) -> str:
        """The clock of each running wait, and that the van is away."""
        return self._waits.text()

    @property
    def next_words(self) -> str:
        """What comes after what is due."""
        return self._next.text()

    def _next_words(self, shown: Shown, stage: Stage) -> str:
        """The stages that are planned to begin after the one that is meant, the nearest ones."""
        left = [w for w in self._left() if (w.job, w.stage) != stage][:MOST_NEXT]
        names = Names(shown.day)
        said = ", ".join(f"{show_clock(w.start)} {names.stage(w.job, w.stage)}" for w in left)
        return f"Then: {said}" if said else ""

    def due(self) -> Work | None:
        """The first stage that is not done, one that runs before all others."""
        return next(iter(self._left()), None)

    def _left(self) -> list[Work]:
        """The stages that are not done: those that run, then the others as they are planned."""
        shown, progress = self.open_day.shown, self.open_day.state.progress
        if shown is None:
            return []
        marks = {(m.job, m.stage): m for m in progress.noted}
        left = [
            work
            for work in sorted(shown.plan.works, key=lambda w: (w.start, w.end))
            if (work.job, work.stage) not in progress.dropped
            and ((work.job, work.stage) not in marks or marks[work.job, work.stage].end is None)
        ]
        running = [work for work in left if progress.of_stage(work.job, work.stage) is not None]
        return [*running, *(work for work in left if work not in running)]

    def meant(self) -> Stage | None:
        """The stage that the buttons mark: the one chosen in the rows, else the one that is due."""
        chosen, due = self._chosen(), self.due()
        return chosen if chosen is not None else (None if due is None else (due.job, due.stage))

    def _chosen(self) -> Stage | None:
        index = self.rows.currentIndex()  # where the keys are is not yet what is chosen
        is_chosen = self.rows.selectionModel().isSelected(index) and index.row() < len(self._stages)
        return self._stages[index.row()] if is_chosen else None

    @Slot()
    def on_chosen(self) -> None:
        """Another row was chosen, by a finger or by keys."""
        if not self._is_telling:
            self._show_meant()

    @Slot()
    def on_due(self) -> None:
        """Back to what is due."""
        self.rows.setCurrentIndex(QModelIndex())
        self.rows.clearSelection()
        self.refresh()

    @Slot()
    def on_start(self) -> None:
        """It was started."""
        stage, minute = self.meant(), self._minute()
        if stage is not None and minute is not None:
            self._mark(Noted(*stage, minute))
            self.refresh()

    @Slot()
    def on_done(self) -> None:
        """It is done; then what is due next is meant."""
        stage, minute = self.meant(), self._minute()
        if stage is not None and minute is not None:
            mark = self.open_day.state.progress.of_stage(*stage)
            started = mark.start if mark is not None and (mark.start or 0) <= minute else None
            if self._mark(Noted(*stage, started, minute)):
                self.on_due()

    def _mark(self, note: Noted) -> bool:
        """Mark a stage; one still to come is asked about under the field, in which the time that it is stands ready."""
        try:
            self.open_day.mark(note, self._now())
        except ProgressError as fault:
            self.at.line.setText(show_clock(self._now()))
            self.at.say(str(fault))
            return False
        self.at.say("")
        return True

    @Slot()
    def on_drop(self) -> None:
        """It is given up for today."""
        stage = self.meant()
        if stage is not None:
            self.open_day.drop(*stage)
            self.on_due()

    @Slot()
    def on_back(self) -> None:
        """What was said of it is taken back."""
        stage = self.meant()
        if stage is not None:
            self.open_day.take_back(*stage)
            self.refresh()

    @Slot(object)
    def on_answered(self, reply: Reply) -> None:
        """A question was answered."""
        self.open_day.note("Answer", reply.on(self.open_day.state.progress))
        self.refresh()

    @Slot()
    def on_all_likely(self) -> None:
        """All is as is likely."""
        self.open_day.answer_as_likely()
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

    def _until(self) -> int | None:
        """The minute that stands in the field; None where none does, or it cannot be read."""
        try:
            said = self.at.value()
        except ValueError:
            return None
        self.at.line.clear()
        return None if said is None else units.clock(said)

    def _due_words(self, shown: Shown, stage: Stage, mark: Noted | None) -> str:
        work = shown.plan.work(*stage)
        planned = "" if work is None else f"planned {show_clock(work.start)} to {show_clock(work.end)}"
        if mark is not None and mark.end is not None:
            since = "" if mark.start is None else f"{show_clock(mark.start)} to "
            return f"done {since}{show_clock(mark.end)}; mark it again to correct the time"
        if mark is not None and mark.start is not None:
            return f"running since {show_clock(mark.start)}, {planned}"
        is_today = shown.day.date == dt.date.today()
        return f"{planned}{self._slip_words(self._now() - work.start)}" if is_today and work else planned

    def _tell_rows(self, shown: Shown | None) -> None:
        """All stages as planned, at the end those given up; what was chosen stays so, wherever it comes to stand."""
        chosen = self._chosen()
        names = None if shown is None else Names(shown.day)
        works = [] if shown is None else sorted(shown.plan.works, key=lambda w: (w.start, w.end))
        planned = [(w.job, w.stage) for w in works]
        dropped = [x for x in self.open_day.state.progress.dropped if x not in planned]
        rows = [self._told(names, work) for work in works] if names is not None else []
        if shown is not None:
            given_up = ToldRow(below="given up for today", is_strong=False, is_bare=True)
            rows += [replace(given_up, what=self._name(shown, *x)) for x in dropped]
        self._is_telling = True
        self._stages = [*planned, *dropped]
        self.rows.tell(rows)
        at = self._stages.index(chosen) if chosen in self._stages else -1
        self.rows.setCurrentIndex(self.rows.model().index(at, 0) if at >= 0 else QModelIndex())
        self._is_telling = False

    def _told(self, names: Names, work: Work) -> ToldRow:
        mark = self.open_day.state.progress.of_stage(work.job, work.stage)
        is_done = mark is not None and mark.end is not None
        below = ""
        if mark is not None and mark.end is not None:
            below = f"done {show_clock(mark.end)}{self._slip_words(mark.end - work.end)}"
        elif mark is not None and mark.start is not None:
            below = f"running since {show_clock(mark.start)}"
        what = names.stage(work.job, work.stage)
        return ToldRow(when=show_clock(work.start), what=what, below=below, is_strong=not is_done, is_bare=is_done)

    def _slip_words(self, late: int) -> str:
        if late > 0:
            return f", {show_minutes(late)} late"
        return f", {show_minutes(-late)} early" if late < 0 else ""
