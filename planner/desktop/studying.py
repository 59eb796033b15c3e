"""Asks for studies of the plan, one after another, in a process apart from the one that plans."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, Signal, Slot

from planner.desktop.open_day import Shown
from planner.desktop.planning_process import PlanningProcess
from planner.desktop.questions import Answer, Failed, Question

STUDY_SECONDS = 120.0


@dataclass(frozen=True)
class _Asked:
    question: Question
    on_found: Callable[[Any], None]


class Studying(QObject):
    """A line of studies. `failed` tells a study's name and why nothing came of it."""

    failed = Signal(str, str)
    busy_changed = Signal(str)

    def __init__(self, process: PlanningProcess) -> None:
        super().__init__(process)
        self._process = process
        self._line: list[_Asked] = []
        self._now: _Asked | None = None
        process.answered.connect(self.on_answered)
        process.failed.connect(self.on_failed)

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
