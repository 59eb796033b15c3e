"""The soak run counts what it should: a few days hold, and every kind of failure is seen."""

from dataclasses import replace
from typing import Any

import pytest

from planner import engine
from planner.engine import Result
from tests import soak


def test_a_few_random_days_hold() -> None:
    *_, counts = soak.soak(days=2, seconds=0.5, seed=1)
    assert counts.days == 2
    assert counts.plans + counts.impossible + counts.none_found == 2
    assert not counts.has_failed, counts.faults


def test_the_command_runs(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr("sys.argv", ["soak", "--days", "1", "--first", "2", "--seconds", "0.5"])
    assert soak.main() == 0
    assert capsys.readouterr().out.startswith("1 days: ")


def _failing(*args: Any, **words: Any) -> Result:
    raise KeyError("a kit that is not there")


def _refusing(*args: Any, **words: Any) -> Result:
    return Result(None, refused=("rule 2: two things at once",))


def _breaking(day: Any, **words: Any) -> Result:
    plan = engine.first_plan(day)
    assert plan is not None
    return Result(replace(plan, works=plan.works[1:]))


@pytest.mark.parametrize("stand_in", [_failing, _refusing, _breaking])
def test_a_failure_is_counted_and_named(stand_in: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "plan_day", stand_in)
    *_, counts = soak.soak(days=1, seconds=1, seed=1)
    assert counts.has_failed
    assert counts.faults[0].startswith("day 0 of seed 1: ")


def test_growing_memory_is_a_failure_and_a_level_is_none() -> None:
    grows = soak.Counts(memory=[100.0 + 2 * n for n in range(100)])
    level = soak.Counts(memory=[100.0] * 25 + [180.0] * 75)
    assert grows.has_failed
    assert not level.has_failed, "what is loaded at the start is no growth"
