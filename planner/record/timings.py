"""What stages took: one row for each stage that was timed."""

import datetime as dt
import math
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass, fields
from typing import Any

from planner.record.database import Database, RecordFault

LONGEST_TEXT = 400
"""Characters in the name of a job, a stage or a method."""

LONGEST_MINUTES = 14 * 24 * 60
"""No stage takes longer than a fortnight."""


@dataclass(frozen=True)
class Timing:
    """What one stage took, beside what was planned for it.

    Attributes
    ----------
    date
        The day the work was done.
    job, stage, kind
        Names of the job and the stage, and the kind of stage ("wash").
    method, condition
        How it was done and in what state the surface was: own pace is learned for each such pair.
    planned_minutes, actual_minutes
        Hands-on minutes, as planned and as they were; above 0.
    measure, unit
        How much was done, for example 32.0 of "m2"; None and "" where work goes by no measure.
    pace_used
        The own-pace factor that was already in the planned minutes; 1 when they were the shipped ones.
    noted_on
        What the clock said when it was noted; set by the record.
    id
        Its number in the record; 0 until it is noted.
    """

    date: dt.date
    job: str
    stage: str
    kind: str
    method: str
    condition: str
    planned_minutes: float
    actual_minutes: float
    measure: float | None = None
    unit: str = ""
    pace_used: float = 1.0
    noted_on: dt.date | None = None
    id: int = 0

    def __post_init__(self) -> None:
        for name in ("job", "stage", "kind", "method", "condition", "unit"):
            if len(getattr(self, name)) > LONGEST_TEXT:
                raise ValueError(f"{name} is longer than {LONGEST_TEXT} characters; shorten it")
        for name, most in (
            ("planned_minutes", LONGEST_MINUTES),
            ("actual_minutes", LONGEST_MINUTES),
            ("pace_used", 100.0),
            ("measure", 1e6),
        ):
            value = getattr(self, name)
            if value is not None and not (math.isfinite(value) and 0 < value <= most):
                what = f"{name.replace('_', ' ')} of '{self.stage}' is {value}"
                raise ValueError(f"{what}; it must be above 0 and at most {most:g}")

    @property
    def shipped_minutes(self) -> float:
        """What the shipped rate would have planned, in minutes."""
        return self.planned_minutes / self.pace_used


COLUMNS = tuple(field.name for field in fields(Timing))
"""The columns of the table of timings, in order."""


def note(database: Database, timing: Timing, noted_on: dt.date) -> int:
    """Add a timing; returns its number."""
    names = [name for name in COLUMNS if name != "id"]
    statement = f"INSERT INTO timings ({', '.join(names)}) VALUES ({', '.join('?' * len(names))})"
    values = [noted_on if name == "noted_on" else getattr(timing, name) for name in names]
    with database.writing() as connection:
        added = connection.execute(
            statement, [v.isoformat() if isinstance(v, dt.date) else v for v in values]
        )
        return int(added.lastrowid or 0)


def read(database: Database, *, method: str | None = None, condition: str | None = None) -> list[Timing]:
    """The timings, in the order in which they were noted, whatever the clock said."""
    rows = database.rows(
        f"SELECT {', '.join(COLUMNS)} FROM timings"
        " WHERE (?1 IS NULL OR method = ?1) AND (?2 IS NULL OR condition = ?2) ORDER BY id",
        (method, condition),
    )
    return [_timing(database, row) for row in rows]


def job_ratios(timings: Iterable[Timing]) -> list[float]:
    """Actual over shipped minutes of each job, all its stages together.

    Stages of one job share its weather, its ground and its hands, so that they count as one observation.
    """
    sums: dict[tuple[dt.date, str], list[float]] = {}
    for timing in timings:
        job = sums.setdefault((timing.date, timing.job), [0.0, 0.0])
        job[0] += timing.actual_minutes
        job[1] += timing.shipped_minutes
    return [actual / shipped for actual, shipped in sums.values()]


def _timing(database: Database, row: sqlite3.Row) -> Timing:
    """A timing from a row, which anyone may have written."""
    values: dict[str, Any] = dict(row)
    try:
        for name in ("date", "noted_on"):
            if values[name] is not None:
                values[name] = dt.date.fromisoformat(values[name])
        return Timing(**values)
    except (TypeError, ValueError) as fault:
        raise RecordFault(
            database.path,
            f"row {row['id']} of the timings: {fault}",
            "forget that timing, or set the file aside",
        ) from fault
