"""A real window, driven by mouse and keyboard."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, QRect, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QFileDialog, QLineEdit, QMenu, QMessageBox
from pytestqt.qtbot import QtBot

from planner.day.file import read_day
from planner.desktop import window as window_module
from planner.desktop.forms import asking
from planner.desktop.forms.field import Choice, Field
from planner.desktop.forms.house_form import HouseForm
from planner.desktop.forms.kit_form import KitPicking
from planner.desktop.forms.work_row import WorkRow
from planner.desktop.model.preferences import Preferences
from planner.desktop.pages.catalogue import PAGES
from planner.desktop.pages.day_page import DayPage
from planner.desktop.starting import new_day
from planner.desktop.window import Window
from tests.desktop.windows import stand_in_process

Planned = Callable[[DayPage], None]
PAGE_KEYS = [page.key for page in PAGES if page.key]


def type_into(qtbot: QtBot, line: QLineEdit, text: str) -> None:
    line.window().activateWindow()
    qtbot.waitUntil(line.window().isActiveWindow)
    qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
    line.selectAll()
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, Qt.Key.Key_Tab)


def choose_by_key(qtbot: QtBot, choice: Choice, value: object) -> None:
    """Go to a value with the arrow keys, as a person would."""
    choice.box.setFocus()
    while choice.box.currentIndex() > 0:
        qtbot.keyClick(choice.box, Qt.Key.Key_Up)
    while choice.value() != value:
        before = choice.box.currentIndex()
        qtbot.keyClick(choice.box, Qt.Key.Key_Down)
        assert choice.box.currentIndex() > before, f"{value} is not offered"


def fill_house(qtbot: QtBot, page: DayPage, **measures: str) -> None:
    """Fill in the short way to a house, which is in front; each measure by the recipe that asks for it."""
    form = page.page("house").findChild(HouseForm)
    assert form is not None
    fields = {field.label: field for field in form.findChildren(Field)}
    type_into(qtbot, fields["Street and number"].line, "Elm Cottage")
    type_into(qtbot, fields["Drive from Our yard"].line, "12")
    choose_by_key(qtbot, next(c for c in form.findChildren(Choice) if c.label == "Way in"), "the house")
    type_into(qtbot, fields["From the van, one way"].line, "2")
    for row in form.findChildren(WorkRow):
        if row.tick.recipe.replace("-", "_") in measures and row.tick.side in ("", "rear"):
            type_into(qtbot, row.measure.line, measures[row.tick.recipe.replace("-", "_")])


def test_a_day_from_nothing_planned_changed_saved_and_opened_again(
    qtbot: QtBot, window: Window, planned: Planned, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = window.add(new_day())
    qtbot.waitUntil(lambda: page.rail.chosen == "house")
    start = page.open_day.draft.text
    fill_house(qtbot, page, treat_wall="20")
    planned(page)
    day = page.open_day.day
    assert day is not None
    assert [job.title for job in day.jobs.values()] == ["Elm Cottage"]
    ground = next(iter(day.jobs["house"].grounds.values()))
    assert (ground.way_in.minutes, ground.way_in.restricted, ground.supplies) == (2, True, {"tap": 1, "socket": 2})
    assert day.drive_minutes("yard", "house") == 12

    first = page.open_day.plan
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    qtbot.keyClick(window, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    assert page.rail.chosen == "day"
    finish = next(f for f in page.page("day").findChildren(Field) if f.label == "Home at the latest")
    type_into(qtbot, finish.line, "1815")
    assert page.open_day.day is not None
    assert page.open_day.day.finish == 18 * 60 + 15
    planned(page)
    assert page.open_day.plan is not first

    path = tmp_path / "tomorrow.toml"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_, **__: (str(path), ""))
    qtbot.keyClick(window, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert page.open_day.is_clean
    assert read_day(path) == page.open_day.day
    saved, plan = page.open_day.draft.text, page.open_day.plan

    assert window.close_page(page)
    again = window.open(path)
    assert again is not None
    assert again.open_day.draft.text == saved
    assert again.open_day.day == read_day(path)
    assert again.open_day.plan is not None
    assert plan is not None
    assert again.open_day.plan.works == plan.works, "its plan was kept beside it"
    assert start != saved


def test_undo_by_key_goes_back_to_the_start(qtbot: QtBot, window: Window, planned: Planned) -> None:
    page = window.add(new_day())
    start = page.open_day.draft.text
    page.rail.choose("day")
    qtbot.keyClick(window, Qt.Key.Key_J, Qt.KeyboardModifier.ControlModifier)
    assert page.rail.chosen == "house"
    fill_house(qtbot, page, clear_gutters="14")
    planned(page)
    page.rail.choose("hands")
    name = next(f for f in page.page("hands").findChildren(Field) if f.label == "Name")
    type_into(qtbot, name.line, "Ash")
    assert page.open_day.draft.at(("hands", "hand-1", "name")) == "Ash"
    steps = page.open_day.undo_stack.count()
    for _ in range(steps):
        qtbot.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert page.open_day.draft.text == start
    assert page.open_day.is_clean
    qtbot.keyClick(window, Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier)
    assert page.open_day.draft.at(("jobs", "house", "title")) == "Elm Cottage"


def test_a_bad_entry_is_told_under_its_field_and_never_taken(qtbot: QtBot, page: DayPage) -> None:
    page.rail.choose("day")
    before = page.open_day.draft.text
    finish = next(f for f in page.page("day").findChildren(Field) if f.label == "Home at the latest")
    qtbot.mouseClick(finish.line, Qt.MouseButton.LeftButton)
    finish.line.selectAll()
    qtbot.keyClicks(finish.line, "25:99")
    assert "07:30" in finish.message, "said while typing"
    qtbot.keyClick(finish.line, Qt.Key.Key_Tab)
    assert finish.line.property("wrong")
    assert page.open_day.draft.text == before
    type_into(qtbot, finish.line, "14:00")
    assert finish.message == ""
    assert page.open_day.draft.at(("finish",)) == "14:00"


def test_a_fault_between_parts_is_told_at_the_field_and_in_the_strip(page: DayPage) -> None:
    page.rail.choose("jobs")
    page.open_day.set("Change load", ("kit", "washer", "load"), 9.0)
    page.open_day.set("Change need", ("kit", "washer", "needs"), ["hoze"])
    assert page.open_day.day is None
    assert "Not ready" in page.strip.accessibleName()
    page.rail.choose("kit")
    page.page("kit").findChildren(KitPicking)[0].pick(("washer",))
    needs = next(f for f in page.page("kit").findChildren(Field) if f.value() == ["hoze"])
    assert "hoze" in needs.message
    assert page.open_day.shown is not None, "the last good plan stays in sight"
    page.open_day.undo_stack.undo()
    page.open_day.undo_stack.undo()
    assert page.open_day.is_shown_current


def test_planning_is_stopped_by_key_and_the_best_kept(qtbot: QtBot, window: Window, tiny_file: Path) -> None:
    page = window.open(tiny_file)
    assert page is not None
    page.open_day.set("Change title", ("title",), "slow")
    qtbot.waitUntil(lambda: page.open_day.plan is not None and page.process.is_busy, timeout=120_000)
    plan = page.open_day.plan
    qtbot.keyClick(window, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not page.process.is_busy, timeout=120_000)
    assert plan is not None
    assert page.open_day.plan is not None
    assert page.open_day.plan.works == plan.works
    assert "Stopped" in window.statusBar().currentMessage()


@pytest.mark.parametrize("title", ["dies", "starved", "crashes"])
def test_the_window_outlives_its_planning(qtbot: QtBot, window: Window, tiny_file: Path, title: str) -> None:
    page = window.open(tiny_file)
    assert page is not None
    page.open_day.set("Change title", ("title",), title)
    qtbot.waitUntil(lambda: page.open_day.plan is not None and not page.planning.is_busy, timeout=90_000)
    assert page.open_day.plan is not None, "the better plan that came before stays"
    assert window.statusBar().currentMessage()
    page.open_day.set("Change title", ("title",), "well again")
    qtbot.waitUntil(lambda: page.open_day.is_shown_current and not page.planning.is_busy, timeout=90_000)


def test_a_day_that_cannot_be_says_why(qtbot: QtBot, window: Window, tiny_file: Path) -> None:
    page = window.open(tiny_file)
    assert page is not None
    page.open_day.set("Change title", ("title",), "cannot")
    qtbot.waitUntil(lambda: "quiet until 09:00" in page.strip.accessibleName(), timeout=120_000)
    assert "promised done by 08:00" in page.strip.accessibleName()


def test_what_is_not_saved_is_asked_about(
    qtbot: QtBot, window: Window, planned: Planned, tiny_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = window.open(tiny_file)
    assert page is not None
    planned(page)
    page.open_day.set("Change finish", ("finish",), "15:00")
    button = QMessageBox.StandardButton
    monkeypatch.setattr(window_module, "ask_to_save", lambda *_: button.Cancel)
    assert not window.close()
    assert window.pages() == [page]
    monkeypatch.setattr(window_module, "ask_to_save", lambda *_: button.Save)
    assert window.close_page(page)
    assert read_day(tiny_file).finish == 15 * 60


def test_two_days_have_a_tab_and_steps_each(
    qtbot: QtBot, window: Window, planned: Planned, tiny_file: Path, tmp_path: Path
) -> None:
    other = tmp_path / "other.toml"
    other.write_text(tiny_file.read_text(encoding="utf-8"), encoding="utf-8")
    first, second = window.open(tiny_file), window.open(other)
    assert first is not None
    assert second is not None
    second.open_day.set("Change finish", ("finish",), "15:00")
    assert [window.tabs.tabText(at) for at in range(2)] == ["tiny", "other •"]
    window.tabs.setCurrentWidget(first)
    assert not window.undo_group.canUndo()
    window.tabs.setCurrentWidget(second)
    assert window.undo_group.canUndo()
    assert window.open(tiny_file) is first, "an open file comes to the front"
    window.undo_group.setActiveStack(second.open_day.undo_stack)
    window.undo_group.undo()
    assert second.open_day.is_clean


@pytest.mark.parametrize("choice", ["read", "copy", "take", None])
def test_a_file_in_use_gives_a_clear_choice(
    qtbot: QtBot, window: Window, tiny_file: Path, monkeypatch: pytest.MonkeyPatch, choice: str | None
) -> None:
    from planner.day.holding import hold

    asked: list[str] = []

    def choose(parent: object, title: str, words: str, choices: list[asking.Option]) -> str | None:
        asked.append(f"{title} {words}")
        return choice

    monkeypatch.setattr(window_module, "choose", choose)
    held = hold(tiny_file)
    page = window.open(tiny_file)
    assert "in use" in asked[0]
    if choice is None:
        assert page is None
    else:
        assert page is not None
        assert page.open_day.is_read_only == (choice == "read")
        assert (page.open_day.path is None) == (choice == "copy")
        assert held.is_ours == (choice != "take")
    held.let_go()


def test_a_file_dragged_in_is_opened(qtbot: QtBot, window: Window, tiny_file: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tiny_file)), QUrl("https://example.org/x.toml")])
    event = QDropEvent(
        QPointF(50, 50),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    window.dropEvent(event)
    qtbot.waitUntil(lambda: len(window.pages()) == 1)
    assert window.pages()[0].open_day.path == tiny_file.resolve()


def test_recent_days_are_kept_the_latest_first(qtbot: QtBot, window: Window, tiny_file: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.toml"
    other.write_text(tiny_file.read_text(encoding="utf-8"), encoding="utf-8")
    window.open(tiny_file)
    window.open(other)
    window.open(tiny_file)
    assert window.preferences.recent == [other.resolve(), tiny_file.resolve()]
    other.unlink()
    assert window.preferences.recent == [tiny_file.resolve()]


def test_every_page_is_reached_by_key(qtbot: QtBot, window: Window, page: DayPage) -> None:
    """Ctrl+1 to Ctrl+9 and Ctrl+0, then Alt+1 and on, in the order of the list at the left."""
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    for at, key in enumerate(PAGE_KEYS):
        modifier = Qt.KeyboardModifier.ControlModifier if at < 10 else Qt.KeyboardModifier.AltModifier
        qtbot.keyClick(window, Qt.Key(Qt.Key.Key_0.value + (at + 1) % 10), modifier)
        assert page.rail.chosen == key
        assert page.page(key).isVisible()


def test_a_day_is_closed_by_key_and_opened_again_from_the_days_of_late(
    qtbot: QtBot, window: Window, page: DayPage, tiny_file: Path
) -> None:
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    qtbot.keyClick(window, Qt.Key.Key_W, Qt.KeyboardModifier.ControlModifier)
    assert window.pages() == []
    assert window.welcome.isVisible()
    recent = next(menu for menu in window.findChildren(QMenu) if "recent" in menu.title())
    recent.aboutToShow.emit()
    [entry] = recent.actions()
    assert entry.text().startswith("tiny")
    entry.trigger()
    assert [again.open_day.path for again in window.pages()] == [tiny_file.resolve()]


def test_the_window_comes_again_where_it_was(qtbot: QtBot, preferences: Preferences) -> None:
    for place in (QRect(20, 40, 700, 500), QRect(60, 80, 650, 450)):
        first = Window(preferences, processes=stand_in_process)
        qtbot.addWidget(first)
        first.setGeometry(place)
        first.show()
        qtbot.waitExposed(first)
        assert first.close()
        again = Window(preferences, processes=stand_in_process)
        qtbot.addWidget(again)
        assert again.geometry() == place


def test_every_entry_has_a_name_for_a_screen_reader(page: DayPage) -> None:
    for key in PAGE_KEYS:
        page.go_to(key)
        for line in page.page(key).findChildren(QLineEdit):
            if line.isVisible() and not line.objectName().startswith("qt_"):
                assert line.accessibleName(), f"a line on the page {key}"


STARTED = """
from PySide6.QtWidgets import QApplication
from planner.desktop import main
QApplication.exec = lambda *_: 0
raise SystemExit(main([]))
"""


def test_the_window_comes_up_in_a_process_of_its_own() -> None:
    """From nothing, as it is started: no other test has made, or kept, what it finds there."""
    done = subprocess.run([sys.executable, "-c", STARTED], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_where_home_cannot_be_written_to_a_dialog_begins_elsewhere_and_it_is_said(
    qtbot: QtBot, window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The home of many a service is ``/proc``, and there Qt's dialog never came up."""
    missing = tmp_path / "nowhere"
    begun: list[Path] = []
    monkeypatch.setattr(Path, "home", lambda: missing)
    monkeypatch.chdir(tmp_path)

    def ask(_: object, title: str, start: str, *more: object) -> tuple[str, str]:
        begun.append(Path(start))
        return "", ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", ask)
    page = window.add(new_day())
    assert not window.save(page)
    assert [path.parent for path in begun] == [tmp_path]
    told = window.statusBar().currentMessage()
    assert told == f"Nothing can be saved in your own folder, {missing}; choose another one."
