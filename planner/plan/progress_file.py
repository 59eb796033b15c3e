"""The record of a day as JSON: one form for whatever keeps it, with a version; what older versions wrote is read on."""

import hashlib
import json
from dataclasses import replace
from typing import Any

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from planner.plan.progress import Progress, ProgressError
from planner.trade.units import MINUTES_IN_A_DAY

PROGRESS_FORMAT = 3
"""Version of the record's JSON. The first one had none of what stands after ``settled``, the second none of who did a
stage in place of those of the plan, nor of what stages were given up for."""

_MOST_TOLD = 60


def progress_to_json(progress: Progress, plan: str) -> str:
    """A record as JSON, to be kept beside the text of the plan it goes with; minutes of the day as in the plan."""
    tables = {"plan": _mark_of(plan)} | progress_to_tables(progress)
    return json.dumps(tables, indent=2, ensure_ascii=False)


def progress_to_tables(progress: Progress) -> dict[str, Any]:
    """A record as plain tables, as JSON holds them."""
    tables: dict[str, Any] = _PROGRESS.dump_python(progress, mode="json")
    return {"format": PROGRESS_FORMAT} | tables


def progress_from_json(text: str, plan: str) -> Progress | None:
    """Read a record back; None when it goes with another plan than this text: the day was planned anew since.

    Raises
    ------
    ProgressError
        When it is no JSON, of a newer version, or not of this form; the text names the place.
    """
    try:
        tables = json.loads(text)
    except (ValueError, RecursionError) as fault:  # ValueError: also a number of thousands of figures
        raise ProgressError(f"not JSON: {fault}") from None
    _check_format(tables)
    if tables.get("plan") != _mark_of(plan):
        return None
    return progress_from_tables(tables)


def progress_from_tables(tables: Any) -> Progress:
    """Read a record back from plain tables.

    Raises `ProgressError` when it is of a newer version, or not of this form; the text names the place.
    """
    _check_format(tables)
    try:
        progress = _PROGRESS.validate_python(dict.fromkeys(_ALWAYS) | tables)
    except ValidationError as faults:
        raise ProgressError(_wrong(faults.errors()[0])) from None
    over = tuple(replace(x, minutes=None) if x.minutes == MINUTES_IN_A_DAY else x for x in progress.over)
    progress = replace(progress, over=over)  # in older records a day stands for no way that was found
    return replace(progress, said=progress.at) if tables["format"] == 1 else progress


_PROGRESS = TypeAdapter(Progress)
_ALWAYS = ("at", "noted", "dropped", "arrived", "gone", "rain", "settled")
"""What every version says; one of them that is missing is not taken to say nothing."""


def _check_format(tables: Any) -> None:
    if not isinstance(tables, dict):
        raise ProgressError("not a record of a day: it should be a table")
    if tables.get("format") not in range(1, PROGRESS_FORMAT + 1):
        raise ProgressError(f"format is {_told(tables.get('format'))}; this program reads 1 to {PROGRESS_FORMAT}")


def _wrong(found: ErrorDetails) -> str:
    """What pydantic found, in words for whoever wrote the record."""
    kind, where = found["type"], found["loc"]
    if len(where) > 2 and where[0] == "noted" and where[2] == "hands":
        return f"noted[{where[1]}].hands should be a list of hands"
    if kind.startswith(("string", "missing")):  # a stage goes by its job and its name
        kind, where = "pair", where[:2]
    place = str(where[0]) + "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in where[1:])
    is_row = len(where) > 1
    match kind:
        case "pair" | "tuple_type" | "too_long" if is_row:
            return f"{place} should name a job and a stage"
        case "tuple_type":
            return f"{place} should be a list"
        case "dict_type":
            return f"{place} should be a table of minutes"
        case "dataclass_type":
            return f"{place} should be a table"
        case "float_type" | "greater_than" | "less_than" if where[-1] == "part":
            return f"{place} is {_told(found['input'])}; it should be a part, between 0 and 1"
    return f"{place} is {_told(found['input'])}; it should be a minute of the day, 0 to 2880"


def _told(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= _MOST_TOLD else f"{text[:_MOST_TOLD]}..."


def _mark_of(plan: str) -> str:
    """By which the text of a plan is known again."""
    return hashlib.sha256(plan.strip().encode()).hexdigest()
