"""README and DEVELOPERS tell the truth: excerpts work, and what they name is there."""

import importlib
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from planner import cli
from planner.day.checks.all_checks import faults_in
from planner.day.day import Day
from planner.day.words import FILE
from planner.plan.checker import RULES
from planner.trade.library import METHOD_WORDS
from planner.trade.recipes.laying_out import expand
from tests.architecture import ORDER, ROOT

README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
EXCERPTS = [tomllib.loads(block) for block in re.findall(r"```toml\n(.*?)```", README, re.S)]
SAMPLES = ROOT / "sample_days"


def is_within(part: Any, whole: Any) -> bool:
    """Whether all that a part says, the whole says too."""
    if isinstance(part, dict):
        return isinstance(whole, dict) and all(key in whole and is_within(part[key], whole[key]) for key in part)
    return part == whole


def test_the_first_excerpt_is_the_sample_day_it_says_it_is() -> None:
    whole = tomllib.loads((SAMPLES / "tiny.toml").read_text("utf-8"))
    assert is_within(EXCERPTS[0], whole)
    assert not is_within(EXCERPTS[0] | {"kit": {"broom": {"load": 9}}}, whole)


def test_the_recipe_in_the_second_excerpt_makes_a_day() -> None:
    around = tomllib.loads((SAMPLES / "tiny.toml").read_text("utf-8"))
    around |= EXCERPTS[1] | {"kit": {}, "places": {"yard": {}, "larch": {}}}
    around["travel"] = {"trips": [{"from": "yard", "to": "larch", "minutes": "10 min"}]}
    day = Day.model_validate(expand(around), context=FILE)
    assert faults_in(day) == []
    assert {"grind", "wash"} <= {stage.kind for _, _, stage in day.stages()}


def test_the_readme_names_every_command_and_exit_code() -> None:
    named = re.findall(r"^\| `slackwater ([a-z-]+)", README, re.M)
    assert sorted(named) == sorted(cli.COMMANDS)
    told = {int(code) for code in re.findall(r"(?:[:;]\s)(\d+) [a-z]", README.split("Exit codes")[1].split("\n\n")[0])}
    codes = (cli.DONE, cli.FAULTY, cli.MISUSED, cli.NO_PLAN, cli.LATE, cli.BROKEN, cli.NOT_FOUND, cli.ASKED)
    assert told == {*codes, cli.STOPPED}


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_every_file_that_is_named_is_there(text: str) -> None:
    named = set(re.findall(r"`((?:planner|tests|resources|sample_days|\.ci)/[\w./-]+)`", text))
    named |= set(re.findall(r"\]\(((?:resources|tests)/[\w./-]+)\)", text))
    assert named
    assert {name for name in named if not (ROOT / name).exists()} == set()


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_every_module_that_is_run_is_there(text: str) -> None:
    for module in re.findall(r"python -m (tests[\w.]*)", text):
        path = ROOT / Path(*module.split("."))
        assert path.with_suffix(".py").exists() or (path / "__main__.py").exists(), module


def test_developers_names_every_package_and_rule() -> None:
    for package in ORDER:
        assert f"| `{package}` |" in DEVELOPERS
    listed = DEVELOPERS.split("## The thirteen rules")[1].split("## What is best")[0]
    numbers = [int(number) for number in re.findall(r"^(\d+)\. \*\*", listed, re.M)]
    stated = {int(n) for rule in RULES for n in re.findall(r"^Rule (\d+):", rule.__doc__ or "")}
    assert numbers == sorted(stated)


def test_developers_names_engine_modules_that_are_there() -> None:
    reading = DEVELOPERS.split("## How plans are found")[1].split("## Tests")[0]
    for name in re.findall(r"\*\*`([\w.]+)`\*\*", reading):
        assert importlib.util.find_spec(f"planner.engine.{name}") is not None, name


@pytest.mark.parametrize("word", [*METHOD_WORDS, "at_most", "drinks", "slower"])
def test_a_word_that_only_the_library_knows_is_said_where_it_is_used(word: str) -> None:
    head = (ROOT / "resources" / "trade" / "methods.toml").read_text("utf-8").split("# ---")[0]
    assert f"`{word}`" in DEVELOPERS or re.search(rf"^# {word} ", head, re.M)


@pytest.mark.parametrize("word", ["pass_depth", "highest", "at_most", "drinks"])
def test_developers_says_the_words_that_choose_and_reckon(word: str) -> None:
    assert f"`{word}`" in DEVELOPERS
