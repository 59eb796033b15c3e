"""The studies of a plan that the window asks for, each a function that runs in a process of its own.

What a study gives goes back through a pipe, so it is plain data.
"""

import threading
from collections.abc import Callable
from typing import Any

from planner.desktop.questions import Question

Study = Callable[[Question, threading.Event], Any]


def study(question: Question, stop: threading.Event) -> Any:
    """What the study named by the question's task finds.

    Raises
    ------
    KeyError
        When there is no such study.
    """
    return STUDIES[question.task](question, stop)


def sheet_pdf(question: Question, stop: threading.Event) -> bytes:
    """The run sheet as a PDF; ``extra`` is the paper."""
    from planner.fit.verdict import verdict
    from planner.sheet.chart import chart
    from planner.sheet.pdf import run_sheet_pdf
    from planner.sheet.runsheet import run_sheet

    day, plan = question.day, question.previous
    assert plan is not None
    sheet = run_sheet(day, plan, verdict=verdict(day, plan).sentence)
    return run_sheet_pdf(sheet, paper=question.extra or "A4", chart=chart(day, plan, width=1000))


STUDIES: dict[str, Study] = {"sheet": sheet_pdf}
