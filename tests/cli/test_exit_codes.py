"""Exit codes are those that the README tells, for every command that can end so."""

import re
from pathlib import Path

import pytest

from planner import cli
from planner.engine import Result
from tests.cli.commands import ROOT, Run

QUICK = ("--seconds", "60")
NOTED = ("--at", "12:50", "--done", "treat@12:50")

NOTHING = Result(None, None)
"""No plan, and no reason why there should be none."""

SHOWN: list[tuple[str, tuple[str, ...]]] = [
    ("fit", QUICK),
    ("sheet", ("-o", "x.html", *QUICK)),
    ("sheet", ("--slips", "-o", "x.html", *QUICK)),
    ("export", ("json", "-o", "x.json", *QUICK)),
    ("export", ("calendar", "-o", "x.ics", *QUICK)),
    ("export", ("tables", "-o", "tables", *QUICK)),
]
"""All that shows a day, without the day."""

UNDER_WAY = [(name, ("UNDER WAY", *words)) for name, words in SHOWN]
"""All that shows a day under way: what was told of it fits, ends late, or has no plan."""

NONE_FOUND = [(name, ("FRESH", *words)) for name, words in [("plan", QUICK), *SHOWN]]
NONE_FOUND += [("now", ("DAY", "--at", "08:29", "--done", "treat@08:28", *QUICK))]
"""All that plan, where no plan is found in the time given."""

TOLD = {
    cli.DONE: ("--at", "08:29", "--done", "treat@08:28", "--keep"),
    cli.LATE: (*NOTED, "--keep"),
    cli.BROKEN: ("--at", "08:20", "--gone", "ash@08:20", "--likely", "--keep"),
}
"""What is told of a day under way that then ends so; of the last there is no plan, and what is kept holds no longer."""

CASES: list[tuple[str, tuple[str, ...], int]] = [
    ("plan", ("DAY", "--look", *QUICK), cli.DONE),
    ("plan", ("LATE", "--look", *QUICK), cli.LATE),
    ("plan", ("NEVER", *QUICK), cli.NO_PLAN),
    ("plan", ("WRONG",), cli.FAULTY),
    ("plan", ("DAY", "--seconds", "soon"), cli.MISUSED),
    ("fit", ("DAY", *QUICK), cli.DONE),
    ("fit", ("LATE", *QUICK), cli.LATE),
    ("fit", ("NEVER", *QUICK), cli.NO_PLAN),
    ("fit", ("WRONG",), cli.FAULTY),
    ("check", ("DAY", "PLAN"), cli.DONE),
    ("check", ("WRONG",), cli.FAULTY),
    ("check", ("LONGER", "PLAN"), cli.BROKEN),
    ("check", (), cli.MISUSED),
    ("now", ("DAY", "--at", "08:29", "--done", "treat@08:28", *QUICK), cli.DONE),
    ("now", ("DAY", *NOTED, *QUICK), cli.LATE),
    ("now", ("DAY", "--at", "08:20", "--gone", "ash@08:20", "--likely", *QUICK), cli.NO_PLAN),
    ("now", ("DAY", "--at", "08:55", "--done", "sweep@08:52", *QUICK), cli.ASKED),
    ("now", ("WRONG", "--at", "08:29"), cli.FAULTY),
    ("now", ("DAY",), cli.MISUSED),
    ("sheet", ("DAY", "-o", "x.html", *QUICK), cli.DONE),
    ("sheet", ("LATE", "-o", "x.html", *QUICK), cli.LATE),
    ("sheet", ("NEVER", "-o", "x.html", *QUICK), cli.NO_PLAN),
    ("sheet", ("LONGER", "--plan", "PLAN", "-o", "x.html"), cli.BROKEN),
    ("sheet", ("WRONG", "-o", "x.html"), cli.FAULTY),
    ("sheet", ("DAY",), cli.MISUSED),
    ("export", ("DAY", "json", "-o", "x.json", *QUICK), cli.DONE),
    ("export", ("LATE", "calendar", "-o", "x.ics", *QUICK), cli.LATE),
    ("export", ("NEVER", "tables", "-o", "tables", *QUICK), cli.NO_PLAN),
    ("export", ("LONGER", "json", "--plan", "PLAN", "-o", "x.json"), cli.BROKEN),
    ("export", ("WRONG", "json", "-o", "x.json"), cli.FAULTY),
    ("export", ("DAY", "poem", "-o", "x"), cli.MISUSED),
    *((name, words, code) for name, words in UNDER_WAY for code in (cli.DONE, cli.LATE, cli.BROKEN)),
    *((name, words, cli.NOT_FOUND) for name, words in NONE_FOUND),
    ("take-in", ("DAY", "--jobs", "WRONG"), cli.FAULTY),
    ("take-in", (), cli.MISUSED),
    ("quote", ("list",), cli.DONE),
    ("quote", ("bring", "7", "DAY"), cli.FAULTY),
    ("quote", ("eat",), cli.MISUSED),
    ("pace", (), cli.DONE),
    ("pace", ("--note", "WRONG"), cli.FAULTY),
    ("pace", ("--sideways",), cli.MISUSED),
    ("schema", (), cli.DONE),
    ("schema", ("--sideways",), cli.MISUSED),
    ("open", ("--sideways",), cli.MISUSED),
]


