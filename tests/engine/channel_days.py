"""Tiny random days of what runs into what lies low: a channel in paving, a ladder or a stain below what dwells."""

import random
from itertools import pairwise
from typing import Any

from planner.day import Day
from tests.engine.dry_days import around_one_job

Tables = dict[str, Any]


def channel_day(seed: int) -> Day:
    """Paving that is washed, wetted and filled about a channel; or a wall above a path, one of which dwells."""
    rng = random.Random(seed)
    hands = 1 + seed % 2
    way = rng.choice(({"minutes": 0}, {"minutes": 0}, {"minutes": 1, "restricted": True}))
    surfaces: Tables = {
        "floor": {"ground": "ground0"},
        "wall": {"ground": "ground0", "stood_on": False, "worked_from": ["floor"]},
    }
    kit: Tables = {
        "ladder": {"load": 1, "set_up": rng.randint(1, 2), "pack_down": rng.randint(1, 2), "tags": ["ladder"]},
        "jet": {"load": 1, "set_up": rng.randint(0, 1), "supply": ["tap"]},
    }
    if rng.random() < 0.5:
        stages, waits = _about_a_channel(rng, surfaces, kit)
        del kit["ladder"]
    else:
        stages, waits = _below_what_dwells(rng, surfaces)
        used = {key for stage in stages.values() for key in stage["methods"]["one"]["kit"]}
        kit = {key: piece for key, piece in kit.items() if key in used}
    job: Tables = {"place": "place0", "grounds": {"ground0": {"way_in": way, "supplies": {"tap": 1}}},
                   "surfaces": surfaces, "stages": stages, "waits": waits}  # fmt: skip
    return Day.model_validate(around_one_job(rng, hands, kit, job))


def _stage(rng: random.Random, kind: str, surface: str, *kit: str, **said: Any) -> Tables:
    way = {"minutes": rng.randint(1, 4), "kit": list(kit)}
    return {"kind": kind, "surface": surface, "methods": {"one": way}, **said}


def _about_a_channel(rng: random.Random, surfaces: Tables, kit: Tables) -> tuple[Tables, list[Tables]]:
    """The floor drains to a channel, which is scooped and flushed; most floors are washed, wetted or filled.

    Some are cut by what must be kept dry.
    """
    surfaces["channel"] = {"ground": "ground0", "stood_on": False, "high": False}
    if rng.random() < 0.15:
        del surfaces["channel"]["high"]  # it then stands over the floor that drains to it, and neither soils the other
    surfaces["floor"]["drains_to"] = ["channel"]
    floor: Tables = {}
    if rng.random() < 0.6:
        floor["wash"] = _stage(rng, rng.choice(("wash", "rinse", "flush")), "floor", "jet")
    if rng.random() < 0.7:
        floor["wet"] = _stage(rng, "wet", "floor")
        if rng.random() < 0.3:
            floor["wet"]["soils"] = rng.random() < 0.7
    if rng.random() < 0.6 or not floor:
        floor["fill"] = _stage(rng, rng.choice(("fill", "compact", "sand")), "floor")
        if floor["fill"]["kind"] == "sand" or rng.random() < 0.4:
            floor["fill"] |= {"fresh_to": ["spray", "water", "dirt"], "fresh_for": rng.randint(0, 5)}
    if "wash" in floor and rng.random() < 0.2:
        floor["wash"]["soils"] = False
    if len(floor) < 3 and rng.random() < 0.4:
        kit["saw"] = {"load": 1, "set_up": rng.randint(1, 2), "pack_down": rng.randint(1, 2), "tags": ["kept-dry"]}
        floor["cut"] = _stage(rng, rng.choice(("cut", "sweep")), rng.choice(("floor", "wall")), "saw")
        if len(floor) < 3 and rng.random() < 0.5:
            floor["again"] = _stage(rng, "cut", "floor", "saw")
    names = list(floor)
    for first, second in pairwise(names):
        if rng.random() < 0.7:
            floor[second]["after"] = [first]
    stages = {**floor, "flush": _stage(rng, rng.choice(("flush", "rinse")), "channel", rinses=rng.random() < 0.9)}
    if len(stages) < 4 and rng.random() < 0.6:
        stages["scoop"] = _stage(rng, "clear drains", "channel")
        stages["flush"]["after"] = ["scoop"]
    waits: list[Tables] = []
    if {"wet", "fill"} <= set(stages) and rng.random() < 0.5:
        waits = [{"after": "wet", "before": "fill", "kind": "order", "least": 0, "most": rng.randint(3, 9)}]
    elif "scoop" in stages and rng.random() < 0.5:
        waits = [{"after": "scoop", "before": "flush", "kind": "order", "least": 0, "most": rng.randint(0, 4)}]
    return stages, waits


def _below_what_dwells(rng: random.Random, surfaces: Tables) -> tuple[Tables, list[Tables]]:
    """Something dwells on the floor or on the wall; what is done on the floor, or from a ladder that stands there."""
    where = rng.choice(("floor", "wall"))
    chemical = rng.choice(("acid", "acid", "hypochlorite", None))
    stages: Tables = {
        "put": _stage(rng, "treat", where),
        "off": _stage(rng, rng.choice(("rinse", "work")), where, *rng.choice(([], ["jet"]))),
    }
    if chemical:
        stages["put"]["chemical"] = chemical
    elif rng.random() < 0.4:
        stages["put"]["fresh_to"] = ["feet"]
        if rng.random() < 0.5:
            stages["put"]["fresh_for"] = rng.randint(1, 6)
    if rng.random() < 0.3:
        surfaces["wall"] |= {"worked_from": [], "drains_to": ["floor"]}
    if rng.random() < 0.7:
        stages["up"] = _stage(rng, "look", rng.choice(("wall", "wall", "floor")), "ladder")
    if "up" not in stages or rng.random() < 0.5:
        surfaces["stain"] = {"ground": "ground0", "over": ["floor"]} if rng.random() < 0.5 else {"ground": "ground0"}
        stages["kneel"] = _stage(rng, "work", rng.choice(("floor", "stain")))
    if rng.random() < 0.15:
        stages["put"]["spares"] = ["floor"]
    kind = rng.choice(("dwell", "dwell", "dry", "set"))
    wait: Tables = {"after": "put", "before": "off", "kind": kind, "least": rng.randint(1, 6)}
    if where == "wall" or rng.random() < 0.2:
        wait["closes"] = False
    if rng.random() < 0.2:
        wait["before"] = list(stages)[-1]
    if rng.random() < 0.1:
        del wait["before"]
    return stages, [wait]
