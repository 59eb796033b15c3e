"""Where a surface cleaner is worth its trip: area against way in against method, by planning.

Each day is one patio to clean and repoint, planned once with the lance alone and once with the surface cleaner alone;
the value is minutes home and the price of each crossing through a house. What is not proven best within the seconds has
a ~ before it. Prints a table and judges nothing.

    python -m tests.benchmarks.surface_cleaner [--seconds S]
"""

import argparse
from typing import Any

from planner.day import Day
from planner.engine import plan_day
from planner.plan.measures import measure
from tests.days import by_recipes

AREAS = (8.0, 12.0, 24.5, 40.0, 60.0)
WAYS: dict[str, dict[str, Any]] = {
    "open, 1 min": {"minutes": "1 min"},
    "side, 3 min": {"minutes": "3 min"},
    "house, 3 min": {"minutes": "3 min", "restricted": True, "through": "the house", "protection": "ours"},
}
METHODS = ("lance", "surface-cleaner")


def day_of(area: float, way: dict[str, Any], method: str) -> Day:
    """A patio washed by one method only, from 07:30, with as much evening as it takes."""
    others = [f"wash.{other}" for other in METHODS if other != method]
    job = {
        "grounds": {"paved": {"supplies": {"tap": 1, "socket": 2}, "way_in": way}},
        "recipe": "clean-and-repoint-patio",
        "measures": {"area": f"{area} m2", "slab": "900 x 600 mm", "joint_width": "10 mm"},
        "drop": others,
    }
    return by_recipes(job, drive="20 min", finish="23:00")


def value(area: float, way: dict[str, Any], method: str, seconds: float) -> tuple[float | None, bool]:
    """The value of the best plan found, and whether it is proven best; None where none was found."""
    day = day_of(area, way, method)
    plan = plan_day(day, seconds=seconds, deterministic=True).plan
    if plan is None:
        return None, False
    return measure(day, plan).value, plan.proof is not None and plan.proof.is_best


def main() -> None:
    """Print the table."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--seconds", type=float, default=2.0)
    seconds = words.parse_args().seconds
    print(f"{'way in':<14}{'m2':>6}{'lance':>8}{'cleaner':>9}{'saved':>7}")
    for name, way in WAYS.items():
        for area in AREAS:
            found = [value(area, way, method, seconds) for method in METHODS]
            (lance, first), (cleaner, second) = found
            saved = "-" if lance is None or cleaner is None else f"{lance - cleaner:.0f}"
            saved = saved if first and second else f"~{saved}"
            shown = ["-" if one is None else f"{'' if proven else '~'}{one:.0f}" for one, proven in found]
            print(f"{name:<14}{area:>6g}{shown[0]:>8}{shown[1]:>9}{saved:>7}", flush=True)


if __name__ == "__main__":
    main()
