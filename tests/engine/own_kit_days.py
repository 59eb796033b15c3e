"""Tiny random days on which kit of the day's own, of which it does not say how it is rinsed out, serves chemicals."""

import random
from typing import Any

from planner.day import Day
from planner.day.rinsing_out import with_rinsing_out
from tests.engine.dry_days import around_one_job

Tables = dict[str, Any]

CHEMICALS = ("acid", "quaternary", "hypochlorite", "detergent", None)


def own_kit_day(seed: int) -> Day:
    """Two or three surfaces treated out of one pump, or by a pole that it feeds; a broom besides, by one hand or two.

    What is put on spares all other surfaces, so that it is the pump alone that parts one chemical from the other.
    """
    rng = random.Random(seed)
    way = rng.choice(({"minutes": 0}, {"minutes": 1}, {"minutes": 1, "restricted": True}))
    surfaces: Tables = {name: {"ground": "ground0"} for name in ("path", "steps", "patio")[: rng.choice((2, 2, 3))]}
    kit: Tables = {"pump": {"load": 1, "set_up": rng.randint(0, 2), "pack_down": rng.randint(0, 1)}}
    kit["pump"] |= rng.choice(({}, {}, {}, {"own": 2}, {"rinse_out": 0}, {"rinse_out": 1}))
    if rng.random() < 0.6:
        kit["pole"] = {"load": 0.5, "needs": ["pump"]}
    stages: Tables = {}
    for name in surfaces:
        on = {"minutes": rng.randint(1, 4), "kit": [rng.choice(list(kit))]}
        stages[f"treat-{name}"] = {"surface": name, "kind": "treat", "chemical": rng.choice(CHEMICALS), "makes": [],
                                   "spares": [other for other in surfaces if other != name],
                                   "methods": {"one": on}}  # fmt: skip
    if rng.random() < 0.4:
        kit["broom"] = {"load": 0.5}
        stages["brush"] = {"surface": "path", "methods": {"one": {"minutes": rng.randint(1, 3), "kit": ["broom"]}}}
    kit = {k: x for k, x in kit.items() if k == "pump" or any(k in s["methods"]["one"]["kit"] for s in stages.values())}
    job: Tables = {"place": "place0", "grounds": {"ground0": {"way_in": way}}, "surfaces": surfaces, "stages": stages}
    return with_rinsing_out(Day.model_validate(around_one_job(rng, 1 + (rng.random() < 0.4), kit, job)))
