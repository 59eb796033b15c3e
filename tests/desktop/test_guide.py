"""The guide says what the window says: links lead somewhere, pictures are there, buttons have those names."""

import re
from importlib.metadata import version
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QAction, QTextDocument
from pytestqt.qtbot import QtBot

from planner.day.own_values import what_would_not_hold
from planner.day.reading import read_day
from planner.desktop.model.guide import GuidePage, guide_pages
from planner.desktop.pages.about import About, licences
from planner.desktop.pages.catalogue import PAGES
from planner.desktop.pages.help import HelpView
from planner.desktop.window import Window
from planner.engine import plan_day
from planner.trade.library import library
from tests.desktop.pictured import old_pictures, words_in_the_source

GUIDE = guide_pages()
IN_THE_WINDOW = ("10-", "12-", "20-", "22-", "24-", "26-", "28-", "60-")
"""Pages on which whatever is in bold is a name in the window."""

SAID = words_in_the_source()
NOT_NAMES = {"path", "bar", "pool", "Hatched", "thin band"}


@pytest.mark.parametrize("page", GUIDE, ids=lambda page: page.path.stem)
def test_links_and_pictures_are_there(page: GuidePage) -> None:
    assert page.title
    for words, target in re.findall(r"!?\[([^\]]+)\]\(([^)]+)\)", page.text):
        assert (page.path.parent / target).is_file(), (words, target)


@pytest.mark.parametrize("page", [p for p in GUIDE if p.path.name.startswith(IN_THE_WINDOW)], ids=lambda p: p.path.stem)
def test_what_is_named_is_in_the_window(page: GuidePage) -> None:
    """A button that is called otherwise since then is found here."""
    named = {" ".join(name.split()).rstrip(":") for name in re.findall(r"\*\*([^*]+)\*\*", page.text)}
    headings = {"Whose and where", "Look at the strip", "Read the order", "Check the van", "Print the sheet"}
    asked = {name for name in named if name.startswith(("The strip says", '"')) or name.endswith(("?", "."))}
    assert named - SAID - NOT_NAMES - headings - asked == set()


def test_each_page_of_the_window_has_its_place_and_picture_in_the_guide() -> None:
    text = "\n".join(page.text for page in GUIDE)
    for page in PAGES:
        if page.key:
            assert f"## {page.words}\n" in text, page.words
            assert f"pictures/page-{page.key}.png" in text, page.key


def test_a_picture_is_old_when_its_page_says_something_else() -> None:
    """The window itself is asked by `python -m tests.desktop.pictured`, a step of all that is checked of a change."""
    then = {"load": ["Tick all", "Load"], "care": ["Care"]}
    assert old_pictures(then, then) == []
    (line,) = old_pictures({**then, "load": ["Load", "All in"]}, then)
    assert line == "page-load.png is old: not in it ['All in'], only in it ['Tick all']"
    assert len(old_pictures({**then, "own": ["What we own"]}, then)) == 1


def shown_in(stem: str) -> str:
    """The text of TOML that a page shows."""
    (page,) = [page for page in GUIDE if page.path.stem == stem]
    (text,) = re.findall(r"```toml\n(.*?)```", page.text, re.S)
    return str(text)


def test_the_day_shown_is_right_and_takes_the_minutes_that_are_worked_out(tmp_path: Path) -> None:
    """By hand: 18 / 30 h = 36 min, 18 / 60 h + 1 = 19 min, 18 / 60 h = 18 min."""
    path = tmp_path / "shown.toml"
    path.write_text(shown_in("50-day-file"), "utf-8")
    plan = plan_day(read_day(path), seconds=60).plan
    assert plan is not None
    minutes = {work.stage: work.end - work.start for work in plan.works}
    assert minutes == {"wash": 36, "treat": 19, "rinse": 18}
    (page,) = [page for page in GUIDE if page.path.stem == "40-recipes"]
    told = dict(re.findall(r"^\| (Wash|Treat|Rinse)\b.*\| (\d+) \|$", page.text, re.M))
    assert {stage: int(told[stage.capitalize()]) for stage in minutes} == minutes


def test_own_figures_shown_in_the_guide_hold() -> None:
    assert what_would_not_hold(shown_in("40-recipes")) == ()


