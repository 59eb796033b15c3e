"""The window's end of planning: it hears, stops, and outlives whatever becomes of the process."""

import time
from collections.abc import Iterator
from typing import Any

import pytest
from PySide6.QtCore import QCoreApplication, QObject, QProcess
from pytestqt.qtbot import QtBot

from planner.desktop.thinking import planning_process
from planner.desktop.thinking.ahead import begin_ahead
from planner.desktop.thinking.planning_process import PlanningProcess
from planner.desktop.thinking.questions import Answer, Better, Failed, Question, Unpacker, packed
from planner.engine import first_plan
from planner.plan.checker import BrokenPlan, broken_rules, checked
from planner.plan.plan import Plan
from tests.days import tiny_day
from tests.desktop.windows import STAND_IN


@pytest.fixture
def process(qtbot: QtBot) -> Iterator[PlanningProcess]:
    made = PlanningProcess(command=STAND_IN)
    yield made
    made.end()


def question(title: str = "", seconds: float = 20.0) -> Question:
    return Question(0, "plan", tiny_day(title=title), seconds=seconds)


def test_messages_come_whole_however_the_pipe_cuts_them() -> None:
    messages = [question("a"), Answer(3, conflict=("x", "y")), Failed(4, "why")]
    stream = b"".join(packed(message) for message in messages)
    unpacker = Unpacker()
    heard = [message for byte in stream for message in unpacker.feed(bytes([byte]))]
    assert heard == messages
    assert Unpacker().feed(stream) == messages


def test_a_process_started_ahead_is_the_one_that_thinks(qtbot: QtBot) -> None:
    waiting = QObject()
    begin_ahead(waiting)
    begun = waiting.findChild(QProcess)
    first, second = PlanningProcess(waiting), PlanningProcess(waiting)
    for process in (first, second):
        process.warm_up()
    assert begun.waitForStarted(60_000)
    assert first.pid == begun.processId() > 0
    assert second.pid != first.pid
    for process in (first, second):
        process.end()


def test_a_day_is_planned_with_a_better_plan_on_the_way(qtbot: QtBot, process: PlanningProcess) -> None:
    heard: list[Better] = []
    process.better.connect(heard.append)
    with qtbot.waitSignal(process.answered, timeout=120_000) as answered:
        process.ask(question())
    (answer,) = answered.args or [None]
    assert isinstance(answer, Answer)
    assert answer.plan is not None
    assert broken_rules(tiny_day(), answer.plan) == []
    assert len(heard) == 1
    assert not process.is_busy


def test_stopping_keeps_the_best(qtbot: QtBot, process: PlanningProcess) -> None:
    with qtbot.waitSignal(process.better, timeout=120_000):
        process.ask(question("slow"))
    with qtbot.waitSignal(process.answered, timeout=120_000) as answered:
        process.stop()
    (answer,) = answered.args or [None]
    assert answer.stopped
    assert answer.plan is not None


@pytest.mark.parametrize(("title", "said"), [("dies", "ended"), ("starved", "memory"), ("crashes", "a bug")])
def test_trouble_is_told_and_the_next_question_is_answered(
    qtbot: QtBot, process: PlanningProcess, title: str, said: str
) -> None:
    with qtbot.waitSignal(process.failed, timeout=120_000) as failed:
        process.ask(question(title))
    (message,) = failed.args or [None]
    assert said in message.words
    assert not process.is_busy
    with qtbot.waitSignal(process.answered, timeout=120_000):
        process.ask(question())


def test_a_process_that_does_not_hear_is_ended(
    qtbot: QtBot, process: PlanningProcess, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While the window itself stands still (the lid is shut), none of the process's time goes."""
    monkeypatch.setattr(planning_process, "STOP_SECONDS", 0.7)
    with qtbot.waitSignal(process.better, timeout=120_000):
        process.ask(question("deaf"))
    with qtbot.waitSignal(process.failed, timeout=120_000) as failed:
        process.stop()
        time.sleep(1.0)
        QCoreApplication.processEvents()
        assert process.is_busy
    assert "best plan so far is kept" in (failed.args or [None])[0].words


def test_a_process_that_takes_far_too_long_is_ended(
    qtbot: QtBot, process: PlanningProcess, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(planning_process, "GRACE_SECONDS", 0.0)
    with qtbot.waitSignal(process.failed, timeout=120_000) as failed:
        process.ask(question("deaf", seconds=0.5))
    assert "far longer" in (failed.args or [None])[0].words


def test_a_program_that_is_not_there_is_told(qtbot: QtBot) -> None:
    process = PlanningProcess(command=("/there/is/no/such/program",))
    with qtbot.waitSignal(process.failed, timeout=120_000) as failed:
        process.ask(question())
    assert "could not be started" in (failed.args or [None])[0].words


def test_the_answer_to_a_question_put_aside_is_not_heard(qtbot: QtBot, process: PlanningProcess) -> None:
    answers: list[Answer] = []
    process.answered.connect(answers.append)
    process.ask(question("slow"))
    last = process.ask(question())
    qtbot.waitUntil(lambda: bool(answers), timeout=120_000)
    assert [answer.number for answer in answers] == [last]


def test_a_plan_that_breaks_a_rule_is_not_let_through() -> None:
    day = tiny_day()
    good = first_plan(day)
    assert good is not None
    assert checked(day, good) is good
    changes: dict[str, Any] = {"works": good.works[1:]}
    with pytest.raises(BrokenPlan):
        checked(day, Plan(**({name: getattr(good, name) for name in ("drives", "visits", "works")} | changes)))
