"""A form that has a part for each of several things (hands, places, kit): they are added, changed and taken away."""

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from planner.desktop.forms.form import Form
from planner.desktop.forms.listed import Key, Listed
from planner.desktop.model.open_day import OpenDay


class Parts(QWidget, Listed):
    """One `Form` for each key; made again only when the keys change."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None, *, job: str = "") -> None:
        super().__init__(parent)
        self.open_day, self.job = open_day, job
        self._keys: list[Key] | None = None
        self._forms: list[QWidget] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(12)
        self.add_button = QPushButton(self.add_words, self)
        self.add_button.clicked.connect(self.on_add)
        self.add_button.setVisible(bool(self.add_words))
        row = QHBoxLayout()
        row.addWidget(self.add_button)
        row.addStretch(1)
        self._column.addLayout(row)
        open_day.settled.connect(self.on_settled)
        self.on_settled()

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
        self.open_day.change(self.add_words, self.addition())
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
            button = QPushButton("Take away", frame)
            button.setEnabled(not self.open_day.is_read_only)
            first = form.findChild(QLineEdit)
            if first is not None:
                first.textChanged.connect(lambda words: _say_of_what(button, words or str(key[0])))
                _say_of_what(button, first.text() or str(key[0]))

            def on_remove() -> None:
                changes = self.removal(key)
                if changes is not None:
                    self.open_day.change("Take away", changes)

            button.clicked.connect(on_remove)
            row = QHBoxLayout()
            row.addStretch(1)
            row.addWidget(button)
            box.addLayout(row)
        return frame


def _say_of_what(button: QPushButton, words: str) -> None:
    """Say to a screen reader what is taken away."""
    button.setAccessibleName(f"{button.text()} {words}")
