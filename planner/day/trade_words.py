"""The words of the trade's tables, each with its kind of value, as those of a day are: any other word is a slip.

Kit, material, methods, stages and waits have the words of a day and a few of their own, by which the library chooses
and reckons. What its readers look at themselves (`planner.trade.library`, `limits`, `chemicals`, `cautions`) is
``Any`` here, so that no fault is told twice.
"""

from collections.abc import Callable, Iterable
from functools import cache
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, Field, create_model

from planner.day.faults import shown
from planner.day.jobs import Method, Stage, Surface
from planner.day.kit import Kit, Material
from planner.day.waiting import Wait
from planner.day.words import Clock, Key, Minutes, Title, Words
from planner.trade import limits, units
from planner.trade.library import MEASURES, SIDES

Fields = dict[str, Any]

Factor = Annotated[float, Field(gt=0, le=100)]


def _in(*kinds: str) -> Any:
    """A text that is a measure of one of these units, which stays the text that it is."""

    def read(value: Any) -> Any:
        faults = []
        for unit in kinds:
            try:
                units.measure(value, unit)
                return value
            except ValueError as fault:
                faults.append(fault)
        raise faults[0]

    return Annotated[str, BeforeValidator(read)]


def _measure(word: str) -> Any:
    """A text that is a measure of a recipe, by its name."""
    unit, example = MEASURES[word]
    if word not in SIDES and unit != "min":
        return _in(unit)

    def read(value: Any) -> Any:
        if word in SIDES and len(units.lengths(value, unit)) != 2:
            raise ValueError(f"{shown(value)} is not the two sides of a {word}; write for example '{example}'")
        if unit == "min":
            units.minutes(value)
        return value

    return Annotated[str, BeforeValidator(read)]


_AMOUNT = _in("kg", "L", "kg/m2", "L/m2", "kg/m", "L/m")
Texts = tuple[Title, ...]
Keys = tuple[Key, ...]

_ANY: Any = (Any, None)

OF_EQUIPMENT: Fields = {
    "density": _in("kg/m3"), "strength": _in("%"), "chemical": Title, "waste": _in("%"), "source": Title,
}  # fmt: skip
OF_A_METHOD: Fields = {
    "discs": tuple.__class_getitem__((_in("mm"), ...)), "pass_depth": _in("mm"), "highest": _in("m"),
    "draws": _in("L/min"), "water": _in("L", "L/m2", "L/m"), "no_tap": bool, "any_ground": bool,
}  # fmt: skip


def _words(name: str, own: Fields, base: type[Words] | None = None, but: Iterable[str] = ()) -> Any:
    """Words of our own, none of which must be there, besides those of a table of a day ``but`` some."""
    of_a_day = base.model_fields.items() if base else ()
    fields: Fields = {k: (field.annotation, field) for k, field in of_a_day if k not in but}
    fields |= {k: x if isinstance(x, tuple) else (x | None, None) for k, x in own.items()}
    return create_model(name, __base__=Words, **fields)


def _each(of: Any, key: Any = Key) -> Any:
    """A table of entries of one kind by their keys."""
    return dict.__class_getitem__((key, of))


@cache
def _customer() -> Any:
    return _words("RecipeCustomer", dict.fromkeys(("before", "handover", "after", "not_promised"), Texts))


@cache
def _measures() -> Any:
    return _words("Measures", {word: _measure(word) for word in MEASURES})


@cache
def _mix() -> Any:
    return _words("Mix", {"material": Key, "wanted": _in("%"), "rate": _in("L/m2")})


@cache
def _wait() -> Any:
    return _words("RecipeWait", {"source": Title, "after": _ANY, "before": _ANY, "order": _ANY}, Wait)


