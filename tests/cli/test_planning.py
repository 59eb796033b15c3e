"""``plan``, ``check`` and ``schema`` on the smallest day; ``python -m planner`` in a process of its own."""

import json
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from planner import cli
from planner.cli import settling
from planner.day import Day
from planner.day.file import read_day
from planner.engine import Result, plan_day
from planner.plan.checker import broken_rules
from planner.plan.plan import Plan
from planner.plan.plan_file import plan_from_json
from tests.cli.commands import ROOT, SAMPLES, Run, apart

QUICK = ("--seconds", "60")


def test_a_plan_is_printed_kept_and_checked(run: Run, tiny: Path) -> None:
    ran = run("plan", tiny, *QUICK, "--keep", "--json", tiny.with_name("out.json"))
    assert ran.code == cli.DONE
    first, *lines = ran.out.splitlines()
    assert first.startswith("Fits with ")
    for words in ("One wall, one path, Tuesday 16 June 2026", "Ash", "Waits"):
        assert words in lines
    kept = tiny.with_suffix(".plan.json")
    tables = json.loads(kept.read_text())
    assert tables.pop("of").keys() >= {"the job 'elm'", "the hands", "the kit"}
    assert tables == json.loads(tiny.with_name("out.json").read_text())
    plan = plan_from_json(kept.read_text())
    assert broken_rules(read_day(tiny), plan) == []
    # 30 to 45 minutes lie between the treatment and its rinse, whatever else the plan does: so says the file.
    treat, rinse = plan.work("elm", "treat"), plan.work("elm", "rinse")
    assert treat is not None
    assert rinse is not None
    assert 30 <= rinse.start - treat.end <= 45
    checked = run("check", tiny, kept)
    assert (checked.code, checked.err) == (cli.DONE, "")
    assert checked.out.splitlines() == [
        f"{tiny}: right; 1 job, 3 stages",
        f"{kept}: keeps every rule of the day",
    ]


