"""Several questions thought about side by side in processes of their own, so that a crash in one spoils no other."""

import os
import queue
import signal
import subprocess
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from types import TracebackType
from typing import Any, Self

from planner.day import Day
from planner.engine import plan_day, plan_near
from planner.fit.errands import Errand, said, told
from planner.own_python import own_module
from planner.plan.plan import Plan

OURS = own_module("planner.fit.errands")

GRACE_SECONDS = 30.0
"""How much longer than asked a question may take (loading the solver, proving) before its process is ended."""

LOOK_SECONDS = 0.1
"""How often it is looked whether to stop, or whether a process has taken far too long."""


@dataclass(frozen=True)
class Done:
    """What a task gave, or in plain words why it gave nothing."""

    name: str
    value: Any = None
    fault: str = ""


@dataclass(eq=False)
class _Worker:
    process: "subprocess.Popen[bytes]"
    task: int | None = None
    until: float = 0.0


def cores() -> int:
    """How many processes can run at once on this machine."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


class SideBySide:
    """Processes that answer tasks; they are kept from one ``run`` to the next and ended with the ``with`` block.

    Parameters
    ----------
    count
        How many at once; as many as there are cores when it is left out.
    stop
        Set it to end everything; tasks not yet done then say so.
    command
        What starts a process that answers.
    """

    def __init__(
        self, count: int | None = None, stop: threading.Event | None = None, command: Sequence[str] = OURS
    ) -> None:
        self.count, self.stop = count or cores(), stop
        self._command = tuple(command)
        self._workers: list[_Worker] = []
        self._lines: queue.SimpleQueue[tuple[_Worker, bytes | None]] = queue.SimpleQueue()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        for worker in list(self._workers):
            self._end(worker)

    def run(
        self,
        tasks: Sequence[Errand],
        *,
        seconds: float,
        on_done: Callable[[int, int, Done], None] | None = None,
    ) -> list[Done]:
        """Answer all tasks, in the order asked.

        Parameters
        ----------
        tasks
            What to do.
        seconds
            What each task was told to take at the most; one that takes much longer is ended.
        on_done
            Called with how many are done, how many there are, and the last one, as they come.
        """
        answers: dict[int, Done] = {}
        waiting = list(range(len(tasks)))
        while len(answers) < len(tasks) and not (self.stop is not None and self.stop.is_set()):
            for worker in self._idle(len(waiting)):
                worker.task, worker.until = waiting.pop(0), time.monotonic() + seconds + GRACE_SECONDS
                self._ask(worker, tasks[worker.task])
            for number, done in self._heard(tasks):
                answers[number] = done
                if on_done is not None:
                    on_done(len(answers), len(tasks), done)
        for worker in [w for w in self._workers if w.task is not None]:
            self._end(worker)
        return [answers.get(n, Done(task.name, fault="stopped before it was done")) for n, task in enumerate(tasks)]

    def _idle(self, wanted: int) -> list[_Worker]:
        """Workers without a task, new ones started where there is room; no more than wanted."""
        idle = [w for w in self._workers if w.task is None]
        while len(idle) < wanted and len(self._workers) < self.count:
            worker = self._started()
            self._workers.append(worker)
            idle.append(worker)
        return idle[:wanted]

    def _started(self) -> _Worker:
        with _without_interrupts():
            process = subprocess.Popen(
                self._command,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),  # on Windows a terminal would open
            )
        worker = _Worker(process)
        threading.Thread(target=self._listen, args=(worker,), daemon=True).start()
        return worker

    def _listen(self, worker: _Worker) -> None:
        """Hand on what a worker says, line by line, and that it is gone."""
        assert worker.process.stdout is not None
        with suppress(OSError, ValueError):  # closed by us
            for line in worker.process.stdout:
                self._lines.put((worker, line))
        self._lines.put((worker, None))

    @staticmethod
    def _ask(worker: _Worker, task: Errand) -> None:
        assert worker.process.stdin is not None
        with suppress(OSError):  # it died meanwhile: we hear of that as of any other end
            worker.process.stdin.write(said(task))
            worker.process.stdin.flush()

    def _heard(self, tasks: Sequence[Errand]) -> Iterator[tuple[int, Done]]:
        """Numbers of tasks and their answers, as far as they came; a worker that died or takes too long is at fault."""
        with suppress(queue.Empty):
            worker, line = self._lines.get(timeout=LOOK_SECONDS)
            if worker in self._workers:
                number = worker.task
                done = self._done(worker, line, "" if number is None else tasks[number].name)
                worker.task = None
                if number is not None:
                    yield number, done
        for worker in [w for w in self._workers if w.task is not None and time.monotonic() > w.until]:
            assert worker.task is not None
            self._end(worker)
            yield worker.task, Done(tasks[worker.task].name, fault="it took too long and was ended")

    def _done(self, worker: _Worker, line: bytes | None, name: str) -> Done:
        if line is not None:
            return Done(name, *told(line))
        self._workers.remove(worker)
        return Done(name, fault=f"its process ended without an answer (code {worker.process.wait()})")

    def _end(self, worker: _Worker) -> None:
        self._workers.remove(worker)
        worker.process.terminate()
        worker.process.wait()


@contextmanager
def _without_interrupts() -> Iterator[None]:
    """A process that is started within this block hears no Ctrl+C until it says otherwise: that is for us alone."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


# --- the usual task --------------------------------------------------------------------------------------------------


WORKERS = 2
"""Threads of one search: with one alone the solver has too few ways of looking."""


def planned(day: Day, seconds: float, most_crossings: int | None = None, previous: Plan | None = None) -> Plan | None:
    """A day planned; the search begins at ``previous`` if that holds for it. None when no plan was found."""
    result = plan_day(day, seconds=seconds, workers=WORKERS, most_crossings=most_crossings, previous=previous)
    return result.plan


def planned_near(day: Day, seconds: float, start: Plan) -> Plan | None:
    """A changed day planned from the plan without the change."""
    return plan_near(day, start, seconds=seconds)


def share(seconds: float, tasks: int, count: int, least: float = 0.5) -> float:
    """How long each task may take when all of them share a budget on so many cores."""
    rounds = max(1, -(-tasks // max(1, count)))
    return max(least, seconds / rounds)
