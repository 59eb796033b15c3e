"""What lies beside a day when the window saves it: nothing that somebody else kept is lost."""

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from planner.day.file import read_day
from planner.desktop.pages.day_page import DayPage
from planner.desktop.window import Window
from planner.plan.kept import Kept, keep, plan_path, read_kept, seen
from planner.plan.progress import Noted, Progress
from tests.sheet.plans import tiny_plan

NOTED = Progress(510, (Noted("elm", "treat", 496, 508),), settled=0)

Planned = Callable[[DayPage], None]


@pytest.fixture
def with_plan(tiny_file: Path) -> Path:
    keep(tiny_file, read_day(tiny_file), Kept(tiny_plan()))
    return tiny_file


def test_what_a_command_kept_meanwhile_is_not_written_over(
    qtbot: QtBot, window: Window, with_plan: Path, told: list[str]
) -> None:
    page = window.open(with_plan)
    assert page is not None
    keep(with_plan, read_day(with_plan), Kept(tiny_plan(), NOTED, seen(with_plan)))
    before, day = plan_path(with_plan).read_bytes(), with_plan.read_bytes()
    page.open_day.set("Change title", ("title",), "another")
    assert not window.save(page)
    assert "another program has kept" in told[0]
    assert plan_path(with_plan).read_bytes() == before
    assert with_plan.read_bytes() == day
    assert not page.open_day.is_clean


def test_a_record_of_a_newer_version_is_left_as_it_is(
    qtbot: QtBot, window: Window, with_plan: Path, planned: Planned
) -> None:
    tables = json.loads(plan_path(with_plan).read_text(encoding="utf-8"))
    plan_path(with_plan).write_text(json.dumps(tables | {"record": {"format": 4, "more": 1}}), encoding="utf-8")
    before = plan_path(with_plan).read_bytes()
    page = window.open(with_plan)
    assert page is not None
    assert "format is 4" in page.filed.notice
    page.open_day.set("Change title", ("title",), "another")
    planned(page)
    assert window.save(page)
    assert "left as it is" in window.statusBar().currentMessage()
    assert plan_path(with_plan).read_bytes() == before
    assert read_day(with_plan).title == "another"


def test_what_cannot_be_read_stays_as_a_copy(qtbot: QtBot, window: Window, with_plan: Path, planned: Planned) -> None:
    plan_path(with_plan).write_text("no plan", encoding="utf-8")
    page = window.open(with_plan)
    assert page is not None
    page.open_day.set("Change title", ("title",), "another")
    planned(page)
    assert window.save(page)
    aside = with_plan.with_name(f"{plan_path(with_plan).name}.aside-1")
    assert aside.read_text(encoding="utf-8") == "no plan"
    assert aside.name in window.statusBar().currentMessage()
    kept = read_kept(with_plan)
    assert kept is not None
    assert kept.plan == page.open_day.plan


def test_marks_are_kept_with_the_plan_and_come_back(qtbot: QtBot, window: Window, with_plan: Path) -> None:
    page = window.open(with_plan)
    assert page is not None
    page.open_day.mark(Noted("elm", "treat", 496, 508))
    assert window.save(page)
    kept = read_kept(with_plan)
    assert kept is not None
    assert kept.progress is not None
    assert replace(kept.progress, at=510) == NOTED
    assert window.close_page(page)
    again = window.open(with_plan)
    assert again is not None
    assert again.open_day.state.progress.of_stage("elm", "treat") == Noted("elm", "treat", 496, 508)


def test_a_day_saved_twice_keeps_nothing_anew_where_nothing_changed(
    qtbot: QtBot, window: Window, with_plan: Path
) -> None:
    page = window.open(with_plan)
    assert page is not None
    before = plan_path(with_plan).stat().st_mtime_ns
    assert window.save(page)
    assert window.save(page)
    assert plan_path(with_plan).stat().st_mtime_ns == before


def test_the_plan_that_the_window_shows_is_the_plan_of_the_day(
    qtbot: QtBot, window: Window, tiny_file: Path, planned: Planned
) -> None:
    """Without saving: the file says what is shown; once it does not, nothing is kept until it is saved."""
    page = window.open(tiny_file)
    assert page is not None
    planned(page)
    qtbot.waitUntil(lambda: plan_path(tiny_file).exists(), timeout=5_000)
    kept = read_kept(tiny_file)
    assert kept is not None
    assert kept.plan.works == page.open_day.plan.works
    before = plan_path(tiny_file).read_bytes()
    page.open_day.set("Change minutes", ("jobs", "elm", "stages", "sweep", "methods", "broom", "minutes"), "31 min")
    planned(page)
    qtbot.wait(200)
    assert plan_path(tiny_file).read_bytes() == before
    assert window.save(page)
    after = read_kept(tiny_file)
    assert after is not None
    assert after.plan.works == page.open_day.plan.works
