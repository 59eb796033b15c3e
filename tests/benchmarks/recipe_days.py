"""Days of any size written by recipes, for measuring how cost grows: invented, and the same for the same numbers.

Their stages have what drawn ones lack: several methods, kit that needs kit, treatments and fillers to carry, waits with
a most, nuisances. A job has a rear ground through the house, a front one, and a side one behind a gate.
"""

import random
from pathlib import Path

from planner.day import Day
from planner.day.reading import day_from_text

RECIPES = {
    "treat-wall": (3, "rear", "area"),
    "treat-drive": (4, "front", "area"),
    "clear-gutters": (1, "front", "run"),
    "treat-steps": (3, "side", "area"),
    "soft-wash-render": (4, "rear", "area"),
    "clean-and-repoint-patio": (8, "rear", "joints"),
}
"""Of each recipe: its stages without conditions, the ground it is used on, and what it is measured by."""

USUAL_STAGES = 36
"""Days of more stages have smaller surfaces, so that days of every size can be done in one."""

HEAD = """
format = 1
title = "{title}"
date = 2026-06-24
start = "06:30"
finish = "22:00"

[van]
starts_at = "yard"
ends_at = "yard"

[places]
{places}

[travel]
trips = [
{trips}
]
"""

GROUNDS = {
    "rear": 'tap = 1, socket = 2|minutes = "2 min", load_limit = 2.0, restricted = true, through = "the house"',
    "front": 'tap = 1, socket = 1|minutes = "1 min"',
    "side": 'tap = 1, socket = 1|minutes = "2 min", load_limit = 2.0',
}
"""What each ground has, and the way to it."""


def recipe_day(stages: int, jobs: int, hands: int, seed: int = 0) -> Day:
    """A day of about so many stages (no fewer), spread over so many jobs, for so many hands.

    Parameters
    ----------
    stages, jobs, hands : int
        Its size.
    seed : int
        Days of one size differ by it.
    """
    rng = random.Random(f"recipes {stages}/{jobs}/{hands}/{seed}")
    names = [f"job{n}" for n in range(jobs)]
    shares = [stages // jobs + (n < stages % jobs) for n in range(jobs)]
    places = ["yard", *names]
    trips = [
        f'    {{ from = "{one}", to = "{other}", minutes = "{rng.randint(5, 15)} min" }},'
        for n, one in enumerate(places)
        for other in places[n + 1 :]
    ]
    text = HEAD.format(
        title=f"{stages} stages by recipe, {jobs} jobs, {hands} hands",
        places="\n".join(f"{place} = {{}}" for place in places),
        trips="\n".join(trips),
    )
    text += "".join(f"\n[hands.hand{n}]\n" for n in range(hands))
    size = min(1.0, USUAL_STAGES / stages)
    text += "".join(_job(rng, name, share, size) for name, share in zip(names, shares, strict=True))
    return day_from_text(text, Path("recipes.toml"))


def _job(rng: random.Random, job: str, stages: int, size: float) -> str:
    """A job whose recipes have together so many stages: the long ones seldom, single ones where no other fits."""
    uses, grounds, used = "", set(), 0
    while used < stages:
        fitting = [name for name, (count, _, _) in RECIPES.items() if count <= stages - used]
        usual = [name for name in fitting if RECIPES[name][0] in (3, 4)]
        name = rng.choice(usual) if usual and rng.random() < 0.8 else rng.choice(fitting)
        count, ground, measure = RECIPES[name]
        uses += f'\n[[jobs.{job}.recipes]]\nrecipe = "{name}"\nprefix = "r{used}"\nground = "{ground}"\n'
        uses += _measures(rng, measure, size)
        grounds.add(ground)
        used += count
    text = f'\n[jobs.{job}]\nplace = "{job}"\n'
    for ground in sorted(grounds):
        supplies, way_in = GROUNDS[ground].split("|")
        text += f"\n[jobs.{job}.grounds.{ground}]\nsupplies = {{ {supplies} }}\nway_in = {{ {way_in} }}\n"
    return text + uses


def _measures(rng: random.Random, measure: str, size: float) -> str:
    if measure == "run":
        return f'run = "{max(3, round(rng.randint(6, 12) * size))} m"\n'
    area = max(3, round(rng.randint(6, 16) * size))
    joints = 'slab = "600 x 600 mm"\njoint_width = "10 mm"\n' if measure == "joints" else ""
    return f'area = "{area} m2"\n{joints}'
