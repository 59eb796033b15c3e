"""The form of a job's work as recipes: which, on what, its measures, and the conditions that hold."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from planner.day.faults import Where
from planner.desktop.forms.field import Choice, Field, Tick
from planner.desktop.forms.form import Bound, Form
from planner.desktop.forms.kinds import TEXT, Kind, measured
from planner.desktop.forms.parts import Parts
from planner.desktop.model.draft import Change, Draft
from planner.desktop.model.naming import called, key_for
from planner.trade import units
from planner.trade.library import MEASURES, SIDES, library

_MOST = {"m2": 1e5, "m": 1e4, "mm": 1e4, "%": 100.0, "L/min": 1e4, "steps": 1e3}


@cache
def recipes() -> Mapping[str, dict[str, Any]]:
    """The recipes of the trade library."""
    return library().recipes


def measure_kind(word: str) -> Kind:
    """How a measure that a recipe asks for is typed."""
    unit, example = MEASURES[word]
    if word in SIDES:
        shown = example.removesuffix(unit).strip()
        return Kind("mm", shown, _read_sides, lambda value: str(value).removesuffix("mm").strip())
    if unit == "min":
        return Kind("", example, _read_time)
    return measured(unit, example.removesuffix(unit).strip(), _MOST[unit])


def measure_words(word: str) -> str:
    """What a measure is called."""
    words = {
        "area": "Area",
        "run": "Length",
        "slab": "Size of the slabs",
        "joint_width": "Width of the joints",
        "joint_depth": "Depth of the joints",
        "joint_run": "Joints in all, if measured",
        "joints_empty": "Joints that are empty",
        "loose_area": "Loose slabs",
        "sunken_area": "Sunken spots",
        "disc": "Thickness of the disc",
        "stock": "Strength of the stock",
        "stock_age": "Age of the stock",
        "tap_flow": "Flow of the tap",
        "block": "Size of the blocks",
        "brick": "Face of a brick",
        "steps": "How many steps",
        "step_width": "Width of the steps",
        "tread_and_riser": "Tread and riser of a step together",
        "height": "Height above the ground",
        "hose_run": "Way of the hose from the tap",
        "moisture": "Moisture measured",
    }
    return words.get(word, word.replace("_", " ").capitalize())


class RecipeParts(Parts):
    """One part for each recipe that a job uses."""

    def keys(self) -> list[tuple[Any, ...]]:
        """The uses as (place, recipe, grounds); those of unknown recipes are left to the faults."""
        draft = self.open_day.draft
        grounds = tuple(draft.at(("jobs", self.job, "grounds"), {}))
        return [(place, recipe, grounds) for place, recipe in draft.uses_in(self.job) if recipe in recipes()]

    def build(self, form: Form, key: tuple[Any, ...]) -> None:
        """Measures and conditions."""
        place, name, _ = key
        form.add_note(str(recipes()[name]["title"]))
        use_rows(form, place, name, ground_words(self.open_day.draft, self.job))

    def removal(self, key: tuple[Any, ...]) -> list[Change] | None:
        """The last use stays: a job without work is none."""
        place = key[0]
        if len(self.keys()) <= 1:
            return None
        if place[-1] == "measures":
            return [Change(place, None), Change((*place[:2], "recipe"), None)]
        return [Change(place, None)]


def use_rows(
    form: Form,
    place: Where,
    name: str,
    grounds: list[tuple[str, str]],
    *,
    without: str = "",
    to_ground: Callable[[Draft, Any], list[Change]] | None = None,
) -> None:
    """What can be said of one use of a recipe: its name and ground, its measures but one, its conditions."""
    recipe = recipes()[name]
    ground = replace(_written(Choice("On which ground", grounds), (*place, "ground")), write=to_ground)
    form.add_row(_written(Field("Called", TEXT), (*place, "name")), ground)
    needed = recipe.get("needs", [])
    words = [word for word in (*needed, *recipe.get("may_have", [])) if word != without]
    for at in range(0, len(words), 2):
        form.add_row(*(_measure(place, word, recipe, needed=word in needed) for word in words[at : at + 2]))
    for condition in recipe.get("conditions", {}):
        form.add_row(_condition(condition, place))


def _measure(place: Where, word: str, recipe: dict[str, Any], *, needed: bool) -> Bound:
    is_needed = needed and not (word == "area" and "steps" in recipe.get("may_have", []))
    field = Field(measure_words(word), measure_kind(word), optional=not is_needed)
    usual = recipe.get("usual", {}).get(word)
    if usual is not None:
        field.line.setPlaceholderText(f"{usual} if not given")
    return _written(field, (*place, word))


def new_use(draft: Draft, job: str, recipe: str, ground: str, measures: dict[str, str]) -> dict[str, Any]:
    """The table of another use, named apart where its stages or its surface are there already."""
    table = recipes()[recipe]
    stages = draft.at(("jobs", job, "stages"), {})
    surfaces = draft.at(("jobs", job, "surfaces"), {})
    use: dict[str, Any] = {"recipe": recipe, "ground": ground}
    surface = table["surface"]["key"]
    if surface in surfaces or any(stage in stages for stage in table["stages"]):
        use["prefix"] = key_for(surface, {*surfaces, *(name.split("-")[0] for name in stages)})
    return use | measures


def use_changes(draft: Draft, job: str, use: dict[str, Any]) -> list[Change]:
    """What adds a use to a job."""
    listed = draft.tables.get("jobs", {}).get(job, {}).get("recipes")
    if listed is None:
        return [Change(("jobs", job, "recipes"), [use])]
    return [Change(("jobs", job, "recipes", len(listed)), use)]


def _written(entry: Any, place: Where) -> Bound:
    """An entry for what is written in the file, which working out the recipe takes away."""
    return Bound(entry, place, read=lambda draft: draft.written_at(place))


def _condition(condition: str, place: Where) -> Bound:
    where = (*place, "conditions")

    def read(draft: Draft) -> bool:
        return condition in (draft.written_at(where) or [])

    def write(draft: Draft, holds: bool) -> list[Change]:
        others = [name for name in draft.written_at(where) or [] if name != condition]
        return [Change(where, [*others, condition] if holds else others or None)]

    return Bound(Tick(condition.capitalize()), where, read=read, write=write)


def _read_sides(text: str) -> str:
    sizes = units.lengths(text if any(sign.isalpha() and sign != "x" for sign in text) else f"{text} mm", "mm")
    if len(sizes) != 2:
        raise ValueError("length x width, for example '600 x 300'")
    return f"{sizes[0]:g} x {sizes[1]:g} mm"


def _read_time(text: str) -> str:
    units.minutes(text)
    return text


def ground_words(draft: Draft, job: str) -> list[tuple[str, str]]:
    """The grounds of a job, to choose from."""
    grounds = draft.at(("jobs", job, "grounds"), {})
    return [(key, called(grounds, key)) for key in grounds]
