"""A day under way in the window: what is asked, and what else is told, by buttons that a thumb can press."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from planner.day.reading import read_day
from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.running_panel import RunningPanel
from planner.plan.progress import NOTHING_TOLD, More, NotYet
from tests.cli.commands import SAMPLES
from tests.sheet.plans import tiny_plan

Panel = tuple[OpenDay, RunningPanel]

NOW = 8 * 60 + 55


@pytest.fixture
def panel(qtbot: QtBot) -> Panel:
    """The smallest day with the plan that was written by hand: treated 08:16 to 08:28, swept 08:32 to 08:52."""
    open_day = OpenDay((SAMPLES / "tiny.toml").read_text(encoding="utf-8"))
    open_day.keep_plan(tiny_plan())
    panel = RunningPanel(open_day, now=lambda: NOW)
    qtbot.addWidget(panel)
    panel.show()
    panel.refresh()
    return open_day, panel


def pick(panel: RunningPanel, stage: str) -> None:
    """Choose the row of a stage."""
    at = next(n for n, told in enumerate(panel.rows.told()) if stage in told.what)
    panel.rows.setCurrentIndex(panel.rows.model().index(at, 0))


def test_what_must_have_been_is_asked_in_place_and_answered_by_a_button(panel: Panel, qtbot: QtBot) -> None:
    open_day, page = panel
    assert not page.doubts.isVisible()
    pick(page, "Sweep")
    page.at.line.setText("08:52")
    page.done_button.click()
    assert page.doubts.isVisible()
    assert "Treat the wall" in page.doubts.words
    assert all(button.minimumHeight() >= 44 for button in page.doubts.findChildren(QPushButton))
    likely = page.doubts.buttons[0]
    assert "08:16 to 08:28" in likely.text()
    likely.setFocus()
    qtbot.keyClick(likely, Qt.Key.Key_Space)
    treat = open_day.state.progress.of_stage("elm", "treat")
    assert treat is not None
    assert (treat.start, treat.end) == (496, 508)
    assert open_day.doubts == ()
    assert not page.doubts.isVisible()


def test_an_answer_may_be_that_it_was_not_so(panel: Panel) -> None:
    open_day, page = panel
    pick(page, "Sweep")
    page.at.line.setText("08:52")
    page.done_button.click()
    page.doubts.buttons[1].click()
    assert open_day.state.progress.not_yet == (NotYet("elm", "treat", 532),)
    assert open_day.doubts == ()
    open_day.undo_stack.undo()
    assert "Treat the wall" in open_day.doubts[0].words


def test_half_done_is_told_by_its_measure(panel: Panel) -> None:
    open_day, page = panel
    page.more_button.click()
    assert page.more.isVisible()
    pick(page, "Treat")
    page.more.amount.line.setText("all of it")
    page.more.half_button.click()
    assert "18 of 24 m2" in page.more.amount.message
    assert open_day.state.progress == NOTHING_TOLD
    page.at.line.setText("08:25")
    page.more.amount.line.setText("15 of 20 m2")
    page.more.half_button.click()
    note = open_day.state.progress.of_stage("elm", "treat")
    assert note is not None
    assert (note.end, note.part) == (505, 0.75)


def test_what_is_missing_is_chosen_from_what_the_day_takes(panel: Panel) -> None:
    open_day, page = panel
    page.more_button.click()
    words = [action.text() for action in page.more.missing.actions()]
    broken = words.index("Broom: broken")
    page.at.line.setText("10:00")
    page.more.missing.actions()[broken].trigger()
    assert open_day.state.progress.lacking == {"broom": 600}
    fetched = words.index("Broom: drive back for it")
    page.more.missing.actions()[fetched].trigger()
    assert open_day.state.progress.back == {"ash": NOW + 25}, "ten minutes each way and five to find it"
    pick(page, "Sweep")
    page.more.amount.line.setText("20 min")
    page.more.more_button.click()
    assert open_day.state.progress.more == (More("elm", "sweep", 20),)


def test_the_rest_of_what_is_half_done_may_take_its_own_time(panel: Panel) -> None:
    open_day, page = panel
    page.more_button.click()
    pick(page, "Sweep")
    page.at.line.setText("08:50")
    page.more.amount.line.setText("75 %")
    page.more.rest.line.setText("a while")
    page.more.half_button.click()
    assert "25 min" in page.more.rest.message
    assert open_day.state.progress == NOTHING_TOLD
    page.at.line.setText("08:50")
    page.more.rest.line.setText("9 min")
    page.more.half_button.click()
    note = open_day.state.progress.of_stage("elm", "sweep")
    assert note is not None
    assert (note.part, note.rest) == (0.75, 9)
    assert page.more.rest.line.text() == ""


def test_who_drives_back_is_chosen_where_there_are_two(qtbot: QtBot) -> None:
    text = (SAMPLES / "tiny.toml").read_text(encoding="utf-8")
    two = text.replace("[hands.ash]", "[hands.bo]\nname = 'Bo'\n\n[hands.ash]", 1)
    assert two != text
    open_day = OpenDay(two)
    open_day.keep_plan(tiny_plan())
    page = RunningPanel(open_day, now=lambda: NOW)
    qtbot.addWidget(page)
    page.refresh()
    words = {action.text(): action for action in page.more.missing.actions()}
    words["Broom: drive back for it (Bo)"].trigger()
    assert set(open_day.state.progress.back) == {"bo"}


def test_what_comes_next_stands_below_what_is_due(panel: Panel) -> None:
    _, page = panel
    assert page.next_words == "Then: 08:32 Sweep the path, 09:08 Rinse the wall"


def test_rain_has_an_end(panel: Panel) -> None:
    open_day, page = panel
    assert not page.more.rain_ends_button.isEnabled()
    page.events.rain_button.click()
    page.at.line.setText("10:30")
    page.more.rain_ends_button.click()
    assert (open_day.state.progress.rain, open_day.state.progress.rain_until) == (NOW, 630)


def test_the_day_shown_is_the_day_as_it_went(panel: Panel) -> None:
    """Treated from 08:16 to 08:40 by the note: the picture and every page show that, not the twelve minutes planned."""
    open_day, page = panel
    pick(page, "Treat")
    page.at.line.setText("08:40")
    page.done_button.click()
    assert open_day.day is not None
    assert open_day.day == read_day(SAMPLES / "tiny.toml")
    open_day.keep_plan(tiny_plan())
    assert open_day.shown is not None
    assert open_day.shown.day.jobs["elm"].likely_minutes("treat", "spray") > 12
