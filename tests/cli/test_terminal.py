"""Nothing in a file gives orders to the terminal (ECMA-48: what begins with ESC or CSI; BEL ends a title)."""

from pathlib import Path
from typing import get_args

import pytest

from planner import cli
from planner.cli import on_terminal
from planner.cli.saying import harmless
from planner.day import Day
from planner.day.file import day_to_toml
from planner.plan.plan_file import plan_to_json
from planner.sheet.papers.hand_order import RowKind
from tests.cli.commands import Run
from tests.days import tiny_day
from tests.sheet.plans import tiny_plan

ORDERS = "\x1b]0;pwned\x07\x1b[2J\x9b31m\u202eabc\u2066"
SIGNS = "\x1b\x07\x9b\u202e\u2066"


@pytest.fixture
def day(tmp_path: Path) -> Path:
    """The tiny day with such orders in each of its names, and its plan."""
    tables = tiny_day().model_dump()
    tables["title"] = tables["hands"]["ash"]["name"] = tables["places"]["elm"]["name"] = ORDERS
    for kit in tables["kit"].values():
        kit["name"] = ORDERS
    job = tables["jobs"]["elm"]
    job["title"] = job["customer"]["name"] = ORDERS
    job["grounds"]["rear"]["name"] = job["grounds"]["rear"]["way_in"]["through"] = ORDERS
    for stage in job["stages"].values():
        stage["name"] = ORDERS
        stage["kind"] = f"work {ORDERS}"
    hostile = Day.model_validate(tables)
    file = tmp_path / "day.toml"
    file.write_text(day_to_toml(hostile), encoding="utf-8")
    file.with_suffix(".plan.json").write_text(plan_to_json(tiny_plan(), hostile), encoding="utf-8")
    return file


def test_no_order_reaches_the_terminal(run: Run, day: Path, tmp_path: Path) -> None:
    late = tmp_path / "late.toml"
    late.write_text(day.read_text(encoding="utf-8").replace('place = "elm"', 'place = "elm"\ndone_by = "08:40"'))
    for words, code in (
        (("plan", day, "--seconds", "60"), cli.DONE),
        (("plan", late, "--seconds", "30"), cli.NO_PLAN),
        (("check", late, day.with_suffix(".plan.json")), cli.BROKEN),
        (("sheet", late, "--plan", day.with_suffix(".plan.json"), "-o", tmp_path / "x.html"), cli.BROKEN),
        (("fit", day, "--seconds", "60", "--chain"), cli.DONE),
        (("fit", day, "--seconds", "60", "--study", "two-days", "--study-seconds", "4"), cli.DONE),
        (("fit", late, "--seconds", "30", "--study", "none"), cli.NO_PLAN),
        (("now", day, "--at", "09:30", "--done", "treat@09:00"), cli.ASKED),
        (("now", day, "--at", "09:30", "--done", "treat@09:00", "--likely"), cli.DONE),
        (("pace", "--note", day, "--took", "rinse=40"), cli.DONE),
        (("pace",), cli.DONE),
        (("pace", "--day", day), cli.DONE),
        (
            ("quote", "add", "--title", f"a{ORDERS}", "--promise", ORDERS, "--work", "recipe=clear-gutters", "run=5 m"),
            0,
        ),
        (("quote", "list"), cli.DONE),
        (("quote", "add", "--title", ORDERS, "--work", f"recipe={ORDERS}"), cli.FAULTY),
    ):
        ran = run(*words)
        assert ran.code == code, words
        assert not set(SIGNS) & set(ran.out + ran.err), words


def test_all_other_signs_stay() -> None:
    said = "Żółć, 東京 שלום مرحبا e\u0301 👷🏽\u200d♀️ half line\nnext"
    assert harmless(said) == said
    assert harmless(f"a{ORDERS}b") == "a]0;pwned[2J31mabcb"


def test_every_kind_of_row_has_its_own_mark() -> None:
    assert set(on_terminal.SIGNS) == set(get_args(RowKind))
    assert len(set(on_terminal.SIGNS.values())) == len(on_terminal.SIGNS)
