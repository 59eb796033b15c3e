"""Whatever a command is given, it ends with a line that names the file, and never with a traceback."""

import json
import os
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from planner import cli
from tests.cli.commands import ROOT, SAMPLES, Run

ON_A_DAY = {
    "plan": (),
    "check": (),
    "sheet": ("-o", "out.html"),
    "export": ("json", "-o", "out.json"),
    "take-in": ("--jobs", str(SAMPLES / "jobs.csv")),
}
"""Commands on one day file, with what else they need."""


@pytest.fixture(params=ON_A_DAY)
def words(request: pytest.FixtureRequest) -> tuple[str, tuple[str, ...]]:
    return request.param, ON_A_DAY[request.param]


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (None, "there is no such file; check its name and folder"),
        (b"format = 1\ntitle = \xff\xfe\x00\n", "text"),
        (b"\x7fELF\x80\x00\x01", "text"),
        (b"format = 1\n[van\n", ":2: a header is not closed; write [name]"),
        (b"", ":1: format: the file does not say its format; add format = 1 at its top"),
        (b"format = 2\n", "this file is format '2'; this program reads format 1: install a newer slackwater"),
        (b"format = 1\ndate = 2026-06-16\nstrat = '08:00'\n", "did you mean 'start'?"),
    ],
)
def test_a_day_file_that_is_none(
    run: Run, tmp_path: Path, words: tuple[str, tuple[str, ...]], content: bytes | None, expected: str
) -> None:
    command, more = words
    file = tmp_path / "day.toml"
    if content is not None:
        file.write_bytes(content)
    ran = run(command, file, *more)
    assert ran.code == cli.FAULTY
    assert ran.out == ""
    assert all(line.startswith(str(file)) for line in ran.told)
    assert expected in ran.err


def test_a_folder_for_a_day_file(run: Run, tmp_path: Path, words: tuple[str, tuple[str, ...]]) -> None:
    command, more = words
    ran = run(command, tmp_path, *more)
    assert (ran.code, ran.out) == (cli.FAULTY, "")
    assert ran.told == [f"{tmp_path}: it is not a plain file; give the name of a file"]


PLAN_FAULTS = {
    "no JSON": ("{", "it is not JSON (line 1)"),
    "no object": ("[1, 2]", "it is not a JSON object"),
    "another version": ('{"format": 99}', "its version is 99; this program reads version 1"),
    "deep": ("[" * 100_000, "it is not JSON"),
    "nothing in it": ('{"format": 1}', "drives"),
    "a word for a number": (
        '{"format": 1, "drives": [], "works": [],'
        ' "visits": [{"job": "elm", "number": 1, "arrive": "soon", "depart": 9}]}',
        "visits.0.arrive",
    ),
}


@pytest.mark.parametrize("fault", PLAN_FAULTS)
def test_a_plan_that_is_none(run: Run, tiny: Path, fault: str) -> None:
    text, expected = PLAN_FAULTS[fault]
    plan = tiny.with_name("plan.json")
    plan.write_text(text, encoding="utf-8")
    for ran in (
        run("check", tiny, plan),
        run("sheet", tiny, "--plan", plan, "-o", tiny.with_name("x.html")),
        run("export", tiny, "json", "--plan", plan, "-o", tiny.with_name("x.json")),
    ):
        assert (ran.code, len(ran.told)) == (cli.FAULTY, 1)
        assert ran.err.startswith(f"{plan}: ")
        assert expected in ran.err
    assert not tiny.with_name("x.html").exists()


def test_a_plan_that_is_not_there_or_binary(run: Run, tiny: Path) -> None:
    missing, binary = tiny.with_name("gone.json"), tiny.with_name("binary.json")
    binary.write_bytes(b"\x00\xff\xfe")
    for plan in (missing, binary, tiny.parent):
        ran = run("check", tiny, plan)
        assert (ran.code, len(ran.told)) == (cli.FAULTY, 1)
        assert ran.err.startswith(str(plan))


def test_a_plan_of_another_day(run: Run, planned: Path) -> None:
    plan = planned.with_suffix(".plan.json")
    other = SAMPLES / "side_gate.toml"
    checked = run("check", other, plan)
    assert checked.code == cli.BROKEN
    assert "rule 1" in checked.out
    shown = run("sheet", other, "--plan", plan, "-o", planned.with_name("x.html"))
    assert shown.code == cli.BROKEN
    assert shown.err.startswith(f"{plan}: not a plan of {other}: ")


def test_a_kept_plan_that_was_spoiled_is_told(run: Run, planned: Path) -> None:
    kept = planned.with_suffix(".plan.json")
    kept.write_text(kept.read_text()[:100])
    ran = run("sheet", planned, "-o", planned.with_name("x.html"))
    assert ran.code == cli.FAULTY
    assert ran.err.startswith(f"{kept}: ")


@pytest.mark.parametrize("broken", ["works", "crossings", "drives", "visits", "stays", "chores"])
def test_a_plan_with_a_part_left_out_breaks_rules(run: Run, planned: Path, broken: str) -> None:
    kept = planned.with_suffix(".plan.json")
    plan = json.loads(kept.read_text())
    plan[broken] = []
    kept.write_text(json.dumps(plan))
    ran = run("check", planned, kept)
    assert ran.code == cli.BROKEN
    assert ran.err == ""
    assert f"{kept}: rule " in ran.out


