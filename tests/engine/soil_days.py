"""Tiny random days of what soils: dirt on what was washed or dwells, dust on who sweeps, mist on a coat."""

import random
from typing import Any

from planner.day import Day
from tests.engine.dry_days import around_one_job

Tables = dict[str, Any]

FROM_ABOVE = (
    ("clear gutters", "gutter"), ("clear gutters", "gutter"), ("flush", "gutter"), ("wash", "wall"), ("rinse", "wall"),
    ("brush", "wall"), ("grind", "wall"), ("cut", "steps"), ("scrape", "wall"),
)  # fmt: skip
"""What comes down onto the path, or flies over the ground; the last two say what they make."""

COATS = ("paint", "varnish", "coat", "stain", "seal", "oil", "fill")


def soil_day(seed: int) -> Day:
    """A gutter over a wall over a path, steps beside; by turns one of what may come to what is clean, wet or fresh."""
    rng = random.Random(seed)
    hands = 1 + (rng.random() < 0.7)
    way = rng.choice(({"minutes": 0}, {"minutes": 0}, {"minutes": 1}, {"minutes": 1, "restricted": True}))
    surfaces: Tables = {
        "path": {"ground": "ground0"},
        "steps": {"ground": "ground0"},
        "wall": {"ground": "ground0", "stood_on": False},
        "gutter": {"ground": "ground0", "stood_on": False, "high": True},
    }
    surfaces["wall"] |= rng.choice(({"worked_from": ["path"]}, {"drains_to": ["path"]}))
    kit: Tables = {"tool": {"load": 1, "set_up": rng.randint(0, 2), "pack_down": rng.randint(0, 1)}}
    makers = (_onto_what_is_washed, _beside_who_sweeps, _into_what_dwells, _onto_a_coat)
    stages, waits = makers[seed // 15 % len(makers)](rng, kit)
    used = {stage["surface"] for stage in stages.values()} | {"path"}
    surfaces = {key: said for key, said in surfaces.items() if key in used or key == "wall"}
    for stage in stages.values():
        stage["spares"] = [key for key in stage.get("spares", []) if key in surfaces]
    kit = {k: x for k, x in kit.items() if any(k in s["methods"]["one"]["kit"] for s in stages.values())}
    job: Tables = {"place": "place0", "grounds": {"ground0": {"way_in": way, "supplies": {"tap": 1}}},
                   "surfaces": surfaces, "stages": stages, "waits": waits}  # fmt: skip
    tables = around_one_job(rng, hands, kit, job)
    _leave_waste(random.Random(70_000 + seed), tables)
    return Day.model_validate(tables)


def _leave_waste(rng: random.Random, tables: Tables) -> None:
    """Let two or three stages of some days leave part of a bag by one of their methods, to be put together."""
    if rng.random() < 0.5:
        return
    tables["materials"] = {"rubble": {"mass": 10, "empty": 0.2, "load": rng.choice((0.5, 1))}}
    for hand in tables["hands"].values():
        hand["lifts"] = rng.choice((12, 16, 25))
    stages = list(tables["jobs"]["job0"]["stages"].values())
    for stage in rng.sample(stages, min(len(stages), rng.choice((2, 2, 3)))):
        stage["methods"]["one"]["leaves"] = {"rubble": rng.choice((0.01, 0.3, 0.5, 0.7, 1.2))}
        if rng.random() < 0.3:
            stage["methods"]["two"] = {"minutes": stage["methods"]["one"]["minutes"] + rng.randint(0, 2)}


def _stage(rng: random.Random, kind: str, surface: str, kit: Tables, **said: Any) -> Tables:
    way = {"minutes": rng.randint(1, 4), "kit": rng.choice(([], [], [*kit]))}
    stage: Tables = {"kind": kind, "surface": surface, "methods": {"one": way}, **said}
    if kind == "scrape":
        stage["makes"] = rng.choice((["dirt"], ["dirt", "dust"], ["dust"]))
    if kind == "brush":
        stage["makes"] = ["dust"]
    return stage


def _from_above(rng: random.Random, kit: Tables) -> Tables:
    stage = _stage(rng, *rng.choice(FROM_ABOVE), kit)
    if rng.random() < 0.1:
        stage["spares"] = ["path"]
    if rng.random() < 0.1:
        stage["soils"] = rng.random() < 0.5
    return stage


def _onto_what_is_washed(rng: random.Random, kit: Tables) -> tuple[Tables, list[Tables]]:
    """The path is swept, washed and rinsed, or some of it; and something comes down meanwhile, before or after."""
    names = rng.choice((("wash", "rinse"), ("wash", "rinse"), ("sweep", "rinse"), ("sweep", "wash"), ("wash", "sweep")))
    stages = {name: _stage(rng, name, "path", kit) for name in names}
    first, second = names
    waits: list[Tables] = []
    if rng.random() < 0.6:
        stages[second]["after"] = [first]
    elif rng.random() < 0.6:
        least = rng.randint(0, 4)
        waits = [{"after": first, "before": second, "kind": rng.choice(("dry", "order")), "least": least}]
    stages["above"] = _from_above(rng, kit)
    if rng.random() < 0.5:
        stages["more"] = _from_above(rng, kit)
        if rng.random() < 0.4:
            stages["more"]["after"] = [rng.choice((first, "above"))]
    return stages, waits


def _beside_who_sweeps(rng: random.Random, kit: Tables) -> tuple[Tables, list[Tables]]:
    """Dust, chips or a jet, where another sweeps or kneels."""
    noisy = (*FROM_ABOVE, ("wash", "steps"), ("rinse", "path"), ("cut", "path"), ("grind", "path"))
    kind, surface = rng.choice(noisy)
    below = (("sweep", "path"), ("sweep", "steps"), ("work", "path"), ("brush", "steps"), ("cut", "steps"))
    stages = {"noise": _stage(rng, kind, surface, kit), "below": _stage(rng, *rng.choice(below), kit)}
    if rng.random() < 0.5:
        stages["third"] = _stage(rng, *rng.choice((*below, *noisy)), kit)
    if rng.random() < 0.2:
        stages["noise"]["spares"] = ["steps"]
    if rng.random() < 0.2:
        stages["below"]["after"] = ["noise"]
    return stages, []


def _into_what_dwells(rng: random.Random, kit: Tables) -> tuple[Tables, list[Tables]]:
    """A treatment on the wall, the path or the steps, with something above it or beside."""
    where = rng.choice(("wall", "wall", "path", "steps"))
    stages = {
        "put": _stage(rng, rng.choice(("treat", "treat", "wax")), where, kit),
        "off": _stage(rng, rng.choice(("rinse", "wash")), where, kit, rinses=True),
        "above": _from_above(rng, kit),
    }
    if stages["put"]["kind"] == "wax" or rng.random() < 0.5:
        stages["put"]["chemical"] = rng.choice(("hypochlorite", "detergent"))
    if rng.random() < 0.3:
        stages["put"]["spoiled_by"] = ["dust"]
    if rng.random() < 0.3:
        stages["third"] = _stage(rng, *rng.choice((("sweep", "path"), ("work", "steps"), ("rinse", "gutter"))), kit)
    least = rng.randint(1, 6)
    wait = {"after": "put", "before": "off", "kind": rng.choice(("dwell", "dwell", "order")), "least": least}
    wait |= {"most": least + rng.randint(2, 9)} if rng.random() < 0.5 else {}
    wait |= {"closes": False} if where == "wall" or rng.random() < 0.3 else {}
    return stages, [wait]


def _onto_a_coat(rng: random.Random, kit: Tables) -> tuple[Tables, list[Tables]]:
    """A coat on the wall or the steps, and mist, dust or a jet about it."""
    stages = {"coat": _stage(rng, rng.choice(COATS), rng.choice(("wall", "steps")), kit)}
    beside = (("treat", "path"), ("treat", "steps"), ("treat", "wall"), ("cut", "path"), ("wash", "path"),
              ("wax", "path"), ("sweep", "path"), ("work", "path"), ("paint", "path"))  # fmt: skip
    for name in ("one", "two")[: rng.randint(1, 2)]:
        stages[name] = _stage(rng, *rng.choice(beside), kit)
        if stages[name]["kind"] in ("treat", "wax") and rng.random() < 0.6:
            stages[name]["chemical"] = "detergent"
    if rng.random() < 0.6:
        stages["coat"]["fresh_for"] = rng.randint(0, 6)
    elif rng.random() < 0.2:
        stages["coat"]["fresh_to"] = rng.choice((["dust"], ["mist"], []))
    if rng.random() < 0.3:
        stages["one"]["spares"] = [stages["coat"]["surface"]]
    if rng.random() < 0.3:
        stages["one"]["after"] = ["coat"]
    return stages, []


def soil_more(rng: random.Random, tables: Tables) -> None:
    """Give a small day some of: a rinse after its wash, a coat, a dry brush, waste by several stages, a drying film."""
    for job in tables["jobs"].values():
        stages, surfaces = job["stages"], job["surfaces"]
        if "wash" in stages and rng.random() < 0.5:
            stages["rinse-off"] = _by_hand(rng, "rinse", stages["wash"]["surface"]) | {"after": ["wash"]}
        if rng.random() < 0.4:
            stages["paint"] = _by_hand(rng, rng.choice(COATS), rng.choice(("wall", "shed")))
            stages["paint"]["fresh_for"] = rng.choice((20, 60, 90))
        if rng.random() < 0.4:
            stages["brush"] = _by_hand(rng, "dry brush", rng.choice(("wall", "shed", "patio"))) | {"makes": ["dust"]}
        if rng.random() < 0.5:
            for name in rng.sample(sorted(stages), 2):
                for method in stages[name]["methods"].values():
                    method["leaves"] = {"rubble": rng.choice((0.02, 0.3, 0.7, 1.3))}
        for wait in job["waits"]:
            if "extended_by" in wait and rng.random() < 0.7:
                wait["weather"] = "film"
                dry = wait["least"] // 2 + rng.randint(8, 20)
                wait["by_hour"] = [{"since": "00:00", "least": wait["least"], "most": min(dry, wait["most"])}]
        surfaces.setdefault("wall", {"ground": "rear", "stood_on": False})


def _by_hand(rng: random.Random, kind: str, surface: str) -> Tables:
    return {"kind": kind, "surface": surface, "methods": {"one": {"minutes": rng.randint(4, 15)}}}
