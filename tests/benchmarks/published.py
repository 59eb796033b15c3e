"""Project scheduling instances, solved by the engine that plans the days.

``python -m tests.benchmarks.published DIR [--seconds S] [--against]`` solves every PSPLIB ``.sm`` and RCPSP/max
``.sch`` file in DIR; with ``--against`` each is solved in the same run by pyjobshop and by a plain CP-SAT model too,
the order of the three turning with each instance. Best values that lie in DIR are compared with. The exit code is 1
when two proven answers to one instance differ. ``python -m tests.benchmarks.invent DIR`` writes instances where none
are at hand.
"""

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from statistics import median

import psplib

from tests.benchmarks.instance_files import instances, published_optima, read
from tests.benchmarks.instances import Answer, by_engine, by_library, by_plain_model
from tests.benchmarks.printing import Table

Solver = Callable[[psplib.ProjectInstance, float], Answer]
SOLVERS: dict[str, Solver] = {"engine": by_engine, "pyjobshop": by_library, "plain": by_plain_model}
LEAST_SECONDS = 0.01
"""Times below are taken as this much in ratios."""


def main() -> int:
    """Solve all, print the table and the medians; 1 when proven answers differ."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.published", description=__doc__)
    parser.add_argument("folder", type=Path, metavar="DIR", help="where the .sm and .sch files lie")
    parser.add_argument("--seconds", type=float, default=10.0, help="for each instance (default %(default)s)")
    parser.add_argument("--against", action="store_true", help="solve by pyjobshop and a plain CP-SAT model too")
    asked = parser.parse_args()
    files = instances(asked.folder) if asked.folder.is_dir() else []
    if not files:
        parser.error(f"there is no .sm or .sch file in {asked.folder}")
    solvers = SOLVERS if asked.against else {"engine": by_engine}
    columns = ["instance", "makespan", "bound", "status", "seconds"]
    columns += [f"{name} {what}" for name in list(solvers)[1:] for what in ("makespan", "s", "ratio")]
    table = Table([*columns, "published"])
    known = {name.lower(): best for name, best in published_optima(asked.folder).items()}
    answers: list[dict[str, Answer]] = []
    wrong = 0
    for number, path in enumerate(files):
        found = solve(path, solvers, asked.seconds, first=number % len(solvers))
        answers.append(found)
        wrong += tell(table, path.name, found, known.get(path.name.lower()))
    conclude(table, answers, wrong)
    return 1 if wrong else 0


def solve(path: Path, solvers: dict[str, Solver], seconds: float, *, first: int) -> dict[str, Answer]:
    """Solve an instance in each way, beginning with the one whose turn it is."""
    instance = read(path)
    names = list(solvers)
    turns = names[first:] + names[:first]
    found = {name: solvers[name](instance, seconds) for name in turns}
    return {name: found[name] for name in names}


def tell(table: Table, name: str, found: dict[str, Answer], known: int | str | None) -> bool:
    """Print an instance's row; True when what is proven of it differs, among the solvers or from what is published."""
    engine, *others = found.values()
    cells: list[object] = [engine.makespan, engine.bound, engine.status, engine.seconds]
    for other in others:
        cells += [other.makespan if other.status != "infeasible" else "none", other.seconds, ratio(engine, other)]
    proven = {a.outcome for a in found.values() if a.is_proven} | ({known} if known is not None else set())
    beaten = [a for a in found.values() if isinstance(known, int) and a.makespan is not None and a.makespan < known]
    differs = len(proven) > 1 or bool(beaten) or (known == "infeasible" and engine.makespan is not None)
    table.row(name, *cells, f"{known} DIFFERS" if differs else known)
    return differs


def ratio(engine: Answer, other: Answer) -> float:
    """How many times as long the engine took; below 1 it was the faster."""
    return max(LEAST_SECONDS, engine.seconds) / max(LEAST_SECONDS, other.seconds)


def conclude(table: Table, answers: list[dict[str, Answer]], wrong: int) -> None:
    """Print, below the table, how many were proven by each, and the medians."""
    table.say("")
    for name in answers[0]:
        proven = sum(found[name].is_proven for found in answers)
        seconds = median(found[name].seconds for found in answers)
        line = f"{name}: {proven} of {len(answers)} proven, median {seconds:.2f} s"
        if name != "engine":
            line += (
                f"; the engine takes {median(ratio(f['engine'], f[name]) for f in answers):.2f} of its time (median)"
            )
            both = [f for f in answers if f["engine"].makespan is not None and f[name].makespan is not None]
            better = sum(f["engine"].makespan < f[name].makespan for f in both)
            worse = sum(f["engine"].makespan > f[name].makespan for f in both)
            line += f", is shorter on {better} and longer on {worse}"
        table.say(line)
    table.say(f"{wrong} instances with answers that differ")


if __name__ == "__main__":
    sys.exit(main())
