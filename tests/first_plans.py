"""A serial order exists whenever a plan does: the first plans of many random days, and how soon they are there.

    python -m tests.first_plans --days 1000

Days are those of the second opinion. A day without a first plan is planned to see whether it has any. It prints each
that has one after all, then the counts and the slowest, by the time of the processor. It exits with 1 if there was any
such day, or one whose first plan took more than a second.
"""

import argparse
import sys
import time

from planner import engine
from planner.day import Day
from planner.plan.checker import broken_rules
from tests.second_opinion import random_day

SOON = 1.0
"""Seconds of the processor."""


def first_in(day: Day) -> tuple[bool, float]:
    """Whether a day has a first plan that holds, and the seconds of the processor until it is there, or given up."""
    began = time.process_time()
    plan = engine.first_plan(day)
    seconds = time.process_time() - began
    return plan is not None and not broken_rules(day, plan), seconds


def has_a_plan(day: Day, seconds: float) -> str:
    """What planning says of a day without a first plan: found, impossible, or none found."""
    result = engine.plan_day(day, seconds=seconds, workers=1, deterministic=True)
    if result.plan is not None:
        return "found"
    return "impossible" if result.is_impossible else "none found"


def main() -> int:
    """Look at so many days; 1 when one had a plan but no first, or a late one."""
    parser = argparse.ArgumentParser(prog="python -m tests.first_plans", description=__doc__.split("\n\n")[0])
    parser.add_argument("--days", type=int, default=1000, help="how many (default %(default)s)")
    parser.add_argument("--seconds", type=float, default=10.0, help="of work for a day without (default %(default)s)")
    parser.add_argument("--seed", type=int, default=1, help="another seed, other days (default %(default)s)")
    parser.add_argument("--first", type=int, default=0, help="the number of the first (default %(default)s)")
    asked = parser.parse_args()
    engine.load_solver()
    counts = {"at once": 0, "late": 0, "found": 0, "impossible": 0, "none found": 0}
    slowest = (0.0, -1)
    for number in range(asked.first, asked.first + asked.days):
        day = random_day(number, asked.seed)
        is_there, seconds = first_in(day)
        slowest = max(slowest, (seconds, number))
        became = ("late" if seconds > SOON else "at once") if is_there else has_a_plan(day, asked.seconds)
        counts[became] += 1
        if became in ("late", "found", "none found"):
            print(f"day {number} of seed {asked.seed}: {became} ({seconds:.2f} s)", flush=True)
    told = ", ".join(f"{count} {words}" for words, count in counts.items())
    print(f"{asked.days} days: {told}; the slowest, day {slowest[1]}, took {slowest[0]:.2f} s")
    return int(bool(counts["late"] or counts["found"]))


if __name__ == "__main__":
    sys.exit(main())
