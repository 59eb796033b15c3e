"""How long it takes to plan the rest of each sample day again: to a good plan, and to the end.

``python -m tests.benchmarks.replanning [FILE...]`` plans each day, lets it go by its plan until a part is over, with
the stage under way a quarter of an hour late, and plans the rest. It judges nothing.
"""

import sys
import time
from functools import partial
from pathlib import Path

from planner.day import Day
from planner.day.reading import read_day
from planner.engine import load_solver, plan_day, plan_rest
from planner.plan.doubts import with_likely
from planner.plan.plan import Plan
from planner.plan.progress import Noted, Progress
from planner.plan.what_changed import what_changed

SAMPLES = Path(__file__).parent.parent.parent / "sample_days"

PARTS = (0.3, 0.6)
"""How much of the time out is over when it is planned again."""

EVENING, ON_THE_DAY = 20.0, 10.0
"""Seconds to plan the day, as command and window take them unless told otherwise, and its rest."""

LATE = 15
"""Minutes by which the stage done last ran over."""


def told(day: Day, plan: Plan, part: float) -> Progress:
    """The record of a day that went by its plan for a part of it, but for its last stage."""
    at = round(plan.leaves + part * (plan.home - plan.leaves))
    over = sorted((w for w in plan.works if w.end <= at), key=lambda w: w.end)
    noted = [Noted(w.job, w.stage, w.start, w.end) for w in over]
    if over:
        last = over[-1]
        noted[-1] = Noted(last.job, last.stage, last.start, last.end + LATE)
        at = max(at, last.end + LATE)
    return with_likely(day, plan, Progress(at, tuple(noted), said=at))


def _note(found: list[tuple[float, int]], began: float, better: Plan) -> None:
    found.append((time.monotonic() - began, better.home))


def main() -> None:
    """Measure and print."""
    load_solver()
    files = [Path(name) for name in sys.argv[1:]] or sorted(SAMPLES.glob("*.toml"))
    print(f"{'day':<24}{'part':>5}{'first s':>9}{'good s':>8}{'end s':>8}  what changed")
    for file in files:
        day = read_day(file)
        plan = plan_day(day, seconds=EVENING).plan
        if plan is None:
            continue
        for part in PARTS:
            progress = told(day, plan, part)
            found: list[tuple[float, int]] = []
            began = time.monotonic()
            result = plan_rest(day, plan, progress, seconds=ON_THE_DAY, on_better=partial(_note, found, began))
            took = time.monotonic() - began
            if result.plan is None or result.day is None:
                print(f"{file.stem:<24}{part:>5}{'-':>9}{'-':>8}{took:>8.2f}  no plan")
                continue
            good = next((s for s, home in found if home <= result.plan.home * 1.01), took)
            first = found[0][0] if found else took
            words = what_changed(result.day, plan, result.plan, progress.at)
            print(f"{file.stem:<24}{part:>5}{first:>9.2f}{good:>8.2f}{took:>8.2f}  {words}", flush=True)


if __name__ == "__main__":
    main()
