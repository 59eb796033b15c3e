"""Tiny random days on which one surface is worked in sections of different counts: halves, and thirds or quarters."""

import random
from itertools import pairwise
from typing import Any

from planner.day import Day
from tests.engine.dry_days import around_one_job

Tables = dict[str, Any]


def parted_day(seed: int) -> Day:
    """Halves of a path that are treated, dwell and are rinsed, and some smaller parts of it that are swept, or filled.

    The parts come before or after each other as the day likes, or each after the one before it in its own row.
    """
    rng = random.Random(seed)
    count = rng.choice((3, 3, 4))
    least = rng.randint(1, 4)
    stages: Tables = {}
    waits: list[Tables] = []
    for n in rng.choice(((1, 2), (1, 2), (1,), (2,))):
        for key, kind in (("treat", "treat"), ("rinse", "rinse")):
            stages[f"{key}_{n}"] = _part(rng, key, n, 2) | {"kind": kind, "makes": [], "rinses": kind == "rinse"}
        waits.append({"after": f"treat_{n}", "before": f"rinse_{n}", "kind": "dwell", "least": least, "order": "any",
                      "most": least + rng.randint(6, 9)})  # fmt: skip
    kind = rng.choice(("work", "sweep", "fill"))
    numbers = sorted(rng.sample(range(1, count + 1), rng.choice((1, 2, 2))))
    for n in numbers:
        stages[f"{kind}_{n}"] = _part(rng, kind, n, count) | {"kind": kind, "makes": []}
    if kind == "fill":
        waits += [{"after": f"fill_{n}", "kind": "cure", "least": rng.randint(2, 30)} for n in numbers]
    for one, two in pairwise(numbers):
        stages[f"{kind}_{two}"]["after"] = [f"{kind}_{one}"] if rng.random() < 0.5 else []
    job: Tables = {"place": "place0", "grounds": {"ground0": {"way_in": {"minutes": 0}}},
                   "surfaces": {"path": {"ground": "ground0"}}, "stages": stages, "waits": waits}  # fmt: skip
    return Day.model_validate(around_one_job(rng, 1 + (rng.random() < 0.5), {}, job))


def _part(rng: random.Random, of: str, number: int, count: int) -> Tables:
    """A section of a stage that takes a few minutes."""
    minutes = count * rng.randint(1, 3)
    return {"surface": "path", "part": {"of": of, "number": number, "count": count},
            "methods": {"one": {"minutes": minutes}}}  # fmt: skip
