"""What the long runs over random days share: the words that ask for one, what it prints on its way, how it ends."""

import argparse
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import TypeVar


@dataclass
class Tally:
    """What happened on so many days. ``faults`` say which day and what."""

    days: int = 0
    faults: list[str] = field(default_factory=list)

    @property
    def has_failed(self) -> bool:
        """Whether anything happened that must not."""
        return bool(self.faults)


Some = TypeVar("Some", bound=Tally)


def asked_of(name: str, about: str | None, *, days: int, seconds: float) -> argparse.Namespace:
    """What the command line asks for: which random days, and how many seconds for each."""
    parser = argparse.ArgumentParser(prog=f"python -m tests.{name}", description=about)
    parser.add_argument("--days", type=int, default=days, help="how many (default %(default)s)")
    parser.add_argument("--first", type=int, default=0, help="the number of the first (default %(default)s)")
    parser.add_argument("--seconds", type=float, default=seconds, help="for each plan (default %(default)s)")
    parser.add_argument("--seed", type=int, default=1, help="another seed, other days (default %(default)s)")
    return parser.parse_args()


def told(run: Callable[[int, float, int, int], Iterator[Some]], asked: argparse.Namespace, *, every: int = 25) -> int:
    """Run and print every fault as it comes, the tally every so many days and at the end; 1 when it has failed."""
    began, tally, known = time.monotonic(), Tally(), 0
    for tally in run(asked.days, asked.seconds, asked.seed, asked.first):
        for fault in tally.faults[known:]:
            print(fault, flush=True)
        known = len(tally.faults)
        if tally.days % every == 0 and tally.days < asked.days:
            print(f"after {time.monotonic() - began:.0f} s: {tally}", flush=True)
    print(tally)
    print("FAILED" if tally.has_failed else "All held.")
    return int(tally.has_failed)