def test_who_plans_again_begins_with_what_was_shown(run: Run, tiny: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """So that no plan of an unchanged day is worse than the one shown before; equal runs know of none."""
    known: list[Plan | None] = []

    def told(day: Day, *, previous: Plan | None = None, **more: Any) -> Result:
        known.append(previous)
        return plan_day(day, previous=previous, **more)

    monkeypatch.setattr(settling, "plan_day", told)
    run("plan", tiny, *QUICK)
    shown = plan_from_json(tiny.with_suffix(".plan.json").read_text())
    run("plan", tiny, *QUICK, "--look")
    run("plan", tiny, *QUICK, "--repeatable")
    assert known == [None, shown, None]


def test_json_alone_is_printed_for_other_programs(run: Run, tiny: Path) -> None:
    ran = run("plan", tiny, *QUICK, "--json", "-")
    printed = json.loads(ran.out)
    jsonschema.Draft202012Validator(json.loads(run("schema").out)).validate(printed)
    assert printed["date"] == "2026-06-16"
    assert printed["drives"][0]["from_place"] == "yard"


def test_equal_runs_give_equal_plans(run: Run, tiny: Path) -> None:
    words = ("plan", tiny, "--repeatable", "--seconds", "60", "--json", "-")
    plans = [plan_from_json(run(*words).out) for _ in range(2)]
    timeless = [(p.works, p.crossings, p.drives, p.visits, p.stays, p.chores, p.rests) for p in plans]
    assert timeless[0] == timeless[1]


def test_another_hand_may_be_asked_for(run: Run, tiny: Path) -> None:
    ran = run("plan", tiny, *QUICK, "--hands", "2", "--json", "-")
    plan = plan_from_json(ran.out)
    day = settling.with_hands(read_day(tiny), 2)
    assert list(day.hands) == ["ash", "hand-2"]
    assert broken_rules(day, plan) == []


def test_a_day_that_does_not_fit_has_its_own_code(run: Run, tiny: Path) -> None:
    # 30 min dwell, 12 and 15 min of work and 20 min of driving cannot end within an hour and a quarter.
    tiny.write_text(tiny.read_text().replace('finish = "13:00"', 'finish = "09:15"'))
    ran = run("plan", tiny, *QUICK)
    assert ran.code == cli.LATE
    assert ran.out.startswith("Does not fit by ")


def test_a_day_without_any_plan_names_what_cannot_hold_together(run: Run, tiny: Path) -> None:
    text = tiny.read_text().replace('place = "elm"\n', 'place = "elm"\ndone_by = "08:40"\n')
    tiny.write_text(text)
    ran = run("plan", tiny, "--seconds", "60")
    assert ran.code == cli.NO_PLAN
    assert "cannot hold together" in ran.out
    assert "08:40" in ran.out
    sheet = run("sheet", tiny, "--seconds", "60", "-o", tiny.with_name("x.html"))
    assert sheet.code == cli.NO_PLAN
    assert "cannot hold together" in sheet.err
    assert not tiny.with_name("x.html").exists()


def test_a_plan_that_cannot_be_kept_is_told(run: Run, tiny: Path) -> None:
    ran = run("plan", tiny, *QUICK, "--json", tiny.parent / "nowhere" / "x.json")
    assert ran.code == cli.FAULTY
    assert "there is no such folder; make the folder first" in ran.err


@pytest.mark.parametrize("sample", sorted(SAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_sample_day_is_right(run: Run, sample: Path) -> None:
    ran = run("check", sample)
    assert (ran.code, ran.err) == (cli.DONE, "")
    assert ran.out.startswith(f"{sample}: right; ")


def test_ctrl_c_ends_a_command_with_its_own_code(run: Run, planned: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("planner.cli.check.read_day", interrupted)
    assert run("check", planned) == (cli.STOPPED, "", "Stopped.\n")


def test_ctrl_c_while_planning_keeps_the_best_so_far(run: Run, tiny: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from planner.engine import plan_day

    def interrupted_at_once(*words: object, **more: object) -> object:
        signal.raise_signal(signal.SIGINT)
        return plan_day(*words, **more)  # type: ignore[arg-type]

    before = signal.getsignal(signal.SIGINT)
    monkeypatch.setattr("planner.cli.settling.plan_day", interrupted_at_once)
    ran = run("plan", tiny, "--seconds", "60", "--json", tiny.with_name("out.json"))
    assert ran.code == cli.STOPPED
    assert "Stopped before the end; this is the best so far." in ran.out
    assert broken_rules(read_day(tiny), plan_from_json(tiny.with_name("out.json").read_text())) == []
    assert signal.getsignal(signal.SIGINT) == before


def test_the_module_is_the_command(planned: Path) -> None:
    ran = apart("-m", "planner", "check", planned, planned.with_suffix(".plan.json"))
    assert (ran.code, ran.err) == (cli.DONE, "")
    assert "keeps every rule of the day" in ran.out
    assert apart("-m", "planner", "--version").out.startswith("slackwater ")


def test_a_terminal_without_a_letter_shows_a_question_mark(planned: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    planned.write_text(planned.read_text().replace("Elm Cottage", "Łąka 東"), encoding="utf-8")
    monkeypatch.setenv("PYTHONIOENCODING", "ascii")
    ran = apart("-m", "planner", "plan", planned, *QUICK)
    assert (ran.code, ran.err) == (cli.DONE, "")
    assert "??ka ?" in ran.out


def test_a_reader_who_has_enough_is_no_fault() -> None:
    command = [sys.executable, "-m", "planner", "schema"]
    ran = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT)
    assert ran.stdout is not None
    assert ran.stderr is not None
    ran.stdout.close()
    told = ran.stderr.read()
    assert (ran.wait(timeout=120), told) == (cli.STOPPED, b"")
    ran.stderr.close()


def test_a_plan_is_kept_even_if_its_print_is_cut_short(tiny: Path) -> None:
    command = [sys.executable, "-m", "planner", "plan", str(tiny), *QUICK, "--keep"]
    ran = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT)
    assert ran.stdout is not None
    assert ran.stderr is not None
    ran.stdout.close()
    ran.stderr.close()
    assert ran.wait(timeout=120) == cli.STOPPED
    plan = plan_from_json(tiny.with_suffix(".plan.json").read_text(encoding="utf-8"))
    assert broken_rules(read_day(tiny), plan) == []


def test_no_command_but_open_loads_the_window(planned: Path) -> None:
    commands = [
        ["plan", str(planned), "--seconds", "60"],
        ["sheet", str(planned), "-o", str(planned.with_name("x.pdf"))],
        ["export", str(planned), "chart", "-o", str(planned.with_name("x.png"))],
        ["pace"],
        ["quote", "list"],
        ["--help"],
    ]
    program = f"""
import contextlib, io, sys
from planner.cli import main
for words in {commands!r}:
    with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
        assert main(words) == 0, words
print([name for name in sys.modules if name.startswith(("PySide6", "planner.desktop"))])
"""
    assert apart("-c", program) == (0, "[]\n", "")


def test_help_names_every_command(run: Run) -> None:
    ran = run("--help")
    assert ran.code == 0
    for command in cli.COMMANDS:
        assert f"\n    {command} " in ran.out
        help_of_it = run(command, "--help")
        assert help_of_it.code == 0
        assert help_of_it.out.startswith(f"usage: slackwater {command}")
