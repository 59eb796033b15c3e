"""Customers are kept from the page House and taken from there; a job and a day go to another date."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QLineEdit
from pytestqt.qtbot import QtBot

from planner.desktop.forms.customers_dialog import CustomersDialog
from planner.desktop.forms.house_form import HousePage
from planner.desktop.forms.other_date import OtherDate
from planner.desktop.menus import Menus
from planner.desktop.model.draft import Change
from planner.desktop.model.house import House, work_ticks
from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.day_page import DayPage
from planner.desktop.starting import new_day
from planner.desktop.window import Window
from planner.record.kept_sites import customers_path, read_customers

OTHER = dt.date(2031, 5, 6)


def a_house(open_day: OpenDay) -> None:
    tick = next(tick for tick in work_ticks() if tick.recipe == "treat-wall")
    for change in (
        lambda house: house.with_street("12 Larch Rise"),
        lambda house: house.with_name("Mrs Bird"),
        lambda house: house.with_value(("quiet",), [["12:00", "13:00"]]),
        lambda house: house.with_way("the house"),
        lambda house: house.with_work(tick, "8 m2"),
    ):
        open_day.change("a house", change(House(open_day.draft, "house")))
    open_day.change("drive", [Change(("travel", "trips"), [{"from": "yard", "to": "house", "minutes": "12 min"}])])


def the_house(draft: object) -> dict[str, object]:
    [job] = draft.written_at(("jobs",)).values()  # type: ignore[attr-defined]
    return {word: value for word, value in job.items() if word != "place"}


def test_a_customer_is_kept_and_taken_into_another_day_by_keys(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    first, second = new_day().open_day, new_day().open_day
    a_house(first)
    page, other = HousePage(first), HousePage(second)
    for one in (page, other):
        qtbot.addWidget(one)
    page.keep_button.click()
    assert "Kept: 12 Larch Rise, Mrs Bird" in page.told
    assert len(read_customers(customers_path()).sites) == 1

    def pick(dialog: CustomersDialog) -> int:
        dialog.show()
        qtbot.keyClicks(dialog.sought.line, "bird larch")
        assert [dialog.list.item(row).text() for row in range(dialog.list.count())] == ["12 Larch Rise, Mrs Bird"]
        qtbot.keyClick(dialog.sought.line, Qt.Key.Key_Return)
        return dialog.result()

    monkeypatch.setattr(CustomersDialog, "exec", pick)
    other.kept_button.click()
    assert the_house(second.draft) == the_house(first.draft)
    assert second.draft.faults == ()
    assert other.form is not None
    assert other.form.name.line.text() == "Mrs Bird"
    assert second.day is not None
    [job] = second.day.jobs.values()
    assert second.day.drive_minutes("yard", job.place) == 12


def test_without_the_work_of_last_time_and_forgotten_again(qtbot: QtBot) -> None:
    open_day = new_day().open_day
    a_house(open_day)
    page = HousePage(open_day)
    qtbot.addWidget(page)
    page.keep_button.click()
    dialog = CustomersDialog()
    qtbot.addWidget(dialog)
    dialog.with_work.box.click()
    dialog.accept()
    assert dialog.site is not None
    assert "recipes" not in dialog.site.job
    assert dialog.site.job["quiet"] == [["12:00", "13:00"]]
    dialog.forget_button.click()
    assert dialog.list.count() == 0, dialog.told
    assert "None are kept yet" in dialog.told
    for asked in (dialog.sought, dialog.list, dialog.with_work, dialog.forget_button):
        assert not asked.isVisibleTo(dialog)


def test_a_file_of_customers_that_cannot_be_read_is_told_where_it_is_needed(qtbot: QtBot) -> None:
    customers_path().parent.mkdir(parents=True, exist_ok=True)
    customers_path().write_text("[customers\n", "utf-8")
    open_day = new_day().open_day
    a_house(open_day)
    page = HousePage(open_day)
    dialog = CustomersDialog()
    for one in (page, dialog):
        qtbot.addWidget(one)
    page.keep_button.click()
    for told in (page.told, dialog.told):
        assert str(customers_path()) in told
    assert customers_path().read_text("utf-8") == "[customers\n"


@pytest.fixture
def on_that_date(monkeypatch: pytest.MonkeyPatch) -> None:
    def answer(dialog: OtherDate) -> int:
        dialog.entry.show_value(OTHER)
        return QDialog.DialogCode.Accepted

    monkeypatch.setattr(OtherDate, "exec", answer)


def menus_of(window: Window) -> Menus:
    found = window.findChild(Menus)
    assert isinstance(found, Menus)
    return found


def test_a_day_is_copied_to_another_date(window: Window, page: DayPage, on_that_date: None) -> None:
    menus_of(window).doors.on_copy_day()
    copy = window.page
    assert copy is not None
    assert copy is not page
    assert copy.open_day.path is None
    assert copy.open_day.draft.at(("date",)) == OTHER
    assert copy.open_day.draft.written_at(("jobs",)) == page.open_day.draft.written_at(("jobs",))


def test_a_job_is_copied_into_the_day_that_is_open_for_that_date_else_into_a_new_one(
    window: Window, page: DayPage, on_that_date: None, planned: Callable[[DayPage], None]
) -> None:
    for jobs in (1, 2):
        window.tabs.setCurrentWidget(page)
        page.job_copy_wanted.emit("elm")
        copy = window.page
        assert copy is not None
        assert copy is not page
        assert copy.open_day.draft.at(("date",)) == OTHER
        assert len(copy.open_day.draft.at(("jobs",))) == jobs
    assert len(window.pages()) == 2


def test_a_street_of_the_day_is_offered_and_taken_as_the_same_place(qtbot: QtBot) -> None:
    open_day = new_day().open_day
    a_house(open_day)
    page = HousePage(open_day)
    qtbot.addWidget(page)
    page.begin()
    assert page.form is not None
    line = next(line for line in page.form.findChildren(QLineEdit) if line.accessibleName() == "Street and number")
    assert line.completer().model().index(0, 0).data() == "Our yard"
    open_day.change("street", House(open_day.draft, page.form.job).with_street("12 Larch Rise"))
    assert open_day.draft.at(("jobs", page.form.job, "place")) == "house"
    assert set(open_day.draft.at(("places",))) == {
        "yard",
        "house",
    }


def test_a_forecast_is_taken_from_a_file_and_left_again(qtbot: QtBot, tmp_path: Path) -> None:
    from planner.desktop.forms.weather_form import WeatherForm

    open_day = new_day().open_day
    a_house(open_day)
    open_day.set("date", ("date",), dt.date(2026, 6, 16))
    form = WeatherForm(open_day)
    qtbot.addWidget(form)
    path = tmp_path / "forecast.csv"
    path.write_text("time,air,humidity,wind\n2026-06-16T07:00,12,0.7,10\n2026-06-16T08:00,14,0.6,11\n", "utf-8")
    form.take(path)
    assert form.wrong == ""
    assert open_day.day is not None
    assert [(hour.minute, hour.air, hour.wind) for hour in open_day.day.weather] == [(420, 12, 10), (480, 14, 11)]
    assert form.words == "Known from 07:00 to 09:00."
    path.write_text("time,air,humidity,wind\n2026-06-16T07:00,warm,0.7,10\n", "utf-8")
    form.take(path)
    assert "forecast.csv" in form.wrong
    assert "warm" in form.wrong
    form.take(tmp_path / "none.csv")
    assert "there is no such file" in form.wrong
    form.leave_button.click()
    assert open_day.draft.written_at(("weather",)) is None
