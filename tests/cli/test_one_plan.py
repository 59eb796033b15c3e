"""One day, one plan: what a command showed last is what every other shows, a day under way as it went."""

import csv
import json
from pathlib import Path

import icalendar
import pytest

from planner import cli
from planner.plan.kept import read_kept
from planner.plan.plan import Plan
from tests.cli.commands import Run

QUICK = ("--seconds", "2")


def kept_plan(path: Path) -> Plan:
    kept = read_kept(path)
    assert kept is not None
    return kept.plan


def starts_in_tables(folder: Path) -> dict[str, int]:
    """When each stage begins, as another program reads the table."""
    with (folder / "timeline.csv").open(encoding="utf-8-sig", newline="") as lines:
        return {row["stage"]: int(row["start"]) for row in csv.DictReader(lines) if row["stage"]}


def outputs(run: Run, day: Path) -> dict[str, object]:
    """Each document of a day, made now: the codes, and the times of its stages as told by each."""
    out = day.parent
    codes = {
        "sheet": run("sheet", day, "-o", out / "x.html", *QUICK).code,
        "tables": run("export", day, "tables", "-o", out / "tables", *QUICK).code,
        "calendar": run("export", day, "calendar", "--stages", "-o", out / "x.ics", *QUICK).code,
        "json": run("export", day, "json", "-o", out / "x.json", *QUICK).code,
        "fit": run("fit", day, *QUICK).code,
    }
    works = json.loads((out / "x.json").read_text("utf-8"))["works"]
    calendar = icalendar.Calendar.from_ical((out / "x.ics").read_text("utf-8"))
    return {
        "codes": codes,
        "json": {work["stage"]: work["start"] for work in works},
        "tables": starts_in_tables(out / "tables"),
        "events": len(list(calendar.walk("VEVENT"))),
        "page": (out / "x.html").read_text("utf-8"),
    }


def test_what_was_shown_is_what_is_printed(run: Run, tiny: Path) -> None:
    assert run("plan", tiny, *QUICK).code == cli.DONE
    plan = kept_plan(tiny)
    found = outputs(run, tiny)
    assert set(found["codes"].values()) == {cli.DONE}
    assert found["json"] == found["tables"] == {work.stage: work.start for work in plan.works}
    assert kept_plan(tiny) == plan, "nobody planned again"
    assert run("check", tiny, tiny.with_suffix(".plan.json")).code == cli.DONE


def test_a_sheet_of_a_day_that_was_never_planned_keeps_the_plan_that_it_shows(run: Run, tiny: Path) -> None:
    assert run("sheet", tiny, "-o", tiny.with_name("x.html"), *QUICK).code == cli.DONE
    plan = kept_plan(tiny)
    assert run("plan", tiny, "--look", *QUICK).code == cli.DONE
    assert kept_plan(tiny) == plan


@pytest.mark.parametrize(
    ("old", "new", "part"),
    [
        ('minutes = "20 min"', 'minutes = "22 min"', "the job 'elm'"),
        ("cost_per_hour = 24.0", "cost_per_hour = 26.0", "the hands"),
        ('set_up = "4 min"', 'set_up = "5 min"', "the kit"),
    ],
)
def test_a_plan_of_a_changed_day_is_told_with_what_changed(
    run: Run, tiny: Path, old: str, new: str, part: str
) -> None:
    run("plan", tiny, *QUICK)
    text = tiny.read_text()
    assert old in text
    tiny.write_text(text.replace(old, new))
    ran = run("sheet", tiny, "-o", tiny.with_name("x.html"), *QUICK)
    assert ran.code == cli.DONE
    assert f"changed since: {part}" in ran.err


def test_a_comment_changes_nothing(run: Run, tiny: Path) -> None:
    run("plan", tiny, *QUICK)
    plan = kept_plan(tiny)
    tiny.write_text("# for Tuesday\n" + tiny.read_text())
    ran = run("sheet", tiny, "-o", tiny.with_name("x.html"), *QUICK)
    assert (ran.code, ran.err) == (cli.DONE, "")
    assert kept_plan(tiny) == plan


def test_a_plan_for_other_hands_is_a_question_and_not_kept(run: Run, tiny: Path) -> None:
    run("plan", tiny, *QUICK)
    plan = kept_plan(tiny)
    assert run("plan", tiny, "--hands", "2", *QUICK).code == cli.DONE
    assert kept_plan(tiny) == plan


TOLD = [
    ("a stage done late", "08:40", ("--done", "treat@08:38")),
    ("a stage given up", "08:40", ("--done", "treat@08:38", "--dropped", "sweep")),
    ("rain at noon", "08:40", ("--done", "treat@08:38", "--rain", "12:00")),
    ("the van there late", "08:20", ("--arrived", "elm@08:18")),
    ("one under way", "08:45", ("--done", "treat@08:40", "--begun", "sweep@08:44")),
    ("most of it done", "09:40", ("--done", "treat@08:30", "sweep@08:55", "rinse@09:30")),
]


@pytest.mark.parametrize(("at", "words"), [told[1:] for told in TOLD], ids=[told[0] for told in TOLD])
def test_every_output_shows_the_day_as_it_went(run: Run, tiny: Path, at: str, words: tuple[str, ...]) -> None:
    run("plan", tiny, *QUICK)
    assert run("now", tiny, "--at", at, *words, *QUICK).code == cli.DONE
    plan = kept_plan(tiny)
    found = outputs(run, tiny)
    assert set(found["codes"].values()) == {cli.DONE}
    assert found["json"] == found["tables"] == {work.stage: work.start for work in plan.works}
    assert run("check", tiny, tiny.with_suffix(".plan.json")).code == cli.DONE
    assert kept_plan(tiny) == plan, "no output planned the day from the morning again"
    if "--dropped" in words:
        assert "sweep" not in found["json"]
        assert "Sweep the path" not in str(found["page"])


def test_a_day_under_way_that_was_changed_is_not_planned_from_the_morning_unasked(run: Run, tiny: Path) -> None:
    run("plan", tiny, *QUICK)
    run("now", tiny, "--at", "08:40", "--done", "treat@08:38", *QUICK)
    tiny.write_text(tiny.read_text().replace('least = "30 min"', 'least = "44 min"').replace("20 min", "60 min"))
    plan = kept_plan(tiny)
    ran = run("sheet", tiny, "-o", tiny.with_name("x.html"), *QUICK)
    assert ran.code == cli.BROKEN
    assert "slackwater now" in ran.err
    assert not tiny.with_name("x.html").exists()
    assert kept_plan(tiny) == plan
