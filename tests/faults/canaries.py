"""Canaries: files in the folder of a day that bear the names of modules, and sing when they are imported.

Whoever opens a day from an e-mail or a shared folder must not run what lies beside it. The command is started as its
installed script is: Python then puts the script's folder first on its path, not the current one.
"""

import os
import subprocess
import sys
from pathlib import Path
from shutil import copyfile

from tests.cli.commands import ROOT, SAMPLES
from tests.own_folders import own_folders

OTHERS = ("planner", "pydantic", "PySide6", "ortools", "numpy", "pandas", "tomlkit", "rich", "platformdirs", "pint")
"""Beside every module of the standard library (`sys.stdlib_module_names`), those of ours and of others."""

SONG = "song.txt"

_CANARY = """import os
with open({song!r}, "a") as file:
    file.write("{name}\\n")
raise SystemExit("a canary ran: {name}")
"""

_SCRIPT = """import sys
from planner.__main__ import main
if __name__ == "__main__":
    sys.exit(main())
"""
"""As installers write it."""

_WINDOW = """import sys
from PySide6.QtWidgets import QApplication
from planner.cli import main
from planner.desktop.thinking.planning_process import PlanningProcess
finish = PlanningProcess._finish
def finish_and_quit(self, message):
    finish(self, message)
    QApplication.exit(0)
PlanningProcess._finish = finish_and_quit
sys.exit(main())
"""
"""The window, closed as soon as its planning process has said something, or is lost."""


def hang_canaries(folder: Path) -> Path:
    """Fill a folder with canaries; gives the file that they sing into."""
    song = folder.parent / SONG
    for name in sorted({*sys.stdlib_module_names, *OTHERS}):
        text = _CANARY.format(song=str(song), name=name)
        if name == "planner":
            (folder / name).mkdir(exist_ok=True)
            (folder / name / "__init__.py").write_text(text)
        else:
            (folder / f"{name}.py").write_text(text)
    return song


COMMANDS: dict[str, tuple[str, ...]] = {
    "plan": ("plan", "day.toml", "--seconds", "2", "--keep"),
    "fit": ("fit", "day.toml", "--seconds", "2", "--study", "none"),
    "fit a folder": ("fit", ".", "--seconds", "2"),
    "fit with studies": ("fit", "day.toml", "--seconds", "2", "--study", "remedies", "--study-seconds", "2"),
    "check": ("check", "day.toml"),
    "now": ("now", "day.toml", "--at", "08:30", "--likely", "--seconds", "2", "--keep"),
    "sheet": ("sheet", "day.toml", "-o", "sheet.pdf", "--seconds", "2"),
    "export calendar": ("export", "day.toml", "calendar", "-o", "day.ics", "--seconds", "2"),
    "export chart": ("export", "day.toml", "chart", "-o", "day.png", "--seconds", "2"),
    "export tables": ("export", "day.toml", "tables", "-o", "tables", "--seconds", "2"),
    "pace": ("pace",),
    "quote": ("quote", "list"),
    "take-in": ("take-in", "day.toml", "--places", "places.csv"),
    "schema": ("schema",),
    "open": ("open", "day.toml"),
}
"""Every command; those that start processes of their own more than once."""


def songs_of(words: tuple[str, ...], folder: Path) -> list[str]:
    """Run a command in a folder full of canaries, beside a day and its plan; the canaries that sang.

    Raises
    ------
    AssertionError
        When the command itself did not run, so that the silence says nothing.
    """
    days, scripts = folder / "days", folder / "scripts"
    for made in (days, scripts):
        made.mkdir()
    copyfile(SAMPLES / "tiny.toml", days / "day.toml")
    (days / "places.csv").write_text("place,latitude,longitude\nlarch,51.5,-0.1\n")
    script = scripts / "slackwater"
    script.write_text(_WINDOW if words[0] == "open" else _SCRIPT)
    environment = _apart(folder)
    if words[0] == "now":
        _ran((str(script), "plan", "day.toml", "--seconds", "2", "--keep"), days, environment)
    song = hang_canaries(days)
    done = _ran((str(script), *words), days, environment)
    sang = song.read_text().split() if song.exists() else []
    assert sang or done.returncode in (0, 4), f"{done.returncode}: {done.stdout}{done.stderr}"
    return sang


def _apart(folder: Path) -> dict[str, str]:
    """An environment in which nothing of the user's own is touched."""
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "COV", "QT_"))}
    return kept | own_folders(folder / "own") | {"PYTHONPATH": str(ROOT), "QT_QPA_PLATFORM": "offscreen"}


def _ran(words: tuple[str, ...], folder: Path, environment: dict[str, str]) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, *words]
    return subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, timeout=240, check=False
    )
