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
from tests.sheet.plans import tiny_plan


@pytest.fixture(autouse=True)
def user_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The user's folders, by the environment for other processes and by the library that knows them for this one."""
    data, settings = tmp_path / "user" / "data", tmp_path / "user" / "settings"
    for name in ("XDG_DATA_HOME", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(data))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(settings))
    monkeypatch.setattr("platformdirs.user_data_dir", lambda name, **_: str(data / name))
    monkeypatch.setattr("platformdirs.user_config_path", lambda name, **_: settings / name)


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
