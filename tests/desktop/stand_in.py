"""A stand-in for the planning process, so that the window's tests need no solver.

It gives the serial order at once. The day's title asks for trouble: "slow" thinks until it is stopped, "deaf" does
not hear that either, "dies" is killed by the system, "starved" runs out of memory, "crashes" has a bug.
"""

import os
import signal
import threading
import time
from collections.abc import Callable

from planner.desktop.thinking.questions import Answer, Question
from planner.desktop.thinking.thinker import Progress, serve
from planner.engine import first_plan
from planner.plan.plan import Plan

TROUBLE = ("slow", "deaf", "dies", "starved", "crashes")


def think(
    question: Question, on_better: Callable[[Plan], None], on_progress: Progress, stop: threading.Event
) -> Answer:
    if question.task != "plan":
        from planner.desktop.thinking.studies import study

        return Answer(question.number, finding=study(question, on_progress, stop))
    plan = first_plan(question.day)
    title = question.day.title
    if plan is not None:
        on_better(plan)
    if title == "slow":
        stop.wait(60)
    elif title == "deaf":
        time.sleep(60)
    elif title == "dies":
        os.kill(os.getpid(), signal.SIGKILL)
    elif title == "starved":
        raise MemoryError
    elif title == "crashes":
        raise RuntimeError("a bug")
    elif title == "cannot":
        return Answer(question.number, conflict=("quiet until 09:00", "promised done by 08:00"))
    return Answer(question.number, plan, stopped=stop.is_set())


if __name__ == "__main__":
    serve(think)
