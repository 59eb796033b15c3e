"""Tiny random days on which sheets lie on paving, work must begin dry, and a jet or a shower wets what is near."""

import random
from typing import Any

from planner.day import Day

Tables = dict[str, Any]


def dry_day(seed: int) -> Day:
    """A fence or wall beside paving: sheets on it, a coat that must go on dry, a jet, and sometimes a shower."""
    rng = random.Random(seed)
    hands = 1 + (seed % 4 == 3)
    way = rng.choice(({"minutes": 0}, {"minutes": 1}, {"minutes": 1, "restricted": True}))
    surfaces: Tables = {"floor": {"ground": "ground0"}, "wall": {"ground": "ground0", "stood_on": False}}
    if rng.random() < 0.3:
        surfaces["wall"]["drains_to"] = ["floor"]
    kit: Tables = {"sheets": {"load": 0.5, "set_up": rng.randint(0, 1), "pack_down": rng.randint(1, 2)}}
    if rng.random() < 0.6:
        kit["jet"] = {"load": 1, "set_up": rng.randint(0, 2), "supply": ["tap"]}
    jet = {"minutes": rng.randint(2, 5), "kit": [key for key in ("jet",) if key in kit]}
    stages: Tables = {
        "wash": {"kind": rng.choice(("wash", "wash", "wet", "flush")), "surface": "floor", "methods": {"one": jet}},
        "coat": {"kind": rng.choice(("coat", "coat", "seal")), "surface": "wall",
                 "methods": {"one": {"minutes": rng.randint(1, 4)}}, "dry_for": rng.choice((0, 3, 6, 9))},
    }  # fmt: skip
    if rng.random() < 0.7:
        way_of = {"minutes": rng.randint(1, 2), "kit": ["sheets"]}
        stages["cover"] = {"kind": "cover", "surface": "wall", "methods": {"one": way_of}, "lies_on": ["floor"]}
        if rng.random() < 0.7:
            stages["cover"]["stays_for"] = ["coat"]
        elif rng.random() < 0.5:
            stages["coat"]["after"] = ["cover"]
    if stages["coat"]["kind"] == "seal":
        stages["coat"]["fresh_for"] = rng.randint(0, 6)
    if rng.random() < 0.4:
        sweeping = {"minutes": rng.randint(1, 3)}
        stages["sweep"] = {"kind": "sweep", "surface": rng.choice(("floor", "wall")), "methods": {"one": sweeping}}
    if rng.random() < 0.3:
        stages["wash"]["surface"] = "wall"
        wait = {"after": "wash", "before": "coat", "kind": rng.choice(("dry", "order")), "least": rng.randint(1, 5)}
    else:
        wait = {"after": "wash", "before": "coat", "kind": "order", "least": rng.randint(0, 2)}
    if rng.random() < 0.2:
        stages["wash"]["spares"] = ["wall"]
    job: Tables = {"place": "place0", "grounds": {"ground0": {"way_in": way, "supplies": {"tap": 1}}},
                   "surfaces": surfaces, "stages": stages, "waits": [wait] if rng.random() < 0.4 else []}  # fmt: skip
    tables = around_one_job(rng, hands, kit, job)
    if rng.random() < 0.3:
        tables["weather"] = [
            {"minute": minute, "air": 12.0, "humidity": 0.6, "wind": 5, "rain_chance": rng.choice((0.0, 0.0, 0.7))}
            for minute in range(480, 520, 8)
        ]
    return Day.model_validate(tables)


def around_one_job(rng: random.Random, hands: int, kit: Tables, job: Tables) -> Tables:
    """The tables of a day with one job, a few minutes from the yard."""
    return {
        "date": "2026-06-16",
        "start": 480,
        "finish": 1080,
        "crossing_price": rng.choice((0, 3, 6)),
        "van": {"starts_at": "yard", "ends_at": "yard"},
        "hands": {f"hand{h}": {} for h in range(hands)},
        "places": {"yard": {}, "place0": {}},
        "travel": {"trips": [{"from": "yard", "to": "place0", "minutes": rng.randint(2, 4)}]},
        "kit": kit,
        "jobs": {"job0": job},
    }
