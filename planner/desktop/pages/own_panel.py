"""What we own: kept once for every day to come, and where a day differs, from the day or into it."""

from PySide6.QtCore import Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from planner.desktop.flow import Flow
from planner.desktop.forms.own_form import OwnForm
from planner.desktop.look import headline
from planner.desktop.model.open_day import OpenDay
from planner.desktop.model.what_we_own import WhatWeOwn, into_day, what_we_own
from planner.desktop.plain import PlainLabel


class OwnPanel(QWidget):
    """The form, with what goes between it and the day in front."""

    def __init__(self, open_day: OpenDay, own: WhatWeOwn | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.open_day, self.own = open_day, own or what_we_own()
        heading = PlainLabel("What we own", self)
        heading.setFont(headline(15, bold=True))
        words = PlainLabel("Kept once, for every day to come. A day takes it as it is made, and may differ.", self)
        words.setWordWrap(True)
        words.setProperty("role", "faint")
        self._told = PlainLabel(self.own.fault, self)
        self._told.setWordWrap(True)
        self._told.setProperty("role", "wrong")
        self._told.setVisible(bool(self.own.fault))
        self.take_button = QPushButton("Take over from this day", self)
        self.give_button = QPushButton("Put ours into this day", self)
        self.undo_button = QPushButton("Take back", self)
        row = Flow()
        for button in (self.take_button, self.give_button, self.undo_button):
            row.addWidget(button)
        self.form = OwnForm(self.own, self)
        column = QVBoxLayout(self)
        column.setSpacing(8)
        for widget in (heading, words, self._told):
            column.addWidget(widget)
        column.addLayout(row)
        column.addWidget(self.form, 1)
        self.take_button.clicked.connect(self.on_take)
        self.give_button.clicked.connect(self.on_give)
        self.undo_button.clicked.connect(self.own.undo_stack.undo)
        self.own.refused.connect(self.on_refused)
        self.own.settled.connect(self.on_settled)
        open_day.settled.connect(self.on_settled)
        self.on_settled()

    @property
    def told(self) -> str:
        """What is said to be wrong now."""
        return self._told.text()

    @Slot()
    def on_take(self) -> None:
        """What the day says is to be ours from now on."""
        self.own.take_over(self.open_day.draft)

    @Slot()
    def on_give(self) -> None:
        """The day is to have what is ours now."""
        self.open_day.change("Put ours into this day", into_day(self.own.draft, self.open_day.draft))

    @Slot(str)
    def on_refused(self, words: str) -> None:
        """A change was not kept."""
        self._told.setText(words)
        self._told.setVisible(True)

    @Slot()
    def on_settled(self) -> None:
        """What we own, or the day, changed."""
        if not self.own.fault:
            self._told.hide()
        can = not self.own.is_read_only
        self.take_button.setEnabled(can)
        self.give_button.setEnabled(not self.open_day.is_read_only)
        self.undo_button.setEnabled(can and self.own.undo_stack.canUndo())

    def showEvent(self, event: QShowEvent) -> None:
        """It comes to be seen: the file may be another since."""
        super().showEvent(event)
        if not self.own.fault:
            self.own.is_still_ours()
