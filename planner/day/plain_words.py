"""Pydantic's errors about a day file, in words for the person who wrote the file."""

import re
from collections.abc import Iterator
from types import UnionType
from typing import Any, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from planner.day.day import Day
from planner.day.faults import Fault, Where, nearest, shown, suggestion
from planner.day.jobs import Job

EXAMPLES = {
    "date": "2026-06-16",
    "van": '{ starts_at = "yard", ends_at = "yard" }',
    "starts_at": '"yard"',
    "ends_at": '"yard"',
    "hands": '{ ash = { hours = ["07:30", "17:30"] } }',
    "places": "{ yard = { at = [53.1, -2.0] } }",
    "from": '"yard"',
    "to": '"larch"',
    "minutes": '"20 min"',
    "place": '"larch"',
    "grounds": "{ rear = {} }",
    "surfaces": '{ patio = { ground = "rear", area = "24 m2" } }',
    "stages": "{ ... }",
    "ground": '"rear"',
    "surface": '"patio"',
    "methods": '{ lance = { kit = ["washer"], minutes = "25 min" } }',
    "amount": "40",
    "unit": '"m2"',
    "after": '"wash"',
    "since": '"12:00"',
    "least": '"30 min"',
    "length": '"30 min"',
    "once_over": '"8 h"',
    "earliest": '"11:45"',
    "latest": '"13:30"',
    "jobs": '{ larch = { place = "larch", recipe = "treat-wall", measures = { area = "18 m2" } } }',
}
"""Of every word that must be there; what only a program writes (`planner.day.jobs.Part`) has none."""
_OF_THEIR_OWN = {
    "noise": "85, in dB(A) at the ear",
    "supplies": "{ tap = 1 }",
    "uses": "{ filler = 3 }",
    "expected": "{ filler = 2.4 }",
    "arrive": '["08:30", "10:00"]',
    "hours": '["07:30", "17:00"]',
    "leaves": "{ rubble = 3.2 }, by the container of a material",
}
"""Examples of what is not clear from its kind alone."""
_WANTED = {
    "string": 'a text in quotes, for example "yard"',
    "int": "a whole number, for example 2",
    "finite": "a number, for example 1.5",
    "float": "a number, for example 1.5",
    "bool": "true or false",
    "date": "a date, for example 2026-06-16",
    "tuple": "a list in square brackets",
    "dict": "a table, for example { name = ... }",
    "model": "a table, for example { name = ... }",
    "dataclass": "a table, for example { name = ... }",
}


_BOUNDS = {
    "ge": ("below", "{} or more"),
    "gt": ("not above", "more than {}"),
    "le": ("above", "{} or less"),
    "lt": ("not below", "less than {}"),
}
_BEFORE_THE_MODEL = {0: ("weather_file", "leave_at_home"), 2: ("recipe", "recipes", "measures", "drop")}
"""Words that are worked out before the model sees the file: at its top, and in a job."""


MOST_FAULTS = 200
"""So many faults are told in words; nobody reads more, and to find what each was meant for takes its time."""


def faults_of(error: ValidationError, root: type[BaseModel] = Day) -> Iterator[Fault]:
    """One fault for each thing that pydantic found in what ``root`` describes, its line still unknown."""
    every = error.errors(include_url=False)
    errors = every[:MOST_FAULTS]
    misspelt = {
        (*found["loc"][:-1], nearest(str(found["loc"][-1]), _words_at(found["loc"][:-1], root)))
        for found in errors
        if found["type"] == "extra_forbidden"
    }
    for found in errors:
        if found["type"] == "missing" and found["loc"] in misspelt:
            continue
        place = tuple(part for part in found["loc"] if part != "[key]")
        for wrong, right in _said(found, place, root):
            yield Fault(place, None, wrong, right, is_too_much=not {"le", "lt"}.isdisjoint(found.get("ctx", {})))
    if len(every) > MOST_FAULTS:
        yield Fault((), None, f"there are {len(every) - MOST_FAULTS} more faults", "put these right first")


