"""One day, one plan: each day is planned by other numbers of threads, seeds, keys and orders of tables, and compared.

    python -m tests.one_plan                      # all sample days, and thirty random ones
    python -m tests.one_plan --days 0 FILE...     # these files alone

Of each day it prints the value, the most seconds that the last word among equals took, and whether every plan that was
proven best is the same plan. It exits with 1 if any differ. Plans that are not proven are counted and prove nothing.
"""

import argparse
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from planner.day import Day
from planner.day.reading import read_day
from planner.engine import plan_day, search
from tests.engine.edge_days import edge
from tests.engine.random_days import small, tiny
from tests.engine.told_otherwise import ToldOtherwise, named, said, told_otherwise

SAMPLES = Path(__file__).parents[1] / "sample_days"

TRIED = ((1, 0), (2, 1), (6, 2))
"""Threads and seeds of the plans of a day; all but the first are of the day told otherwise."""

MAKERS: tuple[Callable[[int], Day], ...] = (tiny, small, edge)


@dataclass
class Seen:
    """What became of one day: the plans in the words of the day, the values proven, the seconds of the last word."""

    name: str
    plans: list[Any] = field(default_factory=list)
    values: set[int] = field(default_factory=set)
    last_word: float = 0.0
    unproven: int = 0

    @property
    def differs(self) -> bool:
        """Whether two plans that were proven best are not one plan."""
        return any(plan != self.plans[0] for plan in self.plans[1:]) or len(self.values) > 1

    def __str__(self) -> str:
        same = "DIFFERS" if self.differs else f"the same {len(self.plans)} times" if self.plans else "not proven"
        value = "/".join(str(value) for value in sorted(self.values)) or "-"
        open_plans = f", {self.unproven} not proven" if self.unproven and self.plans else ""
        return f"{self.name:24} {value:>6} {self.last_word:10.2f} s   {same}{open_plans}"


def seen(name: str, day: Day, seconds: float) -> Seen:
    """A day planned in all ways; each in no more than so many seconds."""
    found = Seen(name)
    ways = [ToldOtherwise(day, {}), *(told_otherwise(day, n) for n in range(len(TRIED) - 1))]
    for way, (workers, seed) in zip(ways, TRIED, strict=True):
        with _timed() as times:
            plan = plan_day(way.day, seconds=seconds, workers=workers, seed=seed).plan
        found.last_word = max([found.last_word, *times])
        if plan is not None and plan.proof is not None and plan.proof.is_best:
            found.values.add(plan.proof.value)
            found.plans.append(way.in_first_words(plan) if way.meant else said(plan))
        else:
            found.unproven += 1
    return found


@contextmanager
def _timed() -> Iterator[list[float]]:
    """The seconds that each last word takes meanwhile."""
    times, real = [], search.last_word

    def timed(*args: Any, **words: Any) -> Any:
        began = time.monotonic()
        try:
            return real(*args, **words)
        finally:
            times.append(time.monotonic() - began)

    search.last_word = timed
    try:
        yield times
    finally:
        search.last_word = real


def main() -> int:
    """Plan all of them; 1 when some day had two plans."""
    parser = argparse.ArgumentParser(prog="python -m tests.one_plan", description=__doc__.split("\n\n")[0])
    parser.add_argument("files", nargs="*", type=Path, metavar="FILE", help="day files (default: all sample days)")
    parser.add_argument("--days", type=int, default=30, help="random days beside them (default %(default)s)")
    parser.add_argument("--seconds", type=float, default=60.0, help="for each plan (default %(default)s)")
    parser.add_argument("--first", type=int, default=0, help="the number of the first random day (default %(default)s)")
    asked = parser.parse_args()
    days = [(file.stem, named(read_day(file))) for file in asked.files or sorted(SAMPLES.glob("*.toml"))]
    numbers = range(asked.first, asked.first + asked.days)
    days += [(f"{MAKERS[n % 3].__name__} {n}", named(MAKERS[n % 3](n))) for n in numbers]
    different = 0
    for name, day in days:
        found = seen(name, day, asked.seconds)
        different += found.differs
        print(found, flush=True)
    print(f"{len(days)} days, {different} with more than one plan")
    return int(bool(different))


if __name__ == "__main__":
    sys.exit(main())
