"""The window's end of the planning process: asks, hears better plans as they come, and outlives its death."""

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QObject, QProcess, QTimer, Signal, Slot

from planner.desktop.thinking.ahead import OURS, taken
from planner.desktop.thinking.questions import (
    Answer,
    Better,
    Failed,
    Message,
    Progressed,
    Question,
    StopAsked,
    Unpacker,
    packed,
)

GRACE_SECONDS = 20.0
"""How much longer than asked a question may take (building the problem, proving) before its process is ended."""

STOP_SECONDS = 4.0
"""How long the process may take to stop before it is ended."""

TICK_SECONDS = 0.25
"""Its time is counted in such steps while the window lives: where the machine sleeps or stands still, none goes."""


class PlanningProcess(QObject):
    """One process that thinks about one question at a time.

    A new question puts the one before aside. Whatever becomes of the process, the window gets an answer or a reason:
    `answered` with an `Answer`, or `failed` with a `Failed`.
    """

    better = Signal(object)
    progressed = Signal(object)
    answered = Signal(object)
    failed = Signal(object)
    busy_changed = Signal(bool)

    def __init__(self, parent: QObject | None = None, command: Sequence[str] = OURS) -> None:
        super().__init__(parent)
        self._command = tuple(command)
        self._process: QProcess | None = None
        self._unpacker = Unpacker()
        self._question: Question | None = None
        self._last = 0
        self._is_stopping = False
        self._seconds_left = 0.0
        self._timer = QTimer(self, interval=round(1000 * TICK_SECONDS))
        self._timer.timeout.connect(self.on_tick)

    @property
    def is_busy(self) -> bool:
        """Whether a question is being thought about."""
        return self._question is not None

    @property
    def pid(self) -> int:
        """The number of the process, 0 when there is none."""
        return self._process.processId() if self._process else 0

    def warm_up(self) -> None:
        """Start the process before it is needed, so that the solver is loaded by then."""
        if self._process is None:
            process = taken(self, self._command)
            process.readyReadStandardOutput.connect(self.on_heard)
            process.finished.connect(self.on_process_ended)
            process.errorOccurred.connect(self.on_process_error)
            self._process, self._unpacker = process, Unpacker()

    def ask(self, question: Question) -> int:
        """Begin to think; gives the number under which the answer will come."""
        was_busy = self.is_busy
        self._put_aside()
        self.warm_up()
        self._last += 1
        question = replace(question, number=self._last)
        self._question, self._is_stopping = question, False
        self._say(question)
        self._allow(question.seconds + GRACE_SECONDS)
        if not was_busy:
            self.busy_changed.emit(True)
        return question.number

    def stop(self) -> None:
        """StopAsked thinking; the best so far comes as the answer."""
        if self._question is not None and not self._is_stopping:
            self._is_stopping = True
            self._say(StopAsked(self._question.number))
            self._allow(STOP_SECONDS)

    def end(self) -> None:
        """End the process; nothing is answered any more."""
        self._question = None
        self._timer.stop()
        self._drop_process()

    def set_aside(self) -> None:
        """Let go of the present question, whose answer is not wanted any more."""
        if self._question is not None:
            self._put_aside()
            self._timer.stop()
            self.busy_changed.emit(False)

    def _put_aside(self) -> None:
        """Its late answers are not heard: their number is past."""
        if self._question is None:
            return
        if self._is_stopping:  # it was asked to stop already and has not: do not wait behind it
            self._drop_process()
        else:
            self._say(StopAsked(self._question.number))
        self._question = None

    def _allow(self, seconds: float) -> None:
        """From now on it has so long."""
        self._seconds_left = seconds
        self._timer.start()

    def _say(self, message: Message) -> None:
        if self._process is not None:
            self._process.write(packed(message))

    def _drop_process(self) -> None:
        process, self._process = self._process, None
        if process is not None:
            process.blockSignals(True)
            process.closeWriteChannel()
            process.kill()
            process.waitForFinished(1000)
            process.deleteLater()

    def _finish(self, message: Answer | Failed) -> None:
        self._question = None
        self._timer.stop()
        (self.answered if isinstance(message, Answer) else self.failed).emit(message)
        if not self.is_busy:
            self.busy_changed.emit(False)

    @Slot()
    def on_heard(self) -> None:
        """Something came from the process."""
        if self._process is None:
            return
        for message in self._unpacker.feed(bytes(self._process.readAllStandardOutput().data())):
            self.hear(message)

    def hear(self, message: Message) -> None:
        """Take a message that came, if it is about the present question."""
        if self._question is None or getattr(message, "number", 0) != self._question.number:
            return
        if isinstance(message, Better):
            self.better.emit(message)
        elif isinstance(message, Progressed):
            self.progressed.emit(message)
        elif isinstance(message, Answer | Failed):
            self._finish(message)

    @Slot()
    def on_process_ended(self) -> None:
        """The process is gone, by itself or because the system ended it."""
        self.on_heard()
        self._lose(
            "the planning process ended before it was done, perhaps for want of memory; plan again to retry"
        )

    @Slot(QProcess.ProcessError)
    def on_process_error(self, error: QProcess.ProcessError) -> None:
        """The process could not even start."""
        if error is QProcess.ProcessError.FailedToStart:
            self._lose(
                "the planning process could not be started: {why}".format(
                    why=self._process.errorString() if self._process else ""
                )
            )

    @Slot()
    def on_tick(self) -> None:
        """Time went on: where it is over, the process neither answered nor stopped in time."""
        self._seconds_left -= TICK_SECONDS
        if self._seconds_left > 0:
            return
        words = (
            "stopped; the best plan so far is kept"
            if self._is_stopping
            else "planning took far longer than asked and was ended; the best plan so far is kept"
        )
        self._lose(words)

    def _lose(self, words: str) -> None:
        """Go on without the process; the next question starts another."""
        question = self._question
        self._drop_process()
        if question is not None:
            self._finish(Failed(question.number, words))
