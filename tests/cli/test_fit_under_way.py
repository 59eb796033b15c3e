"""``fit`` on a day under way: only what is left can be changed, and only that is offered."""

from pathlib import Path

import pytest

from planner import cli
from planner.plan.kept import read_kept
from planner.trade.units import show_clock
from tests.cli.commands import Run

QUICK = ("--seconds", "60", "--workers", "1")


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


def of_folder(run: Run, day: Path) -> list[str]:
    """The row of a day in the table of its folder."""
    ran = run("fit", day.parent, "--seconds", "60")
    return next(line for line in ran.out.splitlines() if day.name in line).split()


def test_in_the_table_of_its_folder_a_day_is_as_it_went(run: Run, planned: Path) -> None:
    under_way(run, planned, finish="09:55")
    noted = read_kept(planned)
    row = of_folder(run, planned)
    assert noted is not None
    assert row[row.index("fit") + 1] == show_clock(noted.plan.home)
    assert read_kept(planned) == noted, "nothing of it is forgotten"


def test_a_day_under_way_that_was_changed_is_not_planned_from_the_morning(run: Run, planned: Path) -> None:
    under_way(run, planned, finish="16:00")
    planned.write_text(planned.read_text(encoding="utf-8").replace('"15 min"', '"40 min"'), encoding="utf-8")
    row = " ".join(of_folder(run, planned))
    assert "no plan" in row
    assert "under way" in " ".join(run("fit", planned.parent, "--seconds", "60").out.split())


def test_what_the_table_of_a_folder_shows_is_the_plan(run: Run, tiny: Path) -> None:
    row = of_folder(run, tiny)
    kept = read_kept(tiny)
    assert kept is not None
    assert show_clock(kept.plan.home) in row
    assert run("plan", tiny, *QUICK).code == cli.DONE
    again = read_kept(tiny)
    assert again is not None
    assert again.plan.home == kept.plan.home


def test_what_was_proven_of_a_day_is_not_said_of_another(run: Run, planned: Path) -> None:
    under_way(run, planned, finish="09:55")
    assert "(proven)" in " ".join(run("fit", planned, "--study", "none").out.split())
    text = planned.read_text(encoding="utf-8")
    more = '[hands.nel]\nown_transport = true\nhours = ["09:10", "11:00"]\n\n[kit]'
    planned.write_text(text.replace("[kit]", more, 1), encoding="utf-8")
    ran = run("fit", planned, "--study", "none")
    assert ran.code == cli.LATE
    assert "(proven)" not in " ".join(ran.out.split())
    assert "changed since: the hands; plan its rest with: slackwater now" in ran.err
