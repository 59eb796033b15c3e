"""The planning process as it ships, killed or out of memory: the last good plan stays, the window lives."""

import os
import signal
import sys
from collections.abc import Callable, Iterator

import pytest
from pytestqt.qtbot import QtBot

from planner import cli
from planner.day import Day
from planner.desktop.thinking import planning_process
from planner.desktop.thinking.planning_process import PlanningProcess
from planner.desktop.thinking.questions import Answer, Better, Failed, Question
from planner.plan.checker import broken_rules
from tests.cli.commands import Run
from tests.days import tiny_day
from tests.faults.large import large_day

STARVED = """
import resource, sys
import planner.engine.search, planner.fit.verdict, planner.plan.checker
used = int(open("/proc/self/statm").read().split()[0]) * resource.getpagesize()
resource.setrlimit(resource.RLIMIT_AS, (used + 40 * 2**20,) * 2)
from planner.desktop.thinking.thinker import serve
serve()
"""
"""The planning process with hardly more memory than its modules take."""

Made = Callable[..., PlanningProcess]


@pytest.fixture
def process(qtbot: QtBot) -> Iterator[Made]:
    made: list[PlanningProcess] = []

    def make(*command: str) -> PlanningProcess:
        made.append(PlanningProcess(command=command or planning_process.OURS))
        return made[-1]

    yield make
    for one in made:
        one.end()


def question(day: Day, seconds: float = 30.0) -> Question:
    return Question(0, "plan", day, seconds=seconds)


def test_killed_while_it_thinks_the_better_plan_stays_and_the_next_day_is_planned(qtbot: QtBot, process: Made) -> None:
    ours, day = process(), large_day(60, 3)
    heard: list[Better] = []
    ours.better.connect(heard.append)
    with qtbot.waitSignal(ours.better, timeout=60_000):
        ours.ask(question(day))
    with qtbot.waitSignal(ours.failed, timeout=20_000) as failed:
        os.kill(ours.pid, signal.SIGKILL)
    (told,) = failed.args or [None]
    assert isinstance(told, Failed)
    assert "ended before it was done" in told.words
    assert broken_rules(day, heard[0].plan) == []
    assert not ours.is_busy
    with qtbot.waitSignal(ours.answered, timeout=60_000) as answered:
        ours.ask(question(tiny_day(), 2.0))
    (answer,) = answered.args or [None]
    assert isinstance(answer, Answer)
    assert answer.plan is not None


@pytest.mark.skipif(sys.platform != "linux", reason="reads its own size in /proc")
def test_out_of_memory_is_told_and_the_window_lives(qtbot: QtBot, process: Made) -> None:
    """A real limit on its memory (setrlimit): it fails by itself or is ended, and either is heard."""
    starved = process(sys.executable, "-c", STARVED)
    heard: list[object] = []
    starved.failed.connect(heard.append)
    starved.answered.connect(heard.append)
    starved.ask(question(large_day(), 10.0))
    qtbot.waitUntil(lambda: bool(heard), timeout=90_000)
    [told] = heard
    assert isinstance(told, Failed)
    assert "memory" in told.words
    assert not starved.is_busy


def test_a_command_out_of_memory_says_so(run: Run, tiny_file: object, monkeypatch: pytest.MonkeyPatch) -> None:
    def starved(*_: object, **__: object) -> None:
        raise MemoryError

    monkeypatch.setattr("planner.cli.settling.plan_day", starved)
    ran = run("plan", tiny_file)
    assert ran.code == cli.FAULTY
    assert ran.told == ["There was not enough memory; close other programs and try again."]
