"""The forms driven by mouse and keys: what is typed into a field is what the day says, read anew from its text.

One hand on the rear ground of Elm Cottage (`tests.days.tiny_day`); every expected value is what was typed, in minutes,
armfuls or kilograms as the day holds them.
"""

from collections.abc import Callable
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QPushButton, QWidget
from pytestqt.qtbot import QtBot

from planner.day import Day
from planner.day.file import day_to_toml
from planner.day.reading import day_from_text
from planner.desktop.forms.day_form import DayForm
from planner.desktop.forms.field import Choice, Entry, ExampleLine, Field, Tick
from planner.desktop.forms.kit_form import KitForm, MaterialPicking
from planner.desktop.forms.stages_form import StagePicking, WaitParts
from planner.desktop.forms.way_in_form import GroundParts, SurfaceParts
from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.care_panel import CarePanel
from planner.engine import first_plan
from tests.days import tiny_day

Maker = Callable[[OpenDay], QWidget]


def kit(open_day: OpenDay) -> QWidget:
    return KitForm(open_day)


def material(open_day: OpenDay) -> QWidget:
    return MaterialPicking(open_day)


def of_the_day(open_day: OpenDay) -> QWidget:
    return DayForm(open_day)


def stages(open_day: OpenDay) -> QWidget:
    return StagePicking(open_day, job="elm")


def waits(open_day: OpenDay) -> QWidget:
    return WaitParts(open_day, job="elm")


def grounds(open_day: OpenDay) -> QWidget:
    return GroundParts(open_day, job="elm")


def surfaces(open_day: OpenDay) -> QWidget:
    return SurfaceParts(open_day, job="elm")


def _day(**changes: Any) -> Day:
    """The tiny day for two hands, with a material, a front for surfaces, and spraying by the metre too."""
    tables = tiny_day(materials={"salt": {"container": "bag"}}, hands={"ash": {}, "bo": {}}, **changes).model_dump()
    elm = tables["jobs"]["elm"]
    elm["grounds"]["front"] = {"supplies": {"tap": 1}}
    elm["surfaces"]["wall"]["run"] = elm["surfaces"]["path"]["run"] = 5
    elm["stages"] = {stage: elm["stages"][stage] for stage in ("treat", "sweep", "rinse")}
    elm["stages"]["treat"]["methods"]["spray"] |= {"rate": {"amount": 40, "unit": "m"}}
    return Day.model_validate(tables)


def opened(qtbot: QtBot, make: Maker, **changes: Any) -> tuple[OpenDay, QWidget]:
    open_day = OpenDay("# a remark\n" + day_to_toml(_day(**changes)))
    form = make(open_day)
    qtbot.addWidget(form)
    form.show()
    qtbot.waitExposed(form)
    return open_day, form


def entry(form: QWidget, label: str) -> Entry:
    return next(one for one in form.findChildren(Entry) if one.label == label)


