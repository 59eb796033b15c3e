"""A quote is added in the window, by keys, with every question of a day asked."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from planner.desktop.forms.quote_dialog import QuoteDialog
from planner.desktop.pages.quotes_panel import QuotesPanel
from planner.desktop.starting import new_day
from planner.record import Record
from planner.record.quoted_jobs import job_of


def choose(dialog: QuoteDialog, recipe: str) -> None:
    dialog.work.recipe.show_value(recipe)
    dialog.work.on_recipe()


def test_a_quote_of_two_pieces_of_work_is_kept_with_its_promises(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    panel = QuotesPanel(new_day().open_day)
    qtbot.addWidget(panel)
    panel.show()

    def fill(dialog: QuoteDialog) -> int:
        dialog.show()
        qtbot.keyClicks(dialog.title.line, "Mill Lane")
        qtbot.keyClicks(dialog.customer.line, "A. Reed")
        choose(dialog, "clear-gutters")
        dialog.done_button.click()
        assert dialog.quote is None, "a length is needed"
        assert dialog.work.measures["run"].message == "needed"
        qtbot.keyClicks(dialog.work.measures["run"].line, "11")
        dialog.more_button.click()
        choose(dialog, "treat-wall")
        qtbot.keyClicks(dialog.work.measures["area"].line, "16")
        qtbot.keyClicks(dialog.promises.line, "gutter clear; wall clean")
        qtbot.keyClick(dialog.promises.line, Qt.Key.Key_Return)
        assert dialog.wrong == ""
        return dialog.result()

    monkeypatch.setattr(QuoteDialog, "exec", fill)
    panel.add_button.click()
    assert panel.words == "Kept: Mill Lane."
    with Record.open() as record:
        [quote] = record.open_quotes()
    assert (quote.title, quote.customer, quote.promises) == ("Mill Lane", "A. Reed", ("gutter clear", "wall clean"))
    _, job = job_of(quote)
    measures = [{use.get("run"), use.get("area")} - {None} for use in job["recipes"]]
    assert measures == [{"11 m"}, {"16 m2"}]
    assert set(job["quoted"] if "quoted" in job else [use["quoted"] for use in job["recipes"]]) == {
        "gutter clear",
        "wall clean",
    }


def test_what_cannot_be_so_is_said_and_nothing_is_kept(qtbot: QtBot) -> None:
    dialog = QuoteDialog()
    qtbot.addWidget(dialog)
    choose(dialog, "clear-gutters")
    dialog.title.line.setText("…")
    qtbot.keyClicks(dialog.work.measures["run"].line, "11")
    dialog.accept()
    assert dialog.quote is None
    assert "cannot be a name" in dialog.wrong
