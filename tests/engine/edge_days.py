"""Random days at the edges of what a model has room for: many trips, kit to and fro, ways of no minutes, late helpers.

The same for the same seed, small enough that each is proven soon, and all invented. ``random_days`` says the rest.
"""

import random
from typing import Any

from planner.day import Day

Tables = dict[str, Any]


def edge(seed: int) -> Day:
    """A day of 1 or 2 jobs with 1 or 2 hands that asks for more trips, stays or visits than most days do."""
    rng = random.Random(500_000 + seed)
    hands = rng.choice((1, 1, 2))
    kit = _kit(rng, hands)
    jobs = {f"job{n}": _job(rng, n, kit, hands, alone=n == 0) for n in range(rng.choice((1, 1, 2)))}
    if len(jobs) > 1 and rng.random() < 0.5:
        jobs["job0"]["visits"] = 2
        last = f"s{len(jobs['job0']['stages']) - 1}"
        long = {"after": "s0", "before": last, "kind": "dry", "least": rng.randint(20, 60)}
        jobs["job0"]["waits"] = [*(w for w in jobs["job0"]["waits"] if w["before"] != last), long]
        if rng.random() < 0.4:
            jobs["job0"]["arrive"] = [480, 480 + rng.randint(5, 60)]
    elif rng.random() < 0.2:
        jobs["job0"]["arrive"] = [490 + rng.randint(0, 30), 540]
    tables = _around(rng, jobs, kit, hands)
    if rng.random() < 0.3:
        begins = 480 + rng.choice((0, 30, 120, 400))
        tables["hands"]["helper"] = {"own_transport": True, "hours": [begins, begins + rng.choice((30, 240))]}
    return Day.model_validate(tables)


def _kit(rng: random.Random, hands: int) -> Tables:
    lift = 2 if hands == 2 and rng.random() < 0.3 else 1
    return {
        "sprayer": {"load": rng.choice((0, 0.5, 1.25)), "set_up": rng.choice((0, 0, 2)),
                    "pack_down": rng.choice((0, 1)), "own": rng.choice((1, 1, 1, 2))},
        "washer": {"load": 2 if lift == 2 else rng.choice((1, 1.25)), "lift": lift, "set_up": rng.choice((0, 3)),
                   "supply": ["tap"], "needs": rng.choice(([], ["sprayer"]))},
        "fan": {"may_stay": True, "load": rng.choice((0, 1)), "set_up": rng.choice((0, 0, 4))},
    }  # fmt: skip


def _way(rng: random.Random) -> Tables:
    limit = rng.choice((1.25, 1.5, 2, 2.5))
    return rng.choice((
        {"minutes": 0, "load_limit": limit},
        {"minutes": 1, "load_limit": limit},
        {"minutes": rng.randint(2, 3), "load_limit": limit},
        {"minutes": 0, "restricted": True, "load_limit": limit},
        {"minutes": rng.randint(1, 2), "restricted": True, "load_limit": limit},
    ))  # fmt: skip


def _job(rng: random.Random, n: int, kit: Tables, hands: int, *, alone: bool) -> Tables:
    grounds = rng.choice((1, 2))
    in_turn = grounds == 2 and rng.random() < 0.5
    stages: Tables = {}
    for s in range(rng.randint(2, 5 if alone else 3)):
        ground = s % 2 if in_turn else rng.randrange(grounds)
        method: Tables = {"minutes": rng.randint(3, 20), "kit": rng.choice(([], ["sprayer"], ["washer"], ["fan"]))}
        if in_turn:
            method["kit"] = ["sprayer"]
        if rng.random() < 0.3:
            method["uses"] = {"sand": rng.randint(1, 5)}
        if hands == 2 and rng.random() < 0.2:
            method["hands"] = 2
        stages[f"s{s}"] = {"surface": f"floor{ground}", "methods": {"one": method}}
        if in_turn and s and rng.random() < 0.7:
            stages[f"s{s}"]["after"] = [f"s{s - 1}"]
    waits = []
    if rng.random() < 0.5:
        kind = rng.choice(("dwell", "dry", "order"))
        wait = {"after": "s0", "before": "s1", "kind": kind, "least": rng.randint(0, 9)}
        if rng.random() < 0.5:
            wait["most"] = wait["least"] + rng.randint(0, 20)
        waits.append(wait)
    return {
        "place": f"place{n}",
        "grounds": {f"ground{g}": {"way_in": _way(rng), "supplies": {"tap": 1}} for g in range(grounds)},
        "surfaces": {f"floor{g}": {"ground": f"ground{g}"} for g in range(grounds)},
        "stages": stages,
        "waits": waits,
    }


def _around(rng: random.Random, jobs: Tables, kit: Tables, hands: int) -> Tables:
    places = ["yard", *dict.fromkeys(job["place"] for job in jobs.values())]
    near = rng.random() < 0.3
    return {
        "date": "2026-06-16",
        "start": 480,
        "finish": rng.choice((1080, 1080, 600)),
        "crossing_price": rng.choice((0, 6)),
        "van": {"starts_at": "yard", "ends_at": "yard"},
        "hands": {f"hand{h}": {} for h in range(hands)},
        "places": {place: {} for place in places},
        "travel": {"trips": [
            {"from": a, "to": b, "minutes": 0 if near else rng.randint(2, 9)}
            for n, a in enumerate(places) for b in places[n + 1 :]
        ]},
        "kit": kit,
        "materials": {"sand": {"load": rng.choice((0.5, 1, 1.25)), "container": "bag"}},
        "jobs": jobs,
    }  # fmt: skip
