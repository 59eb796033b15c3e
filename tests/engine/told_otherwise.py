"""The same day told in other words: other keys, and tables in another order. What is planned must not change by it.

Jobs and stages keep their order, which is a wish of whoever wrote the file; hands, kit, materials, places, grounds and
surfaces do not, and every key but those of methods is another. What things are called stays.
"""

import random
from dataclasses import asdict, dataclass
from typing import Any

from planner.day import Day
from planner.plan.plan import Plan

Tables = dict[str, Any]

SHUFFLED = ("hands", "kit", "materials", "places")
SHUFFLED_IN_A_JOB = ("grounds", "surfaces")
KEYED = (*SHUFFLED, *SHUFFLED_IN_A_JOB, "jobs", "stages", "uses", "expected", "leaves")
"""What names things by keys of the day."""

WORDS = ("name", "title", "kind", "tags", "makes", "spoiled_by", "fresh_to", "supply", "chemical", "through")
"""What is said in words that may also be somebody's key."""


@dataclass(frozen=True)
class ToldOtherwise:
    """A day in other words, and for each of its keys the one that it stands for."""

    day: Day
    meant: dict[str, str]

    def in_first_words(self, plan: Plan) -> Any:
        """What a plan of it says, in the keys of the day as it was, its lists in a steady order."""
        return said(plan, self.meant)


def said(plan: Plan, meant: dict[str, str] | None = None) -> Any:
    """All that a plan says but its proof, in a steady order."""
    names = meant or {}

    def other(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: other(x) for key, x in value.items()}
        if isinstance(value, list | tuple):
            return sorted((other(x) for x in value), key=repr)
        return names.get(value, value) if isinstance(value, str) else value

    return other(asdict(plan) | {"proof": None})


def named(day: Day) -> Day:
    """A day on which hands, kit, materials and grounds are called something, so that no two are twins."""
    tables = _tables(day)
    for kind in ("hands", "kit", "materials"):
        for key, thing in tables.get(kind, {}).items():
            thing.setdefault("name", key)
    for job in tables["jobs"].values():
        for key, ground in job["grounds"].items():
            ground.setdefault("name", key)
    return Day.model_validate(tables)


def told_otherwise(day: Day, seed: int) -> ToldOtherwise:
    """A day in other words, the same ones for the same seed."""
    rng, tables = random.Random(seed), _tables(day)
    names: dict[str, str] = {}
    for kind in (*SHUFFLED, "jobs"):
        names |= {key: f"{rng.choice('abxyz')}{rng.randrange(10**6)}-{key}" for key in tables.get(kind, {})}
    for job in tables["jobs"].values():
        for kind in (*SHUFFLED_IN_A_JOB, "stages"):
            names |= {key: f"{rng.choice('abxyz')}{rng.randrange(10**6)}-{key}" for key in job[kind]}
    for kind in SHUFFLED:
        if kind in tables:
            tables[kind] = _shuffled(rng, tables[kind])
    for job in tables["jobs"].values():
        for kind in SHUFFLED_IN_A_JOB:
            job[kind] = _shuffled(rng, job[kind])

    def other(value: Any, of: str = "") -> Any:
        if isinstance(value, dict):
            return {names.get(key, key) if of in KEYED else key: other(x, key) for key, x in value.items()}
        if isinstance(value, list | tuple):
            return [other(x, of) for x in value]
        return names.get(value, value) if isinstance(value, str) and of not in WORDS else value

    return ToldOtherwise(Day.model_validate(other(tables)), {new: old for old, new in names.items()})


def _tables(day: Day) -> Tables:
    return day.model_dump(mode="json", by_alias=True, exclude_defaults=True)


def _shuffled(rng: random.Random, table: Tables) -> Tables:
    keys = list(table)
    rng.shuffle(keys)
    return {key: table[key] for key in keys}
