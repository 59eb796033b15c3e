"""Containers that stages share: what one opens the next uses up, and one spare is enough for all of them."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from planner.trade.filler import containers
from planner.trade.trade_tables import Table, table_in


def share_containers(stages: dict[str, Table], waits: Iterable[Table], surfaces: Table) -> None:
    """Let stages on one ground that a wait joins closely share the containers of each material.

    Each of them alone takes whole containers and a spare: two coats of 0.9 and 0.6 of a can would be three cans where
    two are enough. In their order each opens what it needs beyond what those before it have left. They share only where
    the wait between them has a most, so that they are done on one day and it is settled which comes first; any others
    keep their own, for either might be the one that has to open the can.

    Parameters
    ----------
    stages, waits, surfaces
        Tables of a job; the methods of the stages are changed in place.
    """
    joined = {(wait.get("after"), wait.get("before")) for wait in waits if "most" in wait}
    users: dict[tuple[object, str], list[str]] = {}
    for key, stage in stages.items():
        ground = table_in(surfaces, str(stage.get("surface"))).get("ground")
        for material in _materials(stage):
            users.setdefault((ground, material), []).append(key)
    for (_, material), keys in users.items():
        if all(pair in joined for pair in pairwise(keys)):
            _share(material, [stages[key] for key in keys])


def _materials(stage: Table) -> list[str]:
    """What a stage uses by whichever method, always as much, and of which it is known how much."""
    methods = list(table_in(stage, "methods").values())
    if not methods or not all(isinstance(method, dict) for method in methods):
        return []
    first, *others = methods
    return [
        material
        for material in table_in(first, "expected")
        if all(
            table_in(method, word).get(material) == table_in(first, word).get(material)
            for method in others
            for word in ("uses", "expected")
        )
    ]


def _share(material: str, users: list[Table]) -> None:
    opened, needed, counts = 0, 0.0, []
    for stage in users:
        needed += float(next(iter(stage["methods"].values()))["expected"][material])
        counts.append(containers(needed, 1.0).taken - opened)
        opened += counts[-1]
    taken = sum(next(iter(stage["methods"].values())).get("uses", {}).get(material, 0) for stage in users)
    if opened >= taken:
        return  # they share already, as the layers of a filling do, or carry no spare
    for stage, count in zip(users, counts, strict=True):
        for method in stage["methods"].values():
            rest = {key: n for key, n in method.get("uses", {}).items() if key != material}
            method["uses"] = {**rest, material: count} if count else rest
