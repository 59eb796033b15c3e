"""Days of any size, for measuring how cost grows with it: invented, and the same for the same numbers.

Every job has a rear ground through the house and a front one, and five stages or more. They come in groups of five:
sweep, treat, rinse after the dwell and wash a patio at the rear, and clear a gutter at the front.
"""

import random
from typing import Any

from planner.day import Day

Tables = dict[str, Any]

KIT: Tables = {
    "brooms": {"load": 0.5},
    "sprayer": {"load": 0.75, "set_up": 3, "pack_down": 3},
    "hose": {"load": 0.5, "set_up": 2, "supply": ["tap"], "own": 2},
    "washer": {"load": 1.25, "set_up": 4, "pack_down": 4, "needs": ["hose"], "supply": ["socket"]},
    "poles": {"load": 1.5, "set_up": 4, "pack_down": 4},
}
GROUP = (("sweep", "brooms"), ("treat", "sprayer"), ("rinse", "hose"), ("wash", "washer"), ("gutter", "poles"))
WORK, LONGEST = 400, 20
"""Minutes of all stages in a day, and of one stage as it is in small days: days of every size can be done in one."""


def made_day(stages: int, jobs: int, hands: int, seed: int = 0) -> Day:
    """A day of so many stages, spread over so many jobs, for so many hands."""
    rng = random.Random(f"{stages}/{jobs}/{hands}/{seed}")
    shares = [stages // jobs + (n < stages % jobs) for n in range(jobs)]
    likely = min(LONGEST, WORK / stages)
    places = ["yard", *(f"place{n}" for n in range(jobs))]
    return Day.model_validate(
        {
            "title": f"{stages} stages, {jobs} jobs, {hands} hands",
            "date": "2026-06-16",
            "start": 420,
            "finish": 1200,
            "van": {"starts_at": "yard", "ends_at": "yard"},
            "hands": {f"hand{n}": {} for n in range(hands)},
            "places": {place: {} for place in places},
            "travel": {
                "trips": [
                    {"from": one, "to": other, "minutes": rng.randint(5, 15)}
                    for n, one in enumerate(places)
                    for other in places[n + 1 :]
                ]
            },
            "kit": KIT,
            "jobs": {f"job{n}": _job(rng, places[n + 1], share, likely) for n, share in enumerate(shares)},
        }
    )


def _job(rng: random.Random, place: str, stages: int, likely: float) -> Tables:
    surfaces: Tables = {}
    made: Tables = {}
    waits: list[Tables] = []
    for n in range(stages):
        group, step = divmod(n, len(GROUP))
        what, kit = GROUP[step]
        surface = f"gutter{group}" if what == "gutter" else f"patio{group}"
        surfaces[surface] = {"ground": "front" if what == "gutter" else "rear"}
        minutes = max(1, round(likely * rng.uniform(0.6, 1.4)))
        made[f"{what}{group}"] = {
            "surface": surface,
            "methods": {"one": {"minutes": minutes, "kit": [kit]}},
            "after": [f"sweep{group}"] if step in (1, 3) else [],
        }
        if what == "rinse":
            dwell = rng.randint(15, 40)
            bounds = {"kind": "dwell", "least": dwell, "most": dwell + 60}
            waits.append({"after": f"treat{group}", "before": f"rinse{group}"} | bounds)
    return {
        "place": place,
        "grounds": {
            "rear": {
                "way_in": {"minutes": 2, "restricted": True, "load_limit": 2.0},
                "supplies": {"tap": 1, "socket": 2},
            },
            "front": {"supplies": {"tap": 1, "socket": 1}},
        },
        "surfaces": surfaces,
        "stages": made,
        "waits": waits,
    }
