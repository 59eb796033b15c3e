"""How soon and how well each day is planned.

``python -m tests.benchmarks.days [FILE...]`` (without files: the sample days). For each day and each budget a fresh
process plans it from nothing; a day that is proven best is not given longer. The first plan is counted from the start
of the process and is the slowest of those runs.
"""

import argparse
from pathlib import Path

from planner.day.faults import DayFaults
from planner.day.reading import read_day
from tests.benchmarks.one_day import Measured, run
from tests.benchmarks.printing import Table

BUDGETS = (5.0, 20.0, 30.0, 60.0)
SAMPLES = Path(__file__).parents[2] / "sample_days"
COLUMNS = (
    "day", "first s", "value", "bound", "at 5 s", "at 20 s", "at 30 s", "at 60 s", "proven in s", "serial", "saving"
)  # fmt: skip


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.days", description=__doc__)
    parser.add_argument("files", nargs="*", type=Path, metavar="FILE", help="day files (default: the sample days)")
    files = parser.parse_args().files or sorted(SAMPLES.glob("*.toml"))
    print("value: minutes home and the price of each restricted crossing; +n: minutes past the latest finish")
    table = Table(COLUMNS)
    for path in files:
        try:
            read_day(path)
        except DayFaults as faults:
            table.say(f"{path.name}: {faults}")
            continue
        measure(table, path)


def measure(table: Table, path: Path) -> None:
    """Plan one day with each budget and print its row."""
    runs: list[Measured] = []
    for seconds in BUDGETS:
        runs.append(run(path, seconds))
        if runs[-1].is_best or runs[-1].value is None:
            break
    last = runs[-1]
    standings = [one.standing for one in runs]
    standings += [standings[-1]] * (len(BUDGETS) - len(runs))
    first = max((one.first for one in runs if one.first is not None), default=None)
    value = None if last.value is None else f"{last.value} +{last.overrun}" if last.overrun else str(last.value)
    serial, saving = None, None
    if last.minutes is not None and last.serial_minutes is not None:
        serial = f"{last.serial_minutes}/{last.serial_crossings}"
        saving = f"{last.serial_minutes - last.minutes}/{last.serial_crossings - last.crossings}"
    proven = last.seconds if last.is_best else None
    table.row(path.stem, first, value, last.bound, *standings, proven, serial, saving)


if __name__ == "__main__":
    main()
