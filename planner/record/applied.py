"""Own pace put into a day, and what a day that was worked tells the record.

A method is known to the record by the kind of its stage and its key (``wash.lance``); a stage of no kind lends its own
key (``treat.spray``). The condition is how much longer than usual the day says that it takes, which is where a day
keeps hard mortar or heavy growth: ``usual``, or ``1.3 times usual``. Both are read from the day as its file gives it.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from planner.day import Day
from planner.day.jobs import Job, Method, Stage
from planner.plan.plan import Plan, Work
from planner.record.book import Record
from planner.record.pace import Pace
from planner.record.timings import LONGEST_MINUTES, Timing
from planner.trade.library import library
from planner.trade.rates import Spread

USUAL = "usual"
"""The condition of a method whose time nothing lengthens or shortens."""

USUAL_SPREAD = Spread(*Method.model_fields["spread"].default)
"""Low, likely and high of a method that the trade library does not know, as parts of its time."""


@dataclass(frozen=True)
class PaceChange:
    """What own pace changes in one method of one stage of a day.

    Attributes
    ----------
    job, stage, method
        Keys in the day.
    shipped, own
        The rate ("40 m2/h") as the day's file gives it and at own pace; minutes where it goes by no measure.
    pace
        What it rests on.
    """

    job: str
    stage: str
    method: str
    shipped: str
    own: str
    pace: Pace

    @property
    def jobs_behind(self) -> int:
        """How many jobs the own rate rests on."""
        return self.pace.jobs_behind


@dataclass(frozen=True)
class Learned:
    """What the record knows of one method in one condition, whatever the day; rates as in `Change`."""

    shipped: str
    own: str
    pace: Pace


def changes(day: Day, record: Record) -> tuple[PaceChange, ...]:
    """What own pace changes in a day as its file gives it: methods that were timed; nothing while learning is off.

    Raises `RecordFault` when the record cannot be read.
    """
    found = []
    for job_key, stage_key, stage in day.stages():
        job = day.jobs[job_key]
        for key, method in stage.methods.items():
            minutes = job.minutes(stage_key, key)
            if minutes.likely <= 0:
                continue
            pace = record.own_pace(method_name(stage_key, stage, key), condition_of(method), minutes)
            if pace.jobs_behind:
                shipped, own = _rates_of(method, minutes.likely, pace)
                found.append(PaceChange(job_key, stage_key, key, shipped, own, pace))
    return tuple(found)


def changed(day: Day, made: Collection[PaceChange]) -> Day:
    """The day with these changes in it: with every method that has timings behind it at own pace.

    Its ``factor`` is multiplied by the own-pace factor. Its ``spread``, low and high as parts of the time, goes along
    with the time and so stays as it is: jobs go on to differ from one another.
    """
    factors = {(c.job, c.stage, c.method): c.pace.factor for c in made}
    jobs: dict[str, Job] = {}
    for job_key, job in day.jobs.items():
        stages: dict[str, Stage] = {}
        for stage_key, stage in job.stages.items():
            methods = {
                key: method.model_copy(update={"factor": method.factor * factors[job_key, stage_key, key]})
                for key, method in stage.methods.items()
                if (job_key, stage_key, key) in factors
            }
            if methods:
                stages[stage_key] = stage.model_copy(update={"methods": stage.methods | methods})
        if stages:
            jobs[job_key] = job.model_copy(update={"stages": job.stages | stages})
    return day.model_copy(update={"jobs": day.jobs | jobs}) if jobs else day


def learned(record: Record) -> tuple[Learned, ...]:
    """Every method and condition that the record has timings of, in order; with learning off all at the shipped pace.

    Raises `RecordFault` when the record cannot be read.
    """
    by_pair: dict[tuple[str, str], list[Timing]] = {}
    for timing in record.timings():
        by_pair.setdefault((timing.method, timing.condition), []).append(timing)
    rows = []
    for (method, condition), timings in sorted(by_pair.items()):
        shipped_minutes = sum(t.shipped_minutes for t in timings)
        pace = record.own_pace(method, condition, _spread_in_library(method))
        units = {t.unit for t in timings}
        if len(units) == 1 and all(t.measure for t in timings):
            hourly = 60 * sum(t.measure or 0.0 for t in timings) / shipped_minutes
            shipped, own = _hourly(hourly, *units), _hourly(hourly * pace.rate_factor, *units)
        else:
            usual = shipped_minutes / len(timings)
            shipped, own = _minutes(usual), _minutes(usual * pace.factor)
        rows.append(Learned(shipped, own, pace))
    return tuple(rows)


def timings_of(
    day: Day, plan: Plan, made: Collection[PaceChange] = (), *, stages: Mapping[tuple[str, str], float] | None = None
) -> list[Timing]:
    """What a day that was worked tells the record.

    Parameters
    ----------
    day
        As its file gives it, at the shipped pace.
    plan
        The plan with the times as they really were; stages still under way are left out.
    made
        The changes that own pace had made when the day was planned: they give ``planned_minutes`` and ``pace_used``.
    stages
        Only these (job, stage), with the hands-on minutes they took; without it all, with the times in the plan.

    Raises
    ------
    ValueError
        When the plan names a stage or a method that the day does not have, or a time cannot be.
    """
    factors = {(c.job, c.stage, c.method): c.pace.factor for c in made}
    found = []
    for work in plan.works:
        if stages is not None and (work.job, work.stage) not in stages:
            continue
        stage, method = _in_day(day, work)
        shipped = day.jobs[work.job].minutes(work.stage, work.method).likely
        took = float(work.end - work.start) if stages is None else stages[work.job, work.stage]
        if shipped <= 0 or (stages is None and not 0 < took <= LONGEST_MINUTES):
            continue
        factor = factors.get((work.job, work.stage, work.method), 1.0)
        measure, unit = _measure(day.jobs[work.job], stage, method)
        found.append(
            Timing(
                date=day.date,
                job=work.job,
                stage=work.stage,
                kind=stage.kind,
                method=method_name(work.stage, stage, work.method),
                condition=condition_of(method),
                planned_minutes=shipped * factor,
                actual_minutes=took,
                measure=measure,
                unit=unit,
                pace_used=factor,
            )
        )
    return found


def otherwise_than_planned(day: Day, plan: Plan, made: Collection[PaceChange] = ()) -> dict[tuple[str, str], float]:
    """The stages of a plan that take other minutes than planned, at the shipped and at own pace: real times.

    A stage whose minutes are the planned ones may never have been noted. To learn from it would be to believe the
    plan because it was planned so.

    Raises `ValueError` when the plan is not one of the day.
    """
    at_own_pace = changed(day, made)
    found = {}
    for work in plan.works:
        _in_day(day, work)
        took = work.end - work.start
        planned = {d.jobs[work.job].likely_minutes(work.stage, work.method) for d in (day, at_own_pace)}
        if took not in planned and 0 < took <= LONGEST_MINUTES:
            found[work.job, work.stage] = float(took)
    return found


def method_name(stage_key: str, stage: Stage, method: str) -> str:
    """What the record calls a method of a stage: a section by the stage that it is of."""
    has_kind = stage.kind != Stage.model_fields["kind"].default
    stage_key = stage.part.of if stage.part else stage_key
    return f"{stage.kind if has_kind else stage_key}.{method}"


def condition_of(method: Method) -> str:
    """What the record calls the state in which a day has a method work."""
    return USUAL if method.factor == 1 else f"{method.factor:g} times usual"


def _in_day(day: Day, work: Work) -> tuple[Stage, Method]:
    """The stage and the method that a plan's work names."""
    stage = day.jobs[work.job].stages.get(work.stage) if work.job in day.jobs else None
    if stage is None or work.method not in stage.methods:
        raise ValueError(f"the day has no stage '{work.job}.{work.stage}' by '{work.method}'; plan the day again")
    return stage, stage.methods[work.method]


def _measure(job: Job, stage: Stage, method: Method) -> tuple[float | None, str]:
    """How much a method does, and its unit, where it goes by measure."""
    if method.rate is None:
        return None, ""
    surface = job.surfaces[stage.surface]
    own, given = (stage.area, surface.area) if method.rate.unit == "m2" else (stage.run, surface.run)
    return (given if own is None else own) or None, method.rate.unit


def _rates_of(method: Method, likely: float, pace: Pace) -> tuple[str, str]:
    if method.rate is None:
        return _minutes(likely), _minutes(likely * pace.factor)
    hourly = method.rate.amount / method.factor
    return _hourly(hourly, method.rate.unit), _hourly(hourly * pace.rate_factor, method.rate.unit)


def _spread_in_library(name: str) -> Spread:
    """The shipped spread of a method, which says how far crews differ from its rate."""
    kind, _, key = name.partition(".")
    method = library().methods.get(kind, {}).get(key, {})
    parts = method.get("spread")
    return Spread(*parts) if parts else USUAL_SPREAD


def _hourly(amount: float, unit: str) -> str:
    return f"{amount:.3g} {unit}/h"


def _minutes(minutes: float) -> str:
    return f"{minutes:.3g} min"
