"""The waits of a plan as they are told to people: not before, not after, what to do meanwhile, and what to keep off."""

import math
from dataclasses import dataclass

from planner.day import Day, Job
from planner.day.estimate import drying
from planner.day.names import Names
from planner.plan.plan import Plan, Work
from planner.plan.waits import PlannedWait, planned_waits
from planner.sheet.wording import chore_told, moment
from planner.trade.drying import DryingTime
from planner.trade.units import show_minutes

TOLD_TO = 15
"""A time until which a customer keeps off is told rounded up to so many minutes."""

WORDS = {"dwell": "dwells", "dry": "dries", "cure": "cures", "set": "sets", "order": "waits"}


@dataclass(frozen=True, slots=True)
class WaitRow:
    """A wait between two stages; all times in minutes of the day.

    ``not_after`` is None when the wait has no most. ``meanwhile`` are the things that hands do while it runs;
    ``forecast`` says how long the surface takes to dry by the forecast, with the field error of the reckoning,
    ``of_patches`` the shortest and the longest that a patch of it waits, ``late`` by how much it is not kept, in words.
    """

    job: str
    after: str
    before: str
    what: str
    next_what: str
    kind: str
    begins: int
    not_before: int
    not_after: int | None
    planned: int
    meanwhile: tuple[str, ...]
    forecast: str = ""
    of_patches: str = ""
    late: str = ""

    @property
    def filling(self) -> str:
        """What to do while it runs; where the next begins in the minute in which it begins itself, that."""
        return "; ".join(self.meanwhile) or ("at once" if self.planned <= self.begins else "nothing: rest")


@dataclass(frozen=True, slots=True)
class KeepOff:
    """A surface that nobody may stand on or wet until ``until``, a minute of the day rounded up to `TOLD_TO`."""

    job: str
    surface: str
    name: str
    kind: str
    until: int


def wait_rows(day: Day, plan: Plan) -> tuple[WaitRow, ...]:
    """Every wait between two planned stages that binds them in time, in the order in which they begin."""
    rows = [
        _row(day, plan, run, run.second)
        for run in planned_waits(day, plan)
        if run.second and (run.wait.least or run.wait.most is not None or run.wait.by_hour)
    ]
    return tuple(sorted(rows, key=lambda row: (row.begins, row.planned)))


def _row(day: Day, plan: Plan, run: PlannedWait, second: Work) -> WaitRow:
    names, job = Names(day), run.job
    return WaitRow(
        job,
        run.first.stage,
        second.stage,
        names.stage(job, run.first.stage),
        names.stage(job, second.stage),
        run.wait.kind,
        run.begins,
        run.not_before,
        run.not_after,
        second.start,
        _meanwhile(day, plan, run.begins, second.start),
        _forecast(drying(day, job, run.wait, run.begins)),
        run.of_patches,
        run.late_words,
    )


def _forecast(time: DryingTime | None) -> str:
    """A drying time in words, from its quickest to its slowest: "by the forecast dry in 50 min to 1 h 55 min"."""
    if time is None:
        return ""
    if time.least_wait is None:
        return "by the forecast it does not dry in the time that it covers"
    quick, slow = show_minutes(math.floor(time.low)), time.cautious_wait
    ends = f"{quick} to {show_minutes(slow)}" if slow is not None else f"{quick} at the soonest"
    return f"by the forecast dry in {ends}, most likely {show_minutes(time.least_wait)}"


def _meanwhile(day: Day, plan: Plan, start: int, end: int) -> tuple[str, ...]:
    """What hands do between two minutes, each once, in order of time: stages, breaks, drives; failing those, chores."""
    names = Names(day)
    single = len(day.jobs) == 1
    doings = [
        (w.start, names.stage(w.job, w.stage) + ("" if single else f" ({names.job(w.job)})"))
        for w in plan.works
        if w.start < end and w.end > start
    ]
    doings += [(r.start, "Break") for r in plan.rests if r.start < end and r.end > start]
    doings += [(d.start, f"Drive to {names.place(d.to_place)}") for d in plan.drives if d.start < end and d.end > start]
    doings += [(x.leaves, f"Fetch {names.kit(x.kit)}") for x in plan.fetches if x.leaves < end and x.back > start]
    if not doings:
        doings = [(c.start, chore_told(day, c).capitalize()) for c in plan.chores if c.start < end and c.end > start]
    return tuple(dict.fromkeys(words for _, words in sorted(doings)))


def stage_notes(day: Day, plan: Plan, *, ahead: bool = True) -> dict[tuple[str, str], list[str]]:
    """What each wait asks of the stages at its two ends, by (job, stage)."""
    notes: dict[tuple[str, str], list[str]] = {}
    for row in wait_rows(day, plan):
        bounds = f"not before {moment(day.date, row.not_before)}"
        if row.not_after is not None:
            late = f"not after {moment(day.date, row.not_after)}{f': {row.late}' if row.late else ''}"
            bounds = f"{bounds}, {late}" if row.not_before > row.begins else late
        if ahead and row.kind != "order":
            told = f"Then {WORDS[row.kind]}; {row.next_what} {bounds}"
            more = "; ".join(filter(None, (row.of_patches, row.forecast)))
            notes.setdefault((row.job, row.after), []).append(told + (f" ({more})" if more else ""))
        notes.setdefault((row.job, row.before), []).append(bounds[:1].upper() + bounds[1:])
    for run in planned_waits(day, plan):
        if run.second is None and run.wait.kind != "order":
            told = f"Then {WORDS[run.wait.kind]} for {show_minutes(run.bounds[0])}"
            notes.setdefault((run.job, run.wait.after), []).append(told)
    return notes


def keep_off(day: Day, plan: Plan, key: str) -> tuple[KeepOff, ...]:
    """The surfaces of a job that are still closed when the last stage is done, each until its last wait is over."""
    job, until = day.jobs[key], dict[str, tuple[int, str]]()
    for run in planned_waits(day, plan):
        if run.job == key and run.second is None and run.wait.closes_surface:
            surface = job.stages[run.wait.after].surface
            until[surface] = max(until.get(surface, (0, "")), (run.ends, run.wait.kind))
    return tuple(
        KeepOff(key, surface, _surface(day, job, key, surface), kind, -(-end // TOLD_TO) * TOLD_TO)
        for surface, (end, kind) in until.items()
    )


def _surface(day: Day, job: Job, key: str, surface: str) -> str:
    """The surface's name, with its ground where another surface of the job is called the same."""
    names = Names(day)
    own = names.surface(key, surface)
    alike = [other for other in job.surfaces if names.surface(key, other) == own]
    return own if len(alike) == 1 else f"{own} ({names.ground(key, job.surfaces[surface].ground)})"
