"""What planning costs as days grow: in stages, in jobs, in hands.

``python -m tests.benchmarks.scale [--seconds S] [--seeds N] [--out DIR]``: each size is planned in fresh processes,
one for each seed; the table has their medians. With ``--out`` the table and a plot are kept in that folder.
"""

import argparse
import tempfile
from collections.abc import Sequence
from pathlib import Path
from statistics import median
from typing import NamedTuple

from planner.day.checks.all_checks import faults_in
from planner.day.file import write_day
from tests.benchmarks.made_days import made_day
from tests.benchmarks.one_day import Measured, run
from tests.benchmarks.printing import Table, percent


class Size(NamedTuple):
    """How large a day is."""

    stages: int
    jobs: int
    hands: int


SERIES: dict[str, tuple[Size, ...]] = {
    "stages": tuple(Size(n, 2, 2) for n in (10, 20, 40, 80)),
    "jobs": tuple(Size(5 * n, n, 2) for n in (1, 2, 4, 8)),
    "hands": tuple(Size(20, 2, n) for n in (1, 2, 3, 4)),
}
"""What grows: stages in two jobs for two hands; jobs of five stages for two hands; hands for 20 stages in two jobs."""


class Cost(NamedTuple):
    """Medians over the seeds: seconds to the first plan, gap at the end, peak memory in MB; None where no plan was."""

    first: float | None
    gap: float | None
    memory: float
    proven: int
    planned: int


def main() -> None:
    """Measure, print the table, keep it and the plot."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.scale", description=__doc__)
    parser.add_argument("--seconds", type=float, default=20.0, help="for each day (default %(default)s)")
    parser.add_argument("--seeds", type=int, default=3, help="days of each size (default %(default)s)")
    parser.add_argument("--out", type=Path, metavar="DIR", help="keep scale.txt and scale.png there")
    asked = parser.parse_args()
    table = Table(
        ("grows", "stages", "jobs", "hands", "first s", f"gap at {asked.seconds:g} s", "memory MB", "proven", "planned")
    )
    costs: dict[str, list[Cost]] = {name: [] for name in SERIES}
    for name, sizes in SERIES.items():
        for size in sizes:
            cost = cost_of(size, asked.seconds, asked.seeds)
            costs[name].append(cost)
            planned = f"{cost.planned}/{asked.seeds}"
            table.row(name, *size, cost.first, percent(cost.gap), round(cost.memory), cost.proven, planned)
    if asked.out is not None:
        asked.out.mkdir(parents=True, exist_ok=True)
        (asked.out / "scale.txt").write_text("\n".join(table.lines) + "\n", encoding="utf-8")
        plot(costs, asked.seconds, asked.out / "scale.png")


def cost_of(size: Size, seconds: float, seeds: int) -> Cost:
    """Plan days of one size, each in a fresh process."""
    runs: list[Measured] = []
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(seeds):
            day = made_day(*size, seed=seed)
            assert faults_in(day) == []
            path = Path(folder) / f"{seed}.toml"
            write_day(day, path)
            runs.append(run(path, seconds))
    found = [one for one in runs if one.gap is not None]
    return Cost(
        first=_median([one.first for one in found if one.first is not None]),
        gap=_median([one.gap for one in found if one.gap is not None]),
        memory=median(one.memory for one in runs),
        proven=sum(bool(one.is_best) for one in found),
        planned=len(found),
    )


def _median(values: Sequence[float]) -> float | None:
    return median(values) if values else None


def plot(costs: dict[str, list[Cost]], seconds: float, path: Path) -> None:
    """A row of charts for each measure, a column for each of what grows."""
    import matplotlib

    matplotlib.use("Agg")
    from matplotlib import pyplot

    rows = (
        ("first plan, s", lambda cost: cost.first),
        (f"gap at {seconds:g} s, %", lambda cost: None if cost.gap is None else 100 * cost.gap),
        ("memory, MB", lambda cost: cost.memory),
    )
    figure, charts = pyplot.subplots(len(rows), len(SERIES), figsize=(10, 8), sharey="row", layout="constrained")
    for column, (name, sizes) in enumerate(SERIES.items()):
        across = [getattr(size, name) for size in sizes]
        for row, (words, measure) in enumerate(rows):
            chart = charts[row][column]
            heights = [measure(cost) for cost in costs[name]]
            points = [(x, y) for x, y in zip(across, heights, strict=True) if y is not None]
            if points:
                chart.plot(*zip(*points, strict=True), marker="o", color="black")
            chart.set_xscale("log", base=2)
            chart.set_xticks(across, [str(x) for x in across])
            chart.minorticks_off()
            chart.grid(alpha=0.3)
            if column == 0:
                chart.set_ylabel(words)
            if row == len(rows) - 1:
                chart.set_xlabel(name)
    for row in charts:
        row[0].set_ylim(bottom=0)
    figure.savefig(path, dpi=110)


if __name__ == "__main__":
    main()
