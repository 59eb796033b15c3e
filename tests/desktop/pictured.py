"""Whether the pictures of the guide still show the window as it is: pages with the same buttons, labels and headings.

    python -m tests.desktop.pictured          # exits with 1 and names the pictures that are old
    python -m tests.screens resources/help/pictures --guide   # draws all of them anew, and keeps what they show

What a page says is gathered from its widgets, on a sample day and in the careful person's order, which takes no search.
Only words that stand in the source count: times, amounts and names may differ.
"""

import ast
import json
import os
import sys
import tempfile
from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QAbstractButton, QApplication, QGroupBox, QLabel, QWidget

from planner.desktop.model.preferences import Preferences
from planner.desktop.pages.catalogue import PAGES
from planner.desktop.pages.day_page import DayPage
from planner.desktop.thinking.planning_process import PlanningProcess
from planner.desktop.window import Window
from tests.own_folders import laid_under

ROOT = Path(__file__).parents[2]
PICTURED = Path(__file__).with_suffix(".json")
SAMPLE = ROOT / "sample_days" / "rear_patio.toml"
RENEWED_BY = "python -m tests.screens resources/help/pictures --guide"


def words_in_the_source() -> set[str]:
    """Every text in the source of the window, without the marks of shortcuts."""
    return {
        node.value.replace("&", "")
        for path in (ROOT / "planner" / "desktop").rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value
    }


def words_of_pages() -> dict[str, list[str]]:
    """What each page of a planned day says, by its key: texts of buttons, labels and groups."""
    application = QApplication.instance() or QApplication(["slackwater"])
    said = words_in_the_source()
    with tempfile.TemporaryDirectory() as folder, laid_under(Path(folder)):
        day = Path(folder) / SAMPLE.name
        day.write_bytes(SAMPLE.read_bytes())
        preferences = Preferences(QSettings(f"{folder}/settings.ini", QSettings.Format.IniFormat))
        command = (sys.executable, "-m", "tests.desktop.stand_in")
        window = Window(preferences, processes=lambda parent: PlanningProcess(parent, command=command))
        window.show()
        page = window.open(day)
        assert page is not None
        while page.open_day.plan is None or page.planning.is_busy:
            application.processEvents()
        found = {key: sorted(_words(_shown(page, key)) & said) for key in (entry.key for entry in PAGES if entry.key)}
        page.end()
        window.hide()
    return found


def _shown(page: DayPage, key: str) -> QWidget:
    page.go_to(key)
    return page.page(key)


def _words(shown: QWidget) -> set[str]:
    named = [*shown.findChildren(QAbstractButton), *shown.findChildren(QLabel)]
    return {w.text().replace("&", "") for w in named} | {g.title() for g in shown.findChildren(QGroupBox)}


def old_pictures(now: dict[str, list[str]], pictured: dict[str, list[str]]) -> list[str]:
    """A line for each picture that shows other words than its page has now."""
    lines = []
    for key in sorted(now.keys() | pictured.keys()):
        gone, new = (set(a.get(key, ())) - set(b.get(key, ())) for a, b in ((pictured, now), (now, pictured)))
        if gone or new:
            lines.append(f"page-{key}.png is old: not in it {sorted(new)}, only in it {sorted(gone)}")
    return lines


def keep() -> None:
    """Note what the pictures that were drawn just now show."""
    PICTURED.write_text(json.dumps(words_of_pages(), indent=1, ensure_ascii=False) + "\n", "utf-8")


def main() -> int:
    """Say which pictures are old."""
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    found = old_pictures(words_of_pages(), json.loads(PICTURED.read_text("utf-8")))
    sys.stdout.write("".join(f"{line}\n" for line in [*found, f"Draw them anew: {RENEWED_BY}"] if found))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
