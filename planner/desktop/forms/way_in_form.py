"""The form of a job's grounds: how each is reached from the van, and what it supplies."""

from typing import Any

from planner.day.faults import Where
from planner.desktop.forms.field import Choice, Field, Tick
from planner.desktop.forms.form import Bound, Form
from planner.desktop.forms.kinds import AREA, LOAD_LIMIT, MINUTES, RUN, TEXT, counted
from planner.desktop.forms.parts import Parts
from planner.desktop.model.draft import Change
from planner.desktop.model.naming import key_for
from planner.trade.lifting import USUAL_LOAD_LIMIT

DRAINED_TO = [
    ("", "not said"),
    ("surface drain", "a gully to a surface drain"),
    ("foul drain", "a gully to the foul drain"),
    ("soil", "soil"),
]
"""Where what runs off a ground goes, and how that is called."""


class GroundParts(Parts):
    """One part for each ground of a job."""

    table, add_words = "grounds", "Add a ground"

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """The way in and the supplies."""
        place = (*self.place, key[0])
        way = (*place, "way_in")
        form.add_row(
            Bound(Field("Ground", TEXT), (*place, "name")),
            Bound(Field("Walk from the van, one way", MINUTES), (*way, "minutes"), "0 min"),
        )
        way_rows(form, way)
        form.add_row(
            Bound(Field("Taps there", counted("1", 0, 20)), (*place, "supplies", "tap")),
            Bound(Field("Sockets there", counted("1", 0, 20)), (*place, "supplies", "socket")),
        )
        form.add_row(Bound(Choice("Its water runs off to", DRAINED_TO), (*place, "drain"), ""))

    def addition(self) -> list[Change]:
        """A ground at the front, reached at once."""
        key = key_for("ground", self.there())
        return [Change((*self.place, key), {"name": "", "way_in": {"minutes": "0 min"}})]

    def removal(self, key: tuple[Any, ...]) -> list[Change] | None:
        """A ground may go when no surface lies on it."""
        surfaces = self.open_day.draft.at(("jobs", self.job, "surfaces"), {})
        if any(surface.get("ground") == key[0] for surface in surfaces.values()):
            return None
        return super().removal(key)


def way_rows(form: Form, way: Where) -> None:
    """What can be said of a way in beside its name and its minutes."""
    form.add_row(
        Bound(Tick("Restricted: through a house, a window, a shared hall"), (*way, "restricted"), False)
    )
    form.add_row(Bound(Tick("Takes a sack truck or barrow: no steps"), (*way, "wheeled"), False))
    form.add_row(
        Bound(Field("Through", TEXT), (*way, "through")),
        Bound(Field("One hand carries at a time", LOAD_LIMIT), (*way, "load_limit"), USUAL_LOAD_LIMIT),
    )
    protection = [
        ("none", "none needed"),
        ("customer", "laid by the customer before"),
        ("ours", "laid and lifted by us"),
    ]
    form.add_row(Bound(Choice("Floor protection", protection), (*way, "protection"), "none"))
    form.add_row(
        Bound(Field("Laying it takes", MINUTES), (*way, "lay"), "8 min"),
        Bound(Field("Lifting it takes", MINUTES), (*way, "lift"), "5 min"),
    )


class SurfaceParts(Parts):
    """One part for each surface of a job."""

    table, add_words = "surfaces", "Add a surface"

    def keys(self) -> list[tuple[Any, ...]]:
        """The surfaces, with the grounds they may lie on."""
        grounds = tuple(self.open_day.draft.at(("jobs", self.job, "grounds"), {}))
        return [(key, grounds) for key in self.there()]

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """Where it lies and how large it is."""
        place = (*self.place, key[0])
        form.add_row(
            Bound(Field("Surface", TEXT), (*place, "name")),
            Bound(Choice("On which ground", [(ground, ground) for ground in key[1]]), (*place, "ground")),
        )
        form.add_row(
            Bound(Field("Area", AREA), (*place, "area")),
            Bound(Field("Run", RUN), (*place, "run")),
        )
        form.add_row(Bound(Tick("Hands and kit stand on it"), (*place, "stood_on"), True))
        form.add_row(
            Bound(Tick("Its moisture is measured before work that needs it dry"), (*place, "measured"), False)
        )

    def addition(self) -> list[Change]:
        """A surface on the first ground."""
        job = self.open_day.draft.at(("jobs", self.job), {})
        key = key_for("surface", job.get("surfaces", {}))
        ground = next(iter(job.get("grounds", {})), "")
        return [Change((*self.place, key), {"name": "", "ground": ground})]

    def removal(self, key: tuple[Any, ...]) -> list[Change] | None:
        """A surface may go when no stage works it."""
        stages = self.open_day.draft.at(("jobs", self.job, "stages"), {})
        if any(stage.get("surface") == key[0] for stage in stages.values()):
            return None
        return super().removal(key)
