"""The form of what we own: kit, and material that is used up."""

from typing import Any

from PySide6.QtWidgets import QWidget

from planner.desktop.forms.field import Field, Tick
from planner.desktop.forms.form import Bound, Form
from planner.desktop.forms.kinds import ARMFULS, MASS, MINUTES, TEXT, WHEELS, WORDS, counted, numbered
from planner.desktop.forms.picking import Picking
from planner.desktop.model.draft import Change
from planner.desktop.model.naming import key_for
from planner.desktop.model.open_day import OpenDay


class KitForm(Form):
    """Kit and material."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(open_day, parent)
        self.add_heading("Kit")
        self.explain("armful")
        self.kit = KitPicking(open_day, self)
        self.add_widget(self.kit)
        self.add_heading("Material")
        self.materials = MaterialPicking(open_day, self)
        self.add_widget(self.materials)
        self.add_end()


class KitPicking(Picking):
    """Every piece of kit."""

    table, list_words, add_words = "kit", "Kit", "Add kit"

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """All that matters for carrying and using it."""
        place = ("kit", key[0])
        form.add_row(
            Bound(Field("Name", TEXT), (*place, "name")),
            Bound(Field("How many we own", counted("1", 0, 20)), (*place, "own"), 1),
        )
        form.add_row(
            Bound(Field("Load", ARMFULS), (*place, "load"), 1.0),
            Bound(Field("Hands to lift it", counted("1", 1, 4)), (*place, "lift"), 1),
        )
        form.add_row(
            Bound(Field("Set up", MINUTES), (*place, "set_up"), "0 min"),
            Bound(Field("Pack down", MINUTES), (*place, "pack_down"), "0 min"),
        )
        form.add_row(
            Bound(Field("Rinsed out after each chemical", MINUTES), (*place, "rinse_out")),
            Bound(Field("Sack truck or barrow: takes", WHEELS), (*place, "wheels")),
        )
        form.add_row(
            Bound(Field("Needs other kit", WORDS), (*place, "needs"), []),
            Bound(Field("Takes from the ground", WORDS), (*place, "supply"), []),
        )
        form.add_row(
            Bound(Field("Vibration", numbered("m/s2", "4.5", 0, 100)), (*place, "vibration")),
            Bound(Field("Noise at the ear", numbered("dB(A)", "88", 0, 140)), (*place, "noise")),
        )
        form.add_row(
            Bound(Field("Mass", MASS), (*place, "mass")),
            Bound(Field("Comes out of the van with", TEXT), (*place, "group")),
        )
        form.add_row(Bound(Tick("May stand there while the van is away"), (*place, "may_stay"), False))

    def addition(self) -> list[Change]:
        """A new piece."""
        return [Change(("kit", key_for("new-kit", self.there())), {"name": "", "load": 1.0})]


class MaterialPicking(Picking):
    """Every material."""

    table, list_words, add_words = "materials", "Material", "Add material"

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """Name, container, load."""
        place = ("materials", key[0])
        form.add_row(
            Bound(Field("Name", TEXT), (*place, "name")),
            Bound(Field("Container", TEXT), (*place, "container"), "container"),
        )
        form.add_row(
            Bound(Field("Load", ARMFULS), (*place, "load"), 1.0),
            Bound(Field("Holds", MASS), (*place, "holds_kg")),
        )

    def addition(self) -> list[Change]:
        """A new material."""
        return [Change(("materials", key_for("new-material", self.there())), {"name": "", "container": "tub"})]
