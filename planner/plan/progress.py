"""What has really happened of a plan by some minute of the day: the record a person gives.

Nobody notes every walk and set-up. What a hand did before the last stage that was noted for them is taken to have
happened in the order of the plan; what comes after it has not, but for the time that has passed. A hand for whom
nothing is noted is taken to be where the plan had them. ``planner.plan.past`` makes the past of it.
"""

import hashlib
import json
from dataclasses import dataclass, field, fields, replace
from typing import Annotated, Any

from pydantic import Field, TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from planner.day import Day
from planner.plan.plan import Plan, Work
from planner.trade.units import show_clock

PROGRESS_FORMAT = 1
"""Version of the record's JSON."""

Minute = Annotated[int, Field(strict=True, ge=0, le=2 * 24 * 60)]
"""A minute of the day, as a record says it."""

EARLY = 120
"""So many minutes before the start of the day work may have begun; what is noted before that is a slip."""

_MOST_TOLD = 60


@dataclass(frozen=True, slots=True)
class Noted:
    """A stage that was begun, and perhaps done; minutes of the day, None where they were not noted."""

    job: str
    stage: str
    start: Minute | None = None
    end: Minute | None = None


@dataclass(frozen=True)
class Progress:
    """What is said of the day at minute ``at``.

    ``dropped`` are stages given up for today (job, stage); ``arrived`` maps a job to when the van got, or will get,
    there; ``gone`` maps a hand to when they went home; ``rain`` is the minute from which it rains. Up to minute
    ``settled`` the plan is itself the record: it was made on the day, then, from what had been noted before.
    """

    at: Minute
    noted: tuple[Noted, ...] = ()
    dropped: tuple[tuple[str, str], ...] = ()
    arrived: dict[str, Minute] = field(default_factory=dict)
    gone: dict[str, Minute] = field(default_factory=dict)
    rain: Minute | None = None
    settled: Minute = 0

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
        if any(minute is not None and minute < day.start - EARLY for minute in (noted.start, noted.end)):
            start, soonest = show_clock(day.start), show_clock(max(0, day.start - EARLY))
            raise ProgressError(f"{name} cannot have begun or ended before {soonest}: the day starts at {start}")
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
    tables: dict[str, Any] = _PROGRESS.dump_python(progress, mode="json")
    return {"format": PROGRESS_FORMAT} | tables


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
    try:
        return _PROGRESS.validate_python(dict.fromkeys(_NEEDED) | tables)
    except ValidationError as faults:
        raise ProgressError(_wrong(faults.errors()[0])) from None


_PROGRESS = TypeAdapter(Progress)
_NEEDED = tuple(part.name for part in fields(Progress))  # one that is missing is not taken to say nothing


def _check_format(tables: Any) -> None:
    if not isinstance(tables, dict):
        raise ProgressError("not a record of a day: it should be a table")
    if tables.get("format") != PROGRESS_FORMAT:
        raise ProgressError(f"format is {_told(tables.get('format'))}; this program reads {PROGRESS_FORMAT}")


def _wrong(found: ErrorDetails) -> str:
    """What pydantic found, in words for whoever wrote the record."""
    kind, where = found["type"], found["loc"]
    if kind.startswith(("string", "missing")):  # a stage goes by its job and its name
        kind, where = "pair", where[:2]
    place = str(where[0]) + "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in where[1:])
    is_row = len(where) > 1
    match kind:
        case "pair" | "tuple_type" | "too_long" if is_row:
            return f"{place} should name a job and a stage"
        case "tuple_type":
            return f"{place} should be a list"
        case "dict_type":
            return f"{place} should be a table of minutes"
        case "dataclass_type":
            return f"{place} should be a table"
    return f"{place} is {_told(found['input'])}; it should be a minute of the day, 0 to 2880"


def _told(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= _MOST_TOLD else f"{text[:_MOST_TOLD]}..."


def _mark_of(plan: str) -> str:
    """By which the text of a plan is known again."""
    return hashlib.sha256(plan.strip().encode()).hexdigest()
