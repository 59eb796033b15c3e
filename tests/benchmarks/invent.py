"""Random project scheduling instances in published formats, the same for the same seed.

``python -m tests.benchmarks.invent DIR [--count N] [--size N] [--seed N]`` writes so many PSPLIB ``.sm`` files and as
many RCPSP/max ``.sch`` files.

Networks and resources are drawn by the measures of Kolisch, Sprecher and Drexl (Management Science 41:1693, 1995) with
the levels of the PSPLIB sets (Kolisch and Sprecher, European Journal of Operational Research 96:205, 1996): network
complexity 1.5, 1.8, 2.1 (arcs for each node, none of them redundant); resource factor 0.25 to 1 (the part of the
resources that an activity draws on); resource strength 0.2 to 1 (0: just enough for each activity alone; 1: enough for
all to start at their earliest). Maximum lags close cycles, with some slack over the longest way through them (after
Schwindt, 1998). The papers are cited from memory.
"""

import argparse
import random
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from pathlib import Path

COMPLEXITY = (1.5, 1.8, 2.1)
FACTOR = (0.25, 0.5, 0.75, 1.0)
STRENGTH = (0.2, 0.5, 0.7, 1.0)
STRENGTH_WITH_LAGS = (0.0, 0.25, 0.5)
RESOURCES = 4
LONGEST, LARGEST_DEMAND, MOST_NEIGHBOURS, ENDS = 10, 10, 3, 3
DRAWS = 10
FAR_APART = -(10**9)


@dataclass(frozen=True)
class Project:
    """Activities 0 (source) to n + 1 (sink); an arc (i, j, n) means that j starts at least n after i starts."""

    minutes: list[int]
    demands: list[list[int]]
    capacities: list[int]
    arcs: list[tuple[int, int, int]]


def network(rng: random.Random, size: int, complexity: float) -> set[tuple[int, int]]:
    """Arcs between 0 (source) and size + 1 (sink), none redundant, ``complexity`` for each node where chance allows.

    Of several draws the one with most arcs is taken: not every beginning leaves room for enough of them.
    """
    return max((_drawn(rng, size, complexity) for _ in range(DRAWS)), key=len)


def _drawn(rng: random.Random, size: int, complexity: float) -> set[tuple[int, int]]:
    sink = size + 1
    arcs = {(0, j) for j in range(1, ENDS + 1)} | {(i, sink) for i in range(size - ENDS + 1, size + 1)}
    for j in range(ENDS + 1, size + 1):
        fit = [i for i in range(1, min(j, size - ENDS + 1)) if _leaving(arcs, i) < MOST_NEIGHBOURS]
        arcs.add((rng.choice(fit), j))
    for i in range(1, size - ENDS + 1):
        if _leaving(arcs, i) == 0:
            fit = [j for j in range(max(i, ENDS) + 1, size + 1) if _is_needed(arcs, i, j)]
            arcs.add((i, rng.choice(fit or [sink])))
    pairs = [(i, j) for i, j in product(range(1, size - ENDS + 1), range(ENDS + 1, size + 1)) if i < j]
    rng.shuffle(pairs)
    for i, j in pairs:
        if len(arcs) >= complexity * (size + 2):
            break
        few = _leaving(arcs, i) < MOST_NEIGHBOURS and sum(head == j for _, head in arcs) < MOST_NEIGHBOURS
        if few and _is_needed(arcs, i, j):
            arcs.add((i, j))
    return arcs


def _leaving(arcs: set[tuple[int, int]], i: int) -> int:
    return sum(tail == i for tail, _ in arcs)


def _is_needed(arcs: set[tuple[int, int]], i: int, j: int) -> bool:
    """Whether an arc would say something new, and leave no other saying nothing new."""
    before, after = _reached(arcs, i, back=True) | {i}, _reached(arcs, j, back=False) | {j}
    return j not in _reached(arcs, i, back=False) and not any(a in before and b in after for a, b in arcs)


