"""One open day: every step back and forth, and the plans that belong to each state."""

from pathlib import Path

from pytestqt.qtbot import QtBot

from planner.day.file import day_to_toml
from planner.desktop.model.draft import Change
from planner.desktop.model.open_day import OpenDay
from planner.engine import first_plan
from planner.plan.progress import Noted
from tests.days import tiny_day


def opened() -> OpenDay:
    return OpenDay(day_to_toml(tiny_day()))


def test_undo_goes_back_to_the_start_and_redo_to_the_end(qtbot: QtBot) -> None:
    open_day = opened()
    texts = [open_day.draft.text]
    for minute in ("19:00", "18:00", "17:00"):
        open_day.set("Change finish", ("finish",), minute)
        texts.append(open_day.draft.text)
    open_day.mark(Noted("elm", "treat", 500))
    assert len(set(texts)) == 4
    for text in reversed(texts):
        open_day.undo_stack.undo()
        assert open_day.draft.text == text
    assert open_day.state.progress.noted == ()
    assert open_day.is_clean
    assert not open_day.undo_stack.canUndo()
    while open_day.undo_stack.canRedo():
        open_day.undo_stack.redo()
    assert open_day.draft.text == texts[-1]
    assert open_day.state.progress.of_stage("elm", "treat") == Noted("elm", "treat", 500)


def test_a_plan_comes_back_with_its_day(qtbot: QtBot) -> None:
    open_day = opened()
    day = open_day.day
    assert day is not None
    plan = first_plan(day)
    assert plan is not None
    open_day.keep_plan(plan)
    open_day.set("Change finish", ("finish",), "19:00")
    assert open_day.plan is None, "the plan was made for another day"
    assert open_day.shown is not None, "but it stays in sight"
    assert open_day.shown.plan is plan
    assert not open_day.is_shown_current
    open_day.undo_stack.undo()
    assert open_day.plan is plan
    assert open_day.is_shown_current


def test_a_value_set_to_what_it_is_makes_no_step(qtbot: QtBot) -> None:
    open_day = opened()
    open_day.set("Change title", ("jobs", "elm", "title"), "Elm Cottage")
    assert open_day.undo_stack.count() == 0
    assert open_day.is_clean


def test_a_day_open_to_read_only_does_not_change(qtbot: QtBot) -> None:
    open_day = OpenDay(day_to_toml(tiny_day()), Path("x.toml"), read_only=True)
    before = open_day.draft.text
    open_day.set("Change finish", ("finish",), "19:00")
    assert open_day.draft.text == before
    open_day.become_copy()
    open_day.set("Change finish", ("finish",), "19:00")
    assert open_day.draft.text != before
    assert open_day.path is None


def test_faults_do_not_stop_the_work(qtbot: QtBot) -> None:
    open_day = opened()
    open_day.change("Change place", [Change(("jobs", "elm", "place"), "nowhere")])
    assert open_day.day is None
    assert open_day.draft.faults_at(("jobs", "elm", "place"))
    open_day.undo_stack.undo()
    assert open_day.day == tiny_day()


def test_a_change_that_cannot_be_made_is_told_and_the_day_stays(qtbot: QtBot) -> None:
    open_day = opened()
    text = open_day.draft.text
    with qtbot.waitSignal(open_day.refused) as told:
        open_day.set("Change date", ("date", "of", "it"), "x")
    assert "there can be no value here" in told.args[0]
    assert open_day.draft.text == text
    assert open_day.is_clean