OUTPUTS = {
    "sheet": ("-o", "{}.html"),
    "export json": ("json", "-o", "{}.json"),
    "export calendar": ("calendar", "-o", "{}.ics"),
    "export tables": ("tables", "-o", "{}"),
    "export chart": ("chart", "-o", "{}.svg"),
}


@pytest.mark.parametrize("what", OUTPUTS)
def test_a_place_that_cannot_be_written(run: Run, planned: Path, what: str) -> None:
    barred = planned.with_name("barred")
    barred.write_text("a file, and no folder")
    out = [word.format(barred / "x") for word in OUTPUTS[what]]
    ran = run(what.split()[0], planned, *out)
    assert (ran.code, ran.out, len(ran.told)) == (cli.FAULTY, "", 1)
    assert ran.err.startswith(str(barred))
    assert barred.read_text() == "a file, and no folder"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_may_not_be_written(run: Run, planned: Path) -> None:
    folder = planned.with_name("read-only")
    folder.mkdir(mode=0o500)
    ran = run("sheet", planned, "-o", folder / "x.html")
    assert ran.code == cli.FAULTY
    assert "may not be written" in ran.err


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("sheet", "DAY", "-o", "x.docx"), "end the name in"),
        (("export", "DAY", "calendar", "-o", "x.txt"), "end the name in"),
        (("pace", "--took", "wash=5"), "--took goes with --note"),
        (("take-in", "DAY"), "there is nothing to take in"),
        (("quote", "add"), "give a table of jobs"),
        (("quote", "add", "--work", "recipe=clear-gutters"), "--title"),
        (("quote", "add", "--title", "X", "--work", "gutters"), "'gutters' has no value"),
    ],
)
def test_words_that_do_not_go_together(run: Run, planned: Path, words: tuple[str, ...], expected: str) -> None:
    ran = run(*(planned if word == "DAY" else word for word in words))
    assert (ran.code, ran.out, len(ran.told)) == (cli.FAULTY, "", 1)
    assert expected in ran.err


@pytest.mark.parametrize(
    "words",
    [
        ("fly",),
        ("plan",),
        ("plan", "x.toml", "--seconds", "0"),
        ("plan", "x.toml", "--seconds", "nan"),
        ("plan", "x.toml", "--seconds", "soon"),
        ("plan", "x.toml", "--hands", "7"),
        ("plan", "x.toml", "--own-pace", "--shipped-pace"),
        ("export", "x.toml", "music", "-o", "x"),
        ("sheet", "x.toml"),
        ("quote",),
        ("quote", "done", "first"),
        ("quote", "add", "--on", "yesterday"),
        ("pace", "--on", "--off"),
    ],
)
def test_words_that_are_off(run: Run, words: tuple[str, ...]) -> None:
    ran = run(*words)
    assert ran.code == cli.MISUSED
    assert "usage: slackwater" in ran.err
    assert "Traceback" not in ran.err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("plan", "DAY", "--seed", 2**31), "argument --seed: give a number from 0 to 2147483647"),
        (("plan", "DAY", "--seed", -1), "argument --seed: give a number from 0 to 2147483647"),
        (("quote", "bring", 10**30, "DAY"), "argument N: give a number from 1 to 2147483647"),
        (("quote", "done", "9" * 5000), "argument N: invalid number value"),
        (("now", "DAY", "--at", "08:00 +" + "9" * 60), "--at: "),
    ],
)
def test_numbers_beyond_all_bounds_are_told(run: Run, planned: Path, words: tuple[object, ...], told: str) -> None:
    ran = run(*(planned if word == "DAY" else word for word in words))
    assert ran.code in (cli.FAULTY, cli.MISUSED)
    assert ran.out == ""
    assert told in ran.told[-1]


@pytest.mark.parametrize("count", [0, 7])
def test_too_few_and_too_many_hands_are_counted(run: Run, tiny: Path, count: int) -> None:
    hand = '[hands.ash]\nname = "Ash"\ncost_per_hour = 24.0\n'
    text = tiny.read_text(encoding="utf-8")
    assert hand in text
    hands = "[hands]\n" + "".join(f"[hands.hand{n}]\n" for n in range(count))
    tiny.write_text(text.replace(hand, hands), encoding="utf-8")
    ran = run("check", tiny)
    assert ran.code == cli.FAULTY
    assert f"hands: {count} hands given; give at {'least 1' if count == 0 else 'most 6'}" in ran.told[0]


@pytest.mark.parametrize("most", ["0", "many"])
def test_a_terminal_without_a_width_still_shows_the_result(tiny: Path, most: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "planner", "check", str(tiny)], cwd=ROOT, env=os.environ | {"COLUMNS": most},
        capture_output=True, text=True, check=False, timeout=100,
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (cli.DONE, f"{tiny}: right; 1 job, 3 stages\n")


@pytest.mark.skipif(sys.platform != "linux", reason="the file that is always full is Linux's")
@pytest.mark.parametrize(
    ("redirect", "code", "told"),
    [
        (">/dev/full", cli.FAULTY, "The result cannot be printed: No space left on device.\n"),
        (">&-", cli.DONE, ""),
        (">&- 2>&-", cli.DONE, ""),
    ],
)
def test_output_that_is_full_or_closed(tiny: Path, redirect: str, code: int, told: str) -> None:
    command = f"{shlex.quote(sys.executable)} -m planner check {shlex.quote(str(tiny))} {redirect}"
    done = subprocess.run(["sh", "-c", command], cwd=ROOT, capture_output=True, text=True, check=False, timeout=100)
    assert (done.returncode, done.stderr) == (code, told)
