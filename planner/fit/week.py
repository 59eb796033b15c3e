"""Several days at once: every day of a folder, one line for each; a bad one spoils no other.

Of each the plan that is kept counts, as everywhere, a day under way as it went; a day without one is planned.
"""

import threading
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planner.day import Day
from planner.day.reading import read_day
from planner.day.safekeeping import FileFault
from planner.engine import plan_day
from planner.fit.errands import Errand, function_named, name_of
from planner.fit.risk import play_out
from planner.fit.side_by_side import WORKERS, Done, SideBySide
from planner.fit.verdict import verdict
from planner.plan.kept import Kept, held, keep, read_kept, why_not_held
from planner.plan.measures import measure
from planner.plan.plan import Plan
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
    paces: Callable[..., Iterable[Day]] | None = None,
    read_with: tuple[Any, ...] = (),
    keeps: bool = False,
    count: int | None = None,
    stop: threading.Event | None = None,
    on_done: Callable[[int, int, Done], None] | None = None,
) -> Week:
    """Judge every day file (``*.toml``) of a folder by the plan that is kept of it, or that is made now.

    Parameters
    ----------
    folder
        Where the day files lie.
    seconds
        For each day at the most.
    read, paces, read_with
        What reads the day of a file, what gives it at each pace at which a plan may be kept of it, and the plain data
        that the one is called with after the file, the other after the day and the file. They are called in another
        process, so they must be functions of some module of ours.
    keeps
        Whether plans that are made now are kept beside their days.
    count, stop, on_done
        How many days at once, an event that ends it, and who hears how far it is.
    """
    paths = sorted(folder.glob("*.toml"))
    with SideBySide(count, stop) as processes:
        asked = (seconds, name_of(read), name_of(paces or only_so), read_with, keeps)
        tasks = [Errand(path.name, day_line, (path, *asked)) for path in paths]
        done = processes.run(tasks, seconds=seconds, on_done=on_done)
    lines = [d.value if d.value is not None else DayLine(d.name, fault=d.fault) for d in done]
    return Week(tuple(sorted(lines, key=lambda line: (line.home is None, line.date, line.file))))


def only_so(day: Day, _: Path, *__: Any) -> Iterable[Day]:
    """A day at no other pace."""
    yield day


def day_line(path: Path, seconds: float, read: str, paces: str, read_with: tuple[Any, ...], keeps: bool) -> DayLine:
    """One file read by the function of this name, planned and judged.

    Raises `DayFaults` when the file is not right, `ValueError` when what was noted of a day under way does not go with
    it any more.
    """
    day = function_named(read)(path, *read_with)
    kept = read_kept(path)
    found = None if kept is None else held(kept, function_named(paces)(day, path, *read_with))
    is_under_way = kept is not None and kept.progress is not None
    if found is not None and (is_under_way or not found.changed):
        return _line(path, found.day, found.plan)
    if kept is not None and is_under_way:
        raise ValueError(f"it is under way, and {why_not_held(kept, day)}; plan its rest")
    result = plan_day(day, seconds=seconds, workers=WORKERS)
    if result.plan is None:
        return DayLine(path.name, day.title, day.date.isoformat(), fault=" ".join(result.summary().split()))
    if keeps:
        with suppress(FileFault):  # it is shown, as by the other commands; there each is told why it is not kept
            keep(path, day, Kept(result.plan, seen="" if kept is None else kept.seen))
    return _line(path, day, result.plan)


def _line(path: Path, day: Day, plan: Plan) -> DayLine:
    risk = play_out(day, plan)
    judged = verdict(day, plan, risk)
    return DayLine(
        path.name,
        day.title,
        day.date.isoformat(),
        judged.word,
        judged.sentence,
        plan.home,
        measure(day, plan).restricted_crossings,
        risk.on_time,
        plan.proof is not None and plan.proof.is_best,
    )
