"""What has really happened of a plan by some minute of the day: the record a person gives.

Nobody notes every walk and set-up. What a hand did before the last stage that was noted for them is taken to have
happened in the order of the plan; what comes after it has not, but for the time that has passed. A hand for whom
nothing is noted is taken to be where the plan had them. ``planner.plan.past`` makes the past of it.
"""

import hashlib
import json
from dataclasses import dataclass, field, replace
from typing import Any

from planner.day import Day
from planner.plan.plan import Plan, Work
from planner.trade.units import show_clock

PROGRESS_FORMAT = 1
"""Version of the record's JSON."""

_MOST_TOLD = 60


@dataclass(frozen=True, slots=True)
class Noted:
    """A stage that was begun, and perhaps done; minutes of the day, None where they were not noted."""

    job: str
    stage: str
    start: int | None = None
    end: int | None = None


@dataclass(frozen=True)
class Progress:
    """What is said of the day at minute ``at``.

    ``dropped`` are stages given up for today (job, stage); ``arrived`` maps a job to when the van got, or will get,
    there; ``gone`` maps a hand to when they went home; ``rain`` is the minute from which it rains. Up to minute
    ``settled`` the plan is itself the record: it was made on the day, then, from what had been noted before.
    """

    at: int
    noted: tuple[Noted, ...] = ()
    dropped: tuple[tuple[str, str], ...] = ()
    arrived: dict[str, int] = field(default_factory=dict)
    gone: dict[str, int] = field(default_factory=dict)
    rain: int | None = None
    settled: int = 0

    def of(self, work: Work) -> Noted | None:
        """What was noted of a planned stage."""
        return self.of_stage(work.job, work.stage)

    def of_stage(self, job: str, stage: str) -> Noted | None:
        """What was noted of a stage."""
        return next((n for n in self.noted if (n.job, n.stage) == (job, stage)), None)

    def with_later(self, later: "Progress") -> "Progress":
        """This record, its plan kept, and what is said later of that plan: the later word holds."""
        said = {(n.job, n.stage): n for n in self.noted}
        for n in later.noted:
            known = said.get((n.job, n.stage))
            start = known.start if n.start is None and known is not None else n.start
            if start is not None and n.end is not None and start > n.end:
                start = n.start
            said[n.job, n.stage] = replace(n, start=start)
        return Progress(
            at=later.at,
            noted=tuple(said.values()),
            dropped=tuple(dict.fromkeys((*self.dropped, *later.dropped))),
            arrived=later.arrived,
            gone=self.gone | later.gone,
            rain=self.rain if later.rain is None else later.rain,
            settled=max(self.at, later.settled),
        )


class ProgressError(ValueError):
    """A record that cannot be read, or that does not go with its day and plan; the text says why."""


def check_progress(day: Day, plan: Plan, progress: Progress) -> None:
    """See that a record goes with its day and plan.

    Raises
    ------
    ProgressError
        When it names a stage, job or hand that is not there, or a time that is still to come.
    """
    if progress.at < progress.settled:
        since = show_clock(progress.settled)
        raise ProgressError(f"the plan was made anew at {since}; it cannot be {show_clock(progress.at)} now")
    for noted in progress.noted:
        name = f"'{noted.job}.{noted.stage}'"
        if (noted.job, noted.stage) in progress.dropped:
            continue
        if plan.work(noted.job, noted.stage) is None:
            raise ProgressError(f"the plan has no stage {name}; plan the day again, then note it")
        if any(minute is not None and minute > progress.at for minute in (noted.start, noted.end)):
            raise ProgressError(f"{name} cannot have begun or ended after {show_clock(progress.at)}, which is now")
        if noted.start is not None and noted.end is not None and noted.end < noted.start:
            raise ProgressError(f"{name} cannot end before it begins")
    for job in progress.arrived:
        if job not in day.jobs:
            raise ProgressError(f"the day has no job '{job}'")
        if all(visit.job != job for visit in plan.visits):
            raise ProgressError(f"the plan does not go to '{job}'")
    for hand in progress.gone:
        if hand not in day.hands:
            raise ProgressError(f"the day has no hand '{hand}'")
    for job, stage in progress.dropped:
        if job not in day.jobs or stage not in day.jobs[job].stages:
            raise ProgressError(f"the day has no stage '{job}.{stage}'")


