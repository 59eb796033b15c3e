"""Windows that end in the midst of work, as by SIGKILL, and what the next one finds: nothing of it is lost.

As a program, ``python -m tests.faults.crashes FILE SEED`` is the window that is to end: somebody works in it, changes
the title step by step, marks a stage, saves now and then, and says each step once it is kept safe.
"""

import os
import random
import subprocess
import sys
import time
from pathlib import Path
from shutil import copyfile

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from planner.day.reading import read_day
from planner.desktop import starting
from planner.desktop.model.preferences import Preferences
from planner.desktop.window import Window
from planner.plan.kept import Kept, keep, read_kept
from planner.plan.progress import Noted
from tests.cli.commands import ROOT, SAMPLES
from tests.desktop.windows import answered, pressing, processed, stand_in_process
from tests.own_folders import laid_under, own_folders
from tests.sheet.plans import tiny_plan

MOST_MILLISECONDS = 400
"""A window that works is ended within this time after its first steps."""


def window_crash(number: int, folder: Path) -> list[str]:
    """End a window at some moment, open its file again, bring back what is offered, save it; what is wrong then."""
    rng, path = random.Random(number), folder / "day.toml"
    copyfile(SAMPLES / "tiny.toml", path)
    keep(path, read_day(path), Kept(tiny_plan()))
    last = _ended(path, folder, number, rng.randint(0, MOST_MILLISECONDS) / 1000)
    _application = QApplication.instance() or QApplication([])
    asked: list[str] = []
    with laid_under(folder), answered(pressing("Bring them back", "Keep mine", asked=asked)):
        window = Window(Preferences(_settings(folder)), processes=stand_in_process)
        window.show()
        starting.fill(window, [path])
        wrong = wrong_with(window, path, last)
        for page in window.pages():
            page.end()
        window.hide()
        window.deleteLater()
        processed(lambda: True)
    return wrong


def _ended(path: Path, folder: Path, seed: int, seconds: float) -> int:
    """Let somebody work in a window for some steps and so long, and end it; the last step that was kept safe."""
    environment = {**os.environ, **own_folders(folder), "QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "tests.faults.crashes", str(path), str(seed)]
    worker = subprocess.Popen(command, env=environment, cwd=ROOT, stdout=subprocess.PIPE, text=True)
    assert worker.stdout is not None
    first = worker.stdout.readline()
    time.sleep(seconds)
    worker.kill()
    return max(int(line) for line in [first, *worker.communicate()[0].split()] if line.strip().isdecimal())


def wrong_with(window: Window, path: Path, last: int) -> list[str]:
    """What is wrong with a window that was opened again on a file in which a step had been kept safe."""
    pages = window.pages()
    if len(pages) != 1:
        return [f"{len(pages)} tabs for one file"]
    open_day = pages[0].open_day
    step = _step_of(str(open_day.draft.at(("title",), "")))
    wrong = [] if step >= last else [f"step {last} was kept safe, and {step} is there"]
    if not open_day.is_clean and not window.save(pages[0]):
        wrong.append("what was brought back cannot be saved")
    if _step_of(read_day(path).title) != step:
        wrong.append("the file holds another step than was shown")
    kept = read_kept(path)
    if last >= 2 and (kept is None or kept.progress is None or not kept.progress.noted):
        wrong.append("what was marked is lost")
    return wrong


def _step_of(title: str) -> int:
    return int(title.removeprefix("step ")) if title.startswith("step ") else 0


def _settings(folder: Path) -> QSettings:
    return QSettings(str(folder / "settings.ini"), QSettings.Format.IniFormat)


def _work_for_ever(path: Path, rng: random.Random) -> None:
    """Change the title step by step; from the second step on a stage is marked as done."""
    _application = QApplication([])
    window = Window(Preferences(_settings(path.parent)), processes=stand_in_process)
    window.show()
    page = window.open(path)
    assert page is not None
    step = 0
    while True:
        step += 1
        page.open_day.set("Change title", ("title",), f"step {step}")
        if step == 2:
            page.open_day.mark(Noted("elm", "treat", 496, 508))
        page.safety_copy.write()
        processed(lambda: True)
        if rng.random() < 0.3:
            window.save(page)
        sys.stdout.write(f"{step}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    _work_for_ever(Path(sys.argv[1]), random.Random(int(sys.argv[2])))
