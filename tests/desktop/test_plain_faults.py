"""Whatever can be wrong with a day is told in the window without keys, places and words of its file."""

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from planner.day.file import day_to_toml
from planner.desktop.forms.field import Field
from planner.desktop.forms.house_form import HousePage
from planner.desktop.model.draft import Change, Draft
from planner.desktop.model.house import House, work_ticks
from planner.desktop.model.open_day import OpenDay
from planner.desktop.model.plain_faults import all_told, told
from planner.desktop.pages.day_page import DayPage
from planner.desktop.starting import new_day
from planner.desktop.window import Window
from tests.days import tiny_day

OF_A_FILE = re.compile(r"""[\[\]{}="]|\w\.\w+\.\w|\b[a-z]+_[a-z]+\b|'[a-z0-9-]+'""")
"""Brackets, signs and quotes of a file, dotted places, words with an underscore; what a person never typed."""

TICKS = {(tick.recipe, tick.side): tick for tick in work_ticks()}


def a_house() -> Draft:
    draft = new_day().open_day.draft
    draft = draft.changed(House(draft, "house").with_street("12 Larch Rise"))
    for key, measure in ((("clean-and-repoint-patio", ""), "8 m2"), (("clear-gutters", "front"), "9 m")):
        draft = draft.changed(House(draft, "house").with_work(TICKS[key], measure))
    return draft.changed([Change(("travel", "trips"), [{"from": "yard", "to": "house", "minutes": "5 min"}])])


def leaves(tables: Any, place: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    inside = tables.items() if isinstance(tables, dict) else enumerate(tables) if isinstance(tables, list) else ()
    for key, value in inside:
        yield (*place, key)
        yield from leaves(value, (*place, key))


@pytest.mark.parametrize("make", [a_house, lambda: Draft(day_to_toml(tiny_day()))], ids=["recipes", "stages"])
def test_no_fault_is_told_in_the_words_of_a_file(make: Callable[[], Draft]) -> None:
    """Each value taken away, and each put wrong in the ways that fields and files let through."""
    draft, seen = make(), 0
    assert draft.faults == ()
    for place in leaves(draft.tables):
        for value in (None, "nowhere", "0 min", 0, 99):
            if len(place) < 2 and value is not None:
                continue
            tables = draft.tables
            wrong = Draft(draft.text)
            try:
                wrong = draft.changed([Change(place, value)])
            except ValueError:
                continue
            assert tables == draft.tables
            for fault in wrong.faults[:6]:
                seen += 1
                said = str(told(wrong, fault))
                assert not OF_A_FILE.search(said), (place, value, said)
                assert said
    assert seen > 60


def test_an_ordinary_start_asks_and_never_refuses(qtbot: QtBot, window: Window) -> None:
    """From the first word to the last answer the strip says what is still to be said."""
    page = window.add(new_day())
    day, said = page.open_day, []
    note: Callable[[], None] = lambda: said.append(page.strip.accessibleName())  # noqa: E731
    qtbot.waitUntil(lambda: page.rail.chosen == "house")
    note()
    day.change("street", House(day.draft, "house").with_street("12 Larch Rise"))
    note()
    day.change("wall", House(day.draft, "house").with_work(TICKS["treat-wall", ""], "6 m2"))
    note()
    day.set("drive", ("travel", "trips"), [{"from": "yard", "to": "house", "minutes": "5 min"}])
    note()
    day.change("second", House(day.draft, "house-2").with_street("4 Kiln Row"))
    note()
    day.change("gutter", House(day.draft, "house-2").with_work(TICKS["clear-gutters", "front"], "9 m"))
    note()
    day.set("socket", ("jobs", "house", "grounds", "rear", "supplies", "socket"), 0)
    note()
    assert not any("Not ready" in words for words in said), said
    assert "12 Larch Rise: what is to be done there?" in said[1]
    assert "How long is the drive from Our yard to 12 Larch Rise?" in said[2]
    assert "4 Kiln Row: what is to be done there?" in said[4]
    assert "How long is the drive from" in said[5]
    assert not any(OF_A_FILE.search(words) for words in said), said


def test_a_drive_that_is_not_known_is_asked_at_its_field(qtbot: QtBot) -> None:
    open_day = new_day().open_day
    page = HousePage(open_day)
    qtbot.addWidget(page)
    open_day.change("wall", House(open_day.draft, "house").with_work(TICKS["treat-wall", ""], "6 m2"))
    field = next(field for field in page.findChildren(Field) if field.label == "Drive from Our yard")
    assert "How long is the drive from Our yard" in field.message


def test_work_that_nothing_is_left_to_do_with_says_so_beside_its_tick(qtbot: QtBot) -> None:
    """Without the kit for it, a wall cannot be treated: said at the tick, with what would help."""
    open_day = OpenDay(a_house().text)
    open_day.set("left", ("leave_at_home",), ["gutter-poles", "pole-scoop", "ladder"])
    [one] = all_told(open_day.draft)
    assert one.of == "12 Larch Rise, Front gutter"
    assert "Gutter vacuum" in one.words
    assert not OF_A_FILE.search(str(one)), str(one)


def test_a_change_that_cannot_be_made_is_told_plainly(qtbot: QtBot, window: Window, tiny_file: Any) -> None:
    page: DayPage | None = window.open(tiny_file)
    assert page is not None
    refused: list[str] = []
    page.open_day.refused.connect(refused.append)
    page.open_day.set("wrong", ("jobs", "elm", "title", "deeper"), "x")
    assert refused
    assert not OF_A_FILE.search(refused[0]), refused
