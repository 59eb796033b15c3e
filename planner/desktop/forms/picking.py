"""A list to pick one thing from, with the form of what is picked under it: for things of which there are many."""

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QPushButton, QVBoxLayout, QWidget

from planner.desktop.flow import Flow
from planner.desktop.forms.form import Form
from planner.desktop.forms.listed import Key, Listed
from planner.desktop.model.naming import called
from planner.desktop.model.open_day import OpenDay
from planner.desktop.plain import tip


class Picking(QWidget, Listed):
    """A list of keys; `picked_changed` tells the key whose form is shown, or None."""

    picked_changed = Signal(object)

    list_words = ""
    """What the list is called for a screen reader."""

    name = "name"
    """The word by which one is listed."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None, *, job: str = "", rows: int = 6) -> None:
        super().__init__(parent)
        self.open_day, self.job = open_day, job
        self._keys: list[Key] = []
        self._form: QWidget | None = None
        self._form_key: Key | None = None
        self.list = QListWidget(self)
        self.list.setAccessibleName(self.list_words)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setWordWrap(True)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self._rows = rows
        self.add_button = QPushButton(self.add_words, self)
        self.add_button.setVisible(bool(self.add_words))
        self.remove_button = QPushButton("Take away", self)
        buttons = Flow()
        buttons.addWidget(self.add_button)
        buttons.addWidget(self.remove_button)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        self._column.addWidget(self.list)
        self._column.addLayout(buttons)
        self.list.currentRowChanged.connect(self.on_picked)
        self.add_button.clicked.connect(self.on_add)
        self.remove_button.clicked.connect(self.on_remove)
        open_day.settled.connect(self.on_settled)
        self.on_settled()

    def words_of(self, key: Key) -> str:
        """How one is listed."""
        return called(self.there(), key[0], self.name)

    def make_form(self, key: Key) -> Form:
        """The form of the picked one."""
        form = Form(self.open_day, self)
        self.build(form, key)
        return form

    @property
    def picked(self) -> Key | None:
        """The key that is picked."""
        row = self.list.currentRow()
        return self._keys[row] if 0 <= row < len(self._keys) else None

    def pick(self, key: Key) -> None:
        """Pick another."""
        if key in self._keys:
            self.list.setCurrentRow(self._keys.index(key))

    @Slot()
    def on_settled(self) -> None:
        """The day changed: the list and its words may have."""
        kept, self._keys = self.picked, self.keys()
        self.list.blockSignals(True)
        self.list.clear()
        for key in self._keys:
            words = self.words_of(key)
            item = QListWidgetItem(words, self.list)
            item.setToolTip(tip(words))
        row = self._keys.index(kept) if kept in self._keys else min(0, len(self._keys) - 1)
        self.list.setCurrentRow(row)
        self.list.blockSignals(False)
        height = self.list.sizeHintForRow(0) if self._keys else self.list.fontMetrics().height() + 8
        self.list.setFixedHeight(height * max(2, min(self._rows, len(self._keys))) + 2 * self.list.frameWidth() + 2)
        self.on_picked()

    @Slot()
    def on_picked(self) -> None:
        """Another one is picked."""
        key = self.picked
        can = not self.open_day.is_read_only
        self.add_button.setEnabled(can)
        self.remove_button.setEnabled(can and key is not None and self.removal(key) is not None)
        self.remove_button.setAccessibleName(f"Take away {self.words_of(key)}" if key is not None else "Take away")
        if key == self._form_key and (self._form is not None) == (key is not None):
            return
        if self._form is not None:
            self._column.removeWidget(self._form)
            self._form.hide()
            self._form.deleteLater()
            self._form = None
        self._form_key = key
        if key is not None:
            self._form = self.make_form(key)
            self._column.addWidget(self._form)
        self.picked_changed.emit(key)

    @Slot()
    def on_add(self) -> None:
        """One more is wanted."""
        before = set(self._keys)
        self.open_day.change(self.add_words, self.addition())
        for key in self._keys:
            if key not in before:
                self.pick(key)

    @Slot()
    def on_remove(self) -> None:
        """The picked one is not wanted."""
        changes = self.removal(self.picked) if self.picked is not None else None
        if changes is not None:
            self.open_day.change("Take away", changes)
