"""The short way to a house, driven by mouse and by keys alone, each thing that is done counted.

An action is a field filled in, a choice made, a tick set or a button pressed. The house is the one that took 43 of them
in the forms: rear patio, walls, gutters front and rear, and steps.
"""

from collections.abc import Callable
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QCheckBox, QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from planner.desktop.forms.field import Choice, Field
from planner.desktop.forms.house_form import HouseForm, HousePage
from planner.desktop.forms.out_of_reach import OutOfReach
from planner.desktop.forms.work_row import WorkRow
from planner.desktop.model.draft import Change
from planner.desktop.model.house import House, work_ticks
from planner.desktop.model.open_day import OpenDay, Shown
from planner.desktop.pages.day_page import DayPage
from planner.desktop.starting import new_day
from planner.desktop.window import Window
from planner.engine import first_plan
from planner.plan.progress import Progress
from planner.trade.library import library

Planned = Callable[[DayPage], None]

MOST_ACTIONS = 25

WHOSE = {
    "Name of the customer": "Mrs Bird",
    "Phone": "01632 960017",
    "Street and number": "12 Larch Rise",
    "Drive from Our yard": "12",
    "Somebody at home": "yes",
    "Note for the crew": "Mind the cat",
    "Way in": "through the house",
    "From the van, one way": "2",
    "A tap": "at the rear",
    "How many sockets": "2",
    "How far they are from the work": "15",
}
WORK = {
    "Patio: washed, joints refilled": "8",
    "Steps: washed": "4",
    "Walls: washed": "16",
    "Gutter cleared, front": "9",
    "Gutter cleared, rear": "7",
}


def begun(qtbot: QtBot, window: Window) -> DayPage:
    page = window.add(new_day())
    qtbot.waitUntil(lambda: page.rail.chosen == "house")
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    return page


def check_day(page: DayPage) -> None:
    """The day says all that was entered, in its own units, and is planned."""
    day = page.open_day.day
    assert day is not None, [str(fault) for fault in page.open_day.draft.faults]
    [job] = day.jobs.values()
    assert (job.title, job.note) == ("12 Larch Rise", "Mind the cat")
    assert (job.customer.name, job.customer.phone, job.customer.at_home) == ("Mrs Bird", "01632 960017", True)
    assert day.drive_minutes("yard", job.place) == 12
    rear = job.grounds["rear"]
    assert (rear.way_in.minutes, rear.way_in.restricted, rear.way_in.through) == (2, True, "the house")
    assert (rear.supplies, rear.hose_run) == ({"tap": 1, "socket": 2}, 15)
    assert not job.grounds["front"].way_in.restricted
    measured = sorted((s.name, s.area, s.run, s.ground) for s in job.surfaces.values())
    assert measured == [
        ("Front gutter", None, 9, "front"),
        ("Patio", 8, None, "rear"),
        ("Rear gutter", None, 7, "rear"),
        ("Steps", 4 * 1.2 * 0.46, None, "rear"),  # a tread and riser of 460 mm, 1.2 m wide
        ("Walls", 16, None, "rear"),
    ]
    walls = next(surface for surface in job.surfaces.values() if surface.name == "Walls")
    below = {key for key, surface in job.surfaces.items() if surface.name in ("Patio", "Steps")}
    assert set(walls.drains_to) == below, "a wall stands over the paving below it"
    assert page.open_day.plan is not None


