"""Quoted work: what was promised and is in no day yet, to be brought into this one."""

import datetime as dt

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QPushButton, QWidget

from planner.desktop.forms.day_form import trip_changes
from planner.desktop.forms.field import Field
from planner.desktop.forms.kinds import MINUTES
from planner.desktop.forms.quote_dialog import QuoteDialog
from planner.desktop.model.draft import Change
from planner.desktop.model.naming import key_for
from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.pace_panel import opened_record
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.told_rows import RowsView, ToldRow
from planner.record import Quote, RecordFault, default_path
from planner.record.quoted_jobs import job_of


class QuotesPanel(Panel):
    """The open quotes, the longest quoted first; the one picked becomes a job of the day, with its promises."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(open_day, "Quoted work", parent)
        self._quotes: list[Quote] = []
        self._words = self.add_words("")
        self.rows = RowsView(self)
        self.rows.setAccessibleName("Quotes that are in no day yet")
        self.column.addWidget(self.rows, 1)
        self.column.addStretch(0)
        self.driving = Field("Driving from the yard, if its place is new", MINUTES, self)
        self.column.addWidget(self.driving)
        self.add_button = QPushButton("Add a quote …", self)
        self.column.insertWidget(2, self.add_button, 0, Qt.AlignmentFlag.AlignLeft)
        self.bring_button = QPushButton("Bring it into this day", self)
        self.bring_button.setProperty("role", "first")
        self.column.addWidget(self.bring_button)
        self.rows.selectionModel().currentChanged.connect(self.on_picked)
        self.bring_button.clicked.connect(self.on_bring)
        self.add_button.clicked.connect(self.on_add)

    @property
    def words(self) -> str:
        """What is said now."""
        return self._words.text()

    def refresh(self) -> None:
        """Tell which quotes are open."""
        self._quotes = []
        self._words.setText("There are no open quotes.")
        try:
            if default_path().exists():
                with opened_record() as record:
                    self._quotes = record.open_quotes()
        except (RecordFault, OSError) as fault:
            self._words.setText(str(fault))
        if self._quotes:
            self._words.setText("Quoted, and in no day yet. Once brought in, a quote is no longer open.")
        self.rows.tell([self._told(quote) for quote in self._quotes])
        for widget in (self.rows, self.driving, self.bring_button):
            widget.setVisible(bool(self._quotes))
        self.on_picked()

    def _told(self, quote: "Quote") -> ToldRow:
        whose = f", {quote.customer}" if quote.customer else ""
        parts = ["quoted {date}".format(date=f"{quote.quoted_on:%d %b %Y}")]
        parts += [work.surface or work.recipe for work in quote.work]
        parts += [f"promised: {words}" for words in quote.promises]
        return ToldRow(what=f"{quote.title}{whose}", below="\n".join(parts))

    @Slot()
    def on_picked(self) -> None:
        """A quote is looked at."""
        self.bring_button.setEnabled(self._picked() is not None and not self.open_day.is_read_only)

    @Slot()
    def on_add(self) -> None:
        """One more quote is to be kept."""
        dialog = QuoteDialog(self)
        if not dialog.exec() or dialog.quote is None:
            return
        words = ""
        try:
            with opened_record() as record:
                words = f"Kept: {record.add_quote(dialog.quote).title}."
        except (RecordFault, ValueError, OSError) as fault:
            words = str(fault)
        self.refresh()
        self._words.setText(words)

    @Slot()
    def on_bring(self) -> None:
        """The quote is claimed before the day is changed, and given back if it cannot be: no quote is in two days.

        Where the day is closed unsaved, the record finds that the quote is not in its file, and it is open again.
        """
        quote, day = self._picked(), self.open_day.draft.at(("date",))
        if quote is None or not isinstance(day, dt.date):
            return
        if self.open_day.path is None:
            self._words.setText("Save this day first: a quote goes into a file, so that it cannot get lost.")
            return
        try:
            minutes = self.driving.value()
        except ValueError as fault:
            self.driving.say(str(fault))
            return
        try:
            key, job = job_of(quote)
            draft = self.open_day.draft
            changes = []
            if job["place"] not in draft.at(("places",), {}):
                if minutes is None:
                    self.driving.say("needed: its place is not in this day yet")
                    return
                changes.append(Change(("places", job["place"]), {}))
                changes += trip_changes(draft, draft.at(("van", "starts_at"), ""), job["place"], minutes)
            key = key_for(key, draft.at(("jobs",), {}), "job")
            changes.append(Change(("jobs", key), job))
            with opened_record() as record:
                record.bring_into_day(quote.id, day, file=self.open_day.path, job=key)
        except (RecordFault, ValueError, OSError) as fault:
            self._words.setText(str(fault))
            return
        self.open_day.change("Bring quoted work in", changes)
        self.driving.line.clear()
        self.refresh()

    def _picked(self) -> "Quote | None":
        at = self.rows.currentIndex().row()
        return self._quotes[at] if 0 <= at < len(self._quotes) else None
