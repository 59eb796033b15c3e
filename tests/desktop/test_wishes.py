"""Wishes about the plan: weighed before they are made, refused with the reason, and taken back again."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot

from planner.day.file import day_to_toml
from planner.desktop.model import wishes
from planner.desktop.model.day_changes import changed_to
from planner.desktop.model.differences import differences, moves
from planner.desktop.model.draft import Draft
from planner.desktop.model.open_day import Shown
from planner.desktop.pages.day_page import DayPage
from planner.desktop.window import Window
from planner.engine import first_plan
from planner.fit import changes
from planner.fit.second_hand import with_helper
from tests.days import tiny_day
from tests.desktop.test_plain_faults import OF_A_FILE

Planned = Callable[[DayPage], None]

BY_RECIPE = """
format = 1
date = 2026-06-16
van = { starts_at = "yard", ends_at = "yard" }
hands.ash = {}
places = { yard = {}, elm = {} }
travel.trips = [{ from = "yard", to = "elm", minutes = "10 min" }]
[jobs.elm]
place = "elm"
recipe = "treat-wall"
measures = { area = "20 m2" }
grounds.rear = { supplies = { tap = 1, socket = 1 }, way_in = { minutes = "1 min" } }
"""


def test_a_stage_drawn_to_a_time_is_weighed_then_done_then_undone(
    qtbot: QtBot, page: DayPage, planned: Planned
) -> None:
    before, shown = page.open_day.draft.text, page.open_day.shown
    assert shown is not None
    page.chart.chart.stage_dragged.emit("elm", "sweep", 620)
    qtbot.waitUntil(lambda: not page.side_process.is_busy and page.notice.do_button.isVisible(), timeout=120_000)
    assert page.open_day.draft.text == before, "nothing is done before it is accepted"
    assert "10:20" in page.notice.words
    qtbot.mouseClick(page.notice.do_button, Qt.MouseButton.LeftButton)
    assert page.open_day.draft.at(("jobs", "elm", "stages", "sweep", "starts_at")) == "10:20"
    assert page.open_day.is_shown_current, "the plan that was weighed is taken over"
    assert page.planning.is_busy, "it was weighed in haste, so it is planned on"
    assert page.open_day.shown is not None
    work = page.open_day.shown.plan.work("elm", "sweep")
    assert work is not None
    assert work.start == 620
    page.open_day.undo_stack.undo()
    assert page.open_day.draft.text == before
    assert page.open_day.shown.plan == shown.plan


def test_what_cannot_be_is_refused_with_the_reason(qtbot: QtBot, page: DayPage) -> None:
    before = page.open_day.draft.text
    page.wish(wishes.stage_before(page.open_day.draft, "elm", "rinse", "treat"))
    qtbot.waitUntil(lambda: "Cannot be" in page.notice.words, timeout=120_000)
    assert "rinse" in page.notice.words.lower()
    assert not OF_A_FILE.search(page.notice.words), page.notice.words
    assert page.notice.do_button.isHidden()
    qtbot.mouseClick(page.notice.leave_button, Qt.MouseButton.LeftButton)
    assert page.notice.isHidden()
    assert page.open_day.draft.text == before


def test_a_time_before_the_van_is_there_is_refused_in_plain_words(page: DayPage) -> None:
    page.wish(wishes.stage_at(page.open_day.draft, "elm", "sweep", 5 * 60))
    assert page.notice.words.startswith("Cannot be")
    assert "05:00" in page.notice.words
    assert not OF_A_FILE.search(page.notice.words), page.notice.words


def test_a_wish_is_left_by_key(qtbot: QtBot, window: Window, page: DayPage) -> None:
    before = page.open_day.draft.text
    page.chart.chart.stage_dragged.emit("elm", "sweep", 620)
    assert page.notice.isVisible()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    qtbot.keyClick(window, Qt.Key.Key_Escape)
    assert page.notice.isHidden()
    assert not page.side_process.is_busy
    assert page.open_day.draft.text == before


def words_of(menu: QMenu | None) -> list[str]:
    assert menu is not None
    return [action.text() for action in menu.actions() if action.text()]


def test_the_menu_offers_what_can_be_wished(qtbot: QtBot, page: DayPage) -> None:
    assert words_of(page.chart.menu_of(("work", "elm", "sweep"))) == ["Start at …", "Before", "After"]
    assert words_of(page.chart.menu_of(("wait", "elm", "treat", "rinse"))) == ["Do nothing else on the job meanwhile"]
    assert page.chart.menu_of(("drive", 480)) is None


def test_a_pin_can_be_let_go() -> None:
    draft = Draft(day_to_toml(tiny_day()))
    pinned = draft.changed(wishes.stage_at(draft, "elm", "sweep", 620).changes)
    assert pinned.day is not None
    assert pinned.day.jobs["elm"].stages["sweep"].starts_at == 620
    free = pinned.changed(wishes.stage_free(pinned, "elm", "sweep").changes)
    assert free.day == draft.day


def test_wishes_about_a_job_made_from_a_recipe() -> None:
    draft = Draft(BY_RECIPE)
    assert draft.day is not None
    stages = draft.day.jobs["elm"].stages
    methods = list(stages["treat"].methods)
    assert len(methods) > 1
    fewer = draft.changed(wishes.without_method(draft, "elm", "treat", methods[0]).changes)
    assert fewer.day is not None
    assert list(fewer.day.jobs["elm"].stages["treat"].methods) == methods[1:]
    wait = next(w for w in draft.day.jobs["elm"].waits if w.after == "treat" and w.before)
    clear = draft.changed(wishes.wait_kept_clear(draft, "elm", wait.after, wait.before, clear=True).changes)
    assert clear.day is not None
    now = next(w for w in clear.day.jobs["elm"].waits if (w.after, w.before) == (wait.after, wait.before))
    assert now == wait.model_copy(update={"keep_clear": True})
    back = clear.changed(wishes.wait_kept_clear(clear, "elm", wait.after, wait.before, clear=False).changes)
    assert back.day == draft.day


@pytest.mark.parametrize("text", [day_to_toml(tiny_day()), BY_RECIPE], ids=["plain", "recipe"])
def test_a_remedy_is_written_into_the_text(text: str) -> None:
    draft = Draft(text)
    day = draft.day
    assert day is not None
    stage = next(s for s in day.jobs["elm"].stages if s in ("sweep", "treat"))
    wanted = [
        with_helper(day, 600, 660),
        changes.with_free_ways(day, "elm"),
        changes.with_way_in(day, "elm", "rear", {"load_limit": 4.0}),
        changes.with_methods(day, "elm", stage, list(day.jobs["elm"].stages[stage].methods)[:1]),
        day.model_copy(update={"start": day.start - 30}),
    ]
    for other in wanted:
        after = changed_to(draft, other)
        assert after is not None
        assert after.day is not None
        unused = {"kit": after.day.kit, "materials": after.day.materials}
        assert after.day == other.model_copy(update=unused)
        assert set(after.day.kit) <= set(other.kit), "kit that nothing uses any more may be left out"


def test_differences_are_told_in_words() -> None:
    day = tiny_day()
    later = tiny_day(hands={"ash": {}, "ben": {"name": "Ben"}}, start=510)
    one, two = first_plan(day), first_plan(later)
    assert one is not None
    assert two is not None
    before, after = Shown(day, one), Shown(later, two)
    told = "; ".join(differences(before, after))
    late = two.home - one.home
    assert late > 0
    assert f"home {late} min later" in told
    assert "with Ben" in told
    moved = moves(before, after)
    assert {what for what, _, _ in moved} == {"Treat: wall", "Rinse: wall", "Sweep: path"}
    assert all(now - then == late for _, then, now in moved)
    assert differences(before, before) == ("home no later, and no more trips",)
