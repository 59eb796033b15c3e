"""Draws each state of the window on the sample days, in four lights, at three sizes and in large print, to look at.

    python -m tests.screens OUT [--only WORD] [--seconds S]
    python -m tests.screens OUT --guide

With ``--guide`` it draws those that the guide shows, each once, in light, into OUT (resources/help/pictures), and notes
what they show (`tests.desktop.pictured`).

It plans for real, each day once, so it takes some minutes. One process draws one size, since a size is set when Qt
starts; the first leaves its plans to the others. Words that are cut are told.
"""

import argparse
import datetime as dt
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from tests.own_folders import laid_under

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication, QWidget

    from planner.desktop.window import Window

SAMPLES = Path(__file__).parent.parent / "sample_days"


@dataclass(frozen=True)
class Size:
    """A screen: its pixels, how many of them make one pixel of the window, and how large letters are set."""

    width: int
    height: int
    sharpness: float
    letters: float = 1.0

    @property
    def name(self) -> str:
        large = "" if self.letters == 1.0 else f" letters {self.letters:.0%}"
        return f"{self.width}x{self.height}{large}"


SIZES = (
    Size(1024, 600, 1.0),
    Size(1366, 768, 1.0),
    Size(3840, 2160, 2.0),
    Size(1024, 600, 1.0, 2.0),
    Size(1366, 768, 1.0, 2.0),
)
LIGHTS = ("light", "dark", "grey", "contrast")


class Camera:
    """Draws a window and keeps the pictures."""

    def __init__(self, application: "QApplication", size: Size, out: Path, only: str) -> None:
        self.application, self.size, self.out, self.only = application, size, out, only

    def wait(self, until: Callable[[], bool], seconds: float = 60.0) -> None:
        """Let the window live until something is so, or the time is over."""
        end = time.monotonic() + seconds
        while not until() and time.monotonic() < end:
            self.application.processEvents()
            time.sleep(0.01)

    def rest(self, seconds: float = 0.3) -> None:
        """Let the window live for a while."""
        self.wait(lambda: False, seconds)

    def shoot(self, widget: "QWidget", state: str) -> None:
        """Keep a picture of a state in each light."""
        from PySide6.QtGui import QImage

        from planner.desktop.look import Scheme, wear
        from tests.desktop.cut_text import cut_words

        if self.only and self.only not in state:
            return
        self.rest(0.15)
        for words in cut_words(widget):
            sys.stdout.write(f"CUT in {state}, {self.size.name}: {words}\n")
        for light in LIGHTS:
            wear(self.application, Scheme.LIGHT if light == "grey" else Scheme(light))
            self.rest(0.15)
            image = widget.grab().toImage()
            if light == "grey":
                image = image.convertToFormat(QImage.Format.Format_Grayscale8)
            path = self.out / f"{state} {light} {self.size.name}.png"
            image.save(str(path))
            sys.stdout.write(f"{path}\n")
            sys.stdout.flush()


def draw(size: Size, out: Path, only: str, seconds: int, plans: Path) -> None:
    """Draw every state at one size; plans that lie in ``plans`` are taken, those made here are left there."""
    from PySide6.QtCore import QSettings
    from PySide6.QtWidgets import QApplication

    from planner.desktop.look import Scheme, wear
    from planner.desktop.menus import Menus
    from planner.desktop.model.preferences import Preferences
    from planner.desktop.window import Window

    application = QApplication(["slackwater"])
    font = application.font()
    font.setPointSizeF(font.pointSizeF() * size.letters)
    application.setFont(font)
    wear(application, Scheme.LIGHT)
    camera = Camera(application, size, out, only)
    with tempfile.TemporaryDirectory() as folder, laid_under(Path(folder)):
        preferences = Preferences(QSettings(f"{folder}/settings.ini", QSettings.Format.IniFormat))
        preferences.seconds = seconds
        window = Window(preferences)
        Menus(window)
        window.resize(int(size.width / size.sharpness), int(size.height / size.sharpness))
        window.show()
        camera.rest()
        for state in states(camera, window, Path(folder), plans):
            camera.shoot(window, state)
        for page in window.pages():
            page.end()


GUIDE_SIZE = Size(1366, 768, 1.0)


