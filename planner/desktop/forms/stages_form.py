"""The form of a job's stages and waits: what is done, by which methods, after what, and how long it must rest."""

from typing import Any

from PySide6.QtWidgets import QWidget

from planner.day.faults import Where
from planner.desktop.forms.field import Choice, Field, Tick
from planner.desktop.forms.form import Bound, Form
from planner.desktop.forms.kinds import CLOCK, LONG, MINUTES, TEXT, WORDS, counted, numbered
from planner.desktop.forms.listed import Key
from planner.desktop.forms.parts import Parts
from planner.desktop.forms.picking import Picking
from planner.desktop.model.draft import Change, Draft
from planner.desktop.model.naming import called, key_for
from planner.desktop.model.open_day import OpenDay
from planner.desktop.model.wishes import stage_words

RATE = numbered("an hour", "40", 0, 1e5, above_least=True)


class StagePicking(Picking):
    """The stages of a job, in the order of the file."""

    table, list_words, add_words = "stages", "Stages", "Add a stage"

    def words_of(self, key: tuple[Any, ...]) -> str:
        """What it is called, and the surface."""
        draft = self.open_day.draft
        stage = draft.at((*self.place, key[0]), {})
        surface = called(draft.at(("jobs", self.job, "surfaces"), {}), str(stage.get("surface", "")))
        pinned = ", pinned to {time}".format(time=stage["starts_at"]) if "starts_at" in stage else ""
        return f"{stage_words(draft, self.job, key[0])} – {surface}{pinned}"

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """What a stage is, when it may be, and its methods."""
        place = (*self.place, key[0])
        surfaces = self.open_day.draft.at(("jobs", self.job, "surfaces"), {})
        form.add_row(
            Bound(Field("What is done", TEXT), (*place, "kind"), "work"),
            Bound(
                Choice("On which surface", [(s, called(surfaces, s)) for s in surfaces]), (*place, "surface")
            ),
        )
        form.add_row(Bound(Field("After these stages", WORDS), (*place, "after"), []))
        form.add_row(
            Bound(Field("Not before", CLOCK), (*place, "not_before")),
            Bound(Field("Not after", CLOCK), (*place, "not_after")),
            Bound(Field("Exactly at", CLOCK), (*place, "starts_at")),
        )
        form.add_row(Bound(Tick("Noisy: not in quiet hours"), (*place, "noisy"), False))
        form.explain("method")
        form.add_widget(MethodParts(self.open_day, place, form))

    def addition(self) -> list[Change]:
        """A stage of half an hour on the first surface."""
        draft = self.open_day.draft
        key = key_for("stage", draft.at(self.place, {}))
        surface = next(iter(draft.at(("jobs", self.job, "surfaces"), {})), "")
        methods = {"by-hand": {"minutes": "30 min"}}
        return [Change((*self.place, key), {"kind": "work", "surface": surface, "methods": methods})]

    def removal(self, key: tuple[Any, ...]) -> list[Change] | None:
        """A stage goes with its waits, and other stages no longer come after it."""
        draft = self.open_day.draft
        if len(draft.at(self.place, {})) <= 1:
            return None
        waits = list(enumerate(draft.at(("jobs", self.job, "waits"), [])))
        changes = [Change((*self.place, key[0]), None)]
        for other, stage in draft.at(self.place, {}).items():
            if key[0] in stage.get("after", []):
                rest = [name for name in stage["after"] if name != key[0]]
                changes.append(Change((*self.place, other, "after"), rest))
        for words, stages in draft.at(("jobs", self.job, "quoted"), {}).items():
            if key[0] in stages:
                rest = [name for name in stages if name != key[0]]
                changes.append(Change(("jobs", self.job, "quoted", words), rest))
        for at, wait in reversed(waits):
            if key[0] in (wait.get("after"), wait.get("before")):
                changes.append(Change(("jobs", self.job, "waits", at), None))
        return changes


