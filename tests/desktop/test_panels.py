"""The pages beside the picture: what they tell is in the plan, and what is done on them is done to the day."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from planner.desktop.forms.new_work import ExtraWork
from planner.desktop.model.filing import open_file
from planner.desktop.model.wishes import Wish
from planner.desktop.pages.compare_panel import ComparePanel
from planner.desktop.pages.day_page import DayPage
from planner.desktop.pages.load_panel import LoadPanel
from planner.desktop.pages.order_panel import OrderPanel
from planner.desktop.pages.pace_panel import PacePanel
from planner.desktop.pages.questions_panel import QuestionsPanel
from planner.desktop.pages.quotes_panel import QuotesPanel
from planner.desktop.pages.remedies_panel import RemediesPanel
from planner.desktop.pages.risk_panel import RiskPanel
from planner.desktop.pages.running_panel import RunningPanel
from planner.desktop.pages.trade_off_panel import TradeOffPanel, sorted_points
from planner.desktop.starting import new_day
from planner.desktop.thinking.studies import ToWrite, Written
from planner.desktop.window import Window
from planner.fit.break_even import BreakEven, Weighed
from planner.fit.remedies import Tried
from planner.fit.remedy_days import remedies_of
from planner.fit.two_days import Split
from planner.plan.checker import broken_rules
from planner.plan.kept import plan_path
from planner.plan.measures import measure
from planner.plan.plan import Proof, TradeOff
from planner.plan.progress import NOTHING_TOLD, Noted
from planner.record import Quote, QuotedWork, Record, default_path
from planner.trade.units import show_clock

Planned = Callable[[DayPage], None]


def shown_page(page: DayPage, key: str) -> object:
    page.go_to(key)
    return page.page(key)


def test_the_order_tells_every_stage_at_its_time(page: DayPage) -> None:
    panel = shown_page(page, "order")
    assert isinstance(panel, OrderPanel)
    assert page.open_day.shown is not None
    told = {(row.when, row.what) for row in panel.rows.told()}
    words = {"treat": "Treat: wall", "rinse": "Rinse: wall", "sweep": "Sweep: path"}
    for work in page.open_day.shown.plan.works:
        assert (show_clock(work.start), words[work.stage]) in told


def test_boxes_of_the_load_list_are_ticked_by_key_and_counted(qtbot: QtBot, page: DayPage) -> None:
    panel = shown_page(page, "load")
    assert isinstance(panel, LoadPanel)
    boxes = [row for row in range(panel.list.count()) if panel.list.item(row).flags() & Qt.ItemFlag.ItemIsUserCheckable]
    assert len(boxes) >= 3, "sprayer, washer and broom"
    for row in boxes:
        panel.list.setCurrentRow(row)
        qtbot.keyClick(panel.list, Qt.Key.Key_Space)
    assert panel.words == "All is in the van."
    qtbot.keyClick(panel.list, Qt.Key.Key_Space)
    assert panel.words == f"{len(boxes) - 1} of {len(boxes)} in the van"


def test_points_that_are_no_better_are_left_out() -> None:
    points = (TradeOff(5, 300, 300), TradeOff(2, 340, 340), TradeOff(3, 345, 300), TradeOff(4, 310, 290))
    assert [(p.crossings, p.minutes) for p in sorted_points(points)] == [(2, 340), (4, 310), (5, 300)]


def test_a_point_is_picked_by_key_and_taken_back(qtbot: QtBot, page: DayPage, planned: Planned) -> None:
    shown = page.open_day.shown
    assert shown is not None
    now = measure(shown.day, shown.plan).restricted_crossings
    points = (TradeOff(now - 1, 110, 110), TradeOff(now, 101, 99))
    proof = Proof(value=101, bound=99, overrun=0, overrun_bound=0, minutes=101, crossings=now, trade_off=points)
    page.open_day.keep_plan(replace(shown.plan, proof=proof))
    panel = shown_page(page, "trade-off")
    assert isinstance(panel, TradeOffPanel)
    assert panel.chart.point == TradeOff(now, 101, 99), "it looks at the plan that is shown"
    qtbot.keyClick(panel.chart, Qt.Key.Key_Left)
    assert panel.chart.point == TradeOff(now - 1, 110, 110)
    qtbot.keyClick(panel.chart, Qt.Key.Key_Return)
    assert page.open_day.state.most_crossings == now - 1
    page.open_day.undo_stack.undo()
    assert page.open_day.state.most_crossings is None


def test_the_plan_of_a_point_that_was_worked_out_is_shown_at_once(
    qtbot: QtBot, page: DayPage, planned: Planned
) -> None:
    panel = shown_page(page, "trade-off")
    assert isinstance(panel, TradeOffPanel)
    qtbot.mouseClick(panel.find_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bool(panel.points()) and panel.find_button.isVisible(), timeout=120_000)
    fewest = panel.points()[0]
    panel.chart.look_at(0)
    assert panel.pick_button.isEnabled(), "the serial order that is shown crosses more often"
    qtbot.mouseClick(panel.pick_button, Qt.MouseButton.LeftButton)
    shown = page.open_day.shown
    assert shown is not None
    assert broken_rules(shown.day, shown.plan) == []
    assert measure(shown.day, shown.plan).restricted_crossings == fewest.crossings
    assert shown.plan.home == shown.day.start + fewest.minutes
    assert min(p.crossings for p in panel.points()) == fewest.crossings >= 1, "the rear is reached at least once"


def test_what_if_is_answered_apart_from_the_window(qtbot: QtBot, page: DayPage) -> None:
    panel = shown_page(page, "what-if")
    assert isinstance(panel, QuestionsPanel)
    words = [panel.question.box.itemText(at) for at in range(panel.question.box.count())]
    assert any("Elm Cottage" in one for one in words), "its rear is reached through the house"
    qtbot.mouseClick(panel.ask_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: panel.rows.isVisible(), timeout=120_000)
    assert "The way in to Elm Cottage costs" in panel.answer
    assert "Restricted crossings" in [row.what for row in panel.rows.told()]


def test_figures_of_an_answer_have_their_words(page: DayPage) -> None:
    panel = shown_page(page, "what-if")
    assert isinstance(panel, QuestionsPanel)
    weighed = (Weighed(10.0, 120, 100), Weighed(40.0, 150, 190))
    panel.on_found("break-even", BreakEven("surface cleaner", "wash", "m2", 40.0, 10.0, weighed))
    assert "surface cleaner pays from about 40 m2" in panel.answer
    assert [row.what for row in panel.rows.told()] == ["10 m2", "40 m2"]
    assert "120 with it, 100 without" in panel.rows.told()[0].below
    shown = page.open_day.shown
    assert shown is not None
    panel.on_found("two days", Split(shown.day, shown.day, shown.plan, shown.plan))
    assert {row.what for row in panel.rows.told()} == {"Treat: wall", "Rinse: wall", "Sweep: path"}
    assert {row.below.split(",")[0] for row in panel.rows.told()} == {"first day", "second day"}


def test_a_plan_kept_is_compared_with_the_next(qtbot: QtBot, page: DayPage, planned: Planned) -> None:
    panel = shown_page(page, "compare")
    assert isinstance(panel, ComparePanel)
    assert panel.rows.isHidden()  # before anything is asked there is no list, only words
    qtbot.mouseClick(panel.keep_button, Qt.MouseButton.LeftButton)
    assert not panel.rows.isHidden()
    page.open_day.set("Change driving", ("travel", "trips", 0, "minutes"), "25 min")
    planned(page)
    told = [row.what for row in panel.rows.told()]
    assert any("later" in what for what in told)
    qtbot.mouseClick(panel.let_go_button, Qt.MouseButton.LeftButton)
    assert panel.rows.told() == []


def test_one_more_hand_needs_both_times(qtbot: QtBot, page: DayPage) -> None:
    panel = shown_page(page, "compare")
    assert isinstance(panel, ComparePanel)
    qtbot.mouseClick(panel.weigh_button, Qt.MouseButton.LeftButton)
    assert panel.from_.message == "needed"
    assert page.notice.isHidden()


def test_stages_are_marked_with_the_large_buttons(qtbot: QtBot, page: DayPage) -> None:
    shown = page.open_day.shown
    assert shown is not None
    works = sorted(shown.plan.works, key=lambda work: work.start)
    panel = RunningPanel(page.open_day, page, now=lambda: works[0].start + 4)
    panel.refresh()
    assert panel.start_button.minimumHeight() >= 64, "common practice, no source: 9 mm for a thumb and more when wet"
    due = panel.due()
    assert due == works[0]
    panel.start_button.click()
    first = (works[0].job, works[0].stage)
    assert page.open_day.state.progress.of_stage(*first) == Noted(*first, works[0].start + 4)
    panel.at.line.setText(show_clock(works[0].end + 9))
    panel.done_button.click()
    assert page.open_day.state.progress.of_stage(*first) == Noted(*first, works[0].start + 4, works[0].end + 9)
    page.open_day.undo_stack.undo()
    assert page.open_day.state.progress.of_stage(*first) == Noted(*first, works[0].start + 4)


def test_any_row_is_marked_corrected_and_taken_back(qtbot: QtBot, page: DayPage) -> None:
    """Also by keys alone; what is picked is what is marked, not what is due."""
    shown = page.open_day.shown
    assert shown is not None
    works = sorted(shown.plan.works, key=lambda w: w.start)
    panel = RunningPanel(page.open_day, page, now=lambda: works[0].start + 4)
    panel.show()
    panel.refresh()
    picked = (works[1].job, works[1].stage)
    panel.rows.setFocus()
    qtbot.keyClick(panel.rows, Qt.Key.Key_Down)
    if panel.meant() != picked:
        qtbot.keyClick(panel.rows, Qt.Key.Key_Down)
    assert panel.meant() == picked
    panel.at.line.setText(show_clock(works[1].end))
    panel.done_button.click()
    progress = page.open_day.state.progress
    assert progress.noted == (Noted(*picked, None, works[1].end),)
    assert panel.meant() == (works[0].job, works[0].stage), "after a mark, what is due stands on top again"

    panel.rows.setCurrentIndex(panel.rows.model().index(1, 0))
    panel.at.line.setText(show_clock(works[1].end + 7))
    panel.done_button.click()
    assert page.open_day.state.progress.noted == (Noted(*picked, None, works[1].end + 7),)

    panel.rows.setCurrentIndex(panel.rows.model().index(1, 0))
    panel.back_button.click()
    assert page.open_day.state.progress == NOTHING_TOLD

    panel.rows.setCurrentIndex(panel.rows.model().index(2, 0))
    dropped = panel.meant()
    panel.drop_button.click()
    assert page.open_day.state.progress.dropped == (dropped,)
    row = next(at for at, told in enumerate(panel.rows.told()) if "given up" in told.below or at == 2)
    panel.rows.setCurrentIndex(panel.rows.model().index(row, 0))
    assert panel.meant() == dropped
    panel.back_button.click()
    assert page.open_day.state.progress == NOTHING_TOLD


def test_every_target_of_the_day_under_way_is_large_enough_for_a_finger(page: DayPage) -> None:
    """44 CSS pixels at the least: Web Content Accessibility Guidelines 2.2, success criterion 2.5.5."""
    panel = RunningPanel(page.open_day, page)
    panel.resize(420, 900)
    panel.show()
    panel.refresh()
    for button in panel.findChildren(QPushButton):
        assert button.minimumHeight() >= 44, button.text()
    assert all(panel.rows.sizeHintForRow(row) >= 44 for row in range(panel.rows.model().rowCount()))


def test_a_running_wait_has_its_clock_on_top(page: DayPage) -> None:
    """The wall dwells from the end of its treatment for 30 to 45 minutes, as the day file says."""
    shown = page.open_day.shown
    assert shown is not None
    treated = shown.plan.work("elm", "treat")
    assert treated is not None
    panel = RunningPanel(page.open_day, page, now=lambda: treated.end + 10)
    panel.refresh()
    words = panel._waits.text()
    assert f"not before {show_clock(treated.end + 30)}, in 20 min" in words
    assert f"not after {show_clock(treated.end + 45)}, 35 min left" in words


def test_what_else_becomes_of_the_day_is_noted_and_undone(page: DayPage, planned: Planned) -> None:
    shown = page.open_day.shown
    assert shown is not None
    arrives = shown.plan.visits[0].arrive
    panel = RunningPanel(page.open_day, page, now=lambda: arrives + 3)
    panel.refresh()
    panel.events.arrived_button.click()
    assert page.open_day.state.progress.arrived == {"elm": arrives + 3}
    assert panel.events.arrived_button.text().startswith("Van there at "), "and can be told otherwise"
    panel.at.line.setText(show_clock(arrives + 60))
    panel.events.rain_button.click()
    assert page.open_day.state.progress.rain == arrives + 60
    assert show_clock(arrives + 60) in panel.events.rain_button.text()
    assert [action.text() for action in panel.events.hands.actions()] == ["ash"]
    panel.events.hands.actions()[0].trigger()
    assert page.open_day.state.progress.gone == {"ash": arrives + 3}
    assert not panel.events.gone_button.isEnabled(), "nobody is left"
    for _ in range(3):
        page.open_day.undo_stack.undo()
    assert page.open_day.state.progress == NOTHING_TOLD


def test_extra_work_is_added_to_the_job_under_way(page: DayPage) -> None:
    dialog = ExtraWork(page.open_day.draft, "elm", page)
    dialog.accept()
    assert dialog.name.message == "needed"
    assert dialog.changes == []
    dialog.name.line.setText("Clear the drain")
    dialog.minutes.line.setText("15")
    dialog.accept()
    page.open_day.change("Extra work", dialog.changes)
    assert page.open_day.day is not None
    stage = page.open_day.day.jobs["elm"].stages["clear-the-drain"]
    assert page.open_day.day.jobs["elm"].likely_minutes("clear-the-drain", "by-hand") == 15
    assert stage.surface in page.open_day.day.jobs["elm"].surfaces


def test_a_day_under_way_is_so_again_when_it_is_opened(page: DayPage, window: Window, tiny_file: Path) -> None:
    shown = page.open_day.shown
    assert shown is not None
    first = min(shown.plan.works, key=lambda work: work.start)
    mark = Noted(first.job, first.stage, first.start, first.end)
    page.open_day.mark(mark)
    page.open_day.keep_plan(shown.plan)
    assert window.save(page)
    assert window.close_page(page)
    again = window.open(tiny_file)
    assert again is not None
    assert again.open_day.state.progress.noted == (mark,)
    assert again.open_day.plan == shown.plan, "it went as planned, so the plan holds"
    assert again.open_day.is_clean
    kept = plan_path(tiny_file)
    kept.write_text(kept.read_text(encoding="utf-8").replace('"at": ', '"at": -'), encoding="utf-8")
    assert window.close_page(again)
    broken = open_file(tiny_file, read_only=True)
    assert broken.open_day.state.progress == NOTHING_TOLD
    assert kept.name in broken.notice
    assert "minute of the day" in broken.notice


def test_the_times_of_the_day_are_noted_in_the_record(page: DayPage) -> None:
    shown = page.open_day.shown
    assert shown is not None
    panel = shown_page(page, "pace")
    assert isinstance(panel, PacePanel)
    assert not panel.note_button.isEnabled()
    assert not default_path().exists(), "looking makes no record"
    page.open_day.mark(Noted("elm", "sweep", 500, 530))
    page.open_day.keep_plan(shown.plan)
    panel.note_button.click()
    panel.note_button.click()
    with Record.open() as record:
        assert [(t.job, t.stage, t.actual_minutes, t.planned_minutes) for t in record.timings()] == [
            ("elm", "sweep", 30.0, 20.0)
        ], "noted once, however often the button is pressed; 20 minutes as the day's file says"
    [row] = panel.rows.told()
    assert "sweep" in row.what
    assert "20 min" in row.below


def test_a_piece_of_a_rinse_is_noted_beside_what_was_planned_for_the_piece(page: DayPage) -> None:
    """Half of a treatment is on, so its rinse is of half the wall: 8 of 15 minutes are no quick rinse."""
    shown = page.open_day.shown
    assert shown is not None
    panel = shown_page(page, "pace")
    assert isinstance(panel, PacePanel)
    page.open_day.mark(Noted("elm", "treat", 496, 502, part=0.5))
    page.open_day.mark(Noted("elm", "rinse", 536, 544))
    page.open_day.keep_plan(shown.plan)
    panel.note_button.click()
    with Record.open() as record:
        assert [(t.stage, t.actual_minutes, t.planned_minutes) for t in record.timings()] == [("rinse", 8.0, 8.0)]


def test_quoted_work_is_brought_into_a_new_day_once(
    qtbot: QtBot, window: Window, planned: Planned, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    work = QuotedWork("clear-gutters", "front gutter", {"run": "11 m", "ground": "front", "place": "mill-lane"})
    with Record.open() as record:
        quote = record.add_quote(Quote("A. Reed", "Mill Lane", dt.date(2026, 5, 4), ("clear the gutter",), (work,)))
    page = window.add(new_day())
    panel = shown_page(page, "quotes")
    assert isinstance(panel, QuotesPanel)
    [row] = panel.rows.told()
    assert "Mill Lane" in row.what
    assert "clear the gutter" in row.below
    panel.rows.setCurrentIndex(panel.rows.model().index(0, 0))
    panel.bring_button.click()
    assert "Save this day first" in panel.words
    with Record.open() as record:
        assert record.quote(quote.id).state == "open"
    page.open_day.saved_as(tmp_path / "new.toml")
    panel.bring_button.click()
    assert "needed" in panel.driving.message, "its place is new to the day"
    panel.driving.line.setText("12")
    panel.bring_button.click()
    planned(page)
    assert page.open_day.day is not None
    [job] = page.open_day.day.jobs.values()
    assert (job.title, job.place) == ("Mill Lane", "mill-lane")
    assert "clear the gutter" in job.quoted
    with Record.open() as record:
        assert record.quote(quote.id).state == "planned"
        assert record.quote(quote.id).day == page.open_day.day.date
        assert record.open_quotes() == []
    assert panel.rows.told() == []
    monkeypatch.setattr("planner.record.bringing.is_running", lambda number: False)
    with Record.open() as record:  # the window is gone, and the day was never written with the quote in it
        assert "open again" in record.notice
        assert record.quote(quote.id).state == "open"


def test_what_is_urgent_stands_first_in_large_print(page: DayPage) -> None:
    page.planning.urgent.emit(("Rinse the wall by 10:20.",))
    assert "10:20" in page.notice.words
    panel = shown_page(page, "running")
    assert isinstance(panel, RunningPanel)
    assert page.notice.isVisible(), "it stays, whatever page is shown, until it is understood"
    assert page.notice._words.font().pointSizeF() >= 1.5 * page.font().pointSizeF()
    page.notice.leave_button.click()
    assert page.notice.isHidden()


def test_what_is_urgent_no_longer_goes(page: DayPage) -> None:
    page.planning.urgent.emit(("Rinse the wall by 10:20.",))
    page.planning.urgent.emit(())
    assert page.notice.isHidden()
    page.notice.show_refused(Wish("Sweep first", ()), ("it is wet",))
    page.planning.urgent.emit(())
    assert not page.notice.isHidden(), "what else is said stays"


def test_a_time_that_makes_no_sense_marks_nothing(page: DayPage) -> None:
    panel = shown_page(page, "running")
    assert isinstance(panel, RunningPanel)
    panel.at.line.setText("noonish")
    panel.done_button.click()
    assert page.open_day.state.progress.noted == ()
    assert "07:30" in panel.at.message


def test_a_document_that_cannot_be_written_is_told(qtbot: QtBot, page: DayPage, tmp_path: Path) -> None:
    shown = page.open_day.shown
    assert shown is not None
    heard: list[Written] = []
    page.studying.ask("document", shown, heard.append, ToWrite(tmp_path / "none" / "x.ics", "calendar"))
    qtbot.waitUntil(lambda: len(heard) == 1, timeout=60_000)
    assert "x.ics" in heard[0].fault
    page.studying.ask("document", shown, heard.append, ToWrite(tmp_path / "x.ics", "calendar"))
    qtbot.waitUntil(lambda: len(heard) == 2, timeout=60_000)
    assert heard[1].paths == (tmp_path / "x.ics",)
    assert (tmp_path / "x.ics").read_text(encoding="utf-8").startswith("BEGIN:VCALENDAR")


def test_the_day_is_played_out(qtbot: QtBot, page: DayPage) -> None:
    panel = shown_page(page, "risk")
    assert isinstance(panel, RiskPanel)
    qtbot.waitUntil(lambda: panel.rows.isVisible(), timeout=60_000)
    assert "planned" in panel.picture.accessibleName()
    assert panel.rows.told()


def test_a_remedy_is_taken_with_its_plan_and_undone(qtbot: QtBot, page: DayPage) -> None:
    panel = shown_page(page, "remedies")
    assert isinstance(panel, RemediesPanel)
    assert panel.rows.isHidden()
    shown, before = page.open_day.shown, page.open_day.draft.text
    assert shown is not None
    remedy = next(r for r in remedies_of(shown.day, shown.plan) if r.sort == "side gate")
    from planner.engine import first_plan
    from planner.fit.remedies import Remedies

    plan = first_plan(remedy.day)
    assert plan is not None
    panel.on_remedies(Remedies((Tried(remedy, plan, minutes=5, gain=5),)))
    assert not panel.rows.isHidden()
    panel.rows.setCurrentIndex(panel.rows.model().index(0, 0))
    qtbot.mouseClick(panel.take_button, Qt.MouseButton.LeftButton)
    assert page.open_day.day == remedy.day
    assert page.open_day.plan == plan
    page.open_day.undo_stack.undo()
    assert page.open_day.draft.text == before
    assert page.open_day.plan == shown.plan
