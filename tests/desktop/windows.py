"""What tests and attacks of the window share: a stand-in for planning, events let pass, and boxes that are answered."""

import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from PySide6.QtCore import QEvent, QTimer
from PySide6.QtWidgets import QApplication, QMessageBox, QWidget

from planner.desktop.thinking.planning_process import PlanningProcess
from planner.desktop.thinking.questions import Message, Question, Unpacker, packed
from planner.desktop.thinking.thinker import respond
from tests.desktop.stand_in import TROUBLE, think

STAND_IN = (sys.executable, "-m", "tests.desktop.stand_in")


def stand_in_process(parent: QWidget) -> PlanningProcess:
    """A process that answers at once."""
    return PlanningProcess(parent, command=STAND_IN)


def processed(is_so: Callable[[], bool]) -> None:
    """Let events pass until something is so, and what is to be deleted be so."""
    QApplication.processEvents()
    while not is_so():
        QApplication.processEvents()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


AT_ONCE = ("plan", "verdict", "sheet", "print", "document")
"""What is asked that takes no time with the stand-in."""


class AtOnce(PlanningProcess):
    """Answers what takes no time within the process of the tests, by the same steps and in the same bytes.

    Hundreds of tests open a window, and none needs processes started for it; what a process of its own brings with it
    is tested with one (`tests.desktop.test_planning_process`). Days that ask for trouble and longer studies get theirs.
    """

    def warm_up(self) -> None:
        """Nothing is started before it is needed."""

    def _say(self, message: Message) -> None:
        if isinstance(message, Question):
            if message.task in AT_ONCE and message.day.title not in TROUBLE:
                soon = QTimer(self, singleShot=True)  # which goes with it
                soon.timeout.connect(lambda: self._answer(message))
                soon.start(0)
                return
            super().warm_up()
        super()._say(message)

    def _answer(self, question: Question) -> None:
        if self._question is None or self._question.number != question.number:
            return
        said: list[Message] = []
        [asked] = Unpacker().feed(packed(question))
        assert isinstance(asked, Question)
        respond(think, asked, threading.Event(), said.append)
        for message in Unpacker().feed(b"".join(map(packed, said))):
            self.hear(message)


def at_once(parent: QWidget) -> PlanningProcess:
    """Answers by the stand-in without a process, where that is quick."""
    return AtOnce(parent, command=STAND_IN)


@contextmanager
def answered(answer: Callable[[QMessageBox], int]) -> Iterator[None]:
    """Within this block every box is answered so."""
    before = QMessageBox.exec
    QMessageBox.exec = answer  # type: ignore[assignment, method-assign]
    try:
        yield
    finally:
        QMessageBox.exec = before  # type: ignore[method-assign]


def pressing(*words: str, asked: list[str]) -> Callable[[QMessageBox], int]:
    """Presses the buttons of these words, one in each box after the other; the boxes' words go into ``asked``."""

    def press(box: QMessageBox) -> int:
        wanted = words[len(asked)]
        asked.append(box.text())
        next(button for button in box.buttons() if button.text() == wanted).click()
        return 0

    return press
