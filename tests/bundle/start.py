"""How soon the built program is there: prints seconds from its start, and judges nothing.

    python -m tests.bundle.start [DIR] [--day FILE]

DIR (``dist``) holds the folder that ``python -m tests.bundle`` made. The first row is the first run after the build,
the others are warm. *Window*: it is drawn on a virtual screen. *Its plan*: the bar of its verdict takes a colour.
*Plan*: the command, on a terminal, says what the best plan so far is.
"""

import argparse
import os
import pty
import subprocess
import tempfile
import time
from pathlib import Path

from PySide6.QtGui import QColor, QGuiApplication

from planner.desktop.look import DAYLIGHT
from tests.benchmarks.printing import Table
from tests.bundle.contents import ROOT
from tests.bundle.screen import until, virtual_screen
from tests.own_folders import own_folders

RUNS = 4
BAR = (1, 60)
"""Pixels from the left and the top at which the bar of the verdict lies in a window that fills the screen."""


def measure_window(program: Path, day: Path, surroundings: dict[str, str]) -> tuple[float | None, float | None]:
    """Seconds until the window is drawn, and until it shows a plan."""
    seen = QGuiApplication.primaryScreen()
    verdicts = {QColor(ink).rgb() for ink in (DAYLIGHT.good, DAYLIGHT.tight, DAYLIGHT.bad)}
    blank = QColor("black").rgb()

    def bar() -> int:
        return int(seen.grabWindow(0, *BAR, 1, 1).toImage().pixel(0, 0))

    began = time.monotonic()
    with subprocess.Popen([str(program), "open", str(day)], env=surroundings) as window:
        drawn = until(lambda: time.monotonic() - began if bar() != blank else None, 60, pause=0.01)
        planned = until(lambda: time.monotonic() - began if bar() in verdicts else None, 60, pause=0.01)
        window.terminate()
    until(lambda: bar() == blank, 10)
    return drawn, planned


def measure_command(program: Path, day: Path, surroundings: dict[str, str]) -> float | None:
    """Seconds until the command says on a terminal what the best plan so far is."""
    ours, theirs = pty.openpty()
    began = time.monotonic()
    words = [str(program), "plan", "--look", str(day)]
    with subprocess.Popen(words, stdout=theirs, stderr=theirs, stdin=theirs, env=surroundings) as command:
        os.close(theirs)
        said = b""
        while b"best so far" not in said and b"restricted crossing" not in said:
            read = os.read(ours, 65536)
            if not read:
                return None
            said += read
        took = time.monotonic() - began
        command.kill()
    os.close(ours)
    return took


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(prog="python -m tests.bundle.start", description=__doc__)
    parser.add_argument("folder", nargs="?", type=Path, default=ROOT / "dist", help="where the built program is (dist)")
    parser.add_argument("--day", type=Path, default=ROOT / "sample_days" / "rear_patio.toml", help="a day file")
    asked = parser.parse_args()
    program = asked.folder.resolve() / "slackwater" / "slackwater"
    table = Table(("run", "window s", "its plan s", "plan s"))
    with virtual_screen() as screen, tempfile.TemporaryDirectory() as folder:
        day = Path(folder) / asked.day.name
        os.environ |= {"DISPLAY": screen.name, "QT_QPA_PLATFORM": "xcb"}
        surroundings = os.environ | own_folders(Path(folder)) | {"COLUMNS": "120"}
        looking = QGuiApplication([])
        for run in range(RUNS):
            day.write_bytes(asked.day.read_bytes())
            day.with_suffix(".plan.json").unlink(missing_ok=True)
            drawn, planned = measure_window(program, day, surroundings)
            table.row("first" if run == 0 else "warm", drawn, planned, measure_command(program, day, surroundings))
        looking.quit()


if __name__ == "__main__":
    main()