def test_a_house_by_mouse(qtbot: QtBot, window: Window, planned: Planned) -> None:
    page = begun(qtbot, window)
    form = page.page("house").findChild(HouseForm)
    assert form is not None
    actions = 0
    for label, value in WHOSE.items():
        entry: Any = next(e for kind in (Field, Choice) for e in form.findChildren(kind) if e.label == label)
        page.page("house").ensureWidgetVisible(entry)
        if isinstance(entry, Choice):
            entry.box.showPopup()
            view = entry.box.view()
            at = view.model().index(entry.box.findText(value, Qt.MatchFlag.MatchStartsWith), 0)
            assert at.isValid(), value
            qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=view.visualRect(at).center())
            window.activateWindow()  # the platform of the tests does not give the keys back to it
            qtbot.waitUntil(window.isActiveWindow)
        else:
            qtbot.mouseClick(entry.line, Qt.MouseButton.LeftButton)
            entry.line.selectAll()
            qtbot.keyClicks(entry.line, value)
        actions += 1
    grown = []
    for words, value in WORK.items():
        row = next(row for row in form.findChildren(WorkRow) if row.tick.words == words)
        page.page("house").ensureWidgetVisible(row)
        qtbot.mouseClick(row.box, Qt.MouseButton.LeftButton, pos=QPoint(8, row.box.height() // 2))
        assert row.measure.line.hasFocus(), "once ticked, its measure is asked"
        qtbot.keyClicks(row.measure.line, value)
        qtbot.keyClick(row.measure.line, Qt.Key.Key_Return)
        actions += 2
        planned(page)
        plan = page.open_day.plan
        assert plan is not None
        grown.append(len(plan.works))
    assert grown == sorted(set(grown)), "planned anew with each piece of work"
    check_day(page)
    assert actions <= MOST_ACTIONS


def test_a_house_by_keys_alone(qtbot: QtBot, window: Window, planned: Planned) -> None:
    """Each action is at most one way with the Tab key and what is typed; the keys are found by what they say."""
    page = begun(qtbot, window)
    form = page.page("house").findChild(HouseForm)
    assert form is not None
    qtbot.waitUntil(lambda: form.name.line.hasFocus())
    to_do, actions, keys = WHOSE | WORK, 0, 0
    while to_do:
        focus = QApplication.focusWidget()
        assert isinstance(focus, QWidget)
        label = focus.text() if isinstance(focus, QCheckBox) else focus.accessibleName()
        if label in to_do:
            actions += _by_keys(qtbot, focus, to_do.pop(label))
        qtbot.keyClick(QApplication.focusWidget() or window, Qt.Key.Key_Tab)
        keys += 1
        assert keys < 60, f"not reached: {to_do}"
    planned(page)
    check_day(page)
    assert actions <= MOST_ACTIONS


def _by_keys(qtbot: QtBot, focus: QWidget, value: str) -> int:
    """Enter a value where the keys are; how many actions that took."""
    if isinstance(focus, QComboBox):
        while not focus.currentText().startswith(value):
            before = focus.currentIndex()
            qtbot.keyClick(focus, Qt.Key.Key_Down)
            assert focus.currentIndex() > before, f"{value} is not offered"
        return 1
    if isinstance(focus, QCheckBox):
        qtbot.keyClick(focus, Qt.Key.Key_Space)
        measure = QApplication.focusWidget()
        assert isinstance(measure, QLineEdit), "once ticked, its measure is asked"
        qtbot.keyClicks(measure, value)
        return 2
    assert isinstance(focus, QLineEdit)
    qtbot.keyClicks(focus, value)
    return 1


def opened(qtbot: QtBot) -> tuple[OpenDay, HousePage]:
    open_day = new_day().open_day
    page = HousePage(open_day)
    qtbot.addWidget(page)
    page.show()
    qtbot.waitExposed(page)
    return open_day, page


def row_of(page: HousePage, words: str) -> WorkRow:
    return next(row for row in page.findChildren(WorkRow) if row.tick.words == words)


def test_a_tick_taken_back_gives_all_that_was_said_of_it_once_it_is_set_again(qtbot: QtBot) -> None:
    open_day, page = opened(qtbot)
    row = row_of(page, "Patio: washed, joints refilled")
    row.measure.line.setFocus()
    qtbot.keyClicks(row.measure.line, "8\r")
    open_day.set("Slabs", ("jobs", "house", "recipes", 0, "slab"), "900 x 600 mm")
    row.box.click()
    assert open_day.draft.written_at(("jobs", "house", "recipes")) is None
    assert not row.box.isChecked()
    row.box.click()
    [use] = open_day.draft.written_at(("jobs", "house", "recipes"))
    assert (use["area"], use["slab"]) == ("8 m2", "900 x 600 mm")


def test_a_gutter_is_cleared_before_its_joints_are_resealed_whichever_was_ticked_first(qtbot: QtBot) -> None:
    open_day, _ = opened(qtbot)
    ticks = {(tick.recipe, tick.side): tick for tick in work_ticks()}
    for recipe in ("reseal-gutter-joints", "clear-gutters"):
        open_day.change(recipe, House(open_day.draft, "house").with_work(ticks[recipe, "rear"], "6 m"))
    stages = open_day.draft.at(("jobs", "house", "stages"))
    after = {name for stage, table in stages.items() if stage.endswith("dry") for name in table["after"]}
    assert any(name.endswith("clear") for name in after)
    open_day.change("not cleared", House(open_day.draft, "house").without_work(ticks["clear-gutters", "rear"]))
    assert "unknown stage" not in "".join(str(fault) for fault in open_day.draft.faults)


def test_a_wall_for_which_its_paving_was_written_down_stands_over_the_steps_that_are_added(qtbot: QtBot) -> None:
    open_day, _ = opened(qtbot)
    ticks = {(tick.recipe, tick.side): tick for tick in work_ticks()}
    for recipe, measure in (("treat-drive", "6 m2"), ("treat-wall", "6 m2")):
        open_day.change(recipe, House(open_day.draft, "house").with_work(ticks[recipe, ""], measure))
    place = ("jobs", "house", "recipes", 1, "drains_to")
    open_day.set("as once written", place, ["drive"])
    open_day.change("steps", House(open_day.draft, "house").with_work(ticks["treat-steps", ""], "4 steps"))
    assert open_day.draft.written_at(place) is None
    surfaces = open_day.draft.at(("jobs", "house", "surfaces"))
    [drains] = [surface["drains_to"] for surface in surfaces.values() if not surface["stood_on"]]
    assert set(drains) == {key for key, surface in surfaces.items() if surface["stood_on"]}
    assert len(drains) == 2


def test_one_more_house_asks_for_the_drive_between_both(qtbot: QtBot) -> None:
    open_day, page = opened(qtbot)
    open_day.change("first", House(open_day.draft, "house").with_street("12 Larch Rise"))
    page.begin()
    assert page.form is not None
    labels = [field.label for field in page.form.findChildren(Field) if field.label.startswith("Drive from")]
    assert labels == ["Drive from Our yard", "Drive from 12 Larch Rise"]
    field = next(field for field in page.form.findChildren(Field) if field.label == "Drive from 12 Larch Rise")
    field.line.setFocus()
    qtbot.keyClicks(field.line, "7\r")
    trips = open_day.draft.at(("travel", "trips"))
    assert {frozenset((trip["from"], trip["to"])): trip["minutes"] for trip in trips} == {
        frozenset(("house", "house-2")): "7 min"
    }


@pytest.mark.parametrize("tick", work_ticks(), ids=lambda tick: f"{tick.recipe} {tick.side}")
def test_whatever_is_ticked_makes_a_day_that_can_be_planned(tick: Any) -> None:
    """Every recipe of the library is offered, and a measure is all that it needs."""
    open_day = new_day().open_day
    measure = {"m2": "4 m2", "m": "6 m", "steps": "4 steps"}
    unit = "steps" if tick.measure == "steps" else "m2" if tick.measure == "area" else "m"
    house = House(open_day.draft, "house")
    open_day.change("work", house.with_work(tick, measure[unit]))
    open_day.change("drive", [Change(("travel", "trips"), [{"from": "yard", "to": "house", "minutes": "5 min"}])])
    assert open_day.draft.faults == ()


def test_every_recipe_of_the_library_can_be_ticked() -> None:
    assert {tick.recipe for tick in work_ticks()} == set(library().recipes)


def test_one_socket_where_the_grinder_needs_two_is_said_beside_the_sockets_with_what_it_costs(qtbot: QtBot) -> None:
    open_day, page = opened(qtbot)
    house = House(open_day.draft, "house")
    tick = next(tick for tick in work_ticks() if tick.recipe == "clean-and-repoint-patio")
    open_day.change("work", house.with_work(tick, "8 m2"))
    open_day.change("drive", [Change(("travel", "trips"), [{"from": "yard", "to": "house", "minutes": "5 min"}])])
    open_day.set("Sockets", ("jobs", "house", "grounds", "rear", "supplies", "socket"), 1)
    qtbot.waitUntil(lambda: any("socket" in words for note in page.findChildren(OutOfReach) for words in note.words))
    said = [words for note in page.findChildren(OutOfReach) for words in note.words]
    [one] = [words for words in said if "an extra socket or a small generator" in words]
    assert "“Cut the joints out”" in one
    assert "grinder with extractor" in one
    reach = next(reach for reach in page.missed.found if reach.lacking == "socket")
    plan = first_plan(reach.day)
    assert plan is not None
    assert open_day.adopt(reach.name, Shown(reach.day, plan), reach.changes)
    assert open_day.draft.written_at(("jobs", "house", "grounds", "rear", "supplies", "socket")) == 2
    assert open_day.draft.written_at(("jobs", "house", "stages")) is None, "the recipe brings the method back"
    assert "socket" in page.missed.words
    open_day.note("It rains", Progress(600, rain=600, said=600))
    assert page.missed.words == "", "a day under way has what it has"
