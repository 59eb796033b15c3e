"""``now --by``: who did a stage where the hand of the plan did not, on every page that shows the day."""

from pathlib import Path

import pytest

from planner import cli
from planner.plan.kept import read_kept
from tests.cli.commands import Run

QUICK = ("--seconds", "4", "--workers", "1")


@pytest.fixture
def with_rowan(planned: Path, run: Run) -> Path:
    """The smallest day, with a second hand who is there and has nothing to do by the plan."""
    planned.write_text(planned.read_text(encoding="utf-8") + "\n[hands.rowan]\nname = 'Rowan'\n", encoding="utf-8")
    return planned


def test_who_did_it_is_kept_shown_and_taken_back(run: Run, with_rowan: Path, tmp_path: Path) -> None:
    done = ("--done", "treat@08:28", "sweep@08:52")
    ran = run("now", with_rowan, "--at", "08:55", *done, "--by", "sweep=rowan", *QUICK)
    assert (ran.code, ran.err) == (cli.DONE, "")
    kept = read_kept(with_rowan)
    assert kept is not None
    assert kept.progress is not None
    sweep, note = kept.plan.work("elm", "sweep"), kept.progress.of_stage("elm", "sweep")
    assert sweep is not None
    assert note is not None
    assert sweep.hands == note.hands == ("rowan",)
    assert run("check", with_rowan, with_rowan.with_suffix(".plan.json")).code == cli.DONE
    assert run("export", with_rowan, "tables", "-o", tmp_path / "out").code == cli.DONE
    rows = [text for file in (tmp_path / "out").glob("*.csv") for text in file.read_text(encoding="utf-8").splitlines()]
    assert any("rowan" in row.casefold() and "sweep" in row.casefold() for row in rows)
    again = run("now", with_rowan, "--at", "08:56", "--by", "sweep=ash,rowan", *QUICK)
    assert again.code == cli.DONE
    kept = read_kept(with_rowan)
    assert kept is not None
    assert set(next(w.hands for w in kept.plan.works if w.stage == "sweep")) == {"ash", "rowan"}


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("sweep", "--by: 'sweep' does not say who did it; write for example 'sweep=ash'"),
        ("sweep=robin", "--by: the day has no hand 'robin'"),
        ("rinse=rowan", "--by: 'elm.rinse' is not begun; say when it was, or is done, with --begun or --done"),
    ],
)
def test_what_cannot_be_meant_is_told(run: Run, with_rowan: Path, words: str, told: str) -> None:
    ran = run("now", with_rowan, "--at", "08:55", "--done", "treat@08:28", "--by", words, *QUICK)
    assert (ran.code, ran.out) == (cli.FAULTY, "")
    assert told in ran.err


def test_that_another_did_it_is_offered_with_the_words_to_say_so(run: Run, with_rowan: Path) -> None:
    words = ("--done", "treat@08:28", "sweep@08:52", "--begun", "sweep@08:32", "--gone", "ash@08:30")
    ran = run("now", with_rowan, "--at", "08:55", *words, *QUICK)
    assert ran.code == cli.ASKED
    assert "Rowan did it (likely): --done elm.sweep@08:52" in " ".join(ran.out.split())
    assert "--by elm.sweep=rowan" in " ".join(ran.out.split())
