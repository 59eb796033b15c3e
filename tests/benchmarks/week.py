"""A week of six days with eight jobs each, planned side by side.

``python -m tests.benchmarks.week [--seconds S]``: each day has 40 invented stages for two hands. What counts is how
many days are planned, and how long the whole takes against the seconds that each day is given.
"""

import argparse
import datetime as dt
import tempfile
import time
from pathlib import Path

from planner.day.file import write_day
from planner.fit.week import plan_week
from tests.benchmarks.made_days import made_day
from tests.benchmarks.printing import Table

DAYS, STAGES, JOBS, HANDS = 6, 40, 8, 2
MONDAY = dt.date(2026, 6, 15)


def main() -> None:
    """Plan the week and print it."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.week", description=__doc__)
    parser.add_argument("--seconds", type=float, default=20.0, help="for each day (default %(default)s)")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        for n in range(DAYS):
            day = made_day(STAGES, JOBS, HANDS, seed=n).model_copy(update={"date": MONDAY + dt.timedelta(days=n)})
            write_day(day, Path(folder) / f"day{n + 1}.toml")
        began = time.monotonic()
        week = plan_week(Path(folder), seconds=asked.seconds)
        spent = time.monotonic() - began
    table = Table(("day", "verdict", "home", "crossings", "fault"))
    for line in week.lines:
        file, _, verdict, home, crossings, _ = line.row()
        table.row(file, verdict, home or None, crossings or None, line.fault or None)
    table.say(f"{week.sentence} {spent:.0f} s for all, {asked.seconds:g} s given to each.")


if __name__ == "__main__":
    main()
