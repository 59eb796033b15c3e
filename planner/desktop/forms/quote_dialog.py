"""A quote is added: whose, which work with its measures, and what was promised."""

from pathlib import Path

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QPushButton, QWidget

from planner.day.faults import DayFaults
from planner.desktop.forms.dialog import FieldsDialog
from planner.desktop.forms.field import Field
from planner.desktop.forms.kinds import TEXT, WORDS
from planner.desktop.forms.new_work import WorkChoice, taken
from planner.desktop.forms.recipe_form import recipes
from planner.desktop.model.dates import today
from planner.desktop.plain import PlainLabel
from planner.record import Quote
from planner.record.quoted_jobs import quotes_from_csv, table_of_jobs


class QuoteDialog(FieldsDialog):
    """`quote` is what was said, every question of a day asked; several pieces of work go into one quote."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Add a quote", "Keep the quote", parent)
        self.quote: Quote | None = None
        self._rows: list[dict[str, str]] = []
        self.title = Field("What the job is called", TEXT, optional=False)
        self.customer = Field("Name of the customer", TEXT)
        self.work = WorkChoice()
        self.more_button = QPushButton("And more work")
        self.promises = Field("What was promised", WORDS)
        self._listed, self._wrong = PlainLabel(""), PlainLabel("")
        self._wrong.setProperty("role", "wrong")
        for widget in (self.title, self.customer, self.work):
            self.column.addWidget(widget)
        self.column.addWidget(self.more_button, 0, Qt.AlignmentFlag.AlignLeft)
        for label in (self._listed, self._wrong):
            label.setWordWrap(True)
            label.hide()
            self.column.addWidget(label)
        self.column.addWidget(self.promises)
        self.column.addStretch(1)
        self.more_button.clicked.connect(self.on_more)

    @property
    def wrong(self) -> str:
        """Why the quote could not be kept."""
        return self._wrong.text()

    @Slot()
    def on_more(self) -> None:
        """The work that stands there is part of the quote, and more is asked."""
        measures = taken(self.work.measures)
        if measures is None:
            return
        self._rows.append({"recipe": self.work.recipe.value(), **measures})
        told = [f"{recipes()[row['recipe']]['title']}: {', '.join(list(row.values())[1:])}" for row in self._rows]
        self._listed.setText("\n".join(told))
        self._listed.show()
        for field in self.work.measures.values():
            field.show_value(None)
            field.line.clear()

    def accept(self) -> None:
        """Take what stands in the fields if all of it is good."""
        said = taken({"title": self.title, "customer": self.customer, "promises": self.promises})
        is_last_empty = bool(self._rows) and not any(field.line.text() for field in self.work.measures.values())
        measures = {} if is_last_empty else taken(self.work.measures)
        if said is None or measures is None:
            return
        rows = self._rows + ([] if is_last_empty else [{"recipe": self.work.recipe.value(), **measures}])
        whole = [{"job": said["title"], "customer": said.get("customer", ""), **row} for row in rows]
        if len(whole) > 1:
            whole = [row | {"prefix": f"part-{at}"} for at, row in enumerate(whole, start=1)]
        try:
            [self.quote] = quotes_from_csv(table_of_jobs(whole), Path("quote"), today(), said.get("promises", []))
        except DayFaults as faults:
            self._say("\n".join("; ".join(filter(None, (fault.wrong, fault.right))) for fault in faults.faults))
        except ValueError as fault:
            self._say(str(fault))
        else:
            super().accept()

    def _say(self, words: str) -> None:
        self._wrong.setText(words)
        self._wrong.show()
        self.area.ensureWidgetVisible(self._wrong)
        self.title.line.setFocus(Qt.FocusReason.OtherFocusReason)
