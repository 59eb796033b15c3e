"""``fit`` on a day under way: only what is left can be changed, and only that is offered."""

from pathlib import Path

import pytest

from planner import cli
from tests.cli.commands import Run

QUICK = ("--seconds", "4", "--workers", "1")


def under_way(run: Run, day: Path, *, finish: str) -> None:
    """The day of the plan by hand, treated as planned and not yet swept at nine, with another latest finish."""
    text = day.read_text(encoding="utf-8")
    assert 'finish = "' in text
    head, tail = text.split('finish = "', 1)
    day.write_text(f'{head}finish = "{finish}"{tail.split(chr(34), 1)[1]}', encoding="utf-8")
    ran = run("now", day, "--at", "09:00", "--done", "treat@08:28", "--not-yet", "sweep", *QUICK)
    assert ran.code in (cli.DONE, cli.LATE), ran.err


def test_a_rest_that_is_late_is_told_what_can_be_given_up_and_who_could_come(run: Run, planned: Path) -> None:
    under_way(run, planned, finish="09:55")
    ran = run("fit", planned, "--study-seconds", "4")
    assert ran.code == cli.LATE
    assert "--dropped elm.sweep" in " ".join(ran.out.split())
    assert "Help that could still come" in ran.out
    for past in ("start 30 min earlier", "left at home", "moved to another day", "all day"):
        assert past not in " ".join(ran.out.split())


@pytest.mark.parametrize("words", [("--study", "trade-off"), ("--study", "two-days"), ("--study", "way-in")])
def test_what_weighs_a_day_before_it_begins_is_refused(run: Run, planned: Path, words: tuple[str, ...]) -> None:
    under_way(run, planned, finish="16:00")
    ran = run("fit", planned, *words)
    assert ran.code == cli.MISUSED
    assert ran.out == ""
    assert f"{words[0]} {words[1]}: {planned} is under way" in ran.err
    assert "may be remedies or second-hand" in ran.err


def test_all_that_can_be_asked_of_a_rest_is_answered(run: Run, planned: Path) -> None:
    under_way(run, planned, finish="16:00")
    ran = run("fit", planned, "--study", "all", "--study-seconds", "4")
    assert ran.code == cli.DONE
    assert "What is left" in ran.out
    assert "Help that could still come" in ran.out
