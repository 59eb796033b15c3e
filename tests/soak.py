"""A long run over random days: every plan must pass the checker, do nothing for nothing, and memory must stay flat.

``python -m tests.soak --days 500 --seconds 2 --seed 1`` plans so many random days one after another in one process, and
prints what it counted. The exit code is 1 when any plan was refused or broken or does something for nothing, anything
was raised, or memory grew. It takes up to ``seconds`` a day, and longer where a day that has no plan is explained.
"""

import ctypes
import gc
import sys
import traceback
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median

from planner import engine
from planner.day import Day
from planner.plan.checker import broken_rules
from planner.plan.plan import Plan
from tests.engine.edge_days import edge
from tests.engine.for_nothing_seen import done_for_nothing
from tests.engine.random_days import small, tiny
from tests.long_run import Tally, asked_of, told

MOST_GROWTH = 20.0
"""MB by which the last quarter of a run may lie above its second. What is not used is given back before it is measured;
what lies between pieces that are kept is not, and so runs of fifty days that leave no object behind differ by 16."""


@dataclass
class Counts(Tally):
    """What happened; ``memory`` is the resident size in MB after each day."""

    plans: int = 0
    proven: int = 0
    impossible: int = 0
    none_found: int = 0
    given_out: int = 0
    refused: int = 0
    broken: int = 0
    raised: int = 0
    wasteful: int = 0
    memory: list[float] = field(default_factory=list)

    @property
    def growth(self) -> float:
        """MB by which the last quarter lies above the second; 0 for a run too short to tell."""
        quarter = len(self.memory) // 4
        if quarter < 5:
            return 0.0
        return median(self.memory[-quarter:]) - median(self.memory[quarter : 2 * quarter])

    @property
    def has_failed(self) -> bool:
        """Whether anything happened that must not."""
        return bool(self.refused or self.broken or self.raised or self.wasteful) or self.growth > MOST_GROWTH

    def __str__(self) -> str:
        lines = [
            f"{self.days} days: {self.plans} planned ({self.proven} proven best), {self.impossible} without any plan, "
            f"{self.none_found} with none found in time",
            f"{self.given_out} plans given out on the way; refused by the checker {self.refused}, "
            f"broken when checked again {self.broken}, tracebacks {self.raised}; "
            f"{self.wasteful} days with something done for nothing",
        ]
        if self.memory:
            first, last = self.memory[0], self.memory[-1]
            lines.append(f"memory {first:.0f} MB at first, {last:.0f} at last, growth {self.growth:.0f}")
        return "\n".join(lines)


def random_day(number: int, seed: int) -> Day:
    """Of every four numbers a tiny day, a small one, one at the edges of the model, and another small one."""
    return (tiny, small, edge, small)[number % 4](seed * 100_000 + number)


def soak(days: int, seconds: float, seed: int, first: int = 0) -> Iterator[Counts]:
    """Plan so many random days from the first on; the counts after each."""
    counts = Counts()
    for number in range(first, first + days):
        plan_one(counts, number, seed, seconds)
        gc.collect()
        held = memory_held()
        if held is not None:
            counts.memory.append(held)
        yield counts


def plan_one(counts: Counts, number: int, seed: int, seconds: float) -> None:
    """Plan one day, check every plan that is given out again, and count."""
    name = f"day {number} of seed {seed}"
    given: list[Plan] = []
    counts.days += 1
    try:
        day = random_day(number, seed)
        result = engine.plan_day(day, seconds=seconds, on_better=given.append)
        if result.plan is not None:
            given.append(result.plan)
        broken = [b for plan in given for b in broken_rules(day, plan)]
        waste = [] if result.plan is None or broken else done_for_nothing(day, result.plan)
    except Exception:
        counts.raised += 1
        counts.faults.append(f"{name}: {traceback.format_exc()}")
        return
    counts.given_out += len(given)
    counts.refused += bool(result.refused)
    counts.broken += bool(broken)
    counts.wasteful += bool(waste)
    counts.faults += [f"{name}: refused: {text}" for text in result.refused]
    counts.faults += [f"{name}: rule {b.rule}: {b.text}" for b in broken]
    counts.faults += [f"{name}: for nothing: {text}" for text in waste]
    if result.plan is not None:
        counts.plans += 1
        counts.proven += result.plan.proof is not None and result.plan.proof.is_best
    elif result.is_impossible:
        counts.impossible += 1
    else:
        counts.none_found += 1


def memory_held() -> float | None:
    """MB that this process holds once the allocator has given back what it can; None where the system says neither.

    Else it keeps tens of MB of what the solver's threads have freed, now more and now less, which hide a leak as large.
    """
    give_back = getattr(ctypes.CDLL(None), "malloc_trim", None) if sys.platform == "linux" else None
    if give_back is None:
        return None
    give_back(0)
    status = Path("/proc/self/status")
    if not status.exists():
        return None
    line = next(line for line in status.read_text("ascii").splitlines() if line.startswith("VmRSS:"))
    return int(line.split()[1]) / 1e3


def main() -> int:
    """Run, print the counts and every fault; 1 when anything failed."""
    return told(soak, asked_of("soak", __doc__, days=500, seconds=2.0))


if __name__ == "__main__":
    sys.exit(main())
