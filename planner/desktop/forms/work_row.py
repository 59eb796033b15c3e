"""The work of a house: a tick and a measure for each piece, and what else can be said of it folded away."""

from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from planner.day.faults import Where
from planner.desktop.forms.field import Field
from planner.desktop.forms.fold import Fold
from planner.desktop.forms.form import Form
from planner.desktop.forms.recipe_form import measure_kind, measure_words, recipes, use_rows
from planner.desktop.forms.tick_box import TickBox
from planner.desktop.model.draft import Change, Draft
from planner.desktop.model.house import House, WorkTick
from planner.desktop.model.open_day import OpenDay
from planner.desktop.model.plain_faults import told
from planner.desktop.plain import PlainLabel


class WorkRow(QWidget):
    """One piece of work. A measure typed in ticks it; to clear the measure or the tick takes it out of the day."""

    def __init__(self, open_day: OpenDay, job: str, tick: WorkTick, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.open_day, self.job, self.tick = open_day, job, tick
        self._again: dict[str, Any] | None = None
        self._more: Fold | None = None
        self._more_of: Where | None = None
        self.box = TickBox(tick.words, self)
        self.measure = Field(measure_words(tick.measure), measure_kind(tick.measure), self)
        self.measure.go_bare(f"{tick.words}: {measure_words(tick.measure).lower()}")
        self._wrong = PlainLabel(self)
        self._wrong.setProperty("role", "wrong")
        self._wrong.setWordWrap(True)
        self._wrong.hide()
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.box, 1, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.measure, 0, Qt.AlignmentFlag.AlignTop)
        letters = self.measure.fontMetrics().horizontalAdvance('0')
        self.measure.setFixedWidth(max(118, 16 * letters))
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(2)
        self._column.addLayout(row)
        self._column.addWidget(self._wrong)
        self.box.clicked.connect(self.on_ticked)
        self.measure.value_entered.connect(self.on_measure)
        self.box.installEventFilter(self)
        self.measure.line.installEventFilter(self)
        open_day.settled.connect(self.on_settled)
        self.on_settled()

    @property
    def house(self) -> House:
        """The house as the day has it now."""
        return House(self.open_day.draft, self.job)

    @property
    def wrong(self) -> str:
        """What is said to be wrong with it."""
        return self._wrong.text()

    @Slot()
    def on_ticked(self) -> None:
        """It was ticked, so its measure is asked; or cleared."""
        if not self.box.isChecked():
            self._take_out()
            return
        said = None if self._again is None else self._again.get(self.tick.measure)
        if said is not None:
            self.on_measure(said)
        self.measure.line.setFocus(Qt.FocusReason.OtherFocusReason)
        self.measure.line.selectAll()

    @Slot(object)
    def on_measure(self, value: str | None) -> None:
        """A measure was given, or taken away."""
        if value is None:
            self._take_out()
            return
        changes = self.house.with_work(self.tick, value, self._again)
        self.open_day.change(f"{self.tick.words}", changes)
        self.on_settled()

    def _take_out(self) -> None:
        place = self.house.use_of(self.tick)
        if place is not None:
            self._again = dict(self.open_day.draft.written_at(place))
            self.open_day.change(f"Not: {self.tick.words}", self.house.without_work(self.tick))
        self.on_settled()

    @Slot()
    def on_settled(self) -> None:
        """The day changed."""
        place, value = self.house.use_of(self.tick), self.house.measure_of(self.tick)
        is_asked = self.measure.line.hasFocus() and self.box.isChecked()
        self.box.setChecked(place is not None or is_asked)
        if not (self.measure.is_being_typed and place is None):
            self.measure.show_value(value)
        for entry in (self.box, self.measure):
            entry.setEnabled(not self.open_day.is_read_only)
        draft = self.open_day.draft
        wrong = [] if place is None else [told(draft, fault).words for fault in draft.faults_at(place)]
        self._wrong.setText("\n".join(wrong))
        for worked in (self.box, self.measure.line):
            worked.setAccessibleDescription("; ".join(wrong))
        self._wrong.setVisible(bool(wrong))
        self._fold(place)

    def _fold(self, place: Where | None) -> None:
        if self._more is not None and place == self._more_of:
            return
        was_open = self._more is not None and self._more.line.isChecked()
        if self._more is not None:
            self._column.removeWidget(self._more)
            self._more.hide()
            self._more.deleteLater()
            self._more = None
        self._more_of = place
        if place is not None:
            self._more = Fold(self.open_day, self._standing, self._build, self)
            self._more.setContentsMargins(18, 0, 0, 0)
            self._more.line.setAccessibleName(f"More of: {self.tick.words}")
            self._more.line.setChecked(was_open)
            self._column.addWidget(self._more)

    def _standing(self) -> str:
        """The usual values, in one line."""
        place = self.house.use_of(self.tick)
        if place is None:
            return ""
        draft, recipe = self.open_day.draft, recipes()[self.tick.recipe]
        said = [
            f"{measure_words(word).lower()} {draft.written_at((*place, word)) or recipe.get('usual', {}).get(word)}"
            for word in (*recipe.get("needs", []), *recipe.get("usual", {}), *(word for word, _ in self.tick.beside))
            if word != self.tick.measure and (draft.written_at((*place, word)) or word in recipe.get("usual", {}))
        ]
        said += [str(name) for name in draft.written_at((*place, "conditions")) or []]
        return ", ".join(dict.fromkeys(said))

    def _build(self, form: Form) -> None:
        place = self._more_of
        if place is None:
            return

        def to_ground(draft: Draft, side: Any) -> list[Change]:
            return House(draft, self.job).with_ground_of(place, side)

        choices = self.house.ground_choices()
        use_rows(form, place, self.tick.recipe, choices, without=self.tick.measure, to_ground=to_ground)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's own name
        """Up and down go to the same thing of the row above or below."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            step = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()))
            around = self.parentWidget()
            if step is not None and around is not None:
                rows = [row for row in around.findChildren(WorkRow) if row.isVisible()]
                at = rows.index(self) + step if self in rows else -1
                if 0 <= at < len(rows):
                    rows[at].take_focus(at_measure=isinstance(watched, QLineEdit))
                    return True
        return super().eventFilter(watched, event)

    def take_focus(self, *, at_measure: bool) -> None:
        """Put the keys on the tick or on its measure."""
        (self.measure.line if at_measure else self.box).setFocus(Qt.FocusReason.OtherFocusReason)

