"""What tests and attacks of the window share: a stand-in for planning, events let pass, and boxes that are answered."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication, QMessageBox, QWidget

from planner.desktop.thinking.planning_process import PlanningProcess

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
