"""Several questions thought about side by side in processes of their own, so that a crash in one spoils no other."""

import multiprocessing
import os
import signal
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from types import TracebackType
from typing import Any, Self

from planner.day import Day
from planner.engine import plan_day
from planner.own_python import own_path_for_children
from planner.plan.plan import Plan
from planner.trade.own_values import what_does_not_hold

GRACE_SECONDS = 30.0
"""How much longer than asked a question may take (loading the solver, proving) before its process is ended."""

LOOK_SECONDS = 0.1


@dataclass(frozen=True)
class Errand:
    """A function of some module, and what it is called with; both go through a pipe."""

    name: str
    function: Callable[..., Any]
    arguments: tuple[Any, ...] = ()


@dataclass(frozen=True)
class Done:
    """What a task gave, or in plain words why it gave nothing."""

    name: str
    value: Any = None
    fault: str = ""


@dataclass
class _Worker:
    process: BaseProcess
    pipe: "Connection[Any, Any]"
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
    """

    def __init__(self, count: int | None = None, stop: threading.Event | None = None) -> None:
        self.count, self.stop = count or cores(), stop
        self._context = multiprocessing.get_context("spawn")
        self._workers: list[_Worker] = []

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        for worker in self._workers:
            self._end(worker)
        self._workers = []

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
        while len(answers) < len(tasks):
            if self.stop is not None and self.stop.is_set():
                break
            for worker in self._idle(len(waiting)):
                number = waiting.pop(0)
                worker.task, worker.until = number, time.monotonic() + seconds + GRACE_SECONDS
                worker.pipe.send((tasks[number].function, tasks[number].arguments))
            for worker in [w for w in self._workers if w.task is not None]:
                found = self._answer(worker, tasks)
                if found is not None and worker.task is not None:
                    answers[worker.task] = found
                    worker.task = None
                    if on_done is not None:
                        on_done(len(answers), len(tasks), found)
            self._workers = [w for w in self._workers if w.process.is_alive()]
            wait([w.pipe for w in self._workers if w.task is not None], timeout=LOOK_SECONDS)
        for worker in [w for w in self._workers if w.task is not None]:
            self._end(worker)
            self._workers.remove(worker)
        return [answers.get(n, Done(task.name, fault="stopped before it was done")) for n, task in enumerate(tasks)]

    def _idle(self, wanted: int) -> list[_Worker]:
        """Workers without a task, new ones started where there is room; no more than wanted."""
        idle = [w for w in self._workers if w.task is None]
        while len(idle) < wanted and len(self._workers) < self.count:
            ours, theirs = self._context.Pipe()
            process = self._context.Process(target=_work, args=(theirs,), daemon=True)
            with own_path_for_children(), _without_interrupts():
                process.start()
            theirs.close()
            worker = _Worker(process, ours)
            self._workers.append(worker)
            idle.append(worker)
        return idle[:wanted]

    def _answer(self, worker: _Worker, tasks: Sequence[Errand]) -> Done | None:
        """What a busy worker has to say, if anything; one that died or takes too long is at fault."""
        assert worker.task is not None
        name = tasks[worker.task].name
        try:
            if worker.pipe.poll():
                value, fault = worker.pipe.recv()
                return Done(name, value, fault)
        except (EOFError, OSError):
            self._end(worker)
            return Done(name, fault=f"its process ended without an answer (code {worker.process.exitcode})")
        if time.monotonic() > worker.until:
            self._end(worker)
            return Done(name, fault="it took too long and was ended")
        return None

    @staticmethod
    def _end(worker: _Worker) -> None:
        worker.pipe.close()
        if worker.process.is_alive():
            worker.process.terminate()
        worker.process.join()


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


def _work(pipe: "Connection[Any, Any]") -> None:
    """Answer tasks until the pipe closes. An interrupt is for the process that asks."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    what_does_not_hold()
    while True:
        try:
            function, arguments = pipe.recv()
        except (EOFError, OSError):
            return
        try:
            answer = function(*arguments), ""
        except Exception as fault:
            answer = None, str(fault) or type(fault).__name__
        pipe.send(answer)


# --- the usual task --------------------------------------------------------------------------------------------------


WORKERS = 2
"""Threads of one search: with one alone the solver has too few ways of looking."""


def planned(day: Day, seconds: float, most_crossings: int | None = None, previous: Plan | None = None) -> Plan | None:
    """A day planned; the search begins at ``previous`` if that holds for it. None when no plan was found."""
    result = plan_day(day, seconds=seconds, workers=WORKERS, most_crossings=most_crossings, previous=previous)
    return result.plan


def share(seconds: float, tasks: int, count: int, least: float = 0.5) -> float:
    """How long each task may take when all of them share a budget on so many cores."""
    rounds = max(1, -(-tasks // max(1, count)))
    return max(least, seconds / rounds)
