"""What window and planning process say comes back the same, and nothing but data comes of it."""

import pickle
from pathlib import Path

import pytest

from planner.day.reading import read_day
from planner.desktop.thinking.questions import Answer, Question, Unpacker, packed
from planner.engine import first_plan
from planner.fit.risk import play_out
from planner.fit.verdict import verdict
from planner.plan.progress import Noted, Progress
from tests.cli.commands import SAMPLES


@pytest.mark.parametrize("sample", sorted(SAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_a_question_with_its_day_and_plan_comes_back_the_same(sample: Path) -> None:
    day = read_day(sample)
    marks = Progress(500, (Noted("elm", "treat", 496, None),), arrived={"elm": 490}, said=500)
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


def test_a_pickle_is_not_read() -> None:
    """A pickle can run anything (Python's documentation of the module says so)."""
    body = pickle.dumps({"a": 1})
    with pytest.raises(ValueError, match=r"codec|JSON|Expecting"):
        Unpacker().feed(len(body).to_bytes(4, "big") + body)
