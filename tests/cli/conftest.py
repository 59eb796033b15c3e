"""Every command in folders of its own: the user's record and settings are never touched."""

from collections.abc import Callable
from pathlib import Path
from shutil import copyfile

import pytest

from planner.cli import main
from planner.day.file import read_day
from planner.plan.plan_file import plan_to_json
from planner.record import Record
from tests.cli.commands import SAMPLES, Ran, Run
from tests.own_folders import own_folders
from tests.sheet.plans import tiny_plan


@pytest.fixture(autouse=True)
def user_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing of the person's own is read or written, by this process or by those that it starts."""
    for name, folder in own_folders(tmp_path / "user").items():
        monkeypatch.setenv(name, folder)


@pytest.fixture
def tiny(tmp_path: Path) -> Path:
    """The smallest sample day, in a folder of its own."""
    folder = tmp_path / "days"
    folder.mkdir()
    return Path(copyfile(SAMPLES / "tiny.toml", folder / "tiny.toml"))


@pytest.fixture
def planned(tiny: Path) -> Path:
    """The same, with a plan that was written by hand kept beside it."""
    plan = plan_to_json(tiny_plan(), read_day(tiny))
    tiny.with_suffix(".plan.json").write_text(plan, encoding="utf-8")
    return tiny


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs a command in this process."""

    def ran(*words: object) -> Ran:
        try:
            code = main([str(word) for word in words])
        except SystemExit as end:  # argparse has the last word on words that are off
            code = int(end.code or 0)
        out, err = capsys.readouterr()
        return Ran(code, out, err)

    return ran


@pytest.fixture
def record() -> Callable[[], Record]:
    """Opens the record that the commands use."""
    return Record.open
