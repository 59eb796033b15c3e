"""A plan as JSON: written, described by a schema, and read back."""

import functools
import json
from dataclasses import MISSING, fields, is_dataclass
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from planner.day import Day
from planner.plan.measures import measure
from planner.plan.plan import PLAN_FORMAT, Plan

MOST_CHARACTERS = 50_000_000
"""A longer text is no plan of a day."""


class PlanFault(ValueError):  # noqa: N818 - a fault is the project's word for what a person can put right
    """A text is not a plan: where it goes wrong, what is wrong and what would be right.

    Attributes
    ----------
    place
        The dotted place in the plan ("works.3.start"), empty for the whole.
    wrong, right
        What is wrong, and what would be right.
    """

    def __init__(self, place: str, wrong: str, right: str) -> None:
        super().__init__(f"{place or 'plan'}: {wrong}; {right}")
        self.place, self.wrong, self.right = place, wrong, right


def plan_to_json(plan: Plan, day: Day) -> str:
    """Write a plan as JSON that `plan_schema` describes.

    Its ``measures`` are there for other programs to read; they follow from the rest and are not read back.
    """
    written = _written(plan) | {
        "day": day.title,
        "date": day.date.isoformat(),
        "measures": _written(measure(day, plan)),
    }
    return json.dumps(written, ensure_ascii=False, indent=1)


def plan_from_json(text: str) -> Plan:
    """Read a plan back.

    Raises
    ------
    PlanFault
        When the text is not JSON, is of another version, or does not follow the schema. Whether the plan fits a day is
        for the checker to say.
    """
    if len(text) > MOST_CHARACTERS:
        raise PlanFault("", f"it is longer than {MOST_CHARACTERS} characters", "give a plan that this program wrote")
    try:
        found = json.loads(text)
    except (ValueError, RecursionError) as fault:
        where = f" (line {fault.lineno})" if isinstance(fault, json.JSONDecodeError) else ""
        raise PlanFault("", f"it is not JSON{where}", "give a plan that this program wrote") from None
    if not isinstance(found, dict):
        raise PlanFault("", "it is not a JSON object", "give a plan that this program wrote")
    if found.get("format") != PLAN_FORMAT or isinstance(found.get("format"), bool):
        wrong = f"its version is {_shown(found.get('format'))}"
        raise PlanFault("format", wrong, f"this program reads version {PLAN_FORMAT}; plan the day again")
    kept = {key: value for key, value in found.items() if key not in _SAID_ONLY}
    plan: Plan = _read_object(kept, Plan, "")
    return plan


_SAID_ONLY = ("day", "date", "measures", "of", "record")
"""What stands in the file beside the plan; the record of the day is read by `planner.plan.kept`."""


