"""``pace``, and planning at own pace: a day is planned, worked, noted, and the next one knows."""

import csv
import json
import re
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from planner import cli
from planner.plan.plan_file import plan_from_json
from planner.record import Record, default_path
from tests.cli.commands import Run

Opens = Callable[[], Record]


def rinse_minutes(run: Run, tiny: Path, *words: str) -> int:
    ran = run("plan", tiny, "--seconds", "60", "--json", "-", *words)
    work = plan_from_json(ran.out).work("elm", "rinse")
    assert work is not None
    return work.end - work.start


def test_a_worked_day_is_noted_and_the_next_is_planned_with_it(run: Run, planned: Path) -> None:
    assert rinse_minutes(run, planned) == 15
    noted = run("pace", "--note", planned, "--took", "rinse=45", "elm.sweep=22 min")
    assert noted.code == cli.DONE
    assert noted.out.splitlines() == [
        "noted: elm.sweep, planned 20 min, took 22 min",
        "noted: elm.rinse, planned 15 min, took 45 min",
    ]
    own = rinse_minutes(run, planned)
    assert 15 < own < 45
    assert rinse_minutes(run, planned, "--own-pace") == own
    assert rinse_minutes(run, planned, "--shipped-pace") == 15
    assert "At own pace: " in run("plan", planned, "--seconds", "60").err


def test_a_folder_is_planned_at_own_pace_too(run: Run, planned: Path) -> None:
    run("pace", "--note", planned, "--took", "rinse=45")
    planned.with_suffix(".plan.json").unlink()  # what is kept would be shown, at whichever pace it was made
    own, shipped = (
        re.search(r"\d\d:\d\d", run("fit", planned.parent, "--seconds", "60", *words).out)
        for words in ((), ("--shipped-pace",))
    )
    assert own is not None
    assert shipped is not None
    assert own.group() > shipped.group()


def test_own_and_shipped_stand_side_by_side(run: Run, planned: Path) -> None:
    run("pace", "--note", planned, "--took", "rinse=45")
    head, row = run("pace").out.splitlines()
    assert head.split() == ["method", "condition", "shipped", "own", "takes", "jobs"]
    assert row.split()[:4] == ["rinse.lance", "usual", "15", "min"]
    assert row.split()[-1] == "1"
    assert float(row.split()[-2].removeprefix("x")) > 1
    assert "elm.rinse" in run("pace", "--day", planned).out


def test_noting_a_stage_again_takes_the_place_of_what_was_noted(run: Run, planned: Path, record: Opens) -> None:
    run("pace", "--note", planned, "--took", "rinse=45")
    run("pace", "--note", planned, "--took", "rinse=30")
    with record() as kept:
        assert [timing.actual_minutes for timing in kept.timings()] == [30]


def test_the_times_of_a_plan_that_was_brought_up_to_date_are_noted(run: Run, planned: Path, record: Opens) -> None:
    kept = planned.with_suffix(".plan.json")
    plan = json.loads(kept.read_text())
    for work in plan["works"]:
        if work["stage"] == "rinse":
            work["end"] += 6
    kept.write_text(json.dumps(plan))
    assert run("pace", "--note", planned).out == "noted: elm.rinse, planned 15 min, took 21 min\n"
    with record() as opened:
        assert [(t.stage, t.planned_minutes, t.actual_minutes) for t in opened.timings()] == [("rinse", 15, 21)]


def test_a_day_with_a_stage_left_half_done_is_noted_by_its_pieces(run: Run, planned: Path, record: Opens) -> None:
    """The window notes such a day, and the command said that the day must be planned again."""
    words = ("--at", "08:50", "--begun", "sweep@08:32", "--half", "sweep=40 %@08:45", "--likely", "--seconds", "60")
    assert run("now", planned, *words, "--keep").code == cli.DONE
    assert run("pace", "--note", planned, "--took", "elm.sweep=13", "elm.sweep-rest=9").code == cli.DONE
    with record() as opened:
        assert {(t.stage, t.actual_minutes) for t in opened.timings()} == {("sweep", 13), ("sweep-rest", 9)}


@pytest.mark.parametrize(
    ("took", "expected"),
    [
        ((), "every stage in it takes as long as planned; say what they took"),
        (("wash=5",), "there is no stage 'wash' in the plan; it has elm.treat, elm.sweep, elm.rinse"),
        (("rinse",), "--took 'rinse' has no time; write for example wash=55"),
        (("rinse=soon",), "'soon' is not a duration"),
        (("rinse=0",), "is no time; give more than 0 minutes"),
        (("rinse=-5",), "'-5' is not a duration"),
        (("rinse=40 days",), "it must be above 0"),
    ],
)
def test_what_cannot_be_noted_is_told(
    run: Run, planned: Path, record: Opens, took: tuple[str, ...], expected: str
) -> None:
    ran = run("pace", "--note", planned, *(("--took", *took) if took else ()))
    assert (ran.code, ran.out, len(ran.told)) == (cli.FAULTY, "", 1)
    assert expected in ran.err
    with record() as kept:
        assert kept.timings() == []