def draw_for_the_guide(out: Path, seconds: int) -> None:
    """Draw the pictures of the guide: the whole window, the picture alone, and each page beside it."""
    from PySide6.QtCore import QSettings
    from PySide6.QtWidgets import QApplication

    from planner.desktop.look import Scheme, wear
    from planner.desktop.menus import Menus
    from planner.desktop.model.preferences import Preferences
    from planner.desktop.window import Window

    application = QApplication(["slackwater"])
    wear(application, Scheme.LIGHT)
    camera = Camera(application, GUIDE_SIZE, out, "")
    with tempfile.TemporaryDirectory() as folder, laid_under(Path(folder)):
        preferences = Preferences(QSettings(f"{folder}/settings.ini", QSettings.Format.IniFormat))
        preferences.seconds = seconds
        window = Window(preferences)
        Menus(window)
        window.resize(GUIDE_SIZE.width, GUIDE_SIZE.height)
        window.show()
        page = _opened(camera, window, Path(folder), Path(folder), "rear_patio")
        page.go_to("order")
        camera.rest(1.0)
        window.grab().save(str(out / "day.png"))
        for key in page_keys():
            page.go_to(key)
            camera.rest(6.0 if key in ("sheet", "risk") else 0.5)
            camera.wait(lambda key=key: key != "sheet" or page.page("sheet").view.count > 0)
            camera.rest()
            page.panels.grab().save(str(out / f"page-{key}.png"))
        page.panels.hide()
        camera.rest(1.0)
        page.chart.grab().save(str(out / "picture.png"))
        page.end()


def page_keys() -> list[str]:
    """The pages beside the picture, from top to bottom."""
    from planner.desktop.pages.catalogue import PAGES

    return [page.key for page in PAGES if page.key]


def states(camera: Camera, window: "Window", folder: Path, plans: Path) -> Iterator[str]:
    """Bring the window from state to state; each is named as it is reached."""
    yield from _from_nothing(camera, window)
    page = _opened(camera, window, folder, plans, "rear_patio")
    for key in page_keys():
        page.go_to(key)
        camera.rest(0.5)
        if key in ("sheet", "risk"):
            camera.rest(6.0)
        if key in ("trade-off", "what-if"):
            panel = page.page(key)
            (panel.find_button if key == "trade-off" else panel.ask_button).click()
            camera.rest(1.0)
            camera.wait(lambda panel=panel: panel.stop_button.isHidden(), 100)
            camera.rest()
        yield f"patio {key}"
    yield from _wishes(camera, window)
    yield from _running(camera, window)
    for sample in sorted(path.stem for path in SAMPLES.glob("*.toml") if path.stem != "rear_patio"):
        page = _opened(camera, window, folder, plans, sample)
        page.go_to("order")
        camera.rest()
        yield sample
        page.panels.hide()
        camera.rest()
        yield f"{sample} picture alone"
    page.panels.show()
    page.go_to("jobs")
    page.open_day.set("Change place", ("jobs", next(iter(page.open_day.draft.at(("jobs",)))), "place"), "nowhere")
    camera.rest()
    yield "faults"
    yield from _small_windows(camera, window)


def _small_windows(camera: Camera, window: "Window") -> Iterator[str]:
    """The windows before the window, each as it comes up on this screen; they are drawn by themselves."""
    from PySide6.QtWidgets import QFileDialog, QMessageBox

    from planner.desktop.forms.customers_dialog import CustomersDialog
    from planner.desktop.forms.new_work import ExtraWork, NewWork
    from planner.desktop.forms.other_date import OtherDate
    from planner.desktop.forms.quote_dialog import QuoteDialog
    from planner.desktop.pages.about import About
    from planner.desktop.pages.help import HelpView
    from planner.desktop.plain import box

    page = window.page
    assert page is not None
    draft = page.open_day.draft
    told = "\n".join(f"line {n}: something is not as the shipped tables have it" for n in range(14))
    boxed = box(window, QMessageBox.Icon.Warning, "Slackwater", "Your own values of the trade hold a slip", told)
    unprinted = box(window, QMessageBox.Icon.Question, "Slackwater", "It is not printed", "The printer stopped.")
    for words in ("Save as PDF instead …", "Another printer …", "Cancel"):
        unprinted.addButton(words, QMessageBox.ButtonRole.AcceptRole)
    saving = QFileDialog(window, "Save the day", str(SAMPLES), "Days (*.toml)")
    saving.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    made = (
        ("about", About(window)),
        ("guide", HelpView(window)),
        ("quote", QuoteDialog(window)),
        ("customers", CustomersDialog(window)),
        ("more work", NewWork(draft, next(iter(draft.at(("jobs",)))), window)),
        ("other date", OtherDate("rear patio", dt.date(2031, 5, 6), window)),
        ("extra work", ExtraWork(draft, next(iter(draft.at(("jobs",)))), window)),
        ("box", boxed),
        ("not printed", unprinted),
        ("save as", saving),
    )
    for name, one in made:
        one.show()
        camera.rest()
        screen = camera.size
        fits = one.width() <= screen.width / screen.sharpness and one.height() <= screen.height / screen.sharpness
        camera.shoot(one, f"small {name}{'' if fits else ' LARGER THAN THE SCREEN'}")
        one.hide()
    yield from ()


