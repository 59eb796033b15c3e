"""Random days on which somebody works from a ladder, ours or the site's: in wind, above others, over wet steps."""

import random
from typing import Any

from planner.day import Day
from tests.engine.dry_days import around_one_job

Tables = dict[str, Any]

GUSTS = (5.0, 5.0, 25.0, 35.0)
"""Wind in km/h: the last is too much for a ladder."""


def ladder_day(seed: int) -> Day:
    """A tiny day: a gutter over a wall over a path, steps on the way in, one or two hands who work on some of them."""
    rng = random.Random(seed)
    hands = 1 + (seed % 3 != 0)
    way = rng.choice(({"minutes": 0}, {"minutes": 1}, {"minutes": 1, "restricted": True}))
    way = way | {"over": ["steps"]} if rng.random() < 0.6 else way
    surfaces: Tables = {
        "path": {"ground": "ground0"},
        "steps": {"ground": "ground0"},
        "wall": {"ground": "ground0", "stood_on": False, "worked_from": ["path"]},
        "gutter": {"ground": "ground0", "stood_on": False, "worked_from": ["path"], "high": rng.random() < 0.5},
    }
    if rng.random() < 0.3:
        surfaces["wall"]["drains_to"] = ["steps"]
    lifted = {"load": 2, "lift": 2} if hands == 2 and rng.random() < 0.3 else {"load": 1}
    kit: Tables = {
        "ladder": {"set_up": rng.randint(0, 1), "pack_down": rng.randint(0, 1), "tags": ["ladder"], **lifted},
        "jet": {"load": 1, "set_up": rng.randint(0, 2), "supply": ["tap"]},
    }
    stages: Tables = {"up": _up(rng)}
    below = [("wash", "steps", ["jet"]), ("rinse", "wall", ["jet"]), ("sweep", "path", []), ("prune", "path", [])]
    for kind, surface, took in rng.sample(below, rng.choice((1, 2) if hands == 2 else (1, 2, 2))):
        minutes = rng.randint(1, 5)
        stages[kind] = {"kind": kind, "surface": surface, "methods": {"one": {"minutes": minutes, "kit": took}}}
        if rng.random() < 0.15:
            stages[kind]["spares"] = [rng.choice(("path", "steps"))]
    if rng.random() < 0.4:
        stages = _about_its_feet(rng, kit, stages["up"])
    first, *_, last = stages
    waits: list[Tables] = []
    if rng.random() < 0.4:
        waits = [{"after": first, "before": last, "kind": rng.choice(("order", "dry")), "least": rng.randint(0, 4)}]
    elif rng.random() < 0.3 and not any("after" in stage for stage in stages.values()):
        waits = [{"after": last, "before": first, "kind": "order", "least": 0, "most": rng.randint(2, 8)}]
    job: Tables = {"place": "place0", "grounds": {"ground0": {"way_in": way, "supplies": {"tap": 1}}},
                   "surfaces": surfaces, "stages": stages, "waits": waits}  # fmt: skip
    tables = around_one_job(rng, hands, kit, job)
    if rng.random() < 0.7:
        tables["weather"] = [
            {"minute": minute, "air": 12.0, "humidity": 0.6, "wind": rng.choice(GUSTS), "rain_chance": 0.0}
            for minute in range(480, 480 + 5 * rng.randint(2, 8), 5)
        ]
    return Day.model_validate(tables)


def _up(rng: random.Random) -> Tables:
    """What is done from a ladder: ours by one method or by all of them, or the site's; most minds the usual wind."""
    one: Tables = {"minutes": rng.randint(1, 5), "kit": ["ladder"]}
    stage: Tables = {
        "kind": rng.choice(("clear gutters", "clear gutters", "look", "rinse")),
        "surface": rng.choice(("gutter", "gutter", "wall")),
        "methods": {"one": one},
    }
    if rng.random() < 0.3:
        one["kit"], stage["tags"] = [], ["ladder"]
    elif rng.random() < 0.3:
        stage["methods"]["two"] = {"minutes": one["minutes"] + rng.randint(0, 2)}
    if rng.random() < 0.2:
        stage["windiest"] = rng.choice((20.0, 40.0))
    return stage


def _about_its_feet(rng: random.Random, kit: Tables, up: Tables) -> Tables:
    """The path that a ladder stands on is flushed or treated; mostly it is wanted again after that, or before."""
    kit["ladder"] |= {"set_up": rng.randint(1, 2), "pack_down": rng.randint(1, 2)}
    up["kind"], up["surface"] = "look", rng.choice(("gutter", "wall"))
    up["methods"]["one"]["kit"] = ["ladder"]
    wet = rng.choice(({"kind": "flush"}, {"kind": "treat", "chemical": "hypochlorite"}))
    on_path = {"surface": "path", "methods": {"one": {"minutes": rng.randint(1, 4), "kit": rng.choice(([], ["jet"]))}}}
    again = {"kind": "look", "surface": "wall", "methods": {"one": {"minutes": rng.randint(1, 3), "kit": ["ladder"]}}}
    stages: Tables = {"up": up, "wet": wet | on_path}
    if rng.random() < 0.7:
        stages["wet"]["after"] = rng.choice(([], ["up"]))
        stages["again"] = again | {"after": rng.choice(([], ["wet"]))}
    return stages


def put_up_ladders(rng: random.Random, tables: Tables) -> None:
    """Let the gutters of a day be cleared, and its wall rinsed or treated, from a ladder that goes in over steps."""
    kit = tables["kit"]
    kit["ladder"] = {"load": 1, "mass": 14, "set_up": rng.choice((0, 2)), "tags": ["ladder"], "may_stay": True}
    for job in tables["jobs"].values():
        stages, surfaces = job["stages"], job["surfaces"]
        if "rear" in job["grounds"] and rng.random() < 0.5:
            surfaces["steps"] = {"ground": "rear", "area": 4}
            job["grounds"]["rear"]["way_in"]["over"] = ["steps"]
            if rng.random() < 0.6 and job["grounds"]["rear"]["supplies"].get("tap"):
                washing = {"minutes": rng.randint(5, 15), "kit": ["washer"]}
                stages["wash-steps"] = {"kind": "wash", "surface": "steps", "noisy": True, "methods": {"one": washing}}
        for name in ("gutters", "treat", "rinse"):
            if name in stages and rng.random() < (0.8 if name == "gutters" else 0.3):
                one = stages[name]["methods"]["one"]
                if rng.random() < 0.7:
                    one["kit"] = [*one.get("kit", []), "ladder"]
                else:
                    stages[name]["tags"] = ["ladder"]
