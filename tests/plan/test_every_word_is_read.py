"""Every field of a day binds a plan, so that a rule reads it, or is named as not binding.

A field that is added to the day must be named here; one that binds must be read in `planner.plan.rules`, or in a
reading of the day that a rule asks for (a property of the stage, the length of its work, its measure).
"""

import ast
from functools import cache
from itertools import chain
from pathlib import Path
from typing import Any

import pytest

from planner.day import Day, Ground, Hand, Job, Kit, Material, Method, Stage, Surface, Wait, WayIn
from planner.day.day import Van
from planner.day.hands import Break, Meal, Place, Travel

PLANNER = Path(__file__).parents[2] / "planner"
RULES = PLANNER / "plan" / "rules"
READINGS = (*(PLANNER / "day" / f"{name}.py" for name in ("jobs", "waiting", "kit", "day", "hands", "drawn_together")),
            PLANNER / "plan" / "exposed.py")  # fmt: skip
"""Where the readings are that rules ask for."""

BINDING: dict[type, frozenset[str]] = {
    Stage: frozenset(
        {
            "surface", "area", "run", "methods", "after", "makes", "spoiled_by", "fresh_to", "fresh_for", "spares",
            "soils",
            "stays_for", "lies_on", "dry_for", "chemical", "rinses", "noisy", "outdoors", "stopped_by_rain", "coldest",
            "hottest", "windiest", "tags",
            "above_dew", "dry_after", "not_before", "not_after", "starts_at", "by_hand", "only_if_needed", "kind",
            "part", "mixing",
        }
    ),
    Method: frozenset(
        {"kit", "hands", "minutes", "rate", "factor", "spread", "trigger", "uses", "expected", "leaves"}
    ),
    Surface: frozenset(
        {"ground", "area", "run", "stood_on", "worked_from", "over", "drains_to", "high", "shaded"}
    ),
    Wait: frozenset(
        {"after", "before", "kind", "least", "most", "closes", "by_hour", "extended_by", "keep_clear", "order"}
    ),
    Kit: frozenset(
        {
            "own", "load", "lift", "set_up", "pack_down", "needs", "supply", "may_stay", "mass", "rinse_out", "water",
            "wheels", "vibration", "tags",
        }
    ),
    Material: frozenset({"load", "holds_kg", "mass", "empty", "water", "shared"}),
    Job: frozenset(
        {
            "place", "arrive", "done_by", "arriving", "leaving", "quiet", "visits", "grounds", "surfaces", "stages",
            "waits", "apart", "customer",
        }
    ),
    Ground: frozenset({"way_in", "supplies"}),
    WayIn: frozenset({"minutes", "restricted", "load_limit", "over", "protection", "lay", "lift", "wheeled"}),
    Hand: frozenset({"hours", "own_transport", "rest", "lifts"}),
    Break: frozenset({"length", "once_over", "soonest", "earliest", "latest"}),
    Meal: frozenset({"length", "once_over", "earliest", "latest"}),
    Van: frozenset({"starts_at", "ends_at"}),
    Place: frozenset({"at"}),
    Travel: frozenset({"trips", "speed", "detour"}),
    Day: frozenset(
        {
            "date", "time_zone", "start", "finish", "fixed_start", "rest", "meal", "sure", "lights", "van", "places",
            "travel", "hands", "kit", "materials", "weather", "jobs",
        }
    ),
}  # fmt: skip
"""What binds a plan."""

SAID: dict[type, frozenset[str]] = {
    Stage: frozenset({"name", "quoted", "wear", "consumables", "notes"}),
    Method: frozenset({"name", "draws", "consumables", "notes", "source"}),
    Surface: frozenset({"name", "measured"}),
    Wait: frozenset({"weather", "film", "sections"}),
    Kit: frozenset({"name", "noise", "attachments", "group", "wear"}),
    Material: frozenset({"name", "container", "holds_litres", "group", "tags"}),
    Job: frozenset({"title", "note", "priority", "quoted", "hazards", "price"}),
    Ground: frozenset({"name", "drain", "hose_run"}),
    WayIn: frozenset({"through"}),
    Hand: frozenset({"name", "cost_per_hour"}),
    Van: frozenset({"groups", "tank"}),
    Place: frozenset({"name"}),
    Day: frozenset({"format", "title", "crossing_price"}),
}
"""What is told, worked into other fields when a day is read (bounds by the hour, sections), or makes one plan better
than another and none wrong (a price)."""


def names_read(path: Path) -> set[str]:
    """Every attribute that a module's source asks for."""
    return {node.attr for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Attribute)}


def readings() -> dict[str, set[str]]:
    """For each property and function of the day's parts the attributes that it asks for."""
    found: dict[str, set[str]] = {}
    trees = (ast.parse(path.read_text("utf-8")) for path in READINGS)
    for node in chain.from_iterable(map(ast.walk, trees)):
        if isinstance(node, ast.FunctionDef):
            found.setdefault(node.name, set()).update(x.attr for x in ast.walk(node) if isinstance(x, ast.Attribute))
    return found


def called() -> set[str]:
    """The functions that the rules call by their plain names."""
    nodes = chain.from_iterable(ast.walk(ast.parse(path.read_text("utf-8"))) for path in RULES.glob("*.py"))
    return {x.func.id for x in nodes if isinstance(x, ast.Call) and isinstance(x.func, ast.Name)}


@cache
def read_by_the_rules() -> set[str]:
    """All that the rules ask for, straight or by a reading of the day."""
    asked = set().union(*(names_read(path) for path in RULES.glob("*.py")))
    by_reading = readings()
    inner = {name for name in by_reading if name.startswith("_")}  # what a reading calls within its own module
    waiting = [name for name in asked | called() | inner if name in by_reading]
    while waiting:
        more = by_reading[waiting.pop()] - asked
        asked |= more
        waiting += [name for name in more if name in by_reading]
    return asked


@pytest.mark.parametrize("part", BINDING, ids=lambda part: part.__name__)
def test_every_field_is_named_as_binding_or_not(part: Any) -> None:
    said = SAID.get(part, frozenset())
    assert set(part.model_fields) == BINDING[part] | said
    assert not BINDING[part] & said


@pytest.mark.parametrize("part", BINDING, ids=lambda part: part.__name__)
def test_every_field_that_binds_is_read_by_a_rule(part: type) -> None:
    assert BINDING[part] - read_by_the_rules() == set()


def test_a_field_that_no_rule_reads_would_be_found() -> None:
    """Nothing in the rules asks for what is only told."""
    told = {"wear", "consumables", "quoted", "attachments", "group", "hazards", "price", "cost_per_hour", "groups"}
    assert not told & read_by_the_rules()
