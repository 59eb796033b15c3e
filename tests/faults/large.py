"""A day of very many short stages, which one person could still do one after another before it ends."""

from typing import Any

from planner.day import Day

Tables = dict[str, Any]

KIT: Tables = {
    "brush": {"load": 0.5},
    "scraper": {"load": 0.25},
    "sprayer": {"load": 0.5, "set_up": 1, "pack_down": 1},
    "hose": {"load": 0.5, "set_up": 1, "pack_down": 1, "supply": ["tap"]},
}


def large_day(stages: int = 150, jobs: int = 6, hands: int = 2) -> Day:
    """A day of so many stages, spread evenly over so many jobs with a rear ground through the house and a front."""
    places = ["yard", *(f"place{n}" for n in range(jobs))]
    return Day.model_validate(
        {
            "title": f"{stages} stages",
            "date": "2026-06-16",
            "start": 420,
            "finish": 1260,
            "van": {"starts_at": "yard", "ends_at": "yard"},
            "hands": {f"hand{n}": {} for n in range(hands)},
            "places": {place: {} for place in places},
            "travel": {
                "trips": [
                    {"from": one, "to": other, "minutes": 5}
                    for n, one in enumerate(places)
                    for other in places[n + 1 :]
                ]
            },
            "kit": KIT,
            "jobs": {f"job{n}": _job(f"place{n}", stages // jobs + (n < stages % jobs)) for n in range(jobs)},
        }
    )


def _job(place: str, stages: int) -> Tables:
    """The last two stages treat and rinse a patio; the others brush and scrape, first at the rear, then in front."""
    surfaces: Tables = {"patio": {"ground": "rear"}}
    made: Tables = {}
    for n in range(stages - 2):
        step = f"step{n}"
        surfaces[step] = {"ground": "rear" if n < stages // 2 else "front"}
        kit = "brush" if n % stages < stages // 4 or n % stages > 3 * stages // 4 else "scraper"
        made[f"clean{n}"] = {"surface": step, "methods": {"one": {"minutes": 1 + n % 2, "kit": [kit]}}}
    made["treat"] = {"surface": "patio", "methods": {"one": {"minutes": 2, "kit": ["sprayer"]}}}
    made["rinse"] = {"surface": "patio", "methods": {"one": {"minutes": 2, "kit": ["hose"]}}}
    return {
        "place": place,
        "grounds": {
            "rear": {"way_in": {"minutes": 1, "restricted": True, "load_limit": 2.0}, "supplies": {"tap": 1}},
            "front": {"supplies": {"tap": 1}},
        },
        "surfaces": surfaces,
        "stages": made,
        "waits": [{"after": "treat", "before": "rinse", "kind": "dwell", "least": 10, "most": 40}],
    }