def test_every_recipe_is_named() -> None:
    (page,) = [page for page in GUIDE if page.path.stem == "40-recipes"]
    rows = set(re.findall(r"^\| ([^|]+) \| [^|]+ \|$", page.text, re.M))
    assert {recipe["title"] for recipe in library().recipes.values()} <= rows


def test_every_key_of_the_menus_is_told_and_no_other(window: Window) -> None:
    (page,) = [page for page in GUIDE if page.path.stem == "85-keys"]
    told = set(re.findall(r"`([^`]+)`", page.text.partition("In the picture")[0]))
    keys = {action.shortcuts()[0].toString() for action in window.findChildren(QAction) if action.shortcuts()}
    pages = {key for key in keys if re.fullmatch(r"(Ctrl|Alt)\+\d", key)}
    assert told == keys - pages | {"Ctrl+1", "Ctrl+0", "Alt+1"}


FIRST_HOUR = {
    "what is an armful": "armful",
    "what is a ground": "ground",
    "what is restricted": "restricted",
    "how do I print": "print",
    "where is my day kept": "file that you saved",
    "can I undo": "ctrl+z",
    "what if it does not fit": "does not fit",
    "where do the minutes come from": "divided by a rate",
    "what does proven best mean": "proven best",
    "how do I change a rate": "trade.toml",
    "what did I do wrong": "not ready",
    "does it send my data": "sends nothing",
    "what if I am late": "started and done",
    "a second hand": "second hand",
    "no tap": "no tap",
    "is the weather known": "forecast",
    "my phone": "calendar",
    "another computer": "new version",
    "which keys": "ctrl+shift+p",
    "I own no grinder": "own no such machine",
    "units": "which units",
    "two houses": "two customers",
}


@pytest.mark.parametrize("sought", FIRST_HOUR.values(), ids=FIRST_HOUR.keys())
def test_the_questions_of_a_first_hour_are_answered(sought: str) -> None:
    assert any(page.speaks_of(sought) for page in GUIDE)


def test_search_lists_the_pages_that_speak_of_it_and_marks_the_words(qtbot: QtBot) -> None:
    view = HelpView()
    qtbot.addWidget(view)
    view.show()
    qtbot.keyClicks(view.search, "evaporation Uno")
    shown = [row for row in range(view.titles.count()) if not view.titles.item(row).isHidden()]
    assert [GUIDE[row].path.stem for row in shown] == ["40-recipes"]
    assert view.view.toPlainText().startswith(GUIDE[shown[0]].title)
    assert {mark.cursor.selectedText().casefold() for mark in view.view.extraSelections()} == {"evaporation", "uno"}
    qtbot.keyClick(view.search, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    qtbot.keyClicks(view.search, "zebra crossing of nowhere")
    assert all(view.titles.item(row).isHidden() for row in range(view.titles.count()))


def test_links_lead_to_pages_and_nowhere_else(qtbot: QtBot) -> None:
    view = HelpView()
    qtbot.addWidget(view)
    view.on_link(QUrl("40-recipes.md"))
    assert view.view.toPlainText().startswith("Recipes")
    view.on_link(QUrl("https://example.org/20-picture.html"))
    assert view.view.toPlainText().startswith("Recipes")


def test_pictures_are_no_wider_than_the_page(qtbot: QtBot) -> None:
    view = HelpView()
    qtbot.addWidget(view)
    view.resize(700, 500)
    view.show()
    qtbot.waitExposed(view)
    kind = QTextDocument.ResourceType.ImageResource.value
    picture = view.view.loadResource(kind, QUrl("pictures/day.png"))
    assert 100 < picture.width() <= view.view.viewport().width()
    assert view.view.loadResource(kind, QUrl("../icons/slackwater.svg")) is None
    assert view.view.loadResource(kind, QUrl("https://example.org/x.png")) is None


def test_about_names_whose_work_is_in_it(qtbot: QtBot) -> None:
    box = About()
    qtbot.addWidget(box)
    assert f"PySide6-Essentials {version('PySide6-Essentials')}" in box.told.toPlainText()
    for name in ("ortools", "PySide6-Essentials", "reportlab"):
        assert f"* {name} ".casefold() in licences().casefold()
        assert name.casefold() in box.told.toPlainText().casefold()
