"""Every field of a stage, a surface and a wait binds a plan, so that a rule reads it, or is named as not binding.

A field that is added to the day must be named here; one that binds must be read in `planner.plan.rules`, or in a
reading of the day that a rule asks for (a property of the stage, the length of its work, its measure).
"""

import ast
from pathlib import Path

import pytest

from planner.day import Stage, Surface, Wait

RULES = Path(__file__).parents[2] / "planner" / "plan" / "rules"
JOBS = Path(__file__).parents[2] / "planner" / "day" / "jobs.py"

BINDING: dict[type, frozenset[str]] = {
    Stage: frozenset(
        {
            "surface", "area", "run", "methods", "after", "makes", "spoiled_by", "fresh_to", "fresh_for", "spares",
            "stays_for", "lies_on", "dry_for", "chemical", "rinses", "noisy", "outdoors", "stopped_by_rain", "coldest",
            "hottest", "windiest",
            "above_dew", "dry_after", "not_before", "not_after", "starts_at", "by_hand", "only_if_needed", "kind",
            "part", "mixing",
        }
    ),
    Surface: frozenset(
        {"ground", "area", "run", "stood_on", "worked_from", "over", "drains_to", "high", "shaded"}
    ),
    Wait: frozenset(
        {"after", "before", "kind", "least", "most", "closes", "by_hour", "extended_by", "keep_clear", "order"}
    ),
}  # fmt: skip
"""What binds a plan."""

SAID: dict[type, frozenset[str]] = {
    Stage: frozenset({"name", "quoted", "tags", "wear", "consumables", "notes"}),
    Surface: frozenset({"name", "measured"}),
    Wait: frozenset({"weather", "film", "sections"}),
}
"""What is told, or worked into other fields when a day is read (bounds by the hour, sections)."""


def names_read(path: Path) -> set[str]:
    """Every attribute that a module's source asks for."""
    return {node.attr for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Attribute)}


def readings() -> dict[str, set[str]]:
    """For each property and function of the day's parts the attributes that it asks for."""
    found: dict[str, set[str]] = {}
    for node in ast.walk(ast.parse(JOBS.read_text("utf-8"))):
        if isinstance(node, ast.FunctionDef):
            found.setdefault(node.name, set()).update(x.attr for x in ast.walk(node) if isinstance(x, ast.Attribute))
    return found


def read_by_the_rules() -> set[str]:
    """All that the rules ask for, straight or by a reading of the day."""
    asked = set().union(*(names_read(path) for path in RULES.glob("*.py")))
    by_reading = readings()
    waiting = [name for name in asked if name in by_reading]
    while waiting:
        more = by_reading[waiting.pop()] - asked
        asked |= more
        waiting += [name for name in more if name in by_reading]
    return asked


@pytest.mark.parametrize("part", BINDING, ids=lambda part: part.__name__)
def test_every_field_is_named_as_binding_or_not(part: type[Stage | Surface | Wait]) -> None:
    assert set(part.model_fields) == BINDING[part] | SAID[part]
    assert not BINDING[part] & SAID[part]


@pytest.mark.parametrize("part", BINDING, ids=lambda part: part.__name__)
def test_every_field_that_binds_is_read_by_a_rule(part: type) -> None:
    assert BINDING[part] - read_by_the_rules() == set()


def test_a_field_that_no_rule_reads_would_be_found() -> None:
    """Nothing in the rules asks for what is only told."""
    assert not {"wear", "consumables", "quoted"} & read_by_the_rules()
