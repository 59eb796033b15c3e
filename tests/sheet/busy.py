"""A day as full as one likes, with a plan written by a plain rule, to see what the picture does when it is crowded.

At each job one hand goes through the house again and again, each time for a treatment that dwells, a sweep that
fills the dwell, and a rinse; the other hand clears the front meanwhile.
"""

from typing import Any

from planner.day import Day
from planner.plan.plan import Carried, Chore, Crossing, Drive, Plan, Rest, Stay, Visit, Work

FIRST, DRIVE, WALK, TREAT, SWEEP, RINSE, FRONT = 420, 10, 1, 6, 7, 5, 8
KIT = ("sprayer", "broom")


def busy_day(jobs: int = 4, rounds: int = 4) -> Day:
    """A day of so many jobs, each with so many rounds of four stages."""
    tables: dict[str, Any] = {
        "date": "2026-11-03",
        "title": "A full day",
        "start": FIRST,
        "finish": 1140,
        "van": {"starts_at": "yard", "ends_at": "yard"},
        "hands": {"ash": {"name": "Ash"}, "bo": {"name": "Bo"}},
        "places": {"yard": {"name": "The yard", "at": [53.1, -2.0]}},
        "travel": {"trips": []},
        "weather": [{"minute": 600, "air": 9, "humidity": 0.8, "wind": 12, "rain_chance": 0.6}],
        "kit": {
            "sprayer": {"name": "Sprayer", "set_up": 1, "pack_down": 1},
            "broom": {"name": "Stiff broom", "load": 0.5},
            "poles": {"name": "Gutter poles", "own": 2},
        },
        "jobs": {},
    }
    for number in range(1, jobs + 1):
        key = f"job{number}"
        tables["places"][key] = {"name": f"{number} Alder Row"}
        before = "yard" if number == 1 else f"job{number - 1}"
        tables["travel"]["trips"].append({"from": before, "to": key, "minutes": DRIVE})
        tables["jobs"][key] = _job(number, rounds)
    tables["travel"]["trips"].append({"from": f"job{jobs}", "to": "yard", "minutes": DRIVE})
    return Day.model_validate(tables)


def _job(number: int, rounds: int) -> dict[str, Any]:
    spray, broom, poles = (
        {"x": {"kit": [kit], "minutes": m}} for kit, m in (("sprayer", TREAT), ("broom", SWEEP), ("poles", FRONT))
    )
    stages: dict[str, Any] = {}
    for i in range(rounds):
        stages |= {
            f"treat{i}": {"kind": "treat", "surface": "wall", "chemical": "hypochlorite", "methods": spray},
            f"sweep{i}": {"kind": "sweep", "surface": "path", "makes": ["dust"], "methods": broom},
            f"rinse{i}": {
                "kind": "rinse", "surface": "wall", "rinses": True,
                "methods": {"x": {"kit": ["sprayer"], "minutes": RINSE}},
            },
            f"front{i}": {"kind": "clear gutters", "surface": "gutter", "methods": poles},
        }  # fmt: skip
    return {
        "title": f"{number} Alder Row, walls and gutters",
        "place": f"job{number}",
        "quiet": [[0, 480]],
        "done_by": 1080,
        "grounds": {
            "rear": {
                "name": "Rear yard",
                "way_in": {"minutes": WALK, "restricted": True, "through": "the hallway", "load_limit": 2},
            },
            "front": {"name": "Front"},
        },
        "surfaces": {
            "wall": {"name": "North wall", "ground": "rear", "stood_on": False},
            "path": {"name": "Path", "ground": "rear"},
            "gutter": {"name": "Gutter", "ground": "front", "stood_on": False},
        },
        "stages": stages,
        "waits": [
            {"after": f"treat{i}", "before": f"rinse{i}", "kind": "dwell", "least": 8, "most": 20}
            for i in range(rounds)
        ],
    }


def busy_plan(day: Day) -> Plan:
    """The rounds of each job one after another."""
    parts: dict[str, list[Any]] = {
        name: [] for name in ("drives", "visits", "works", "crossings", "stays", "chores", "rests")
    }
    at, place = FIRST, "yard"
    for job in day.jobs:
        parts["drives"].append(Drive(place, job, at, at + DRIVE))
        at, place, arrive = at + DRIVE, job, at + DRIVE
        for i in range(len(day.jobs[job].stages) // 4):
            at = _round(parts, job, i, at)
        parts["rests"].append(Rest("bo", at - 6, at))
        parts["visits"].append(Visit(job, 1, arrive, at))
    parts["drives"].append(Drive(place, "yard", at, at + DRIVE))
    return Plan(**{name: tuple(found) for name, found in parts.items()})


def _round(parts: dict[str, list[Any]], job: str, i: int, start: int) -> int:
    """One round, from the start of its crossing; gives back its end."""
    treat = start + WALK + 1
    sweep = treat + TREAT
    rinse = sweep + SWEEP + 2
    out = rinse + RINSE + 1
    carried = tuple(Carried(kit) for kit in KIT)
    parts["crossings"].append(Crossing(job, 1, "rear", "ash", start, out + WALK, carried, carried))
    parts["stays"] += [Stay(job, "rear", kit, i + 1, 1, 1, start + WALK, out) for kit in KIT]
    parts["chores"] += [
        Chore("set up", job, 1, "rear", ("ash",), start + WALK, treat, "sprayer", i + 1),
        Chore("pack down", job, 1, "rear", ("ash",), out - 1, out, "sprayer", i + 1),
    ]
    parts["works"] += [
        Work(job, f"treat{i}", "x", ("ash",), 1, treat, treat + TREAT, (("sprayer", i + 1),)),
        Work(job, f"sweep{i}", "x", ("ash",), 1, sweep, sweep + SWEEP, (("broom", i + 1),)),
        Work(job, f"rinse{i}", "x", ("ash",), 1, rinse, rinse + RINSE, (("sprayer", i + 1),)),
        Work(job, f"front{i}", "x", ("bo",), 1, start, start + FRONT, (("poles", i + 1),)),
    ]
    parts["stays"].append(Stay(job, "front", "poles", i + 1, 1, 1, start, start + FRONT))
    return out + WALK + 2
