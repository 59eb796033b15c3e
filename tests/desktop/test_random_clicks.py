"""A day under way, told by whoever presses anything: nothing ends in an error, and every step can be undone."""

import random

import pytest
from PySide6.QtWidgets import QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.running_panel import RunningPanel
from planner.engine import plan_rest
from planner.plan.progress import NOTHING_TOLD, ProgressError
from tests.cli.commands import SAMPLES
from tests.sheet.plans import tiny_plan

STEPS = 40
WORDS = ("", "18 m2", "40 %", "20 min", "5 of 10 m2", "100 %", "-5 min", "25:70", "08:50", "16:30", "words")


class Presser:
    """Presses, chooses and writes anything on the page of a day under way, while the clock goes on."""

    def __init__(self, seed: int, qtbot: QtBot) -> None:
        self.rng, self.now = random.Random(seed), 480
        self.open_day = OpenDay((SAMPLES / "tiny.toml").read_text(encoding="utf-8"))
        self.open_day.keep_plan(tiny_plan())
        self.page = RunningPanel(self.open_day, now=lambda: self.now)
        qtbot.addWidget(self.page)
        self.page.show()
        self.page.more_button.setChecked(True)
        self.page.refresh()

    def step(self) -> None:
        """Do one of the things that can be done."""
        ways = (self.wait, self.choose, self.write, self.press, self.press, self.undo, self.plan)
        self.rng.choice(ways)()
        self.page.refresh()

    def wait(self) -> None:
        """The clock goes on."""
        self.now += self.rng.randint(0, 25)

    def choose(self) -> None:
        """Choose a row."""
        rows = self.page.rows.model()
        if rows.rowCount():
            self.page.rows.setCurrentIndex(rows.index(self.rng.randrange(rows.rowCount()), 0))

    def write(self) -> None:
        """Write something into a field."""
        self.rng.choice([x for x in self.page.findChildren(QLineEdit) if x.isVisible()]).setText(self.rng.choice(WORDS))

    def press(self) -> None:
        """Press a button, or choose from its menu."""
        button = self.rng.choice([x for x in self.page.findChildren(QPushButton) if x.isVisible() and x.isEnabled()])
        menu = button.menu()
        actions = [] if menu is None else [x for x in menu.actions() if x.isEnabled()]
        if actions:
            self.rng.choice(actions).trigger()
        elif menu is None:
            button.click()

    def undo(self) -> None:
        """A step back."""
        self.open_day.undo_stack.undo()

    def plan(self) -> None:
        """Plan the rest, once nothing is asked any more."""
        self.open_day.answer_as_likely()
        state, shown, day = self.open_day.state, self.open_day.shown, self.open_day.day
        assert shown is not None
        assert day is not None
        if self.open_day.doubts:
            return
        told = state.progress.since(shown.plan.since or 0)
        try:
            result = plan_rest(day, shown.plan, told, seconds=0.2, workers=1, deterministic=True)
        except ProgressError:  # told to the user in its words
            return
        assert result.refused == ()
        if result.plan is not None:
            self.open_day.keep_plan(result.plan, state, record=result.progress)


@pytest.mark.parametrize("seed", range(14))
def test_whatever_is_pressed_nothing_ends_in_an_error_and_all_can_be_undone(seed: int, qtbot: QtBot) -> None:
    presser = Presser(seed, qtbot)  # an error in what a signal calls is one of the test
    for _ in range(STEPS):
        presser.step()
    stack = presser.open_day.undo_stack
    assert stack.count() > 0
    while stack.canUndo():
        stack.undo()
    assert presser.open_day.state.progress == NOTHING_TOLD
