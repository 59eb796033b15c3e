"""Pydantic's errors about a day file, in words for the person who wrote the file."""

from collections.abc import Iterator
from types import UnionType
from typing import Any, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from planner.day.day import Day
from planner.day.faults import Fault, Where, nearest, shown, suggestion

_EXAMPLES = {
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
}
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


def faults_of(error: ValidationError) -> Iterator[Fault]:
    """One fault for each thing that pydantic found, its line still unknown."""
    errors = error.errors(include_url=False)
    misspelt = {
        (*found["loc"][:-1], nearest(str(found["loc"][-1]), _words_at(found["loc"][:-1])))
        for found in errors
        if found["type"] == "extra_forbidden"
    }
    for found in errors:
        if found["type"] == "missing" and found["loc"] in misspelt:
            continue
        place = tuple(part for part in found["loc"] if part != "[key]")
        for wrong, right in _said(found, place):
            yield Fault(place, None, wrong, right)


def _said(found: ErrorDetails, place: Where) -> list[tuple[str, str]]:
    """What is wrong and what would be right; our own readers may find several things in one value."""
    if found["type"] != "value_error":
        return [_said_by_pydantic(found, place)]
    lines = str(found.get("ctx", {}).get("error", found["msg"])).splitlines()
    parts = [line.partition("; ") for line in lines]
    return [(wrong, right or f"give another {_name(place)}") for wrong, _, right in parts]


def _name(place: Where) -> str:
    return next((str(part) for part in reversed(place) if isinstance(part, str)), "value")


def _said_by_pydantic(found: ErrorDetails, place: Where) -> tuple[str, str]:
    kind, value, limits = found["type"], found["input"], found.get("ctx", {})
    name = _name(place)
    if kind == "missing":
        last = place[-1]
        if isinstance(last, int):
            return "the list is too short", "give " + _count(place[:-1])
        return f"'{last}' is missing", f"add {last} = {_EXAMPLES.get(str(last), '...')}"
    if kind in ("extra_forbidden", "unexpected_keyword_argument"):
        return f"unknown word {shown(place[-1])}", suggestion(str(place[-1]), _words_at(place[:-1]))
    if kind == "literal_error":
        return f"{shown(value)} is not a word for {name}", f"write {limits['expected']}"
    if kind == "string_pattern_mismatch":
        return (
            f"{shown(value)} cannot be a name",
            "write letters a to z, figures, '-' and '_', beginning with a letter or figure",
        )
    if kind == "string_too_long":
        return f"the text is longer than {limits['max_length']} signs", "shorten it"
    if kind in ("too_short", "too_long"):
        least, most = limits.get("min_length"), limits.get("max_length")
        return (
            f"{limits['actual_length']} {name} given",
            f"give at {f'least {least}' if kind == 'too_short' else f'most {most}'}",
        )
    for bound, words in (("ge", "or more"), ("gt", None), ("le", "or less"), ("lt", None)):
        if bound in limits:
            limit = f"{limits[bound]:g}" if isinstance(limits[bound], float) else limits[bound]
            over = {"ge": "below", "gt": "not above", "le": "above", "lt": "not below"}[bound]
            told = f"{limit} {words}" if words else f"{'more' if bound == 'gt' else 'less'} than {limit}"
            return f"{shown(value)} is {over} {limit}", f"give {told}{_in_unit(found, place)}"
    wanted = next((text for start, text in _WANTED.items() if kind.startswith(start)), None)
    if kind == "int_from_float":
        return f"{shown(value)} is not a whole number", "write it without a fraction, for example 2"
    if wanted is not None:
        return f"{shown(value)} is not what belongs here", f"write {wanted}"
    return f"{shown(value)}: {found['msg'].lower()}", f"give another {name}"


def _in_unit(found: ErrorDetails, place: Where) -> str:
    """Limits of times are in minutes."""
    text = found["input"]
    is_time = isinstance(text, str) and any(mark in text for mark in ("h", "min", ":", "s", "d"))
    return " (minutes)" if is_time and "km/h" not in str(text) else ""


def _count(place: Where) -> str:
    inside = get_args(_type_at(place))
    return f"{len(inside)} values" if inside else "more values"


def _words_at(place: Where) -> list[str]:
    """The words that the table at a place may hold."""
    found = _type_at(place)
    if isinstance(found, type) and issubclass(found, BaseModel):
        return [field.alias or name for name, field in found.model_fields.items()]
    fields = getattr(found, "__dataclass_fields__", {})
    return list(fields)


def _type_at(place: Where) -> Any:
    """The type that the model of a day asks for at a place; None where it asks for nothing."""
    found: Any = Day
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