@pytest.fixture
def files(planned: Path) -> dict[str, str]:
    """A day with its plan, one that ends late, one that cannot be, one whose rinse is longer, and one that is none."""
    text = planned.read_text("utf-8")
    changed = {
        "LATE": text.replace('finish = "13:00"', 'finish = "08:30"'),
        "NEVER": text.replace('place = "elm"', 'place = "elm"\ndone_by = "08:10"', 1),
        "LONGER": text.replace('minutes = "15 min"', 'minutes = "25 min"'),
        "WRONG": text.replace('finish = "13:00"', 'finish = "soon"'),
    }
    for name, words in changed.items():
        assert words != text
        (planned.parent / f"{name.lower()}.toml").write_text(words, "utf-8")
    own = {name: str(planned.parent / f"{name.lower()}.toml") for name in changed}
    (planned.parent / "fresh.toml").write_text(text, "utf-8")
    own["FRESH"] = str(planned.parent / "fresh.toml")
    return own | {"UNDER WAY": str(planned), "DAY": str(planned), "PLAN": str(planned.with_suffix(".plan.json"))}


@pytest.mark.parametrize(("command", "words", "code"), CASES)
def test_a_command_ends_with_the_code_that_the_readme_tells(
    run: Run, files: dict[str, str], command: str, words: tuple[str, ...], code: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(Path(files["DAY"]).parent)
    if "UNDER WAY" in words:
        run("now", files["DAY"], *TOLD[code], *QUICK)
    if code == cli.NOT_FOUND:
        monkeypatch.setattr("planner.cli.settling.plan_day", lambda *_, **__: NOTHING)
        monkeypatch.setattr("planner.cli.now.plan_rest", lambda *_, **__: NOTHING)
    ran = run(command, *(files.get(word, word) for word in words))
    assert ran.code == code, ran.err
    if code in (cli.FAULTY, cli.MISUSED, cli.BROKEN, cli.NOT_FOUND):
        assert ran.err or ran.out, "it says why"


def test_every_command_and_every_code_of_the_readme_is_among_these() -> None:
    readme = (ROOT / "README.md").read_text("utf-8").split("Exit codes")[1].split("\n\n")[0]
    told = {int(code) for code in re.findall(r"[:;]\s(\d+) [a-z]", readme)}
    assert {command for command, _, _ in CASES} == set(cli.COMMANDS)
    assert {code for _, _, code in CASES} | {cli.STOPPED} == told