def _reached(arcs: set[tuple[int, int]], start: int, *, back: bool) -> set[int]:
    found: set[int] = set()
    waiting = [start]
    while waiting:
        here = waiting.pop()
        for a, b in arcs:
            tail, head = (b, a) if back else (a, b)
            if tail == here and head not in found:
                found.add(head)
                waiting.append(head)
    return found


def longest_ways(size: int, arcs: list[tuple[int, int, int]]) -> list[list[int]]:
    """The longest way from each node to each, by Floyd and Warshall; far below zero where there is none."""
    nodes = range(size + 2)
    far = [[0 if i == j else FAR_APART for j in nodes] for i in nodes]
    for i, j, lag in arcs:
        far[i][j] = max(far[i][j], lag)
    for k, i, j in product(nodes, nodes, nodes):
        if far[i][k] > FAR_APART and far[k][j] > FAR_APART:
            far[i][j] = max(far[i][j], far[i][k] + far[k][j])
    return far


def project(rng: random.Random, size: int, complexity: float, factor: float, strength: float, *, lags: bool) -> Project:
    """Draw a project; with ``lags`` its arcs have random lags, and some cycles are closed by maximum lags."""
    minutes = [0, *(rng.randint(1, LONGEST) for _ in range(size)), 0]
    drawn = sorted(network(rng, size, complexity))
    arcs = [(i, j, rng.randint(1, minutes[i] + 5) if lags and i else minutes[i]) for i, j in drawn]
    if lags:
        arcs = [(i, j, minutes[i] if j == size + 1 else lag) for i, j, lag in arcs]
        arcs += _maximum_lags(rng, size, arcs)
    demands = _demands(rng, size, factor)
    starts = longest_ways(size, arcs)[0]
    capacities = []
    for r in range(RESOURCES):
        least = max(need[r] for need in demands)
        peak = max(
            sum(need[r] for s, m, need in zip(starts, minutes, demands, strict=True) if s <= t < s + m)
            for t in range(starts[-1] + 1)
        )
        capacities.append(least + round(strength * max(0, peak - least)))
    return Project(minutes, demands, capacities, arcs)


def _demands(rng: random.Random, size: int, factor: float) -> list[list[int]]:
    """What each activity draws on: at least one resource, and in all the part ``factor`` of activities x resources."""
    needs = [[0] * RESOURCES for _ in range(size + 2)]
    for n in range(1, size + 1):
        needs[n][rng.randrange(RESOURCES)] = rng.randint(1, LARGEST_DEMAND)
    free = [(n, r) for n in range(1, size + 1) for r in range(RESOURCES) if not needs[n][r]]
    rng.shuffle(free)
    for n, r in free[: round(factor * size * RESOURCES) - size]:
        needs[n][r] = rng.randint(1, LARGEST_DEMAND)
    return needs


