"""A slip in ``trade.toml``: every command works on, and tells of it without a traceback."""

from pathlib import Path

import pytest

from planner import cli
from tests.cli.commands import Run

QUICK = ("--seconds", "60", "--workers", "1")


@pytest.fixture
def slip(tmp_path: Path) -> Path:
    path = tmp_path / "user" / "settings" / "slackwater" / "trade.toml"
    path.parent.mkdir(parents=True)
    path.write_text("[kit.washer]\nload = 1,0\n")
    return path


@pytest.mark.parametrize(
    "words",
    [
        ("plan", "DAY", *QUICK),
        ("fit", "DAY", "--study", "none", *QUICK),
        ("check", "DAY"),
        ("sheet", "DAY", "-o", "sheet.html", *QUICK),
        ("export", "DAY", "json", "-o", "x.json", *QUICK),
        ("now", "DAY", "--at", "08:30", "--likely", *QUICK),
        ("pace",),
        ("pace", "--day", "DAY"),
        ("quote", "list"),
        ("quote", "add", "--title", "Larch", "--work", "recipe=clear-gutters", "run=11 m", "ground=front"),
        ("take-in", "DAY", "--places", "places.csv"),
    ],
)
def test_a_slip_keeps_nobody_from_working(
    run: Run, planned: Path, slip: Path, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(planned.parent)
    Path("places.csv").write_text("place,latitude,longitude\nyard,51.5,-0.1\n")
    ran = run(*(planned if word == "DAY" else word for word in words))
    assert ran.code == cli.DONE
    assert f"{slip}:2: this is not TOML" in ran.err
    assert "the shipped values are used meanwhile" in ran.err


def test_a_folder_is_planned_all_the_same(run: Run, planned: Path, slip: Path) -> None:
    ran = run("fit", planned.parent, *QUICK)
    assert ran.code == cli.DONE
    assert "the shipped values are used meanwhile" in ran.err
