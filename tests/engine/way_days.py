"""Random days of two hands, one of whom walks over, or is beside, what the other treats, coats, jets or sweeps.

And, for larger ones, of what lies low: a channel in the patio, a saw or a vacuum on it that must be kept dry.
"""

import random
from typing import Any

from planner.day import Day
from tests.engine.dry_days import around_one_job

Tables = dict[str, Any]

ON_THE_WAY = ("treat", "treat", "seal", "oil", "wash", "flush", "sweep", "grind", "work")
"""What is done to the steps or the path that the way in goes over."""

BESIDE = ("work", "work", "sweep", "grind", "wash", "treat", "oil", "flush")
"""What the other does meanwhile, there, beside it or behind it."""


def way_day(seed: int) -> Day:
    """Steps and a path, over one of which goes the way in: one hand is at work there, the other has to go to and fro.

    What is laid on has no chemical on most days, so that its kind alone says that it is wet; it may bear feet soon, and
    a wait after it may take no minutes.
    """
    rng = random.Random(seed)
    hands = 2 if rng.random() < 0.85 else 1
    way: Tables = {"minutes": rng.choice((1, 1, 2)), "restricted": rng.random() < 0.8, "over": ["steps"]}
    if rng.random() < 0.15:
        way = {"minutes": rng.choice((0, 1)), "over": ["steps"]}
    surfaces: Tables = {
        "steps": {"ground": "ground0"},
        "path": {"ground": "ground0"},
        "wall": {"ground": "ground0", "stood_on": False},
    }
    if seed % 5 < 2:  # the steps are in front, and are not left by that way
        surfaces["steps"]["ground"] = "ground1"
    elif rng.random() < 0.4:
        surfaces["steps"]["over"] = ["path"]
    if rng.random() < 0.4:
        surfaces["wall"] |= rng.choice(({"worked_from": ["path"]}, {"drains_to": ["path"]}))
    kit: Tables = {"tool": {"load": rng.choice((0.5, 1)), "set_up": rng.randint(0, 2), "pack_down": rng.randint(0, 1)}}
    if rng.random() < 0.3:
        kit["ladder"] = {"load": 1, "set_up": rng.randint(0, 2), "pack_down": rng.randint(0, 2), "tags": ["ladder"]}
    stages: Tables = {"first": _stage(rng, rng.choice(ON_THE_WAY), rng.choice(("steps", "steps", "path")), kit)}
    for name in ("other", "third")[: 1 + (hands == 2 and rng.random() < 0.35)]:
        stages[name] = _stage(rng, rng.choice(BESIDE), rng.choice(("wall", "wall", "path", "steps")), kit)
    waits: list[Tables] = []
    _, second, *_ = stages
    if rng.random() < 0.5:
        least = rng.choice((0, 0, 1, 4))
        waits = [{"after": "first", "before": second, "kind": rng.choice(("dwell", "dry", "set")), "least": least}]
        if rng.random() < 0.3:
            waits[0]["most"] = least + rng.randint(0, 5)
    elif rng.random() < 0.3:
        stages[second]["after"] = ["first"]
    used = {key for stage in stages.values() for key in stage["methods"]["one"]["kit"]}
    grounds: Tables = {"ground0": {"way_in": way, "supplies": {"tap": 1}}}
    if surfaces["steps"]["ground"] == "ground1":
        grounds["ground1"] = {"way_in": rng.choice(({"minutes": 0}, {"minutes": 1}))}
    job: Tables = {"place": "place0", "grounds": grounds, "surfaces": surfaces, "stages": stages, "waits": waits}
    return Day.model_validate(around_one_job(rng, hands, {k: x for k, x in kit.items() if k in used}, job))


def _stage(rng: random.Random, kind: str, surface: str, kit: Tables) -> Tables:
    """One stage; of what is laid on some name a chemical, and most coats bear feet after a few minutes."""
    way = {"minutes": rng.randint(1, 4), "kit": rng.choice(([], [rng.choice(sorted(kit))]))}
    stage: Tables = {"kind": kind, "surface": surface, "methods": {"one": way}}
    if kind == "treat" and rng.random() < 0.4:
        stage["chemical"] = rng.choice(("hypochlorite", "detergent"))
    if kind in ("seal", "oil") and rng.random() < 0.8:
        stage["fresh_for"] = rng.randint(0, 4)
    if kind in ("seal", "oil", "treat") and rng.random() < 0.3:
        stage["fresh_to"] = rng.choice(([], ["feet"], ["dust"]))
        if not stage["fresh_to"]:
            stage.pop("fresh_for", None)
    if kind in ("flush", "wash", "sweep") and rng.random() < 0.25:
        stage["spares"] = rng.sample(("steps", "path", "wall"), 1)
    return stage


def lie_low(rng: random.Random, tables: Tables) -> None:
    """Give a small day some of: a channel in its patio, kit that must be kept dry, steps that the way in goes over."""
    for job in tables["jobs"].values():
        stages, surfaces, way = job["stages"], job["surfaces"], job["grounds"]["rear"]["way_in"]
        if rng.random() < 0.6:
            surfaces["channel"] = {"ground": "rear", "stood_on": False, "high": False}
            surfaces["patio"]["drains_to"] = ["channel"]
            stages["scoop"] = _by_hand(rng, "clear drains", "channel")
            stages["flush"] = _by_hand(rng, "flush", "channel") | {"rinses": True}
            if rng.random() < 0.5:
                stages["flush"] |= {"makes": ["spray"], "spares": sorted({*surfaces} - {"patio", "channel"})}
            bounds = {"kind": "order", "least": 0, "most": rng.choice((15, 30))}
            job["waits"].append({"after": "scoop", "before": "flush", **bounds})
        if rng.random() < 0.4:
            tables["kit"]["saw"] = {"load": 1, "set_up": 4, "pack_down": 3, "tags": ["kept-dry"]}
            kind, surface = rng.choice(("cut", "grind", "vacuum")), rng.choice(("patio", "wall"))
            stages["cut"] = _by_hand(rng, kind, surface, "saw")
        if rng.random() < 0.5:
            surfaces.setdefault("steps", {"ground": "rear", "area": 4})
            way["over"] = ["steps"]
            kind = rng.choice(("treat", "wash", "sweep", "seal"))
            said = {"chemical": rng.choice((None, "detergent"))} if kind == "treat" else {}
            stages["do-steps"] = _by_hand(rng, kind, "steps") | said
            if kind == "seal":
                stages["do-steps"]["fresh_for"] = rng.choice((20, 60))


def _by_hand(rng: random.Random, kind: str, surface: str, *kit: str) -> Tables:
    return {"kind": kind, "surface": surface, "methods": {"one": {"minutes": rng.randint(4, 15), "kit": list(kit)}}}