def test_a_day_without_a_kept_plan_cannot_be_noted(run: Run, tiny: Path) -> None:
    ran = run("pace", "--note", tiny, "--took", "rinse=45")
    assert ran.code == cli.FAULTY
    assert ran.err.startswith(f"{tiny.with_suffix('.plan.json')}: cannot be read: there is no such file")


def test_off_learns_nothing_and_plans_at_the_shipped_pace(run: Run, planned: Path, record: Opens) -> None:
    run("pace", "--note", planned, "--took", "rinse=45")
    assert run("pace", "--off").out == "Own pace is off.\n"
    assert rinse_minutes(run, planned) == 15
    ran = run("pace", "--note", planned, "--took", "rinse=60")
    assert ran.code == cli.FAULTY
    assert "own pace is off, so nothing is noted" in ran.err
    assert "Own pace is off" in run("pace").out
    run("pace", "--on")
    assert rinse_minutes(run, planned) > 15
    with record() as kept:
        assert [timing.actual_minutes for timing in kept.timings()] == [45]


def test_the_record_is_exported_and_wiped(run: Run, planned: Path, tmp_path: Path) -> None:
    run("pace", "--note", planned, "--took", "rinse=45")
    table, tree = tmp_path / "out.csv", tmp_path / "out.json"
    assert run("pace", "--export", table).out.splitlines() == [str(table), str(tmp_path / "out-quotes.csv")]
    assert run("pace", "--export", tree).code == cli.DONE
    with table.open(encoding="utf-8", newline="") as lines:
        [row] = csv.DictReader(lines)
    assert (row["stage"], float(row["actual_minutes"])) == ("rinse", 45)
    assert json.loads(tree.read_text(encoding="utf-8"))["timings"][0]["method"] == "rinse.lance"
    wrong = run("pace", "--export", tmp_path / "out.doc")
    assert (wrong.code, "end the name in .csv or .json" in wrong.err) == (cli.FAULTY, True)
    assert run("pace", "--wipe").out == "All noted times are deleted.\n"
    assert run("pace").out.startswith("No times are noted yet")
    for path in default_path().parent.iterdir():
        if path.is_file():
            assert b"rinse.lance" not in path.read_bytes()


def test_a_plan_made_at_either_pace_is_a_plan_of_the_day(run: Run, planned: Path) -> None:
    own = planned.with_name("own.json")
    run("pace", "--note", planned, "--took", "rinse=45")
    run("plan", planned, "--seconds", "60", "--look", "--json", own)
    assert run("check", planned, own).code == cli.DONE
    assert run("check", planned, planned.with_suffix(".plan.json")).code == cli.DONE
    assert run("check", planned, own, "--shipped-pace").code == cli.BROKEN
    assert run("check", planned, planned.with_suffix(".plan.json"), "--own-pace").code == cli.BROKEN
    assert run("sheet", planned, "--plan", own, "-o", planned.with_name("x.html")).code == cli.DONE
    assert run("sheet", planned, "-o", planned.with_name("x.html")).code == cli.DONE


def test_no_record_is_made_by_planning(run: Run, tiny: Path) -> None:
    run("plan", tiny, "--seconds", "60")
    assert not default_path().parent.exists()


def test_a_record_at_fault_keeps_nobody_from_planning(run: Run, planned: Path) -> None:
    run("pace", "--note", planned, "--took", "rinse=45")
    with sqlite3.connect(default_path()) as newer:
        newer.execute("PRAGMA user_version = 99")
    newer.close()
    ran = run("plan", planned, "--seconds", "60", "--json", "-")
    assert ran.code == cli.DONE
    assert plan_from_json(ran.out).works
    assert len(ran.told) == 1
    assert ran.err.startswith(f"Planned at the shipped pace: {default_path()}: ")
    assert run("pace").code == cli.FAULTY


def test_a_mended_record_is_told(run: Run, planned: Path) -> None:
    run("pace", "--note", planned, "--took", "rinse=45")
    run("pace")  # opening it keeps the copy that the next opening mends from
    for path in default_path().parent.iterdir():
        if path.name.startswith(f"{default_path().name}-"):
            path.unlink()
    default_path().write_bytes(b"no database at all" * 400)
    ran = run("plan", planned, "--seconds", "60", "--json", "-")
    assert ran.code == cli.DONE
    assert "set aside" in ran.err
    assert run("pace").err == ""
