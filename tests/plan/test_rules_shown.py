"""Every rule of the checker is held by a test that breaks it, and the newer ones are shown by a day that is shipped."""

import ast
from functools import cache
from pathlib import Path

import pytest

from planner.day import Day
from planner.day.reading import read_day
from planner.engine.build import build
from planner.engine.problem import Problem
from planner.plan.checker import RULES
from tests.plan.rules_shown import OLDER, SHOWN, Shown

TESTS = Path(__file__).parents[1]
SAMPLES = TESTS.parent / "sample_days"


@cache
def sample(name: str) -> tuple[Day, Problem]:
    day = read_day(SAMPLES / f"{name}.toml")
    return day, build(day)


def test_every_rule_is_in_one_of_the_two() -> None:
    names = [f"{rule.__module__.rpartition('.')[2]}.{rule.__name__}" for rule in RULES]
    assert sorted(names) == sorted([*OLDER, *(shown.rule for shown in SHOWN)])


@pytest.mark.parametrize("shown", SHOWN, ids=lambda shown: shown.rule)
def test_a_test_holds_it_and_a_day_shows_it(shown: Shown) -> None:
    file, _, name = shown.holds.partition("::")
    tree = ast.parse((TESTS / file).read_text("utf-8"))
    [test] = [node for node in tree.body if isinstance(node, ast.FunctionDef) and node.name == name]
    says_both = sum(isinstance(node, ast.Assert) for node in ast.walk(test)) >= 2
    assert says_both or "is_kept" in {given.arg for given in test.args.args}, "that it is kept, and that it is broken"
    assert shown.binds(*sample(shown.sample))
