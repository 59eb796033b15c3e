"""A week of six days with eight jobs each, planned day beside day.

``python -m tests.benchmarks.week [--seconds S] [--days N] [--jobs N] [--at-once N] [--keep DIR]`` invents a week from
the shipped recipes, writes it as day files, plans the folder as a person would, and prints a row for each day. The week
is the same each time; with ``--keep`` its files stay in that folder.
"""

import argparse
import datetime as dt
import random
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from planner.day.day import FORMAT
from planner.day.reading import read_day
from planner.fit.side_by_side import cores
from planner.fit.week import plan_week
from tests.benchmarks.one_day import peak_memory
from tests.benchmarks.printing import Table

Tables = dict[str, Any]

MONDAY = dt.date(2026, 6, 15)
DAYS, JOBS = 6, 8


def gutters(rng: random.Random) -> Tables:
    """A gutter at the front."""
    return {"recipe": "clear-gutters", "ground": "front", "run": f"{rng.randint(6, 12)} m"}


def steps(rng: random.Random) -> Tables:
    """Front steps to treat and wash."""
    return {"recipe": "treat-steps", "ground": "front", "area": f"{rng.randint(2, 5)} m2"}


def drive(rng: random.Random) -> Tables:
    """A drive to treat and wash."""
    return {"recipe": "treat-drive", "ground": "front", "area": f"{rng.randint(6, 14)} m2"}


def garden_wall(rng: random.Random) -> Tables:
    """A wall behind the house."""
    return {"recipe": "treat-wall", "ground": "rear", "area": f"{rng.randint(4, 8)} m2"}


WORK: tuple[Callable[[random.Random], Tables], ...] = (
    gutters,
    steps,
    gutters,
    drive,
    gutters,
    steps,
    gutters,
    garden_wall,
)
"""What a day is made of, again from the start where it has more jobs."""


def week(days: int = DAYS, jobs: int = JOBS, seed: int = 1) -> dict[str, str]:
    """The names and texts of day files, the same for the same numbers."""
    return {f"{day.isoformat()}.toml": _day_text(day, jobs, seed) for day in _dates(days)}


def _dates(count: int) -> list[dt.date]:
    return [MONDAY + dt.timedelta(days=n) for n in range(count)]


def _day_text(date: dt.date, jobs: int, seed: int) -> str:
    """One day as TOML, lines written by hand as people write them."""
    rng = random.Random(f"{date}/{jobs}/{seed}")
    places = ["yard", *(f"house{n}" for n in range(jobs))]
    lines = [
        f"format = {FORMAT}",
        f'title = "Round of {date:%A}"',
        f"date = {date.isoformat()}",
        'start = "07:00"',
        'finish = "19:00"',
        'van = { starts_at = "yard", ends_at = "yard" }',
        "[places]",
        *(f"{place} = {{}}" for place in places),
        "[hands]",
        'first = { hours = ["06:30", "20:00"] }',
        'second = { hours = ["06:30", "20:00"] }',
    ]
    for n, one in enumerate(places):
        for other in places[n + 1 :]:
            lines += ["[[travel.trips]]", f'from = "{one}"', f'to = "{other}"', f'minutes = "{rng.randint(4, 12)} min"']
    for n in range(jobs):
        lines += _job_lines(rng, n)
    return "\n".join(lines) + "\n"


def _job_lines(rng: random.Random, n: int) -> list[str]:
    work = WORK[n % len(WORK)](rng)
    way = 'minutes = "1 min", load_limit = 2.0'
    if work["ground"] == "rear":
        way = 'minutes = "2 min", load_limit = 2.0, restricted = true'
    return [
        f"[jobs.house{n}]",
        f'title = "House {n + 1}"',
        f'place = "house{n}"',
        f"[jobs.house{n}.grounds.{work['ground']}]",
        "supplies = { tap = 1, socket = 2 }",
        f"way_in = {{ {way} }}",
        f"[[jobs.house{n}.recipes]]",
        *(f'{word} = "{value}"' for word, value in work.items()),
    ]


def write_week(folder: Path, days: int = DAYS, jobs: int = JOBS) -> None:
    """Write the day files of a week."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in week(days, jobs).items():
        (folder / name).write_text(text, encoding="utf-8")


def main() -> None:
    """Invent, plan, print."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.week", description=__doc__)
    parser.add_argument("--seconds", type=float, default=20.0, help="for each day (default %(default)s)")
    parser.add_argument("--days", type=int, default=DAYS, help="days in the week (default %(default)s)")
    parser.add_argument("--jobs", type=int, default=JOBS, help="jobs in each day (default %(default)s)")
    parser.add_argument("--at-once", type=int, help="days planned side by side (default: as the machine has cores)")
    parser.add_argument("--keep", type=Path, metavar="DIR", help="leave the day files there")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as spare:
        folder = asked.keep or Path(spare)
        write_week(folder, asked.days, asked.jobs)
        measure(folder, asked.seconds, asked.at_once)


def measure(folder: Path, seconds: float, at_once: int | None) -> None:
    """Plan a folder of days and print what came of it."""
    table = Table(("day", "stages", "jobs", "verdict", "home", "crossings", "on time"), first_width=18)
    began = time.monotonic()
    planned = plan_week(folder, seconds=seconds, count=at_once)
    took = time.monotonic() - began
    for line in planned.lines:
        day = read_day(folder / line.file)
        file, _, word, home, crossings, last = line.row()
        table.row(file, sum(1 for _ in day.stages()), len(day.jobs), word, home, crossings, last)
    table.say(planned.sentence)
    days = len(planned.lines)
    table.say(
        f"{days} days of {seconds:g} s each took {took:.0f} s on {cores()} cores; ours held {peak_memory():.0f} MB"
    )


if __name__ == "__main__":
    main()
