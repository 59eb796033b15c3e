"""Tiny random days on which two chemicals that must never meet are put on one surface, or the one above the other.

From some seed on the wall may drain to the floor by way of a ledge between them, or be worked from it.
"""

import random
from typing import Any

from planner.day import Day
from tests.engine.dry_days import around_one_job

Tables = dict[str, Any]

FIRST_WITH_A_LEDGE = 2300
"""Days before this are as they were."""


def chemical_day(seed: int) -> Day:
    """A wall over a floor, acid on one and hypochlorite on one, a wash or two rinses of each, by one hand or by two."""
    rng = random.Random(seed)
    way = rng.choice(({"minutes": 0}, {"minutes": 0}, {"minutes": 1, "restricted": True}))
    surfaces: Tables = {
        "floor": {"ground": "ground0"},
        "wall": {"ground": "ground0", "stood_on": False, "drains_to": ["floor"] if rng.random() < 0.7 else []},
    }
    where = rng.choice((("wall", "floor"), ("wall", "floor"), ("wall", "wall"), ("floor", "floor")))
    stages: Tables = {}
    for n, (chemical, surface) in enumerate(zip(("acid", "hypochlorite"), where, strict=True)):
        last = f"put-{n}"
        on = {"minutes": rng.randint(1, 3), "kit": ["sprayer"] if rng.random() < 0.3 else []}
        stages[last] = {"surface": surface, "chemical": chemical, "methods": {"one": on}}
        for rinse in range(rng.choice((1, 1, 2))):
            said: Tables = {"surface": surface, "rinses": True, "methods": {"one": {"minutes": rng.randint(1, 4)}}}
            said["kind"] = rng.choice(("rinse", "rinse", "work"))
            if rng.random() < 0.8:
                said["after"] = [last]
            last = f"rinse-{n}-{rinse}"
            stages[last] = said
    if rng.random() < 0.4:
        stages["flush"] = {"surface": "floor", "rinses": True, "kind": "work", "methods": {"one": {"minutes": 2}}}
    if rng.random() < 0.2:
        stages[rng.choice(("put-1", "rinse-1-0"))]["after"] = ["rinse-0-0"]
    if seed >= FIRST_WITH_A_LEDGE and rng.random() < 0.6:
        said = rng.choice(({"drains_to": ["ledge"]}, {"worked_from": ["floor"], "drains_to": []}))
        surfaces["wall"] |= said
        surfaces["ledge"] = {"ground": "ground0", "stood_on": False, "drains_to": ["floor"]}
    wait = {"after": "put-0", "before": "rinse-0-0", "kind": "dwell", "least": rng.randint(0, 3), "closes": False}
    job: Tables = {"place": "place0", "grounds": {"ground0": {"way_in": way, "supplies": {"tap": 1}}},
                   "surfaces": surfaces, "stages": stages, "waits": [wait] if rng.random() < 0.6 else []}  # fmt: skip
    kit: Tables = {"sprayer": {"load": 1, "rinse_out": rng.randint(0, 2)}}
    return Day.model_validate(around_one_job(rng, 1 + seed % 2, kit, job))
