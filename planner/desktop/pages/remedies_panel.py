"""Remedies: changed days that were planned for themselves, the most worth first, to choose from."""

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QPushButton, QWidget

from planner.desktop.flow import Flow
from planner.desktop.forms.out_of_reach import OutOfReach
from planner.desktop.look import headline
from planner.desktop.model.draft import Change
from planner.desktop.model.open_day import OpenDay, Shown
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.told_rows import RowsView, ToldRow
from planner.desktop.thinking.missed import Missed
from planner.desktop.thinking.studying import Studying
from planner.fit.remedies import Remedies, Tried
from planner.fit.second_hand import Help, with_helper
from planner.fit.within_reach import worth_trying

TASKS = ("remedies", "help", "help yet")
"""The studies that are asked for here."""

LEAST_HELP = "How little help is enough?"


class RemediesPanel(Panel):
    """They are tried when they are asked for, since each is a day planned anew. `taken` says that one was."""

    taken = Signal()

    def __init__(
        self, open_day: OpenDay, studying: Studying, missed: Missed, parent: QWidget | None = None
    ) -> None:
        super().__init__(open_day, "Remedies", parent)
        self._studying, self._missed = studying, missed
        self._tried: tuple[Tried, ...] = ()
        self._help: Help | None = None
        self._words = self.add_words("", role="")
        self._words.setFont(headline(12.5))
        self.column.addWidget(OutOfReach(missed, lambda one: True, self))
        self.try_button = QPushButton("Try what would help", self)
        self.help_button = QPushButton(LEAST_HELP, self)
        self.stop_button = QPushButton("Stop", self)
        row = Flow()
        for button in (self.try_button, self.help_button, self.stop_button):
            row.addWidget(button)
        self.column.addLayout(row)
        self.rows = RowsView(self)
        self.rows.setAccessibleName("Remedies, the most worth first")
        self.column.addWidget(self.rows, 1)
        self.take_button = QPushButton("Change the day so", self)
        self.take_button.setProperty("role", "first")
        self.column.addWidget(self.take_button)
        self.column.addStretch(0)
        self.rows.clicked.connect(self.on_picked)
        self.rows.selectionModel().currentChanged.connect(self.on_picked)
        self.try_button.clicked.connect(self.on_try)
        self.help_button.clicked.connect(self.on_help)
        self.stop_button.clicked.connect(self.on_stop)
        self.take_button.clicked.connect(self.on_take)
        studying.progressed.connect(self.on_progressed)
        studying.failed.connect(self.on_failed)
        studying.busy_changed.connect(self.on_busy)
        self.on_busy("")

    def refresh(self) -> None:
        """Another plan: what was tried no longer counts."""
        self._tried, self._help = (), None
        self._show()
        words = "What would make the day fit, or go easier? Each is planned for itself, so it takes a minute."
        if self.open_day.is_under_way:
            words = "The day is under way: what can be given up of its rest stands on the page On the day. "
            words += "Here a second hand who could still come is looked for; it takes half a minute."
        self._words.setText(words if self.open_day.shown is not None else "There is no plan yet.")
        self.on_busy("")

    @Slot()
    def on_try(self) -> None:
        """All remedies are to be tried."""
        if self.open_day.shown is not None:
            more = tuple(worth_trying(self._missed.found))
            self._studying.ask("remedies", self.open_day.shown, self.on_remedies, extra=more)

    @Slot()
    def on_help(self) -> None:
        """The least help of one more hand is to be sought; of a day under way, that of one who could still come."""
        day, shown = self.open_day.day, self.open_day.shown
        if shown is None or day is None:
            return
        if self.open_day.is_under_way:
            rest = Shown(day, shown.plan)
            self._studying.ask("help yet", rest, self.on_least_help, extra=self.open_day.told_since)
        else:
            self._studying.ask("help", shown, self.on_least_help)

    @Slot()
    def on_stop(self) -> None:
        """Stop trying."""
        for task in TASKS:
            self._studying.stop(task)

    def on_remedies(self, found: Remedies) -> None:
        """They were tried."""
        self._tried = found.tried
        self._words.setText(found.sentence)
        self._show()

    def on_least_help(self, found: Help) -> None:
        """The least help is known."""
        self._help = found
        self._words.setText(found.sentence)
        self._show()

    @Slot(str, int, int, str)
    def on_progressed(self, task: str, done: int, of: int, words: str) -> None:
        """One more was tried."""
        if task in TASKS:
            self._words.setText(f"{done} of {of} tried: {words}")

    @Slot(str, str)
    def on_failed(self, task: str, words: str) -> None:
        """Nothing came of it."""
        if task in TASKS:
            self._words.setText(words)

    @Slot(str)
    def on_busy(self, task: str) -> None:
        """Another study runs, or none."""
        is_busy, is_under_way = task in TASKS, self.open_day.is_under_way
        self.stop_button.setVisible(is_busy)
        self.try_button.setVisible(not is_busy and not is_under_way)
        self.help_button.setVisible(not is_busy)
        self.help_button.setText("Who could still come, from when to when?" if is_under_way else LEAST_HELP)
        for button in (self.try_button, self.help_button):
            button.setEnabled(self.open_day.shown is not None and not self.open_day.doubts)

    @Slot()
    def on_picked(self) -> None:
        """A row is looked at."""
        self.take_button.setEnabled(self._picked() is not None and not self.open_day.is_read_only)

    @Slot()
    def on_take(self) -> None:
        """The day is to be changed so."""
        picked = self._picked()
        if picked is None:
            return
        words, shown = picked
        if self.open_day.adopt(words, shown, self._changes_to(shown)):
            self.taken.emit()
        else:
            self._words.setText("This cannot be written into the day from here; change it in its form.")

    def _changes_to(self, shown: Shown) -> tuple[Change, ...]:
        """The changes by which the day comes to be the one that was tried, where they are known."""
        return next((one.changes for one in self._missed.found if one.day == shown.day), ())

    def _picked(self) -> tuple[str, Shown] | None:
        """The words and the day of the row that is looked at, if it can be taken."""
        at = self.rows.currentIndex().row()
        offers = self._offers()
        return offers[at] if 0 <= at < len(offers) else None

    def _offers(self) -> list[tuple[str, Shown] | None]:
        """For each row what it offers."""
        offers: list[tuple[str, Shown] | None] = []
        shown, by_file = self.open_day.shown, self.open_day.day
        if self._help is not None and self._help.stretch is not None and shown is not None and by_file is not None:
            stretch = self._help.stretch
            day = with_helper(by_file if self.open_day.is_under_way else shown.day, stretch.start, stretch.end)
            offers.append(("One more hand", Shown(day, stretch.plan)))
        for tried in self._tried:
            offer = None if tried.plan is None else (tried.remedy.words, Shown(tried.remedy.day, tried.plan))
            offers.append(offer)
        return offers

    def _show(self) -> None:
        told = []
        if self._help is not None and self._help.stretch is not None:
            told.append(ToldRow(what="One more hand", below=self._help.sentence))
        for tried in self._tried:
            what, _, below = tried.sentence.partition(": ")
            told.append(ToldRow(what=what, below=below, is_strong=tried.helps, is_bare=not tried.helps))
        self.rows.tell(told)
        for widget in (self.rows, self.take_button):
            widget.setVisible(bool(told))
        self.on_picked()
