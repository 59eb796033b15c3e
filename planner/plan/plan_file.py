"""A plan as JSON: written, described by a schema, and read back."""

import json
from collections.abc import Iterator
from dataclasses import asdict, is_dataclass
from typing import Any

from pydantic import ConfigDict, TypeAdapter, ValidationError, with_config
from pydantic_core import ErrorDetails

from planner.day import Day
from planner.plan import plan as kinds
from planner.plan.measures import measure
from planner.plan.plan import PLAN_FORMAT, Plan
from planner.plan.waits import PlannedWait, planned_waits

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

    is_told = True

    def __init__(self, place: str, wrong: str, right: str) -> None:
        super().__init__(f"{place or 'plan'}: {wrong}; {right}")
        self.place, self.wrong, self.right = place, wrong, right


def plan_to_json(plan: Plan, day: Day) -> str:
    """Write a plan as JSON that `plan_schema` describes.

    Its ``measures``, and what each patch ``waits``, are there for other programs to read; they follow from the rest and
    are not read back.
    """
    written = _PLAN.dump_python(plan, mode="json") | {
        "day": day.title,
        "date": day.date.isoformat(),
        "measures": asdict(measure(day, plan)),
        "waits": [patch_waits_of(run) for run in planned_waits(day, plan) if run.second is not None],
    }
    return json.dumps(written, ensure_ascii=False, indent=1)


def plan_from_json(text: str) -> Plan:
    """Read a plan back; whether it fits a day is for the checker to say.

    Raises `PlanFault` when the text is not JSON, is of another version, or does not follow the schema.
    """
    return plan_from_tables(tables_from_json(text))


def tables_from_json(text: str) -> dict[str, Any]:
    """The tables of a plan's text, whatever they hold. Raises `PlanFault` when it is too long, or no object of JSON."""
    if len(text) > MOST_CHARACTERS:
        raise PlanFault("", f"it is longer than {MOST_CHARACTERS} characters", "give a plan that this program wrote")
    try:
        found = json.loads(text)
    except (ValueError, RecursionError) as fault:
        where = f" (line {fault.lineno})" if isinstance(fault, json.JSONDecodeError) else ""
        raise PlanFault("", f"it is not JSON{where}", "give a plan that this program wrote") from None
    if not isinstance(found, dict):
        raise PlanFault("", "it is not a JSON object", "give a plan that this program wrote")
    return found


def plan_from_tables(found: dict[str, Any]) -> Plan:
    """Read a plan back from its tables; faults as of `plan_from_json`.

    Raises `PlanFault` when it is of another version, or does not follow the schema.
    """
    if found.get("format") != PLAN_FORMAT or isinstance(found.get("format"), bool):
        wrong = f"its version is {_shown(found.get('format'))}"
        raise PlanFault("format", wrong, f"this program reads version {PLAN_FORMAT}; plan the day again")
    kept = {key: value for key, value in found.items() if key not in _SAID_ONLY}
    for place, wrong, right in _wrong_leaves(kept, ""):
        raise PlanFault(place, wrong, right)
    try:
        return _PLAN.validate_json(json.dumps(kept))
    except ValidationError as faults:
        raise _fault(faults.errors()[0]) from None


def patch_waits_of(run: PlannedWait) -> dict[str, str | int | None]:
    """A wait as plain data: between which stages, in which order they go over the surface, and what a patch waits."""
    shortest, longest = run.patches
    least, most = run.bounds
    return {
        "job": run.job,
        "after": run.wait.after,
        "before": run.wait.before,
        "kind": run.wait.kind,
        "least": least,
        "most": most,
        "order": run.wait.order,
        "patch_shortest": shortest,
        "patch_longest": longest,
    }


_SAID_ONLY = ("day", "date", "measures", "waits", "of", "record")
"""What stands in the file beside the plan; the record of the day is read by `planner.plan.kept`."""


def plan_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a plan; times are whole minutes after midnight of its date."""
    whole = _PLAN.json_schema()
    whole["properties"] |= {
        "day": {"type": "string", "description": "the title of the day"},
        "date": {"type": "string", "format": "date"},
        "measures": {"type": "object", "additionalProperties": {"type": "integer"}},
        "waits": {"type": "array", "items": {"type": "object"}, "description": "what each patch waits, in minutes"},
        "of": {
            "type": "object",
            "additionalProperties": {"type": "string"},
            "description": "by which each part of the day is known again",
        },
        "record": {"type": "object", "description": "what was noted of the day under way"},
    }
    whole["properties"]["format"] = {"const": PLAN_FORMAT}
    whole["required"].append("format")
    return whole | {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "The plan of a day, version " + str(PLAN_FORMAT),
    }


for _kind in vars(kinds).values():
    if is_dataclass(_kind) and isinstance(_kind, type):  # nothing is guessed, and nothing unknown passed over
        with_config(ConfigDict(strict=True, extra="forbid"))(_kind)
_PLAN = TypeAdapter(Plan)

_LARGEST = 10**7


def _wrong_leaves(value: Any, place: str) -> Iterator[tuple[str, str, str]]:
    """What no plan can hold, whatever its place: half a character, which no file can hold, and absurd numbers."""
    if isinstance(value, dict | list):
        for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _wrong_leaves(inner, f"{place}.{key}" if place else str(key))
    elif isinstance(value, str) and any("\ud800" <= sign <= "\udfff" for sign in value):
        yield place, f"{_shown(value)} holds half a character", "write whole characters"
    elif isinstance(value, int | float) and not -_LARGEST <= value <= _LARGEST:
        yield place, f"{_shown(value)} is too large", f"write a number up to {_LARGEST}"


_WANTED = {
    "string_type": "a text",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "float_type": "a number",
    "bool_type": "true or false",
    "tuple_type": "a list",
    "dataclass_type": "an object",
}


def _fault(found: ErrorDetails) -> PlanFault:
    """What pydantic found, in words for whoever wrote the text."""
    kind, where, about = found["type"], found["loc"], found.get("ctx", {})
    is_short = kind == "missing" and isinstance(where[-1], int)
    place = ".".join(str(part) for part in (where[:-1] if is_short else where))
    if is_short:
        return PlanFault(place, f"it has {where[-1]} parts", "write all of them")
    if kind == "missing":
        return PlanFault(place, "it is missing", "add it")
    if kind in ("unexpected_keyword_argument", "no_such_attribute"):
        return PlanFault(place, "it is not known", "take it away")
    if kind in _WANTED:
        return PlanFault(place, f"{_shown(found['input'])} is not {_WANTED[kind]}", f"write {_WANTED[kind]}")
    if kind == "literal_error":
        return PlanFault(place, f"{_shown(found['input'])} is none of its words", f"write one of {about['expected']}")
    return PlanFault(place, found["msg"][:1].lower() + found["msg"][1:], "give a plan that this program wrote")


def _shown(value: Any) -> str:
    text = json.dumps(value, default=str)
    return text if len(text) <= 60 else text[:57] + "..."