@cache
def _condition() -> Any:
    return _words(
        "Condition",
        {
            "factors": dict[Key, Factor], "material": dict[Key, Factor], "notes": dict[Key, Title],
            "notes_by_kind": dict[Title, Title], "tags": dict[Key, Keys], "wear": dict[Key, Texts],
            "without": dict[Key, Keys], "usual": _measures(), "treatment": _each(_mix()),
            "waits": _each(_wait()), "kit": dict[Key, Keys], "customer": _customer(), "hazards": Keys,
        },
    )  # fmt: skip


def _stage() -> Any:
    return _words(
        "RecipeStage",
        {
            "work": _ANY, "methods": _ANY, "by": _ANY, "when": _ANY, "unless": _ANY, "uses": _each(_AMOUNT),
            "leaves": _each(Literal["joints"] | _AMOUNT), "joints": dict[Key, Factor], "treatment": _mix(),
            "drinks": _in("%"), "after": Keys, "slower": dict[Key, Factor], "lies_below": bool, "spares_below": bool,
            "spares_beside": bool, "against_run_off": bool,
        },
        Stage,
        ("surface", "part", "starts_at", "by_hand"),
    )  # fmt: skip


def _recipe() -> Any:
    return _words(
        "Recipe",
        {
            "title": _ANY, "source": Title, "tick": _words("Tick", {"words": _ANY, "name": _ANY, "often": bool}),
            "surface": _words(
                "RecipeSurface", {"key": Key, "lies_in": Keys, "over_paving": bool}, Surface, ("ground",)
            ),
            "needs": _ANY, "may_have": _ANY, "usual": _measures(), "at_most": _measures(),
            "stages": _each(_stage()), "waits": _each(_wait()),
            "conditions": _each(_condition(), Title), "customer": _customer(), "hazards": Keys,
        },
    )  # fmt: skip


def _country() -> Any:
    groups: Fields = {
        "vibration": limits.VibrationLimits, "noise": limits.NoiseLimits, "lifting": limits.LiftingLimits,
        "breaks": limits.BreakLimits, "air": limits.AirLimits,
    }  # fmt: skip
    fields = {word: _words(word.title(), dict.fromkeys(of.__dataclass_fields__, _ANY)) for word, of in groups.items()}
    defenders = _words("Defenders", dict.fromkeys(("real_world", "ratings", "source"), _ANY))
    return _words("Country", {**fields, "name": _ANY, "defenders": defenders})


def _chemicals() -> Any:
    chemical = _words("ChemicalClass", {"corrosive": bool, "burns": bool, "name": _ANY, "also": _ANY})
    pair = _words("ChemicalPair", dict.fromkeys(("gives", "why", "source"), _ANY))
    return _words("Chemicals", {"classes": _each(chemical), "pairs": _each(pair), "unclear": _ANY})


def _visits() -> Any:
    time = _words("UsualTime", {"minutes": Minutes})
    meal = _words("UsualMeal", {"length": Minutes, "once_over": Minutes, "earliest": Clock, "latest": Clock})
    times = dict.fromkeys(("arriving", "leaving", "rinsing_out", "room_to_begin"), time)
    return _words("Visits", {**times, "meal": meal})


def _caution() -> Any:
    words = dict.fromkeys(("title", "text", "source", "bring", "from_air", "to_air"), _ANY)
    return _words("OwnCaution", {**words, "always": bool})


TABLES: dict[str, Callable[[], Any]] = {
    "kit": lambda: _each(_words("OwnKit", OF_EQUIPMENT, Kit)),
    "materials": lambda: _each(_words("OwnMaterial", OF_EQUIPMENT, Material)),
    "methods": lambda: _each(_each(_words("OwnMethod", OF_A_METHOD, Method))),
    "recipes": lambda: _each(_recipe()),
    "sites": lambda: _each(_condition(), Title),
    "limits": lambda: _each(_country()),
    "chemicals": _chemicals,
    "visits": _visits,
    "cautions": lambda: _each(_caution()),
}


def trade(tables: Iterable[str]) -> type[BaseModel]:
    """The words of some tables of the trade, as one model."""
    found: type[BaseModel] = _words("Trade", {name: TABLES[name]() for name in tables})
    return found
