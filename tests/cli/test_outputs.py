"""An output is never an input, a day, a record, or somebody else's file, unless that is said."""

from pathlib import Path

import pytest

from planner import cli
from planner.plan.plan_file import plan_from_json
from tests.cli.commands import Run

QUICK = ("--seconds", "60", "--workers", "1")


@pytest.mark.parametrize(
    ("words", "target"),
    [
        (("plan", "DAY", "--json", "TARGET"), "tiny.toml"),
        (("plan", "DAY", "--json", "TARGET"), "tiny.plan.json"),
        (("plan", "DAY", "--json", "TARGET"), "tiny.now.json"),
        (("plan", "DAY", "--json", "TARGET"), "linked.json"),
        (("export", "DAY", "json", "-o", "TARGET"), "tiny.plan.json"),
        (("export", "DAY", "json", "-o", "TARGET"), "other.json"),
        (("plan", "DAY", "--json", "TARGET"), "other.json"),
        (("sheet", "DAY", "-o", "TARGET"), "other.pdf"),
        (("sheet", "DAY", "-o", "TARGET"), "other.html"),
        (("export", "DAY", "calendar", "-o", "TARGET"), "other.ics"),
        (("export", "DAY", "chart", "-o", "TARGET"), "other.png"),
    ],
)
def test_what_somebody_needs_is_not_written_over(
    run: Run, planned: Path, words: tuple[str, ...], target: str
) -> None:
    path = planned.with_name(target)
    if target == "linked.json":
        path.symlink_to(planned)
    elif not path.exists():
        path.write_text('{"somebody": "else"}' if target.endswith(".json") else "somebody else's", encoding="utf-8")
    before = path.read_bytes()
    ran = run(*(planned if w == "DAY" else path if w == "TARGET" else w for w in words), *QUICK)
    assert (ran.code, ran.out) == (cli.FAULTY, "")
    assert ran.err.startswith(f"{path}: ")
    assert "give another name" in ran.err
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "target"),
    [
        (("export", "DAY", "tables", "-o", "FOLDER"), "timeline.csv"),
        (("export", "DAY", "tables", "-o", "FOLDER"), "waits.csv"),
        (("pace", "--export", "FOLDER/out.csv"), "out.csv"),
        (("pace", "--export", "FOLDER/out.csv"), "out-quotes.csv"),
        (("pace", "--export", "FOLDER/out.json"), "out.json"),
    ],
)
def test_tables_and_the_record_spare_what_is_not_theirs(
    run: Run, planned: Path, tmp_path: Path, words: tuple[str, ...], target: str
) -> None:
    folder = tmp_path / "out"
    folder.mkdir()
    theirs = folder / target
    theirs.write_text("their,own,table\n1,2,3\n", encoding="utf-8")
    said = [str(planned) if w == "DAY" else w.replace("FOLDER", str(folder)) for w in words]
    ran = run(*said)
    assert (ran.code, ran.out) == (cli.FAULTY, "")
    assert ran.told == [f"{theirs}: there is a file of another kind; give another name, or --force to write over it"]
    assert [file.name for file in folder.iterdir()] == [target]
    for more in (("--force",), ()):  # and what is ours by now goes without a word
        assert run(*said, *more).code == cli.DONE
    assert "their,own" not in theirs.read_text(encoding="utf-8")


def test_what_we_wrote_before_is_written_again_and_the_rest_where_it_is_said(run: Run, planned: Path) -> None:
    ours, theirs = planned.with_name("ours.json"), planned.with_name("theirs.json")
    for _ in range(2):
        assert run("plan", planned, "--json", ours, *QUICK).code == cli.DONE
    theirs.write_text("{}")
    assert run("plan", planned, "--json", theirs, "--force", *QUICK).code == cli.DONE
    assert plan_from_json(theirs.read_text(encoding="utf-8")).works
    page = planned.with_name("page.html")
    for _ in range(2):
        assert run("sheet", planned, "-o", page, *QUICK).code == cli.DONE