def enter(qtbot: QtBot, one: Entry, value: str) -> None:
    """Type into a field, tick a tick, or go to a choice by keys."""
    if isinstance(one, Field):
        one.line.setFocus()
        one.line.selectAll()
        qtbot.keyClicks(one.line, value)
        qtbot.keyClick(one.line, Qt.Key.Key_Return)
    elif isinstance(one, Tick):
        qtbot.mouseClick(one.box, Qt.MouseButton.LeftButton, pos=QPoint(8, one.box.height() // 2))
    elif isinstance(one, Choice):
        one.box.setFocus()
        offered = [one.box.itemText(n) for n in range(one.box.count())]
        wanted = next(n for n, words in enumerate(offered) if words.startswith(value))
        step = 1 if wanted > one.box.currentIndex() else -1
        while one.box.currentIndex() != wanted:
            before = one.box.currentIndex()
            qtbot.keyClick(one.box, Qt.Key.Key_Down if step > 0 else Qt.Key.Key_Up)
            assert one.box.currentIndex() == before + step


def said(open_day: OpenDay) -> Day:
    return day_from_text(open_day.draft.text, open_day.draft.path)


OPEN = "Restricted: through a house, a window, a shared hall"
NO_STEPS = "Takes a sack truck or barrow: no steps"
MEASURED = "Its moisture is measured before work that needs it dry"

DRIVEN: list[tuple[Maker, str, str, Callable[[Day], object], object]] = [
    (kit, "Name", "Ours", lambda d: d.kit["sprayer"].name, "Ours"),
    (kit, "Hands to lift it", "2", lambda d: d.kit["sprayer"].lift, 2),
    (kit, "Rinsed out after each chemical", "5", lambda d: d.kit["sprayer"].rinse_out, 5),
    (kit, "Sack truck or barrow: takes", "80", lambda d: d.kit["sprayer"].wheels, 80),
    (kit, "Takes from the ground", "tap", lambda d: d.kit["sprayer"].supply, ("tap",)),
    (kit, "Comes out of the van with", "crate", lambda d: d.kit["sprayer"].group, "crate"),
    (kit, "How many we own", "3", lambda d: d.kit["sprayer"].own, 3),
    (kit, "Load", "1.5", lambda d: d.kit["sprayer"].load, 1.5),
    (kit, "Set up", "7", lambda d: d.kit["sprayer"].set_up, 7),
    (kit, "Pack down", "1 h 5 min", lambda d: d.kit["sprayer"].pack_down, 65),
    (kit, "Needs other kit", "broom; washer", lambda d: d.kit["sprayer"].needs, ("broom", "washer")),
    (kit, "Vibration", "4.5", lambda d: d.kit["sprayer"].vibration, 4.5),
    (kit, "Noise at the ear", "88", lambda d: d.kit["sprayer"].noise, 88),
    (kit, "Mass", "12", lambda d: d.kit["sprayer"].mass, 12),
    (kit, "May stand there while the van is away", "", lambda d: d.kit["sprayer"].may_stay, True),
    (material, "Name", "Grit", lambda d: d.materials["salt"].name, "Grit"),
    (material, "Container", "sack", lambda d: d.materials["salt"].container, "sack"),
    (material, "Load", "0.5", lambda d: d.materials["salt"].load, 0.5),
    (material, "Holds", "20", lambda d: d.materials["salt"].holds_kg, 20),
    (of_the_day, "Promises, windows and waits are kept", "in 9 days", lambda d: d.sure, 0.9),
    (stages, "What is done", "rinse", lambda d: d.jobs["elm"].stages["treat"].kind, "rinse"),
    (stages, "On which surface", "path", lambda d: d.jobs["elm"].stages["treat"].surface, "path"),
    (stages, "After these stages", "sweep", lambda d: d.jobs["elm"].stages["treat"].after, ("sweep",)),
    (stages, "Not before", "9:15", lambda d: d.jobs["elm"].stages["treat"].not_before, 555),
    (stages, "Not after", "11:00", lambda d: d.jobs["elm"].stages["treat"].not_after, 660),
    (stages, "Exactly at", "08:40", lambda d: d.jobs["elm"].stages["treat"].starts_at, 520),
    (stages, "Noisy: not in quiet hours", "", lambda d: d.jobs["elm"].stages["treat"].noisy, True),
    (stages, "Kit for “spray”", "broom", lambda d: d.jobs["elm"].stages["treat"].methods["spray"].kit, ("broom",)),
    (stages, "Hands", "2", lambda d: d.jobs["elm"].stages["treat"].methods["spray"].hands, 2),
    (stages, "Gets done", "60", lambda d: d.jobs["elm"].stages["treat"].methods["spray"].rate.amount, 60),
    (stages, "Of", "m2", lambda d: d.jobs["elm"].stages["treat"].methods["spray"].rate.unit, "m2"),
    (stages, "Fixed time", "18", lambda d: d.jobs["elm"].stages["treat"].methods["spray"].minutes, 18),
    (waits, "After", "sweep", lambda d: d.jobs["elm"].waits[0].after, "sweep"),
    (waits, "Before", "sweep", lambda d: d.jobs["elm"].waits[0].before, "sweep"),
    (waits, "Holds for", "each patch; begun anywhere", lambda d: d.jobs["elm"].waits[0].order, "any"),
    (waits, "At least", "35", lambda d: d.jobs["elm"].waits[0].least, 35),
    (waits, "At most", "50", lambda d: d.jobs["elm"].waits[0].most, 50),
    (waits, "Kind of wait", "dry", lambda d: d.jobs["elm"].waits[0].kind, "dry"),
    (waits, "No other work on the job meanwhile", "", lambda d: d.jobs["elm"].waits[0].keep_clear, True),
    (grounds, "Ground", "Back", lambda d: d.jobs["elm"].grounds["rear"].name, "Back"),
    (grounds, "Walk from the van, one way", "3", lambda d: d.jobs["elm"].grounds["rear"].way_in.minutes, 3),
    (grounds, "Through", "the hall", lambda d: d.jobs["elm"].grounds["rear"].way_in.through, "the hall"),
    (grounds, "One hand carries at a time", "2.5", lambda d: d.jobs["elm"].grounds["rear"].way_in.load_limit, 2.5),
    (grounds, "Floor protection", "laid and", lambda d: d.jobs["elm"].grounds["rear"].way_in.protection, "ours"),
    (grounds, OPEN, "", lambda d: d.jobs["elm"].grounds["rear"].way_in.restricted, False),
    (grounds, NO_STEPS, "", lambda d: d.jobs["elm"].grounds["rear"].way_in.wheeled, True),
    (grounds, "Laying it takes", "11", lambda d: d.jobs["elm"].grounds["rear"].way_in.lay, 11),
    (grounds, "Lifting it takes", "4", lambda d: d.jobs["elm"].grounds["rear"].way_in.lift, 4),
    (grounds, "Sockets there", "2", lambda d: d.jobs["elm"].grounds["rear"].supplies.get("socket"), 2),
    (grounds, "Its water runs off to", "soil", lambda d: d.jobs["elm"].grounds["rear"].drain, "soil"),
    (grounds, "Taps there", "2", lambda d: d.jobs["elm"].grounds["rear"].supplies["tap"], 2),
    (surfaces, "Surface", "Long wall", lambda d: d.jobs["elm"].surfaces["wall"].name, "Long wall"),
    (surfaces, "Area", "24", lambda d: d.jobs["elm"].surfaces["wall"].area, 24),
    (surfaces, "Run", "6", lambda d: d.jobs["elm"].surfaces["wall"].run, 6),
    (surfaces, "On which ground", "front", lambda d: d.jobs["elm"].surfaces["wall"].ground, "front"),
    (surfaces, "Hands and kit stand on it", "", lambda d: d.jobs["elm"].surfaces["wall"].stood_on, True),
    (surfaces, MEASURED, "", lambda d: d.jobs["elm"].surfaces["wall"].measured, True),
]
"""The form, the label of a field, what is typed, and what the day then says; a tick is only pressed."""


@pytest.mark.parametrize(("make", "label", "typed", "get", "wanted"), DRIVEN)
def test_what_is_entered_is_what_the_day_says(
    qtbot: QtBot, make: Maker, label: str, typed: str, get: Callable[[Day], object], wanted: object
) -> None:
    open_day, form = opened(qtbot, make)
    assert get(said(open_day)) != wanted
    enter(qtbot, entry(form, label), typed)
    assert get(said(open_day)) == wanted
    assert open_day.draft.text.startswith("# a remark\n")
    open_day.undo_stack.undo()
    assert get(said(open_day)) != wanted


@pytest.mark.parametrize("make", [kit, material, stages, waits, grounds, surfaces])
def test_every_field_is_driven(qtbot: QtBot, make: Maker) -> None:
    _, form = opened(qtbot, make)
    driven = {label for maker, label, *_ in DRIVEN if maker is make or (make is kit and maker is material)}
    assert {one.label for one in form.findChildren(Entry)} == driven


@pytest.mark.parametrize(
    ("make", "label", "typed", "told"),
    [
        (kit, "Hands to lift it", "9", "from 1 to 4"),
        (kit, "Load", "heavy", "a number from 0 to 100"),
        (stages, "Not before", "25:00", "07:30"),
        (waits, "At least", "soon", "soon"),
        (grounds, "Walk from the van, one way", "-3", "-3"),
    ],
)
def test_what_cannot_be_is_told_under_its_field_and_not_taken(
    qtbot: QtBot, make: Maker, label: str, typed: str, told: str
) -> None:
    open_day, form = opened(qtbot, make)
    before = open_day.draft.text
    one = entry(form, label)
    enter(qtbot, one, typed)
    assert told in one.message
    assert open_day.draft.text == before


@pytest.mark.parametrize(
    ("make", "button", "get"),
    [
        (kit, "Add kit", lambda d: len(d.at(("kit",)))),
        (stages, "Add a stage", lambda d: len(d.at(("jobs", "elm", "stages")))),
        (waits, "Add a wait", lambda d: len(d.at(("jobs", "elm", "waits")))),
        (grounds, "Add a ground", lambda d: len(d.at(("jobs", "elm", "grounds")))),
        (surfaces, "Add a surface", lambda d: len(d.at(("jobs", "elm", "surfaces")))),
    ],
)
def test_one_more_is_added_by_its_button(qtbot: QtBot, make: Maker, button: str, get: Callable[[Any], int]) -> None:
    open_day, form = opened(qtbot, make)
    before = get(open_day.draft)
    add = next(b for b in form.findChildren(QPushButton) if b.text() == button)
    qtbot.mouseClick(add, Qt.MouseButton.LeftButton)
    assert get(open_day.draft) == before + 1


def test_a_stage_is_taken_away_with_its_waits_and_its_mentions(qtbot: QtBot) -> None:
    open_day, form = opened(qtbot, stages)
    open_day.set("Change order", ("jobs", "elm", "stages", "sweep", "after"), ["treat"])
    away = next(b for b in form.findChildren(QPushButton) if b.text() == "Take away" and b.isVisible())
    qtbot.mouseClick(away, Qt.MouseButton.LeftButton)
    elm = said(open_day).jobs["elm"]
    assert set(elm.stages) == {"rinse", "sweep"}
    assert elm.waits == ()
    assert elm.stages["sweep"].after == ()


def test_the_care_page_tells_shaking_and_noise_of_each_hand(qtbot: QtBot) -> None:
    """Fifteen minutes at 12 m/s2 with the trigger held for 0.7 of them: 2 a^2 T[h] = 2 x 144 x 0.175 = 50 points.

    The formula is that of the HSE hand-arm vibration ready reckoner.
    """
    pieces = tiny_day().model_dump()["kit"]
    pieces["washer"] |= {"vibration": 12.0, "noise": 90.0}
    open_day, _ = opened(qtbot, kit, kit=pieces)
    day = said(open_day)
    plan = first_plan(day)
    assert plan is not None
    open_day.keep_plan(plan)
    panel = CarePanel(open_day)
    qtbot.addWidget(panel)
    panel.show()
    qtbot.waitExposed(panel)
    hand, shaken, heard = panel.rows.told()[:3]
    assert hand.heading == "ash"
    assert (shaken.when, shaken.what) == ("50", "vibration points")
    assert heard.what == "dB(A) over the day"


def test_nothing_can_be_entered_in_a_day_that_is_read_only(qtbot: QtBot) -> None:
    open_day = OpenDay(day_to_toml(tiny_day()), read_only=True)
    form = KitForm(open_day)
    qtbot.addWidget(form)
    assert all(not one.isEnabled() for one in form.findChildren(Entry))


def test_fields_side_by_side_are_level_however_many_lines_their_labels_have(qtbot: QtBot) -> None:
    _, form = opened(qtbot, of_the_day)
    labels = ("One restricted crossing is worth", "Break, for each hand")
    pair = [one for one in form.findChildren(Field) if one.label in labels]
    form.resize(360, 900)
    form.show()
    first, second = (one.line.mapTo(form, QPoint(0, 0)) for one in pair)
    assert first.x() != second.x(), "they share a row"
    assert pair[0].head(pair[0].width()) != pair[1].head(pair[1].width()), "one label is broken, the other is not"
    assert first.y() == second.y()


def test_an_example_is_shown_whole_or_shorter_but_never_cut(qtbot: QtBot) -> None:
    line = ExampleLine()
    qtbot.addWidget(line)
    line.setPlaceholderText("e.g. 07:30")
    letters = line.fontMetrics().horizontalAdvance
    seen = []
    for width in (400, letters("07:30") + 30, 20):
        line.resize(width, 30)
        line.show()
        seen.append(line.placeholderText())
        assert letters(seen[-1]) < width
    assert seen == ["e.g. 07:30", "07:30", ""]