def _said(found: ErrorDetails, place: Where, root: type[BaseModel]) -> list[tuple[str, str]]:
    """What is wrong and what would be right; our own readers may find several things in one value."""
    if found["type"] != "value_error":
        return [_said_by_pydantic(found, place, root)]
    lines = str(found.get("ctx", {}).get("error", found["msg"])).splitlines()
    parts = [line.partition("; ") for line in lines]
    return [(wrong, right or f"give another {_name(place)}") for wrong, _, right in parts]


def _name(place: Where) -> str:
    return next((str(part) for part in reversed(place) if isinstance(part, str)), "value")


def _said_by_pydantic(found: ErrorDetails, place: Where, root: type[BaseModel]) -> tuple[str, str]:
    kind, value, limits = found["type"], found["input"], found.get("ctx", {})
    match kind:
        case "missing" if isinstance(place[-1], int):
            return "the list is too short", "give " + _count(place[:-1], root)
        case "missing":
            return f"'{place[-1]}' is missing", f"add {place[-1]} = {EXAMPLES.get(str(place[-1]), '...')}"
        case "extra_forbidden" | "unexpected_keyword_argument":
            return f"unknown word {shown(place[-1])}", suggestion(str(place[-1]), _words_at(place[:-1], root))
        case "literal_error":
            return f"{shown(value)} is not a word for {_name(place)}", f"write {limits['expected']}"
        case "string_pattern_mismatch":
            right = "write letters a to z, figures, '-' and '_', beginning with a letter or figure"
            slug = re.sub(r"[^A-Za-z0-9_-]+", "-", str(value)).strip("-_")[:40]
            return f"{shown(value)} cannot be a name", f"{right}, for example '{slug}'" if slug else right
        case "string_too_long":
            return f"the text is longer than {limits['max_length']} signs", "shorten it"
        case "too_short":
            return f"{limits['actual_length']} {_name(place)} given", f"give at least {limits['min_length']}"
        case "too_long":
            count = limits["actual_length"] or len(value)  # of a table it is not told
            return f"{count} {_name(place)} given", f"give at most {limits['max_length']}"
        case "int_from_float":
            return f"{shown(value)} is not a whole number", "write it without a fraction, for example 2"
    for bound, (wrong, right) in _BOUNDS.items():
        if bound in limits:
            limit = f"{limits[bound]:g}" if isinstance(limits[bound], float) else limits[bound]
            return f"{shown(value)} is {wrong} {limit}", f"give {right.format(limit)}"
    wanted = next((text for start, text in _WANTED.items() if kind.startswith(start)), None)
    if wanted is not None:
        if (own := _OF_THEIR_OWN.get(str(place[-1]) if place else "")) is not None:
            wanted = f"{wanted.partition(',')[0]}, for example {own}"
        return f"{shown(value)} is not what belongs here", f"write {wanted}"
    return f"{shown(value)}: {found['msg'].lower()}", f"give another {_name(place)}"


def _count(place: Where, root: type[BaseModel]) -> str:
    inside = get_args(_type_at(place, root))
    return f"{len(inside)} values" if inside else "more values"


def _words_at(place: Where, root: type[BaseModel]) -> list[str]:
    """The words that the table at a place may hold."""
    found = _type_at(place, root)
    if not (isinstance(found, type) and issubclass(found, BaseModel)):
        return list(getattr(found, "__dataclass_fields__", {}))
    words = [field.alias or name for name, field in found.model_fields.items()]
    return words + list(_BEFORE_THE_MODEL.get(len(place), ()) if found in (Day, Job) else ())


def _type_at(place: Where, root: type[BaseModel]) -> Any:
    """The type that a model asks for at a place; None where it asks for nothing."""
    found: Any = root
    for part in place:
        if isinstance(found, type) and issubclass(found, BaseModel):
            fields = {field.alias or name: field for name, field in found.model_fields.items()}
            found = _bare(fields[str(part)].annotation) if part in fields else None
        elif get_origin(found) is dict:
            found = _bare(get_args(found)[1])
        elif get_origin(found) is tuple:
            found = _bare(get_args(found)[0])
    return found


def _bare(annotation: Any) -> Any:
    """A type without 'or None' and without what is annotated to it."""
    if hasattr(annotation, "__metadata__"):
        return _bare(get_args(annotation)[0])
    if get_origin(annotation) in (Union, UnionType):
        return _bare(next(part for part in get_args(annotation) if part is not type(None)))
    return annotation