def _opened(camera: Camera, window: "Window", folder: Path, plans: Path, sample: str) -> "Page":
    """A copy of a sample day, planned to its end."""
    path = folder / f"{sample}.toml"
    path.write_bytes((SAMPLES / f"{sample}.toml").read_bytes())
    planned, kept = plans / f"{sample}.plan.json", folder / f"{sample}.plan.json"
    if planned.exists() and planned != kept:
        kept.write_bytes(planned.read_bytes())
    page = window.open(path)
    assert page is not None, sample
    camera.rest()
    camera.wait(lambda: not page.planning.is_busy, 120)
    if kept.exists() and not planned.exists():
        planned.write_bytes(kept.read_bytes())
    return page


def _from_nothing(camera: Camera, window: "Window") -> Iterator[str]:
    from planner.desktop.forms.house_form import HousePage
    from planner.desktop.model.house import House, work_ticks
    from planner.desktop.starting import new_day

    yield "welcome"
    page = window.add(new_day())
    camera.rest()
    yield "new day"
    page.open_day.change("Street", House(page.open_day.draft, "house").with_street("12 Larch Rise"))
    trip = {"from": "yard", "to": "house", "minutes": "12 min"}
    page.open_day.set("Drive", ("travel", "trips"), [trip])
    asked = (("clear-gutters", "front", "9 m"), ("clear-gutters", "rear", "7 m"), ("treat-wall", "", "16 m2"))
    for recipe, side, measure in asked:
        tick = next(tick for tick in work_ticks() if (tick.recipe, tick.side) == (recipe, side))
        page.open_day.change(tick.words, House(page.open_day.draft, "house").with_work(tick, measure))
        camera.rest()
        camera.wait(lambda: not page.planning.is_busy)
        yield f"house, {tick.words.lower()}"
    area = page.page("house")
    area.ensureWidgetVisible(area.findChild(HousePage).more_button)
    camera.rest()
    yield "house, the work"


def _wishes(camera: Camera, window: "Window") -> Iterator[str]:
    from planner.desktop.model import wishes

    page = window.page
    assert page is not None
    page.go_to("order")
    draft = page.open_day.draft
    job = next(iter(draft.at(("jobs",))))
    stage = next(name for name in draft.at(("jobs", job, "stages")) if "sweep" in name)
    shown = page.open_day.shown
    work = shown.plan.work(job, stage) if shown is not None else None
    page.wish(wishes.stage_at(draft, job, stage, work.start + 10 if work is not None else 14 * 60))
    camera.wait(lambda: not page.side_process.is_busy)
    camera.rest()
    yield "wish weighed"
    page.notice.on_leave()
    page.wish(wishes.stage_at(draft, job, stage, 5 * 60))
    camera.wait(lambda: not page.side_process.is_busy)
    camera.rest()
    yield "wish refused"
    page.notice.on_leave()


def _running(camera: Camera, window: "Window") -> Iterator[str]:
    from planner.plan.progress import Noted

    page = window.page
    assert page is not None
    page.go_to("running")
    for late in (5, 12):
        shown = page.open_day.shown
        work = page.page("running").due()
        if shown is None or work is None:
            break
        page.open_day.mark(Noted(work.job, work.stage, work.start + late, work.end + late + 4))
        camera.rest()
        camera.wait(lambda: not page.planning.is_busy)
    yield "under way"
    page.open_day.undo_stack.setIndex(0)


if TYPE_CHECKING:
    from planner.desktop.pages.day_page import DayPage as Page


def main() -> int:
    """Draw each size in a process of its own."""
    parser = argparse.ArgumentParser(prog="python -m tests.screens", description="Draw each state of the window.")
    parser.add_argument("out", type=Path, help="a folder for the pictures")
    parser.add_argument("--only", default="", metavar="WORD", help="only states whose name holds this")
    parser.add_argument("--seconds", type=int, default=20, help="how long each day is planned")
    parser.add_argument("--guide", action="store_true", help="only the pictures that the guide shows")
    parser.add_argument("--size", type=int, choices=range(len(SIZES)), help=argparse.SUPPRESS)
    parser.add_argument("--plans", type=Path, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    asked.out.mkdir(parents=True, exist_ok=True)
    if asked.size is not None:
        draw(SIZES[asked.size], asked.out, asked.only, asked.seconds, asked.plans)
        return 0
    if asked.guide:
        os.environ["QT_QPA_PLATFORM"] = "offscreen"
        draw_for_the_guide(asked.out, asked.seconds)
        if asked.out.resolve() == SAMPLES.parent / "resources" / "help" / "pictures":
            from tests.desktop import pictured

            pictured.keep()
        return 0
    codes = []
    with tempfile.TemporaryDirectory() as plans:
        for at, size in enumerate(SIZES):
            environment = os.environ | {"QT_QPA_PLATFORM": "offscreen", "QT_SCALE_FACTOR": str(size.sharpness)}
            command = [sys.executable, "-m", "tests.screens", str(asked.out), "--size", str(at), "--plans", plans]
            command += ["--only", asked.only, "--seconds", str(asked.seconds)]
            codes.append(subprocess.run(command, env=environment, check=False).returncode)
    return max(codes)


if __name__ == "__main__":
    sys.exit(main())
