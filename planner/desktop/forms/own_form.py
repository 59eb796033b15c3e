"""The form of what we own: hands, yard and van, kit, material, and how fast we work; kept for every day to come."""

from typing import Any

from PySide6.QtWidgets import QWidget

from planner.desktop.forms.field import Field
from planner.desktop.forms.form import Bound, Form
from planner.desktop.forms.hands_form import HandParts
from planner.desktop.forms.kinds import CLOCK, LITRES, MINUTES, TEXT, numbered
from planner.desktop.forms.kit_form import KitPicking, MaterialPicking
from planner.desktop.forms.picking import Picking
from planner.desktop.model.draft import Change
from planner.desktop.model.what_we_own import WhatWeOwn
from planner.trade.trade_tables import shipped


class OwnForm(Form):
    """All of it; what is usual stands there until it is changed."""

    def __init__(self, own: WhatWeOwn, parent: QWidget | None = None) -> None:
        super().__init__(own, parent)
        self.add_heading("Our hands")
        self.add_widget(HandParts(own, self))
        self.add_heading("Yard, van and hours")
        self.add_row(
            Bound(Field("Name of our yard", TEXT), ("yard", "name")),
            Bound(Field("Water in the van's tank", LITRES), ("van", "tank")),
        )
        self.add_row(
            Bound(Field("Van leaves from", CLOCK), ("usual", "start")),
            Bound(Field("Home at the latest", CLOCK), ("usual", "finish")),
        )
        self.add_row(Bound(Field("One restricted crossing is worth", MINUTES), ("usual", "crossing_price")))
        self.add_heading("Our kit")
        self.add_note("Kit of which we own none is not planned with, unless a day says that it is hired.")
        self.kit = OwnKit(own, self)
        self.add_widget(self.kit)
        self.add_heading("Our material")
        self.add_widget(OwnMaterial(own, self))
        self.add_heading("How fast we work")
        self.add_note("What was really timed is on the page Own pace, and counts before this.")
        self.add_widget(OwnRates(own, self))
        self.add_end()


class OwnKit(KitPicking):
    """Every piece of kit of the trade, and our own; what is shipped cannot go, but we may own none of it."""

    def words_of(self, key: tuple[Any, ...]) -> str:
        """Its name, and that we own none or several."""
        owned = self.open_day.draft.at(("kit", key[0], "own"), 1)
        more = "" if owned == 1 else ": none of ours" if owned == 0 else f": {owned}"
        return f"{super().words_of(key)}{more}"

    def removal(self, key: tuple[Any, ...]) -> list[Change] | None:
        """What is our own alone may go."""
        return None if key[0] in shipped("kit") else super().removal(key)


class OwnMaterial(MaterialPicking):
    """Every material of the trade, and our own."""

    def removal(self, key: tuple[Any, ...]) -> list[Change] | None:
        """What is our own alone may go."""
        return None if key[0] in shipped("materials") else super().removal(key)


class OwnRates(Picking):
    """Every way of working that goes by a rate, or takes a fixed time. None is added or goes: recipes name them."""

    table, list_words = "methods", "Ways of working"

    def keys(self) -> list[tuple[Any, ...]]:
        """The methods, by the kind of work."""
        return [
            (kind, name)
            for kind, table in self.there().items()
            for name, method in table.items()
            if "rate" in method or "minutes" in method
        ]

    def words_of(self, key: tuple[Any, ...]) -> str:
        """What is done, and how."""
        name = self.open_day.draft.at(("methods", *key, "name"), key[1])
        return f"{key[0].replace('-', ' ').capitalize()}: {name}"

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """Its rate and its fixed part, beside what is shipped."""
        draft, place = self.open_day.draft, ("methods", *key)
        usual = shipped("methods").get(key[0], {}).get(key[1], {})
        bounds = []
        if draft.at((*place, "rate")) is not None:
            unit = draft.at((*place, "rate", "unit"), "m2")
            kind = numbered(f"{unit}/h", "40", 0, 10_000, above_least=True)
            bounds.append(Bound(Field("Rate", kind), (*place, "rate", "amount")))
        if draft.at((*place, "minutes")) is not None or not bounds:
            bounds.append(Bound(Field("Fixed part", MINUTES), (*place, "minutes")))
        form.add_row(*bounds)
        rate = usual.get("rate")
        told = [f"{rate['amount']:g} {rate['unit']}/h"] if rate else []
        told += [str(usual["minutes"])] if "minutes" in usual else []
        form.add_note(f"Shipped: {' and '.join(told)}; {usual.get('source', '')}." if told else "Our own.")

    def removal(self, key: tuple[Any, ...]) -> list[Change] | None:
        """None goes from here."""
        return None