# --- as JSON -------------------------------------------------------------------------------------------------------


def progress_to_json(progress: Progress, plan: str) -> str:
    """A record as JSON, to be kept beside the text of the plan it goes with; minutes of the day as in the plan."""
    tables = {"plan": _mark_of(plan)} | progress_to_tables(progress)
    return json.dumps(tables, indent=2, ensure_ascii=False)


def progress_to_tables(progress: Progress) -> dict[str, Any]:
    """A record as plain tables, as JSON holds them."""
    return {
        "format": PROGRESS_FORMAT,
        "at": progress.at,
        "noted": [{"job": n.job, "stage": n.stage, "start": n.start, "end": n.end} for n in progress.noted],
        "dropped": [list(x) for x in progress.dropped],
        "arrived": progress.arrived,
        "gone": progress.gone,
        "rain": progress.rain,
        "settled": progress.settled,
    }


def progress_from_json(text: str, plan: str) -> Progress | None:
    """Read a record back; None when it goes with another plan than this text: the day was planned anew since.

    Raises
    ------
    ProgressError
        When it is no JSON, of a newer version, or not of this form; the text names the place.
    """
    try:
        tables = json.loads(text)
    except (ValueError, RecursionError) as fault:  # ValueError: also a number of thousands of figures
        raise ProgressError(f"not JSON: {fault}") from None
    _check_format(tables)
    if tables.get("plan") != _mark_of(plan):
        return None
    return progress_from_tables(tables)


def progress_from_tables(tables: Any) -> Progress:
    """Read a record back from plain tables.

    Raises
    ------
    ProgressError
        When it is of a newer version, or not of this form; the text names the place.
    """
    _check_format(tables)
    return Progress(
        at=_minute(tables, "at"),
        noted=tuple(_noted(row, f"noted[{n}]") for n, row in enumerate(_list(tables, "noted"))),
        dropped=tuple(_pair(row, f"dropped[{n}]") for n, row in enumerate(_list(tables, "dropped"))),
        arrived=_minutes(tables, "arrived"),
        gone=_minutes(tables, "gone"),
        rain=None if tables.get("rain") is None else _minute(tables, "rain"),
        settled=_minute(tables, "settled"),
    )


def _check_format(tables: Any) -> None:
    if not isinstance(tables, dict):
        raise ProgressError("not a record of a day: it should be a table")
    if tables.get("format") != PROGRESS_FORMAT:
        raise ProgressError(f"format is {_told(tables.get('format'))}; this program reads {PROGRESS_FORMAT}")


def _told(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= _MOST_TOLD else f"{text[:_MOST_TOLD]}..."


def _mark_of(plan: str) -> str:
    """By which the text of a plan is known again."""
    return hashlib.sha256(plan.strip().encode()).hexdigest()


def _minute(table: dict[str, Any], key: str, place: str = "") -> int:
    value = table.get(key)
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= 2 * 24 * 60:
        raise ProgressError(f"{place or key} is {_told(value)}; it should be a minute of the day, 0 to 2880")
    return value


def _list(tables: dict[str, Any], key: str) -> list[Any]:
    value = tables.get(key)
    if not isinstance(value, list):
        raise ProgressError(f"{key} should be a list")
    return value


def _noted(row: Any, place: str) -> Noted:
    if not isinstance(row, dict):
        raise ProgressError(f"{place} should be a table")
    job, stage = _pair([row.get("job"), row.get("stage")], place)
    start, end = (None if row.get(x) is None else _minute(row, x, f"{place}.{x}") for x in ("start", "end"))
    return Noted(job, stage, start, end)


def _pair(row: Any, place: str) -> tuple[str, str]:
    if not isinstance(row, list) or len(row) != 2 or not all(isinstance(x, str) for x in row):
        raise ProgressError(f"{place} should name a job and a stage")
    return row[0], row[1]


def _minutes(tables: dict[str, Any], key: str) -> dict[str, int]:
    value = tables.get(key)
    if not isinstance(value, dict):
        raise ProgressError(f"{key} should be a table of minutes")
    return {name: _minute(value, name, f"{key}.{name}") for name in value}
