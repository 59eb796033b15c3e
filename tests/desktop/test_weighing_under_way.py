"""The pages that weigh a plan, on a day under way: they offer only what can still be."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from planner.day import Day
from planner.desktop.model.open_day import Settled
from planner.desktop.pages.day_page import DayPage
from planner.desktop.pages.questions_panel import QuestionsPanel
from planner.desktop.pages.remedies_panel import RemediesPanel
from planner.desktop.pages.trade_off_panel import TradeOffPanel
from planner.engine import plan_rest
from planner.fit.help_from_now import help_from_now
from planner.fit.second_hand import HELPER
from planner.plan.plan import Plan
from planner.plan.progress import Noted


@pytest.fixture
def late(page: DayPage) -> tuple[Day, Plan]:
    """The page's day with its first stage half an hour late, and the rest of it; the day is as its file says."""
    day, shown = page.open_day.day, page.open_day.shown
    assert day is not None
    assert shown is not None
    first = min(shown.plan.works, key=lambda work: work.start)
    page.open_day.mark(Noted(first.job, first.stage, first.start, first.end + 30))
    told = page.open_day.told_since
    rest = plan_rest(day, shown.plan, told, seconds=5)
    assert rest.plan is not None
    page.open_day.keep_plan(rest.plan, record=rest.progress)
    return day, rest.plan


def test_nothing_that_is_past_is_offered(page: DayPage, late: tuple[Day, Plan]) -> None:
    page.go_to("remedies")
    remedies = page.page("remedies")
    assert isinstance(remedies, RemediesPanel)
    assert remedies.try_button.isHidden()
    assert remedies.help_button.isVisible()
    assert remedies.help_button.isEnabled()
    page.go_to("trade-off")
    trade = page.page("trade-off")
    assert isinstance(trade, TradeOffPanel)
    assert not trade.find_button.isEnabled()
    assert trade.pick_button.isHidden()
    page.go_to("what-if")
    questions = page.page("what-if")
    assert isinstance(questions, QuestionsPanel)
    assert not questions.ask_button.isEnabled()
    assert "under way" in questions.answer


def test_who_could_still_come_is_taken_with_the_rest_and_undone(
    qtbot: QtBot, page: DayPage, late: tuple[Day, Plan]
) -> None:
    day, rest = late
    page.go_to("remedies")
    panel = page.page("remedies")
    assert isinstance(panel, RemediesPanel)
    told = page.open_day.told_since
    found = help_from_now(day, rest, told, rest, save=5, seconds=10)
    assert found.stretch is not None
    panel.on_least_help(found)
    panel.rows.setCurrentIndex(panel.rows.model().index(0, 0))
    before: Settled = page.open_day.state
    qtbot.mouseClick(panel.take_button, Qt.MouseButton.LeftButton)
    assert page.open_day.day is not None
    assert HELPER in page.open_day.day.hands
    assert page.open_day.plan == found.stretch.plan
    assert page.open_day.state.progress == before.progress, "what was told stays told"
    page.open_day.undo_stack.undo()
    assert page.open_day.state == before
    assert page.open_day.plan == rest


def test_it_is_asked_for_with_what_was_told(qtbot: QtBot, page: DayPage, late: tuple[Day, Plan]) -> None:
    page.go_to("remedies")
    panel = page.page("remedies")
    assert isinstance(panel, RemediesPanel)
    qtbot.mouseClick(panel.help_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not panel.rows.isHidden() or "No second hand" in _words(panel), timeout=60_000)
    assert panel.stop_button.isHidden()


def _words(panel: RemediesPanel) -> str:
    return panel._words.text()
