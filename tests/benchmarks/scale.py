"""What planning costs as days grow: in stages, in jobs, in hands; days that are drawn, and days written by recipes.

``python -m tests.benchmarks.scale [--seconds S] [--seeds N] [--only NAME] [--out DIR]``: each size is planned in fresh
processes, one for each seed, on one core and on two; the table has their medians. With ``--out`` the table and a plot
are kept in that folder.
"""

import argparse
import tempfile
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path
from statistics import median
from typing import NamedTuple

from planner.day import Day
from planner.day.checks.all_checks import faults_in
from planner.day.file import write_day
from tests.benchmarks.made_days import made_day
from tests.benchmarks.one_day import Measured, run
from tests.benchmarks.printing import Table, percent
from tests.benchmarks.recipe_days import recipe_day


class Size(NamedTuple):
    """How large a day is."""

    stages: int
    jobs: int
    hands: int


SERIES: dict[str, tuple[Size, ...]] = {
    "stages": tuple(Size(n, 2, 2) for n in (10, 20, 40, 80)),
    "jobs": tuple(Size(5 * n, n, 2) for n in (1, 2, 4, 8)),
    "hands": tuple(Size(20, 2, n) for n in (1, 2, 3, 4)),
    "one job": tuple(Size(n, 1, 2) for n in (10, 23)),
    "recipes": (Size(23, 1, 2), Size(36, 2, 2), Size(40, 8, 2), Size(54, 3, 2), Size(65, 4, 2), Size(120, 8, 2)),
}
"""What grows: stages in two jobs for two hands; jobs of five stages for two hands; hands for 20 stages in two jobs;
stages of one job for two hands; and stages of days written by recipes, from one job to eight."""

BY_STAGES = {"stages": "stages", "one job": "stages of one job", "recipes": "stages by recipe"}
"""The series in which the stages grow, as the plot calls them."""

HEADROOM = 1.08
"""How much higher a chart is than its highest point, so that this is not cut."""


class Cost(NamedTuple):
    """Medians over the seeds: seconds to the first plan, value of the serial order, value and gap on one core and on
    two, the bounds of the search for the whole and of the jobs alone, peak memory in MB, seconds until it is over
    on two cores, sooner than it must be where it is proven; None where there is none."""

    first: float | None
    serial: float | None
    alone: float | None
    value: float | None
    own: float | None
    jobs: float | None
    gap: float | None
    memory: float
    seconds: float
    proven: int
    planned: int


def main() -> None:
    """Measure, print the table, keep it and the plot."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.scale", description=__doc__)
    parser.add_argument("--seconds", type=float, default=20.0, help="for each day (default %(default)s)")
    parser.add_argument("--seeds", type=int, default=3, help="days of each size (default %(default)s)")
    parser.add_argument("--only", choices=[*SERIES], help="only what grows so")
    parser.add_argument("--out", type=Path, metavar="DIR", help="keep scale.txt and scale.png there")
    asked = parser.parse_args()
    if asked.out is not None and find_spec("matplotlib") is None:
        parser.error("the plot is drawn by matplotlib: pip install -e '.[benchmarks]'")
    columns = ("grows", "stages", "jobs", "hands", "first s", "serial", "1 core", "2 cores", "own", "by job", "gap")
    table = Table((*columns, "MB", "over s", "proven", "planned"), first_width=8)
    costs: dict[str, list[Cost]] = {name: [] for name in SERIES if asked.only in (None, name)}
    for name in costs:
        for size in SERIES[name]:
            cost = cost_of(name, size, asked.seconds, asked.seeds)
            costs[name].append(cost)
            bounds = (_whole(cost.own), _whole(cost.jobs), percent(cost.gap))
            values = (_whole(cost.serial), _whole(cost.alone), _whole(cost.value))
            planned = f"{cost.planned}/{asked.seeds}"
            table.row(name, *size, cost.first, *values, *bounds, round(cost.memory), cost.seconds, cost.proven, planned)
    if asked.out is not None:
        asked.out.mkdir(parents=True, exist_ok=True)
        (asked.out / "scale.txt").write_text("\n".join(table.lines) + "\n", encoding="utf-8")
        plot(costs, asked.seconds, asked.out / "scale.png")


def day_of(name: str, size: Size, seed: int) -> Day:
    """A day of a series: written by recipes, or drawn."""
    return recipe_day(*size, seed=seed) if name == "recipes" else made_day(*size, seed=seed)


def cost_of(name: str, size: Size, seconds: float, seeds: int) -> Cost:
    """Plan days of one size, each in fresh processes."""
    runs: list[Measured] = []
    alone: list[Measured] = []
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(seeds):
            day = day_of(name, size, seed)
            assert faults_in(day) == []
            path = Path(folder) / f"{seed}.toml"
            write_day(day, path)
            runs.append(run(path, seconds))
            alone.append(run(path, seconds, cores=1))
    found = [one for one in runs if one.gap is not None]
    return Cost(
        first=_median([one.first for one in found]),
        serial=_median([_serial_value(day, one) for one in found]),
        alone=_median([one.value for one in alone]),
        value=_median([one.value for one in found]),
        own=_median([one.own or None for one in found]),
        jobs=_median([one.jobs or None for one in found]),
        gap=_median([one.gap for one in found]),
        memory=median(one.memory for one in runs),
        seconds=median(one.seconds for one in runs),
        proven=sum(bool(one.is_best) for one in found),
        planned=len(found),
    )


def _serial_value(day: Day, one: Measured) -> float | None:
    if one.serial_minutes is None or one.serial_crossings is None:
        return None
    return one.serial_minutes + day.crossing_price * one.serial_crossings


def _median(values: Sequence[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return median(known) if known else None


def _whole(value: float | None) -> int | None:
    return None if value is None else round(value)


def plot(costs: dict[str, list[Cost]], seconds: float, path: Path) -> None:
    """A row of charts for each measure, a column for each of what grows."""
    import matplotlib

    matplotlib.use("Agg")
    from matplotlib import pyplot

    rows = (
        ("first plan, s", lambda cost: cost.first),
        (f"gap at {seconds:g} s, %", lambda cost: None if cost.gap is None else 100 * cost.gap),
        ("part of the serial order, %", lambda cost: 100 * cost.value / cost.serial if cost.serial else None),
    )
    figure, charts = pyplot.subplots(
        len(rows), len(costs), figsize=(4 * len(costs) + 1, 8), sharey="row", layout="constrained", squeeze=False
    )
    for column, name in enumerate(costs):
        across = [getattr(size, "stages" if name in BY_STAGES else name) for size in SERIES[name]]
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
                chart.set_xlabel(BY_STAGES.get(name, name))
    for line in charts:
        line[0].set_ylim(0, HEADROOM * max(chart.dataLim.y1 for chart in line))
    figure.savefig(path, dpi=110)


if __name__ == "__main__":
    main()
