"""The welcome and its three doors, and the tour from the verdict to a sheet on paper."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel, QMenu, QWidget
from pytestqt.qtbot import QtBot

from planner.desktop import starting
from planner.desktop.doors import Doors
from planner.desktop.forms.hands_form import HandsForm
from planner.desktop.forms.jobs_form import JobsForm
from planner.desktop.forms.kit_form import KitForm
from planner.desktop.model.draft import Draft
from planner.desktop.model.guide import meaning
from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.day_page import DayPage
from planner.desktop.pages.tour import STEPS
from planner.desktop.pages.welcome import Door
from planner.desktop.window import Window
from planner.resources import sample_days

Planned = Callable[[DayPage], None]


def press(qtbot: QtBot, door: QWidget) -> None:
    qtbot.mouseClick(door, Qt.MouseButton.LeftButton)


def choose(qtbot: QtBot, window: Window, words: str) -> None:
    """Choose an entry of the menu that is open, by keys."""
    qtbot.waitUntil(lambda: QApplication.activePopupWidget() is not None)
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    for _ in menu.actions():
        if menu.activeAction().text() == words:
            break
        qtbot.keyClick(menu, Qt.Key.Key_Down)
    assert menu.activeAction().text() == words
    qtbot.keyClick(menu, Qt.Key.Key_Return)


def test_with_no_day_open_there_are_three_doors(qtbot: QtBot, window: Window) -> None:
    starting.fill(window, [])
    assert window.pages() == []
    assert window.welcome.isVisible()
    doors = [door for door in window.welcome.findChildren(Door) if door.isVisible()]
    assert [door.title for door in doors] == ["A day of my own", "A sample day", "Yesterday’s day again"]
    assert not window.welcome.again_door.isEnabled(), "there is no day yet"
    assert window.welcome.new_door.hasFocus() or not window.isActiveWindow()


def test_the_first_door_leads_to_the_short_way_and_the_last_day_closed_back_to_the_welcome(
    qtbot: QtBot, window: Window
) -> None:
    press(qtbot, window.welcome.new_door)
    [page] = window.pages()
    qtbot.waitUntil(lambda: page.rail.chosen == "house")
    assert not window.welcome.isVisible()
    assert window.close_page(page)
    assert window.welcome.isVisible()


def test_a_sample_day_is_a_copy(qtbot: QtBot, window: Window, planned: Planned) -> None:
    path = next(path for path in sample_days() if path.stem == "tiny")
    before = path.read_bytes()
    press(qtbot, window.welcome.sample_door)
    choose(qtbot, window, "One wall, one path")
    [page] = window.pages()
    assert page.open_day.path is None
    planned(page)
    page.open_day.set("Change finish", ("finish",), "16:00")
    assert path.read_bytes() == before
    page.open_day.undo_stack.undo()


def test_yesterdays_day_comes_again_tomorrow_without_its_forecast(
    qtbot: QtBot, window: Window, tiny_file: Path, tmp_path: Path
) -> None:
    weather = '\nweather = [{ time = "08:00", air = 12.0, humidity = 0.7, wind = 9.0 }]'
    text = tiny_file.read_text("utf-8").replace('\nstart = "08:00"', f'\nstart = "08:00"{weather}')
    assert weather in text
    tiny_file.write_text(text, "utf-8")
    page = window.open(tiny_file)
    assert page is not None
    assert window.close_page(page)
    press(qtbot, window.welcome.again_door)
    [again] = window.pages()
    tomorrow = dt.date.today() + dt.timedelta(days=1)
    wanted = text.replace(weather, "").replace("date = 2026-06-16", f"date = {tomorrow.isoformat()}")
    assert again.open_day.draft.text == wanted
    assert again.open_day.path is None
    assert tiny_file.read_text("utf-8") == text


def test_a_day_that_cannot_be_taken_again_says_why(
    qtbot: QtBot, window: Window, tiny_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from PySide6.QtWidgets import QMessageBox

    said: list[str] = []
    monkeypatch.setattr(QMessageBox, "exec", lambda box: said.append(box.text()))
    tiny_file.write_bytes(b"\xff\xfe")
    window.menuBar()
    doors = window.findChild(Doors)
    assert doors is not None
    doors.on_again(tiny_file)
    assert said == ["tiny.toml cannot be taken"]
    assert window.pages() == []


def test_the_tour_is_six_steps_and_ends_with_a_sheet_on_paper(
    qtbot: QtBot, window: Window, planned: Planned, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    press(qtbot, window.welcome.tour_button)
    [page] = window.pages()
    doors = window.findChild(Doors)
    assert doors is not None
    tour = doors.tour
    planned(page)
    seen = []
    for step in STEPS:
        seen.append(tour.title)
        assert page.rail.chosen == step.page
        if tour.next_button.isVisible():
            press(qtbot, tour.next_button)
    assert seen == [f"{at} of 6   {step.title}" for at, step in enumerate(STEPS, start=1)]
    path = tmp_path / "sheet.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_, **__: (str(path), ""))
    press(qtbot, tour.sheet_button)
    qtbot.waitUntil(path.exists, timeout=90_000)
    assert path.read_bytes().startswith(b"%PDF-")
    press(qtbot, tour.own_button)
    assert tour.isHidden()
    assert len(window.pages()) == 2


@pytest.mark.parametrize("word", ["hand", "ground", "armful", "restricted", "recipe", "method", "wait", "crossing"])
def test_each_word_of_ours_is_explained_by_the_guide(word: str) -> None:
    assert len(meaning(word)) > len(word) + 20


def test_words_are_explained_where_they_are_first_met(qtbot: QtBot) -> None:
    open_day = OpenDay(Draft(next(p for p in sample_days() if p.stem == "by_recipe").read_text("utf-8")).text)
    made = [HandsForm(open_day), KitForm(open_day), JobsForm(open_day, lambda: None)]
    said = []
    for form in made:
        qtbot.addWidget(form)
        said += [label.text() for label in form.findChildren(QLabel)]
    for word in ("hand", "armful", "recipe", "ground", "way in", "stage", "method", "wait"):
        assert meaning(word) in said, word
