"""What if: a question that is answered by planning the day otherwise, in one sentence with its figures."""

from dataclasses import dataclass
from functools import partial
from typing import Any, Protocol

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QPushButton, QWidget

from planner.day import Day
from planner.day.names import called
from planner.desktop.flow import Flow
from planner.desktop.forms.field import Choice
from planner.desktop.look import headline
from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.told_rows import RowsView, ToldRow
from planner.desktop.thinking.studying import Studying

TASKS = ("way in", "two days", "break-even")


class Finding(Protocol):
    """What the studies of these questions give."""

    @property
    def sentence(self) -> str:
        """The answer."""

    def rows(self) -> Any:
        """Its figures, as rows of words."""


@dataclass(frozen=True)
class Asked:
    """A question: the study that answers it, and what that must be told."""

    task: str
    extra: Any = None


class QuestionsPanel(Panel):
    """One question is picked and worked out apart from the window."""

    def __init__(self, open_day: OpenDay, studying: Studying, parent: QWidget | None = None) -> None:
        super().__init__(open_day, "What if", parent)
        self._studying = studying
        self._day: Day | None = None
        self.question = Choice("Question", [], self)
        self.column.addWidget(self.question)
        self.ask_button = QPushButton("Work it out", self)
        self.ask_button.setProperty("role", "first")
        self.stop_button = QPushButton("Stop", self)
        self.stop_button.hide()
        row = Flow()
        row.addWidget(self.ask_button)
        row.addWidget(self.stop_button)
        self.column.addLayout(row)
        self._answer = self.add_words("", role="")
        self._answer.setFont(headline(12.5))
        self.rows = RowsView(self)
        self.rows.setAccessibleName("Figures of the answer")
        self.column.addWidget(self.rows, 1)
        self.column.addStretch(0)
        self.ask_button.clicked.connect(self.on_ask)
        self.stop_button.clicked.connect(self.on_stop)
        studying.progressed.connect(self.on_progressed)
        studying.failed.connect(self.on_failed)
        studying.busy_changed.connect(self.on_busy)

    @property
    def answer(self) -> str:
        """What is said now."""
        return self._answer.text()

    def refresh(self) -> None:
        """Offer the questions of the day; an answer for the day before its change no longer counts."""
        shown = self.open_day.shown
        day = None if shown is None else shown.day
        if day is not None and day == self._day:
            return
        self._day, is_under_way = day, self.open_day.is_under_way
        self.question.offer([] if day is None or is_under_way else self._questions(day))
        self.ask_button.setEnabled(day is not None and not is_under_way)
        self.rows.hide()
        words = "Each is answered by planning the day again, so it takes a minute."
        if is_under_way:
            words = "The day is under way: these questions are of a day before it begins."
        self._answer.setText("There is no plan yet." if day is None else words)

    def _questions(self, day: Day) -> list[tuple[Any, str]]:
        found: list[tuple[Any, str]] = [
            (Asked("way in", key), f"Cost of the way in: {called(job, key)}")
            for key, job in day.jobs.items()
            if any(not ground.way_in.is_open for ground in job.grounds.values())
        ]
        found.append((Asked("two days"), "Over two days: where to stop?"))
        words = "“{stage}”: from how much on does “{method}” pay?"
        for job, key, stage in day.stages():
            if len(stage.methods) < 2:
                continue
            for method, way in stage.methods.items():
                question = words.format(stage=called(stage, key), method=called(way, method))
                found.append((Asked("break-even", (job, key, method)), question))
        return found

    @Slot()
    def on_ask(self) -> None:
        """The question is to be worked out."""
        shown, asked = self.open_day.shown, self.question.value()
        if shown is not None and isinstance(asked, Asked):
            self.rows.hide()
            self._answer.setText("Planning the day otherwise …")
            self._studying.ask(asked.task, shown, partial(self.on_found, asked.task), asked.extra)

    def on_found(self, task: str, found: Finding) -> None:
        """There is an answer."""
        self._answer.setText(found.sentence)
        told = [self._told(task, *row) for row in found.rows()]
        self.rows.tell(told)
        self.rows.setVisible(bool(told))

    def _told(self, task: str, first: str, *rest: str) -> ToldRow:
        """A row of figures with words to them."""
        what = first[:1].upper() + first[1:]
        if task == "way in":
            return ToldRow(what=what, below="{} as it is, {} with a free way in".format(*rest))
        if task == "break-even":
            below = "worth {} with it, {} without; the less the better".format(*rest)
            return ToldRow(what=what, below=below)
        name, minutes, overnight = rest
        below = f"{first} day, {minutes}"
        return ToldRow(what=name, below="\n".join(filter(None, (below, overnight))))

    @Slot()
    def on_stop(self) -> None:
        """Stop; what is known so far is told."""
        for task in TASKS:
            self._studying.stop(task)

    @Slot(str, int, int, str)
    def on_progressed(self, task: str, done: int, of: int, words: str) -> None:
        """One more plan was made for it."""
        if task in TASKS:
            self._answer.setText(f"{done} of {of} planned: {words}")

    @Slot(str, str)
    def on_failed(self, task: str, words: str) -> None:
        """Nothing came of it."""
        if task in TASKS:
            self._answer.setText(words)

    @Slot(str)
    def on_busy(self, task: str) -> None:
        """Another study runs, or none."""
        self.ask_button.setVisible(task not in TASKS)
        self.stop_button.setVisible(task in TASKS)
