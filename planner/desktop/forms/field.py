"""One field of a form: a label, a line to type in, its unit, and under it what is wrong, said plainly."""

import math
from typing import Any

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from planner.desktop.forms.kinds import Kind
from planner.desktop.forms.tick_box import TickBox
from planner.desktop.plain import PlainLabel

BESIDE_WORDS = 36
"""Pixels of a box of choices that its arrow and its edges take."""


class Entry(QWidget):
    """What every field has: a label, a message under it, and a value that may be None for "not given"."""

    value_entered = Signal(object)

    def __init__(self, label: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.label = label
        self._described = ""
        self._title: PlainLabel | None = None
        self._message = PlainLabel(self)
        self._message.setProperty("role", "wrong")
        self._message.setWordWrap(True)
        self._message.setTextFormat(Qt.TextFormat.PlainText)
        self._message.hide()
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(2)

    @property
    def message(self) -> str:
        """What is said to be wrong now."""
        return self._message.text()

    @property
    def is_being_typed(self) -> bool:
        """Whether something stands in it that the day does not hold yet."""
        return False

    def say(self, message: str) -> None:
        """Say under the field what is wrong; nothing when the message is empty."""
        self._message.setText(message)
        self._message.setVisible(bool(message))
        buddy = self.worked
        if buddy is not None:
            buddy.setAccessibleDescription("; ".join(filter(None, (self._described, message))))

    @property
    def worked(self) -> QWidget | None:
        """What takes the keys."""
        return self._title.buddy() if self._title is not None else None

    def head(self, width: int) -> int:
        """How high its label is at a width; what is worked stands below it."""
        return self._title.heightForWidth(width) if self._title is not None and not self._title.isHidden() else 0

    def describe(self, words: str) -> None:
        """Say to a screen reader what is not in the label: the unit."""
        self._described = words
        self.say(self.message)

    def show_value(self, value: Any) -> None:
        """Show the value that the day holds."""
        raise NotImplementedError

    def go_bare(self, told: str) -> None:
        """Show no label: what stands beside it says what it is; ``told`` is what a screen reader says."""
        if self._title is not None:
            self._title.hide()
            self._title.buddy().setAccessibleName(told)

    def _titled(self, widget: QWidget) -> PlainLabel:
        title = self._title = PlainLabel(self.label, self)
        title.setProperty("role", "faint")
        title.setWordWrap(True)
        title.setBuddy(widget)
        widget.setAccessibleName(self.label)
        return title


class ExampleLine(QLineEdit):
    """A line that shows its example whole, without "e.g.", or, where there is no room for it, not at all."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._example = ""

    def setPlaceholderText(self, text: str) -> None:  # noqa: N802 - Qt's own name
        """Set the example."""
        self._example = text
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show as much of the example as there is room for."""
        super().resizeEvent(event)
        self._fit()

    def showEvent(self, event: QShowEvent) -> None:
        """Show as much of the example as there is room for."""
        super().showEvent(event)
        self._fit()

    def _fit(self) -> None:
        whole, metrics = self._example, self.fontMetrics()
        room = self.width() - 2 * metrics.averageCharWidth() - 8 if self.isVisible() else math.inf
        shown = [words for words in (whole, whole.removeprefix("e.g. ")) if metrics.horizontalAdvance(words) <= room]
        super().setPlaceholderText(shown[0] if shown else "")


class Field(Entry):
    """A line to type a value in. It is checked while typing and taken when the field is left or Enter is pressed."""

    def __init__(self, label: str, kind: Kind, parent: QWidget | None = None, *, optional: bool = True) -> None:
        super().__init__(label, parent)
        self.kind = kind
        self._optional = optional
        self._shown = ""
        self.line = ExampleLine(self)
        self.line.setPlaceholderText(f"e.g. {kind.example}" if kind.example else "")
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(self.line, 1)
        if kind.unit:
            unit = PlainLabel(kind.unit, self)
            unit.setMinimumWidth(46)
            row.addWidget(unit)
        self._box.addWidget(self._titled(self.line))
        self.describe(f"in {kind.unit}" if kind.unit else "")
        self._box.addLayout(row)
        self._box.addWidget(self._message)
        self.line.textEdited.connect(self.on_typed)
        self.line.editingFinished.connect(self.on_left)

    @property
    def is_being_typed(self) -> bool:
        """Whether something stands in it that the day does not hold yet."""
        return self.line.hasFocus() and self.line.text().strip() != self._shown

    def value(self) -> Any:
        """What stands in the field; None when it is empty.

        Raises `ValueError` when it cannot be read, with a plain message.
        """
        text = self.line.text().strip()
        if text:
            return self.kind.read(text)
        if not self._optional:
            raise ValueError("needed")
        return None

    def show_value(self, value: Any) -> None:
        """Show the value that the day holds; what is being typed is left alone."""
        text = "" if value is None else self.kind.show(value)
        if text != self._shown or not self.line.hasFocus():
            self._shown = text
            if self.line.text() != text:
                self.line.setText(text)
                self.line.setCursorPosition(0)  # a long text is read from its beginning
            self._mark(wrong=False)
            self.say("")

    def say(self, message: str) -> None:
        """Say what is wrong and mark the line as well."""
        super().say(message)
        self._mark(wrong=bool(message))

    @Slot()
    def on_typed(self) -> None:
        """A sign was typed: check at once."""
        try:
            self.value()
        except ValueError as fault:
            self.say(str(fault))
        else:
            self.say("")

    @Slot()
    def on_left(self) -> None:
        """The field was left: take its value if it is good and another than before."""
        if self.line.text().strip() == self._shown:
            return
        try:
            value = self.value()
        except ValueError as fault:
            self.say(str(fault))
            return
        self._shown = "" if value is None else self.kind.show(value)
        self.line.setText(self._shown)
        self.value_entered.emit(value)

    def _mark(self, *, wrong: bool) -> None:
        if bool(self.line.property("wrong")) != wrong:
            self.line.setProperty("wrong", wrong)
            self.line.style().polish(self.line)


class Choice(Entry):
    """One of a few values, each with the words that say it."""

    def __init__(self, label: str, options: list[tuple[Any, str]], parent: QWidget | None = None) -> None:
        super().__init__(label, parent)
        self.box = QComboBox(self)
        self.box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.box.setMinimumContentsLength(8)
        self._whole = PlainLabel(self)
        self._whole.setWordWrap(True)
        self._whole.hide()
        self._box.addWidget(self._titled(self.box))
        self._box.addWidget(self.box)
        self._box.addWidget(self._whole)
        self._box.addWidget(self._message)
        self.box.currentTextChanged.connect(self._show_whole)
        self.offer(options)
        self.box.activated.connect(self.on_chosen)

    def offer(self, options: list[tuple[Any, str]]) -> None:
        """Offer other values."""
        kept = self.box.currentData()
        self.box.clear()
        for value, words in options:
            self.box.addItem(words, value)
        self.box.setCurrentIndex(max(0, self.box.findData(kept)))

    def value(self) -> Any:
        """The value chosen."""
        return self.box.currentData()

    def show_value(self, value: Any) -> None:
        """Choose the value that the day holds; one that is not offered is shown as it is."""
        at = self.box.findData(value)
        if at < 0 and value is not None:
            self.box.addItem(str(value), value)
            at = self.box.count() - 1
        self.box.setCurrentIndex(max(0, at))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """There is more room for the words, or less."""
        super().resizeEvent(event)
        self._show_whole()

    @Slot()
    def _show_whole(self) -> None:
        """What is chosen stands below the box where it is too long for it."""
        words, room = self.box.currentText(), self.box.width() - BESIDE_WORDS
        is_cut = 0 < room < self.box.fontMetrics().horizontalAdvance(words)
        self._whole.setText(words if is_cut else "")
        self._whole.setVisible(is_cut)

    @Slot()
    def on_chosen(self) -> None:
        """Another value was chosen."""
        self.value_entered.emit(self.box.currentData())


class Tick(Entry):
    """Yes or no."""

    def __init__(self, label: str, parent: QWidget | None = None) -> None:
        super().__init__(label, parent)
        self.box = TickBox(label, self)
        self._box.addWidget(self.box)
        self._box.addWidget(self._message)
        self.box.clicked.connect(self.on_ticked)

    @property
    def worked(self) -> QWidget | None:
        """The box itself."""
        return self.box

    def value(self) -> bool:
        """Whether it is ticked."""
        return self.box.isChecked()

    def show_value(self, value: Any) -> None:
        """Show what the day holds."""
        self.box.setChecked(bool(value))

    @Slot()
    def on_ticked(self) -> None:
        """It was ticked or cleared."""
        self.value_entered.emit(self.box.isChecked())