class MethodParts(Parts):
    """The methods of a stage."""

    table, add_words = "methods", "Add a method"

    def __init__(self, open_day: OpenDay, stage: Key, parent: QWidget | None = None) -> None:
        self._stage = stage
        super().__init__(open_day, parent)

    @property
    def place(self) -> Where:
        """The table of the stage's methods."""
        return (*self._stage, self.table)

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """Its kit and its time."""
        place = (*self.place, key[0])

        def write_rate(draft: Draft, value: Any) -> list[Change]:
            if value is None:
                return [Change((*place, "rate"), None)]
            unit = draft.at((*place, "rate", "unit"), "m2")
            return [Change((*place, "rate"), {"amount": value, "unit": unit})]

        units = [("m2", "m2"), ("m", "m")]
        form.add_row(
            Bound(Field(f"Kit for “{key[0]}”", WORDS), (*place, "kit"), []),
            Bound(Field("Hands", counted("1", 1, 4)), (*place, "hands"), 1),
        )
        form.add_row(
            Bound(Field("Fixed time", MINUTES), (*place, "minutes"), "0 min"),
            Bound(
                Field("Gets done", RATE),
                (*place, "rate"),
                read=lambda draft: draft.at((*place, "rate", "amount")),
                write=write_rate,
            ),
            Bound(Choice("Of", units), (*place, "rate", "unit"), "m2", write=_unit_writer(place)),
        )

    def addition(self) -> list[Change]:
        """Another way of doing it."""
        key = key_for("method", self.there())
        return [Change((*self.place, key), {"kit": [], "minutes": "30 min"})]

    def removal(self, key: tuple[Any, ...]) -> list[Change] | None:
        """The last way stays."""
        return super().removal(key) if len(self.there()) > 1 else None


def _unit_writer(place: tuple[Any, ...]) -> Any:
    """A unit is set only beside an amount."""

    def write(draft: Draft, value: Any) -> list[Change]:
        amount = draft.at((*place, "rate", "amount"))
        return [] if amount is None else [Change((*place, "rate"), {"amount": amount, "unit": value})]

    return write


class WaitParts(Parts):
    """The waits of a job."""

    table, add_words = "waits", "Add a wait"

    def keys(self) -> list[tuple[Any, ...]]:
        """The waits, each with the stages it may lie between."""
        stages = tuple(self.open_day.draft.at(("jobs", self.job, "stages"), {}))
        return [(at, stages) for at in range(len(self.open_day.draft.at(("jobs", self.job, "waits"), [])))]

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """Between what, of what kind, how long."""
        place = ("jobs", self.job, "waits", key[0])
        stages = [(stage, stage) for stage in key[1]]
        kinds = [
            ("dwell", "dwell: a treatment works"),
            ("dry", "dry: a surface dries"),
            ("cure", "cure: a joint or a coat cures"),
            ("set", "set: it stiffens"),
            ("order", "order: only one after the other"),
        ]
        orders = [
            (None, "the stage as a whole"),
            ("same", "each patch; begun where the first began"),
            ("reversed", "each patch; begun where the first ended"),
            ("any", "each patch; begun anywhere"),
        ]
        form.add_row(
            Bound(Choice("After", stages), (*place, "after")),
            Bound(Choice("Before", [(None, "nothing more"), *stages]), (*place, "before")),
        )
        form.add_row(Bound(Choice("Kind of wait", kinds), (*place, "kind"), "order"))
        form.add_row(
            Bound(Field("At least", LONG), (*place, "least"), "0 min"),
            Bound(Field("At most", LONG), (*place, "most")),
        )
        form.add_row(Bound(Choice("Holds for", orders), (*place, "order")))
        form.add_row(Bound(Tick("No other work on the job meanwhile"), (*place, "keep_clear"), False))

    def addition(self) -> list[Change]:
        """A wait after the last stage."""
        draft = self.open_day.draft
        stages = list(draft.at(("jobs", self.job, "stages"), {}))
        waits = draft.at(("jobs", self.job, "waits"))
        wait = {"after": stages[-1] if stages else "", "kind": "dry", "least": "30 min"}
        if waits is None:
            return [Change(("jobs", self.job, "waits"), [wait])]
        return [Change(("jobs", self.job, "waits", len(waits)), wait)]
