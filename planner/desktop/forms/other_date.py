"""To which date a day, or a job, is copied."""

import datetime as dt

from PySide6.QtWidgets import QWidget

from planner.desktop.forms.day_form import DateEntry
from planner.desktop.forms.dialog import FieldsDialog
from planner.desktop.plain import PlainLabel


class OtherDate(FieldsDialog):
    """Asks for a date; `date` is the one that stands there."""

    def __init__(self, words: str, date: dt.date, parent: QWidget | None = None) -> None:
        super().__init__("Copy to another date", "Copy it", parent)
        told = PlainLabel(words)
        told.setWordWrap(True)
        self.entry = DateEntry("To which date")
        self.entry.show_value(date)
        self.column.addWidget(told)
        self.column.addWidget(self.entry)
        self.column.addStretch(1)

    @property
    def date(self) -> dt.date:
        """The date that was chosen."""
        date = self.entry.edit.date()
        return dt.date(date.year(), date.month(), date.day())
