"""Several days at once: every day of a folder planned side by side, one line for each; a bad one spoils no other."""

import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planner.day import Day
from planner.day.reading import read_day
from planner.engine import plan_day
from planner.fit.errands import Errand, function_named, name_of
from planner.fit.risk import play_out
from planner.fit.side_by_side import WORKERS, Done, SideBySide
from planner.fit.verdict import verdict
from planner.plan.measures import measure
from planner.trade.units import show_clock


@dataclass(frozen=True)
class DayLine:
    """What became of one file: its verdict and numbers, or in ``fault`` why there are none."""

    file: str
    title: str = ""
    date: str = ""
    word: str = ""
    sentence: str = ""
    home: int | None = None
    crossings: int = 0
    on_time: float = 0.0
    is_best: bool = False
    fault: str = ""

    def row(self) -> tuple[str, str, str, str, str, str]:
        """File, date, verdict, home, restricted crossings and the chance of being on time."""
        if self.home is None:
            first, *more = self.fault.splitlines()
            rest = f" (and {len(more)} more)" if more else ""
            return self.file, self.date, "no plan", "", "", first + rest
        return (
            self.file,
            self.date,
            self.word,
            show_clock(self.home),
            str(self.crossings),
            f"{100 * self.on_time:.0f} % on time",
        )


@dataclass(frozen=True)
class Week:
    """A line for each file of the folder, by date and then by name; files that gave nothing come last."""

    lines: tuple[DayLine, ...]

    @property
    def sentence(self) -> str:
        """How many fit."""
        counts = [sum(line.word == word for line in self.lines) for word in ("fits", "tight", "does not fit")]
        rest = len(self.lines) - sum(counts)
        words = f"Of {len(self.lines)} days {counts[0]} fit, {counts[1]} are tight and {counts[2]} do not fit"
        return f"{words}; {rest} could not be planned." if rest else f"{words}."

    def rows(self) -> list[tuple[str, str, str, str, str, str]]:
        """Each day as file, date, verdict, home, restricted crossings and the chance of being on time."""
        return [line.row() for line in self.lines]


def plan_week(
    folder: Path,
    *,
    seconds: float = 20.0,
    read: Callable[..., Day] = read_day,
    read_with: tuple[Any, ...] = (),
    count: int | None = None,
    stop: threading.Event | None = None,
    on_done: Callable[[int, int, Done], None] | None = None,
) -> Week:
    """Plan every day file (``*.toml``) of a folder.

    Parameters
    ----------
    folder
        Where the day files lie.
    seconds
        For each day at the most.
    read, read_with
        Reads the day of a file, and the plain data that it is called with after the file; it is called in another
        process, so it must be a function of some module of ours.
    count, stop, on_done
        How many days at once, an event that ends it, and who hears how far it is.
    """
    paths = sorted(folder.glob("*.toml"))
    with SideBySide(count, stop) as processes:
        tasks = [Errand(path.name, day_line, (path, seconds, name_of(read), read_with)) for path in paths]
        done = processes.run(tasks, seconds=seconds, on_done=on_done)
    lines = [d.value if d.value is not None else DayLine(d.name, fault=d.fault) for d in done]
    return Week(tuple(sorted(lines, key=lambda line: (line.home is None, line.date, line.file))))


def day_line(path: Path, seconds: float, read: str, read_with: tuple[Any, ...]) -> DayLine:
    """One file read by the function of this name, planned and judged. Raises `DayFaults` when the file is not right."""
    day = function_named(read)(path, *read_with)
    result = plan_day(day, seconds=seconds, workers=WORKERS)
    date = day.date.isoformat()
    if result.plan is None:
        return DayLine(path.name, day.title, date, fault=" ".join(result.summary().split()))
    plan, risk = result.plan, play_out(day, result.plan)
    judged = verdict(day, plan, risk)
    return DayLine(
        path.name,
        day.title,
        date,
        judged.word,
        judged.sentence,
        plan.home,
        measure(day, plan).restricted_crossings,
        risk.on_time,
        plan.proof is not None and plan.proof.is_best,
    )