def _maximum_lags(rng: random.Random, size: int, arcs: list[tuple[int, int, int]]) -> Iterator[tuple[int, int, int]]:
    """A backward arc for every tenth activity, no shorter than the longest way forward: no cycle is positive."""
    known = list(arcs)
    for _ in range(max(1, size // 10)):
        far = longest_ways(size, known)
        pairs = [(i, j) for i, j in product(range(1, size + 1), repeat=2) if i != j and far[i][j] > 0]
        i, j = rng.choice(pairs)
        arc = (j, i, -round(far[i][j] * rng.uniform(1.0, 1.6)))
        known.append(arc)
        yield arc


def as_sm(made: Project, name: str) -> str:
    """A project in the format of PSPLIB's single-mode files."""
    count, stars = len(made.minutes), "*" * 72
    after = [[j + 1 for i, j, _ in made.arcs if i == n] for n in range(count)]
    names = "  ".join(f"R {r + 1}" for r in range(RESOURCES))
    due = longest_ways(count - 2, made.arcs)[0][-1]
    lines = [
        stars,
        f"file with basedata            : {name}",
        "initial value random generator: 0",
        stars,
        "projects                      :  1",
        f"jobs (incl. supersource/sink ):  {count}",
        f"horizon                       :  {sum(made.minutes)}",
        "RESOURCES",
        f"  - renewable                 :  {RESOURCES}   R",
        "  - nonrenewable              :  0   N",
        "  - doubly constrained        :  0   D",
        stars,
        "PROJECT INFORMATION:",
        "pronr.  #jobs rel.date duedate tardcost  MPM-Time",
        f"    1   {count - 2:>4}      0     {due:>4}        0     {due:>4}",
        stars,
        "PRECEDENCE RELATIONS:",
        "jobnr.    #modes  #successors   successors",
        *(f"{n + 1:>4}        1     {len(to):>4}        {'  '.join(map(str, to))}" for n, to in enumerate(after)),
        stars,
        "REQUESTS/DURATIONS:",
        f"jobnr. mode duration  {names}",
        "-" * 72,
        *(
            f"{n + 1:>3}      1   {m:>3}     {'  '.join(f'{q:>3}' for q in need)}"
            for n, (m, need) in enumerate(zip(made.minutes, made.demands, strict=True))
        ),
        stars,
        "RESOURCEAVAILABILITIES:",
        f"  {names}",
        "  " + "  ".join(f"{c:>3}" for c in made.capacities),
        stars,
    ]
    return "\n".join(lines) + "\n"


def as_sch(made: Project) -> str:
    """A project with minimum and maximum lags in the format of the RCPSP/max files."""
    count = len(made.minutes)
    lines = [f"{count - 2}\t{RESOURCES}\t0\t0"]
    for n in range(count):
        leaving = [(j, lag) for i, j, lag in made.arcs if i == n]
        heads = [str(j) for j, _ in leaving]
        lags = [f"[{lag}]" for _, lag in leaving]
        lines.append("\t".join([str(n), "1", str(len(leaving)), *heads, *lags]))
    for n, (m, need) in enumerate(zip(made.minutes, made.demands, strict=True)):
        lines.append("\t".join(map(str, [n, 1, m, *need])))
    lines.append("\t".join(map(str, made.capacities)))
    return "\n".join(lines) + "\n"


def write(folder: Path, count: int, size: int, seed: int) -> None:
    """Write ``count`` instances of each kind, going round through the levels of all measures."""
    folder.mkdir(parents=True, exist_ok=True)
    plain = list(product(COMPLEXITY, FACTOR, STRENGTH))
    lagged = list(product(COMPLEXITY, FACTOR, STRENGTH_WITH_LAGS))
    for levels in (plain, lagged):
        random.Random(seed).shuffle(levels)
    for n in range(count):
        rng = random.Random(f"{seed}/{size}/{n}")
        name = f"made{size}_{seed}_{n + 1}"
        text = as_sm(project(rng, size, *plain[n % len(plain)], lags=False), name)
        (folder / f"{name}.sm").write_text(text, encoding="ascii")
        text = as_sch(project(rng, size, *lagged[n % len(lagged)], lags=True))
        (folder / f"{name}.sch").write_text(text, encoding="ascii")


def main() -> None:
    """Write the instances asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.invent", description=__doc__)
    parser.add_argument("folder", type=Path, metavar="DIR", help="where to write; made if it is not there")
    parser.add_argument("--count", type=int, default=20, help="instances of each kind (default %(default)s)")
    parser.add_argument("--size", type=int, default=30, help="activities in each (default %(default)s)")
    parser.add_argument("--seed", type=int, default=1, help="another seed, other instances (default %(default)s)")
    asked = parser.parse_args()
    if asked.size < 2 * ENDS + 1:
        parser.error(f"a project has at least {2 * ENDS + 1} activities")
    write(asked.folder, asked.count, asked.size, asked.seed)
    print(f"{2 * asked.count} instances in {asked.folder}")


if __name__ == "__main__":
    main()
