"""A form bound to places of a day: each entry shows what the draft says there and sets it when it is changed."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QVBoxLayout, QWidget

from planner.day.faults import Fault, Where
from planner.desktop.flow import Flow
from planner.desktop.forms.field import Entry
from planner.desktop.look import headline
from planner.desktop.model.draft import Change, Draft
from planner.desktop.model.guide import meaning
from planner.desktop.model.open_day import OpenDay
from planner.desktop.model.plain_faults import told
from planner.desktop.plain import PlainLabel


@dataclass(frozen=True)
class Bound:
    """An entry, the place it sets, and what the day takes where the file says nothing.

    ``read`` and ``write`` stand in for plainly reading and setting the value at the place, where an entry shows only a
    part of what stands there; ``faults`` for the faults at the place, where they are found elsewhere.
    """

    entry: Entry
    place: Where
    default: Any = None
    read: Callable[[Draft], Any] | None = None
    write: Callable[[Draft, Any], list[Change]] | None = None
    faults: Callable[[Draft], list[Fault]] | None = None

    def value_in(self, draft: Draft) -> Any:
        """What the entry shows of a draft."""
        return draft.at(self.place, self.default) if self.read is None else self.read(draft)

    def changes(self, draft: Draft, value: Any) -> list[Change]:
        """What sets the value; None takes it out."""
        if self.write is not None:
            return self.write(draft, value)
        return [Change(self.place, value)]


def span_bounds(first: Entry, second: Entry, place: Where, default: tuple[str, str]) -> tuple[Bound, Bound]:
    """Two entries for the two ends of a span of the day; an end that is not given takes its default."""

    def one(entry: Entry, end: int) -> Bound:
        def write(draft: Draft, value: Any) -> list[Change]:
            span = [draft.at((*place, 0)), draft.at((*place, 1))]
            span[end] = value
            if span[end] is None:
                return [Change(place, None)]
            return [Change(place, [given or other for given, other in zip(span, default, strict=True)])]

        return Bound(entry, place, read=lambda draft: draft.at((*place, end)), write=write)

    return one(first, 0), one(second, 1)


class Form(QWidget):
    """A column of entries under headings; several may share a row."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.open_day = open_day
        self._bounds: list[Bound] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(10)
        open_day.settled.connect(self.on_settled)

    def add_heading(self, words: str) -> PlainLabel:
        """Begin a part of the form."""
        label = PlainLabel(words, self)
        label.setFont(headline(12.5, bold=True))
        label.setContentsMargins(0, 8, 0, 0)
        self._column.addWidget(label)
        return label

    def add_note(self, words: str) -> PlainLabel:
        """A faint line of explanation."""
        label = PlainLabel(words, self)
        label.setWordWrap(True)
        label.setProperty("role", "faint")
        self._column.addWidget(label)
        return label

    def explain(self, *words: str) -> None:
        """Say what words of ours mean, where they are first met."""
        for word in words:
            self.add_note(meaning(word))

    def add_widget(self, widget: QWidget) -> None:
        """Anything else."""
        self._column.addWidget(widget)

    def add_row(self, *bounds: Bound) -> None:
        """Entries side by side, as long as there is room."""
        row = Flow(shares=True, gap=12)
        for bound in bounds:
            row.addWidget(bound.entry)
            self._bind(bound)
        self._column.addLayout(row)

    def add_end(self) -> None:
        """Leave the rest of the column empty."""
        self._column.addStretch(1)

    def _bind(self, bound: Bound) -> None:
        self._bounds.append(bound)

        def on_value_entered(value: Any) -> None:
            words = f"Change {bound.entry.label.lower()}"
            self.open_day.change(words, bound.changes(self.open_day.draft, value))
            self._refresh(bound)  # a change that was refused leaves the value as it was

        bound.entry.value_entered.connect(on_value_entered)
        self._refresh(bound)

    def _refresh(self, bound: Bound) -> None:
        draft = self.open_day.draft
        bound.entry.show_value(bound.value_in(draft))
        if not bound.entry.is_being_typed:
            faults = draft.faults_at(bound.place) if bound.faults is None else bound.faults(draft)
            bound.entry.say("\n".join(dict.fromkeys(told(draft, fault).words for fault in faults)))
        bound.entry.setEnabled(not self.open_day.is_read_only)

    @Slot()
    def on_settled(self) -> None:
        """The day changed."""
        for bound in self._bounds:
            self._refresh(bound)
