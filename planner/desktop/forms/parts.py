"""A form that has a part for each of several things (hands, places, kit): they are added, changed and taken away."""

from typing import Any

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from planner.desktop.forms.form import Form
from planner.desktop.model.draft import Change
from planner.desktop.model.open_day import OpenDay

Key = tuple[Any, ...]


class Parts(QWidget):
    """One `Form` for each key; made again only when the keys change."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.open_day = open_day
        self._keys: list[Key] | None = None
        self._forms: list[QWidget] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(12)
        self.add_button = QPushButton(self.add_words(), self)
        self.add_button.clicked.connect(self.on_add)
        self.add_button.setVisible(bool(self.add_words()))
        row = QHBoxLayout()
        row.addWidget(self.add_button)
        row.addStretch(1)
        self._column.addLayout(row)
        open_day.settled.connect(self.on_settled)
        self.on_settled()

    def keys(self) -> list[Key]:
        """What there is a part for."""
        raise NotImplementedError

    def build(self, form: Form, key: Key) -> None:
        """Put the entries of one part into its form."""
        raise NotImplementedError

    def add_words(self) -> str:
        """What the button that adds one says; empty for none."""
        return ""

    def addition(self) -> list[Change]:
        """What adds one."""
        return []

    def removal(self, key: Key) -> list[Change] | None:
        """What takes one away; None when it must stay."""
        return None

    def removal_words(self, key: Key) -> str:
        """What the button that takes it away says."""
        return "Take away"

    @Slot()
    def on_settled(self) -> None:
        """The day changed."""
        self.add_button.setEnabled(not self.open_day.is_read_only)
        keys = self.keys()
        if keys == self._keys:
            return
        self._keys = keys
        for old in self._forms:
            self._column.removeWidget(old)
            old.hide()
            old.deleteLater()
        self._forms = [self._part(key) for key in keys]
        for at, form in enumerate(self._forms):
            self._column.insertWidget(at, form)

    @Slot()
    def on_add(self) -> None:
        """One more is wanted."""
        self.open_day.change(self.add_words(), self.addition())
        if self._forms:
            first = self._forms[-1].findChild(QLineEdit)
            if first is not None:
                first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _part(self, key: Key) -> QWidget:
        frame = QFrame(self)
        box = QVBoxLayout(frame)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(6)
        form = Form(self.open_day, frame)
        self.build(form, key)
        box.addWidget(form)
        if self.removal(key) is not None:
            button = QPushButton(self.removal_words(key), frame)
            button.setEnabled(not self.open_day.is_read_only)
            first = form.findChild(QLineEdit)
            if first is not None:
                first.textChanged.connect(lambda words: _say_of_what(button, words or str(key[0])))
                _say_of_what(button, first.text() or str(key[0]))

            def on_remove() -> None:
                changes = self.removal(key)
                if changes is not None:
                    self.open_day.change(self.removal_words(key), changes)

            button.clicked.connect(on_remove)
            row = QHBoxLayout()
            row.addStretch(1)
            row.addWidget(button)
            box.addLayout(row)
        return frame


def _say_of_what(button: QPushButton, words: str) -> None:
    """Say to a screen reader what is taken away."""
    button.setAccessibleName(f"{button.text()} {words}")
