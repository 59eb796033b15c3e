"""Asks for studies of the plan, one after another, in a process apart from the one that plans."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, Signal, Slot

from planner.desktop.model.open_day import Shown
from planner.desktop.thinking.planning_process import PlanningProcess
from planner.desktop.thinking.questions import Answer, Failed, Progressed, Question

STUDY_SECONDS = 120.0


@dataclass(frozen=True)
class _Asked:
    question: Question
    on_found: Callable[[Any], None]


class Studying(QObject):
    """A line of studies, each known by its name.

    Signals: `failed` with a name and why nothing came of it, `progressed` with a name, how many of how many are done
    and what was done last, `busy_changed` with the name of the study that runs now, empty for none.
    """

    failed = Signal(str, str)
    progressed = Signal(str, int, int, str)
    busy_changed = Signal(str)

    def __init__(self, process: PlanningProcess) -> None:
        super().__init__(process)
        self._process = process
        self._line: list[_Asked] = []
        self._now: _Asked | None = None
        process.answered.connect(self.on_answered)
        process.failed.connect(self.on_failed)
        process.progressed.connect(self.on_progressed)

    def ask(self, task: str, shown: Shown, on_found: Callable[[Any], None], extra: Any = None) -> None:
        """Ask for a study; one of the same name that still waits or runs is not wanted any more."""
        question = Question(0, task, shown.day, shown.plan, seconds=STUDY_SECONDS, extra=extra)
        self._line = [asked for asked in self._line if asked.question.task != task]
        self._line.append(_Asked(question, on_found))
        if self._now is not None and self._now.question.task == task:
            self._process.set_aside()
            self._now = None
        self._next()

    def end(self) -> None:
        """Nothing is studied any more."""
        self._line, self._now = [], None
        self._process.end()

    def _next(self) -> None:
        if self._now is None and self._line:
            self._now = self._line.pop(0)
            self._process.ask(self._now.question)
        self.busy_changed.emit(self._now.question.task if self._now else "")

    def stop(self, task: str) -> None:
        """Stop a study; what it has found so far comes all the same."""
        self._line = [asked for asked in self._line if asked.question.task != task]
        if self._now is not None and self._now.question.task == task:
            self._process.stop()

    @Slot(object)
    def on_progressed(self, message: Progressed) -> None:
        """A study got on."""
        if self._now is not None:
            self.progressed.emit(self._now.question.task, message.done, message.of, message.words)

    @Slot(object)
    def on_answered(self, answer: Answer) -> None:
        """A study is done."""
        asked, self._now = self._now, None
        if asked is not None:
            asked.on_found(answer.finding)
        self._next()

    @Slot(object)
    def on_failed(self, failed: Failed) -> None:
        """Nothing came of a study."""
        asked, self._now = self._now, None
        if asked is not None:
            self.failed.emit(asked.question.task, failed.words)
        self._next()
