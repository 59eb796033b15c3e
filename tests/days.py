"""Small days for tests, built in code."""

from typing import Any

from planner.day import Day
from planner.day.sections import in_sections
from planner.day.words import FILE
from planner.trade.recipes.laying_out import expand

Tables = dict[str, Any]


def at_elm(job: Tables, *, drive: int | str = 10, **tables: Any) -> Tables:
    """The tables of a day with one job at Elm, so far from the yard, for Ash alone unless others are named."""
    day = {
        "date": "2026-06-16",
        "van": {"starts_at": "yard", "ends_at": "yard"},
        "hands": {"ash": {}},
        "places": {"yard": {}, "elm": {}},
        "travel": {"trips": [{"from": "yard", "to": "elm", "minutes": drive}]},
        "jobs": {"elm": {"place": "elm", **job}},
    }
    return day | tables


def by_recipes(job: Tables, *, drive: str = "10 min", **tables: Any) -> Day:
    """A day with one job at Elm as a file says it, by the shipped recipes: laid out, and in sections."""
    written = {"format": 1, **at_elm(job, drive=drive, **tables)}
    return in_sections(Day.model_validate(expand(written), context=FILE))


def tiny_day(**changes: Any) -> Day:
    """One hand, one rear ground through the house: treat, dwell, rinse, and a sweep to fill the wait."""
    tables: dict[str, Any] = {
        "date": "2026-06-16",
        "start": 480,
        "finish": 780,
        "van": {"starts_at": "yard", "ends_at": "yard"},
        "hands": {"ash": {"hours": [480, 900], "cost_per_hour": 24}},
        "places": {"yard": {}, "elm": {}},
        "travel": {"trips": [{"from": "yard", "to": "elm", "minutes": 10}]},
        "kit": {
            "sprayer": {"load": 1, "set_up": 4, "pack_down": 4},
            "washer": {"load": 2, "set_up": 6, "pack_down": 5, "supply": ["tap"]},
            "broom": {"load": 0.5},
        },
        "jobs": {
            "elm": {
                "title": "Elm Cottage",
                "place": "elm",
                "grounds": {
                    "rear": {
                        "supplies": {"tap": 1},
                        "way_in": {"minutes": 2, "restricted": True, "through": "the house", "load_limit": 2},
                    }
                },
                "surfaces": {
                    "wall": {"ground": "rear", "stood_on": False, "area": 20},
                    "path": {"ground": "rear", "area": 10},
                },
                "stages": {
                    "treat": {
                        "kind": "treat",
                        "surface": "wall",
                        "methods": {"spray": {"kit": ["sprayer"], "minutes": 12}},
                    },
                    "rinse": {
                        "kind": "rinse",
                        "surface": "wall",
                        "rinses": True,
                        "methods": {"lance": {"kit": ["washer"], "minutes": 15}},
                    },
                    "sweep": {
                        "kind": "sweep",
                        "surface": "path",
                        "methods": {"broom": {"kit": ["broom"], "minutes": 20}},
                    },
                },
                "waits": [{"after": "treat", "before": "rinse", "kind": "dwell", "least": 30, "most": 45}],
            }
        },
    }
    return Day.model_validate(tables | changes)
