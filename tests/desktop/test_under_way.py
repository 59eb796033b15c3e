"""A day under way in the window: what is asked, and what else is told, by buttons that a thumb can press."""

import threading
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from planner.day.reading import read_day
from planner.desktop.model.open_day import OpenDay, Shown
from planner.desktop.pages.running_panel import RunningPanel
from planner.desktop.thinking.questions import Question
from planner.desktop.thinking.studies import study
from planner.plan.plan import Fetch
from planner.plan.progress import NOTHING_TOLD, More, Noted, NotYet, Sent
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
    assert open_day.state.progress.fetches == (Sent("ash", "broom", "elm", NOW, NOW + 25),)
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


def test_who_did_a_stage_is_chosen_where_there_are_two_and_it_was_begun(qtbot: QtBot) -> None:
    """Ash sweeps by the plan; it was Bo."""
    text = (SAMPLES / "tiny.toml").read_text(encoding="utf-8")
    open_day = OpenDay(text.replace("[hands.ash]", "[hands.bo]\nname = 'Bo'\n\n[hands.ash]", 1))
    open_day.keep_plan(tiny_plan())
    page = RunningPanel(open_day, now=lambda: NOW)
    qtbot.addWidget(page)
    page.show()
    page.refresh()
    page.more_button.click()
    pick(page, "Sweep")
    assert not page.more.by_button.isEnabled()
    page.at.line.setText("08:52")
    page.done_button.click()
    pick(page, "Sweep")
    assert page.more.by_button.isEnabled()
    assert [action.text() for action in page.more.by.actions()] == ["Bo", "Ash", "both"]
    page.more.by.actions()[0].trigger()
    sweep = open_day.state.progress.of_stage("elm", "sweep")
    assert sweep is not None
    assert (sweep.end, sweep.hands) == (532, ("bo",))


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


class AtOnce(QObject):
    """Studies in this process, at once."""

    failed = Signal(str, str)

    def ask(self, task: str, shown: Shown, on_found: Callable[[Any], None], extra: Any = None) -> None:
        question = Question(0, task, shown.day, shown.plan, extra=extra)
        on_found(study(question, lambda *_: None, threading.Event()))


def test_what_can_be_given_up_is_offered_with_what_it_saves_and_what_another_day_takes(qtbot: QtBot) -> None:
    """Treated by 08:28, home at 09:51, and the day is over at 09:30: without the sweep it is home sooner."""
    text = (SAMPLES / "tiny.toml").read_text(encoding="utf-8")
    short = text.replace('finish = "13:00"', 'finish = "09:30"')
    assert short != text
    open_day = OpenDay(short)
    open_day.keep_plan(tiny_plan())
    page = RunningPanel(open_day, studying=AtOnce(), now=lambda: 508)  # type: ignore[arg-type]
    qtbot.addWidget(page)
    page.show()
    page.refresh()
    assert not page.giving_up.isVisible(), "nothing is told of it yet"
    open_day.mark(Noted("elm", "treat", 496, 508))
    open_day.keep_plan(tiny_plan())
    page.refresh()
    assert page.giving_up.words == "It cannot all be done today."
    qtbot.keyClick(page.giving_up.look_button, Qt.Key.Key_Space)
    offer = page.giving_up.rows.told()[0]
    assert offer.what == "Sweep the path"
    assert "sooner" in offer.below
    assert "another day takes Broom" in offer.below
    with qtbot.waitSignal(page.left_wanted):
        qtbot.keyClick(page.giving_up.take_button, Qt.Key.Key_Space)
        assert open_day.state.progress.dropped == (("elm", "sweep"),)
        page.giving_up.left_button.click()
    open_day.undo_stack.undo()
    assert open_day.state.progress.dropped == ()


def test_nothing_to_press_on_the_day_is_smaller_than_a_finger(panel: Panel) -> None:
    """At least 44 pixels high: WCAG 2.2, success criterion 2.5.5."""
    _, page = panel
    page.more_button.click()
    targets = [*page.findChildren(QPushButton), *page.findChildren(QLineEdit)]
    assert len(targets) > 20
    assert all(max(target.minimumHeight(), target.height()) >= 44 for target in targets)
    assert page.rows.least_height >= 44


TELLINGS = [
    ("rain", lambda page: page.events.rain_button.click()),
    ("gone home", lambda page: page.events.hands.actions()[0].trigger()),
    ("comes later", lambda page: page.more.late.actions()[0].trigger()),
    ("broken", lambda page: chosen(page, "Broom: broken")),
    ("forgotten", lambda page: chosen(page, "Broom: drive back for it")),
    ("used up", lambda page: chosen(page, "Sand (bag): used up")),
    ("nobody in", lambda page: chosen(page, "Elm Cottage: nobody in")),
    ("no tap", lambda page: chosen(page, "Elm Cottage: no tap")),
]


def chosen(page: RunningPanel, words: str) -> None:
    """Choose something that is missing."""
    next(action for action in page.more.missing.actions() if action.text() == words).trigger()