def plan_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a plan; times are whole minutes after midnight of its date."""
    kinds: dict[str, Any] = {}
    _kind(Plan, kinds)
    whole = kinds.pop("Plan")
    whole["properties"] |= {
        "day": {"type": "string", "description": "the title of the day"},
        "date": {"type": "string", "format": "date"},
        "measures": {"type": "object", "additionalProperties": {"type": "integer"}},
        "of": {
            "type": "object",
            "additionalProperties": {"type": "string"},
            "description": "by which each part of the day is known again",
        },
        "record": {"type": "object", "description": "what was noted of the day under way"},
    }
    whole["properties"]["format"] = {"const": PLAN_FORMAT}
    whole["required"].append("format")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "The plan of a day, version " + str(PLAN_FORMAT),
        **whole,
        "$defs": kinds,
    }


@functools.cache
def _hints(cls: type) -> dict[str, Any]:
    return get_type_hints(cls)


def _written(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: _written(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, tuple):
        return [_written(x) for x in value]
    return value


def _kind(hint: Any, kinds: dict[str, Any]) -> dict[str, Any]:
    """The schema of a type; those of dataclasses are put into ``kinds`` and referred to."""
    origin, inner = get_origin(hint), get_args(hint)
    if is_dataclass(hint) and isinstance(hint, type):
        if hint.__name__ not in kinds:
            kinds[hint.__name__] = {}  # so that a kind that holds itself would end
            hints = _hints(hint)
            kinds[hint.__name__] = {
                "type": "object",
                "description": " ".join((hint.__doc__ or "").split()),
                "properties": {f.name: _kind(hints[f.name], kinds) for f in fields(hint)},
                "required": [f.name for f in fields(hint) if f.default is MISSING and f.default_factory is MISSING],
                "additionalProperties": False,
            }
        return {"$ref": f"#/$defs/{hint.__name__}"}
    if origin is tuple and len(inner) == 2 and inner[1] is Ellipsis:
        return {"type": "array", "items": _kind(inner[0], kinds)}
    if origin is tuple:
        items = [_kind(x, kinds) for x in inner]
        return {"type": "array", "prefixItems": items, "minItems": len(items), "maxItems": len(items)}
    if origin is Literal:
        return {"enum": list(inner)}
    if origin in (Union, UnionType):
        return {"anyOf": [_kind(x, kinds) for x in inner]}
    return {"type": {str: "string", int: "integer", float: "number", bool: "boolean", NoneType: "null"}[hint]}


def _read(value: Any, hint: Any, place: str) -> Any:
    """A value of a type from what JSON gave."""
    origin, inner = get_origin(hint), get_args(hint)
    if is_dataclass(hint) and isinstance(hint, type):
        return _read_object(value, hint, place)
    if origin is tuple:
        return _read_list(value, inner, place)
    if origin in (Union, UnionType):
        if value is None and NoneType in inner:
            return None
        return _read(value, next(x for x in inner if x is not NoneType), place)
    if origin is Literal:
        if value not in inner or not isinstance(value, str):
            raise PlanFault(
                place, f"{_shown(value)} is none of its words", f"write one of {', '.join(map(repr, inner))}"
            )
        return value
    return _read_plain(value, hint, place)


def _read_object(value: Any, cls: type, place: str) -> Any:
    if not isinstance(value, dict):
        raise PlanFault(place, f"{_shown(value)} is not an object", f"write the {cls.__name__.lower()} as an object")
    hints, known = _hints(cls), {f.name: f for f in fields(cls)}
    for name in value:
        if name not in known:
            raise PlanFault(_inside(place, str(name)), "it is not known", f"use only {', '.join(known)}")
    for name, field in known.items():
        if name not in value and field.default is MISSING and field.default_factory is MISSING:
            raise PlanFault(_inside(place, name), "it is missing", "add it")
    return cls(**{name: _read(x, hints[name], _inside(place, name)) for name, x in value.items()})


def _read_list(value: Any, inner: tuple[Any, ...], place: str) -> tuple[Any, ...]:
    if not isinstance(value, list):
        raise PlanFault(place, f"{_shown(value)} is not a list", "write a list")
    if inner[-1] is Ellipsis:
        return tuple(_read(x, inner[0], _inside(place, str(i))) for i, x in enumerate(value))
    if len(value) != len(inner):
        raise PlanFault(place, f"it has {len(value)} parts", f"write {len(inner)}")
    return tuple(_read(x, hint, _inside(place, str(i))) for i, (x, hint) in enumerate(zip(value, inner, strict=True)))


_WORDS = {str: "a text", int: "a whole number", float: "a number", bool: "true or false"}
_LARGEST = 10**7


def _read_plain(value: Any, hint: type, place: str) -> Any:
    if hint is float and isinstance(value, int) and not isinstance(value, bool):
        value = float(min(value, _LARGEST + 1))
    elif hint is int and isinstance(value, float) and value.is_integer():
        value = int(value)
    if not isinstance(value, hint) or (isinstance(value, bool) and hint is not bool):
        raise PlanFault(place, f"{_shown(value)} is not {_WORDS[hint]}", f"write {_WORDS[hint]}")
    if isinstance(value, int | float) and not -_LARGEST <= value <= _LARGEST:
        raise PlanFault(place, f"{_shown(value)} is too large", f"write a number up to {_LARGEST}")
    if isinstance(value, str) and not _can_be_written(value):
        raise PlanFault(place, f"{_shown(value)} holds half a character", "write whole characters")
    return value


def _can_be_written(text: str) -> bool:
    """Whether a text has no lone half of a surrogate pair, which JSON can name but no file can hold."""
    return not any("\ud800" <= sign <= "\udfff" for sign in text)


def _inside(place: str, name: str) -> str:
    return f"{place}.{name}" if place else name


def _shown(value: Any) -> str:
    text = json.dumps(value, default=str)
    return text if len(text) <= 60 else text[:57] + "..."
