"""The days that are shipped, each planned once for all tests that ask something of such plans."""

from functools import cache
from pathlib import Path

from planner.day import Day
from planner.day.reading import read_day
from planner.engine import Result, plan_day

FOLDER = Path(__file__).parents[2] / "sample_days"

SAMPLES = tuple(sorted(path.stem for path in FOLDER.glob("*.toml")))

WORK = 1.0
"""Seconds of the solver's own count: enough for better plans than the careful order, on any machine the same ones."""


@cache
def planned_sample(name: str) -> tuple[Day, Result]:
    """A day that is shipped, and what the engine found for it."""
    day = read_day(FOLDER / f"{name}.toml")
    return day, plan_day(day, seconds=WORK, deterministic=True)
