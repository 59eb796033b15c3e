"""A clock that is put forward or back while we work: no wait or budget goes by it, and marks made by it are told."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

import planner
from planner.desktop.thinking.planning_process import PlanningProcess
from planner.desktop.thinking.questions import Failed, Question
from planner.engine import first_plan
from planner.plan.progress import Noted, Progress
from tests.days import tiny_day

WALL_CLOCKS = {"time", "time_ns", "localtime", "gmtime"}
"""Of the module ``time``: those that jump with the clock; ``monotonic`` does not (POSIX, clock_gettime)."""


def test_no_length_of_time_is_taken_from_the_clock_on_the_wall() -> None:
    read = []
    for path in Path(planner.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "time":
                read.append((path.name, node.attr))
            if isinstance(node, ast.ImportFrom) and node.module == "time":
                read += [(path.name, alias.name) for alias in node.names]
    assert any(name == "monotonic" for _, name in read), "the scan sees what it looks for"
    assert [found for found in read if found[1] in WALL_CLOCKS] == []


@pytest.fixture
def process(qtbot: QtBot) -> Iterator[PlanningProcess]:
    made = PlanningProcess()
    yield made
    made.end()


def test_a_stage_marked_done_before_it_was_begun_is_told_with_what_to_do(
    qtbot: QtBot, process: PlanningProcess
) -> None:
    """As happens when the clock is put back between the two marks."""
    day = tiny_day()
    plan = first_plan(day)
    assert plan is not None
    first = min(plan.works, key=lambda work: work.start)
    marks = Progress(first.start, (Noted(first.job, first.stage, first.start, first.start - 60),))
    with qtbot.waitSignal(process.failed, timeout=60_000) as failed:
        process.ask(Question(0, "plan", day, previous=plan, seconds=2.0, progress=marks))
    (told,) = failed.args or [None]
    assert isinstance(told, Failed)
    assert f"{first.job}.{first.stage}' cannot end before it begins" in told.words
    assert "undo that mark" in told.words