@pytest.mark.parametrize("tell", [tell for _, tell in TELLINGS], ids=[name for name, _ in TELLINGS])
def test_whatever_is_told_can_be_taken_back(qtbot: QtBot, tell: Callable[[RunningPanel], None]) -> None:
    text = (SAMPLES / "tiny.toml").read_text(encoding="utf-8")
    open_day = OpenDay(text + '\n[materials.sand]\nname = "Sand"\ncontainer = "bag"\nload = 1\n')
    assert open_day.day is not None
    open_day.keep_plan(tiny_plan())
    page = RunningPanel(open_day, now=lambda: NOW)
    qtbot.addWidget(page)
    page.refresh()
    tell(page)
    assert replace(open_day.state.progress, at=0, said=0) != NOTHING_TOLD
    (item,) = page.more.not_so.actions()
    item.trigger()
    assert replace(open_day.state.progress, at=0, said=0) == NOTHING_TOLD
    assert page.more.not_so.actions() == []


def test_more_that_is_asked_for_is_corrected_by_the_later_word(panel: Panel) -> None:
    open_day, page = panel
    pick(page, "Sweep")
    for minutes in ("20 min", "10 min"):
        page.more.amount.line.setText(minutes)
        page.more.more_button.click()
    assert open_day.state.progress.more == (More("elm", "sweep", 10),)


def test_a_stage_is_told_corrected_and_taken_back_by_keys_alone(panel: Panel, qtbot: QtBot) -> None:
    open_day, page = panel
    page.rows.setFocus()
    page.rows.setCurrentIndex(page.rows.model().index(0, 0))
    qtbot.keyClick(page.rows, Qt.Key.Key_Down)
    assert page.meant() == ("elm", "sweep")
    for minute, words in ((540, "09:00"), (535, "08:55")):
        page.at.line.setText(words)
        pick(page, "Sweep")
        qtbot.keyClick(page.done_button, Qt.Key.Key_Space)
        note = open_day.state.progress.of_stage("elm", "sweep")
        assert note is not None
        assert note.end == minute
    pick(page, "Sweep")
    qtbot.keyClick(page.back_button, Qt.Key.Key_Space)
    assert open_day.state.progress.of_stage("elm", "sweep") is None
    pick(page, "Sweep")
    qtbot.keyClick(page.drop_button, Qt.Key.Key_Space)
    assert open_day.state.progress.dropped == (("elm", "sweep"),)


def test_what_is_given_up_stands_last_with_its_name_also_when_the_rest_is_planned_without_it(panel: Panel) -> None:
    open_day, page = panel
    assert open_day.shown is not None
    plan = open_day.shown.plan
    pick(page, "Sweep")
    page.drop_button.click()
    open_day.keep_plan(replace(plan.without_works([("elm", "sweep")]), since=NOW))
    assert open_day.shown is not None
    assert "sweep" not in open_day.shown.day.jobs["elm"].stages
    page.refresh()
    assert [(row.what, row.below) for row in page.rows.told()][-1] == ("Sweep the path", "given up for today")
    pick(page, "Sweep")
    assert page.back_button.isEnabled()


def test_of_what_is_given_up_nothing_is_told_until_that_is_taken_back(panel: Panel) -> None:
    _, page = panel
    page.more_button.click()
    told_of_a_stage = (page.more.half_button, page.more.not_yet_button, page.more.more_button)
    pick(page, "Sweep")
    page.drop_button.click()
    page.on_due()
    assert all(button.isEnabled() for button in told_of_a_stage)
    pick(page, "Sweep")  # chosen by a finger: nothing else of the page is told anew
    assert not any(button.isEnabled() for button in told_of_a_stage)
    page.back_button.click()
    assert all(button.isEnabled() for button in told_of_a_stage)


def test_the_van_that_is_away_stands_with_the_clocks(panel: Panel) -> None:
    open_day, page = panel
    assert open_day.shown is not None
    fetch = Fetch("ash", "broom", "elm", "yard", NOW - 5, NOW + 5, NOW + 10, NOW + 20)
    open_day.keep_plan(replace(open_day.shown.plan, fetches=(fetch,)))
    page.refresh()
    assert "The van is away for Broom, back at 09:15" in page.waits_words


def test_where_nothing_given_up_would_help_that_is_said(qtbot: QtBot) -> None:
    """Only the rinse is left, which takes off what is on: nothing can be given up."""
    text = (SAMPLES / "tiny.toml").read_text(encoding="utf-8")
    open_day = OpenDay(text.replace('finish = "13:00"', 'finish = "09:30"'))
    open_day.keep_plan(tiny_plan())
    page = RunningPanel(open_day, studying=AtOnce(), now=lambda: 532)  # type: ignore[arg-type]
    qtbot.addWidget(page)
    page.show()
    open_day.mark(Noted("elm", "treat", 496, 508))
    open_day.mark(Noted("elm", "sweep", 512, 532))
    open_day.keep_plan(tiny_plan())
    page.refresh()
    page.giving_up.look_button.click()
    page.refresh()
    assert page.giving_up.words == "It cannot all be done today. Nothing that could be given up would help."
    assert not page.giving_up.rows.isVisible()
