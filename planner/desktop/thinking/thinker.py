"""The process that thinks for the window: ``python -m planner.desktop.thinking.thinker``.

It takes `Question`s from its standard input, one at a time, and answers on its standard output. It ends when the
window does. No plan leaves it that breaks a rule.
"""

import os
import queue
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from functools import partial
from typing import BinaryIO

from planner.day import Day
from planner.day.own_values import what_does_not_hold
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
from planner.desktop.thinking.studies import study
from planner.engine import load_solver, plan_day, plan_rest
from planner.fit.verdict import verdict
from planner.own_python import own_output
from planner.plan.checker import BrokenPlan, checked
from planner.plan.plan import Plan
from planner.plan.progress import ProgressError
from planner.plan.went import day_as_it_went

Say = Callable[[Message], None]
Progress = Callable[[int, int, str], None]
Thinker = Callable[[Question, Callable[[Plan], None], Progress, threading.Event], Answer]


def think(
    question: Question, on_better: Callable[[Plan], None], on_progress: Progress, stop: threading.Event
) -> Answer:
    """Answer a question with the engine, or with the study that its task names."""
    if question.task == "plan":
        return _plan(question, on_better, stop)
    return Answer(question.number, finding=study(question, on_progress, stop), stopped=stop.is_set())


def _plan(question: Question, on_better: Callable[[Plan], None], stop: threading.Event) -> Answer:
    progress, previous = question.progress, question.previous
    if progress.now is not None and previous is not None:
        result = plan_rest(
            question.day,
            previous,
            progress.since(previous.since or 0),
            seconds=question.seconds,
            on_better=on_better,
            stop=stop,
        )
    else:
        result = plan_day(
            question.day,
            seconds=question.seconds,
            previous=previous,
            on_better=on_better,
            stop=stop,
            most_crossings=question.most_crossings,
        )
    return Answer(
        question.number,
        result.plan,
        conflict=tuple(result.conflict),
        stopped=result.stopped,
        urgent=result.urgent,
        progress=result.progress,
    )


def serve(thinker: Thinker = think, source: BinaryIO | None = None, sink: BinaryIO | None = None) -> None:
    """Answer questions until the source ends."""
    source = source or sys.stdin.buffer
    sink = sink or own_output()
    lock = threading.Lock()

    def say(message: Message) -> None:
        with lock:
            sink.write(packed(message))
            sink.flush()

    questions: queue.SimpleQueue[Question] = queue.SimpleQueue()
    stops: dict[int, threading.Event] = {}
    threading.Thread(target=_listen, args=(source, questions, stops), daemon=True).start()
    while True:
        question = questions.get()
        respond(thinker, question, stops[question.number], say)
        del stops[question.number]


def _listen(source: BinaryIO, questions: queue.SimpleQueue[Question], stops: dict[int, threading.Event]) -> None:
    """Hand on what comes in; end the process, whatever it does, when the window is gone."""
    unpacker = Unpacker()
    while data := os.read(source.fileno(), 1 << 16):
        for message in unpacker.feed(data):
            if isinstance(message, Question):
                stops[message.number] = threading.Event()
                questions.put(message)
            elif isinstance(message, StopAsked) and message.number in stops:
                stops[message.number].set()
    os._exit(0)


def respond(thinker: Thinker, question: Question, stop: threading.Event, say: Say) -> None:
    """Have a question thought about and say all that comes of it, at last an answer or why there is none."""

    def on_better(plan: Plan) -> None:
        with suppress(BrokenPlan):  # the one before it stays; a broken last one is told below
            say(Better(question.number, check(plan), verdict(day, plan)))

    def on_progress(done: int, of: int, words: str) -> None:
        say(Progressed(question.number, done, of, words))

    try:
        day = _day_that_binds(question)
        check = partial(checked, day, since=question.progress.now)
        answer = thinker(question, on_better, on_progress, stop)
        if answer.plan is not None:
            if answer.progress is not None:  # what cannot hold any more is known now
                day = _day_that_binds(replace(question, progress=answer.progress))
            found = checked(day, answer.plan, since=question.progress.now)
            answer = replace(answer, verdict=verdict(day, found))
        say(answer)
    except MemoryError:
        say(Failed(question.number, "there was not enough memory to plan this day; close other programs and try again"))
    except ProgressError as fault:  # marks made while the clock jumped
        say(Failed(question.number, f"{fault}; undo that mark and set it at the right time"))
    except BrokenPlan as fault:
        say(Failed(question.number, f"a plan was found that breaks a rule, and is not shown: {fault}"))
    except Exception as fault:
        say(Failed(question.number, f"planning broke down: {type(fault).__name__}: {fault}"))


def _day_that_binds(question: Question) -> Day:
    """The day that a plan must keep to: of a day under way what is past binds nobody, and what is given up is out."""
    if question.progress.now is None or question.previous is None:
        return question.day
    return day_as_it_went(question.day, question.previous, question.progress.since(question.previous.since or 0))[0]


def main() -> None:
    """Be ready before the first question: the solver takes a second to load."""
    what_does_not_hold()
    threading.Thread(target=load_solver, daemon=True).start()
    serve()


if __name__ == "__main__":
    main()
