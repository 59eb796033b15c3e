"""Window and planning process speak JSON: what they say comes back the same, and nothing but data comes of it."""

import datetime as dt
import json
import pickle
from pathlib import Path
from typing import Any

import pytest

from planner.day.reading import read_day
from planner.desktop.model.marks import Mark, Progress
from planner.desktop.thinking import questions
from planner.desktop.thinking.questions import Answer, Question, Unpacker, packed
from planner.desktop.thinking.wire import NotPlainError, from_json, to_json
from planner.engine import first_plan
from planner.fit.risk import play_out
from planner.fit.verdict import verdict
from tests.cli.commands import SAMPLES


@pytest.mark.parametrize("sample", sorted(SAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_a_question_with_its_day_and_plan_comes_back_the_same(sample: Path) -> None:
    day = read_day(sample)
    marks = Progress((Mark("elm", "treat", 496, None),), arrived=(("elm", 490),), said=500)
    asked = Question(3, "plan", day, first_plan(day), progress=marks, extra=("a", 1, None))
    [heard] = Unpacker().feed(packed(asked))
    assert heard == asked
    assert isinstance(heard, Question)
    assert heard.day.model_dump() == day.model_dump()


def test_an_answer_with_verdict_and_finding_comes_back_the_same() -> None:
    day = read_day(SAMPLES / "tiny.toml")
    plan = first_plan(day)
    assert plan is not None
    risk = play_out(day, plan)
    answer = Answer(4, plan, verdict(day, plan, risk), ("x",), finding=risk)
    assert Unpacker().feed(packed(answer)) == [answer]


@pytest.mark.parametrize(
    "value",
    [
        (1, 2.5, None, True, "é\u202e\ud800"),
        [(), [], {}],
        {("a", 1): [dt.date(2026, 6, 16), dt.time(7, 30), dt.datetime(2026, 6, 16, 7, 30)]},
        frozenset({1, 2}),
        b"\x00\xff",
        Path("a/b"),
        {"is": "table", "of": "x"},
    ],
)
def test_plain_data_comes_back_the_same(value: Any) -> None:
    found = from_json(to_json(value))
    assert found == value
    assert type(found) is type(value) or isinstance(value, Path)


@pytest.mark.parametrize("kind", ["os:system", "planner.cli:main", "planner.resources:Path", "builtins:eval"])
def test_nothing_but_data_of_ours_is_made(kind: str) -> None:
    with pytest.raises(NotPlainError):
        from_json(json.dumps({"is": kind, "of": {}}))


def test_what_is_no_data_does_not_go_through() -> None:
    with pytest.raises(NotPlainError):
        to_json(print)
    with pytest.raises(NotPlainError):
        to_json({"a": object()})


def test_a_pickle_is_not_read() -> None:
    """A pickle can run anything (Python's documentation of the module says so)."""
    body = pickle.dumps({"a": 1})
    with pytest.raises(ValueError, match=r"codec|JSON|Expecting"):
        Unpacker().feed(len(body).to_bytes(4, "big") + body)
    assert "pickle" not in Path(questions.__file__).read_text(encoding="utf-8")
