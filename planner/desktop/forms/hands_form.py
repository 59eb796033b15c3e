"""The form of the hands: who works, from when to when, at what cost, and whether they ride in the van."""

from typing import Any

from PySide6.QtWidgets import QWidget

from planner.desktop.forms.field import Field, Tick
from planner.desktop.forms.form import Bound, Form, span_bounds
from planner.desktop.forms.kinds import CLOCK, LIFT, MINUTES, MONEY, TEXT
from planner.desktop.forms.parts import Parts
from planner.desktop.model.draft import Change
from planner.desktop.model.naming import key_for
from planner.desktop.model.open_day import OpenDay


class HandsForm(Form):
    """Every hand of the day."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(open_day, parent)
        self.add_heading("Hands")
        self.explain("hand")
        self.add_note("Hours left empty are the day's own.")
        self.parts = HandParts(open_day, self)
        self.add_widget(self.parts)
        self.add_end()


class HandParts(Parts):
    """One part for each hand."""

    table, add_words = "hands", "Add a hand"

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """Name, hours, cost, break."""
        place = ("hands", key[0])
        day = self.open_day.draft
        form.add_row(
            Bound(Field("Name", TEXT), (*place, "name")),
            Bound(Field("Cost", MONEY), (*place, "cost_per_hour")),
        )
        form.add_row(
            *span_bounds(
                Field("Works from", CLOCK),
                Field("Works until", CLOCK),
                (*place, "hours"),
                (day.at(("start",), "07:30"), day.at(("finish",), "17:30")),
            )
        )
        form.add_row(
            Bound(Field("Own length of break", MINUTES), (*place, "rest", "length")),
            Bound(Field("Lifts alone", LIFT), (*place, "lifts"), "25 kg"),
        )
        form.add_row(Bound(Tick("Comes by own transport"), (*place, "own_transport"), False))

    def addition(self) -> list[Change]:
        """Another hand."""
        name = f"Hand {len(self.there()) + 1}"
        return [Change(("hands", key_for(name, self.there())), {"name": name})]

    def removal(self, key: tuple[Any, ...]) -> list[Change] | None:
        """The last hand stays."""
        return super().removal(key) if len(self.there()) > 1 else None
