"""How much the stages of a day have in common, as this crew's own days show it.

The model is a nested random effects model on a logarithmic scale: what a stage took beside what was planned, less what
is usual for its method, is the day's part, the job's part within the day, and its own part. The variances are estimated
by the analysis of variance (Henderson's method 1 for unequal numbers; S. R. Searle, G. Casella and C. E. McCulloch,
"Variance Components", 1992, chapters 3 and 5), each at least 0, and then drawn toward the usual parts by the less, the
more days there are. Who did a stage is not in the record, so the hands' part is the usual one of what is left.
"""

import math
from collections import defaultdict
from collections.abc import Iterable
from statistics import fmean

from planner.fit.chance import MOST_SHARED, USUAL, Shared
from planner.record.timings import Timing

ENOUGH_DAYS = 12
"""Days with two timed stages or more, from which on the record is asked; they then count as much as what is usual."""

Parts = dict[str, dict[str, list[float]]]
"""Residuals by day and, within the day, by job."""


def shared_in(timings: Iterable[Timing]) -> Shared:
    """What stages share by these timings; the usual parts where there are too few days with several stages."""
    parts = _residuals(list(timings))
    days = len(parts)
    if days < ENOUGH_DAYS:
        return USUAL
    of_day, of_job, own = _variances(parts)
    whole = of_day + of_job + own
    if whole <= 0:
        return USUAL
    weight = days / (days + ENOUGH_DAYS)
    day = weight * of_day / whole + (1 - weight) * USUAL.day
    job = weight * of_job / whole + (1 - weight) * USUAL.job
    too_much = max(1.0, (day + job) / MOST_SHARED)
    day, job = day / too_much, job / too_much
    hand = (1 - day - job) * USUAL.hand / (1 - USUAL.day - USUAL.job)
    return Shared(day=day, hand=hand, job=job, days_behind=days)


def _residuals(timings: list[Timing]) -> Parts:
    """Logarithms of actual over planned minutes, less the mean of their method, of days with several stages."""
    logs = [math.log(t.actual_minutes / t.planned_minutes) for t in timings]
    by_method: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    for timing, log in zip(timings, logs, strict=True):
        by_method[timing.method, timing.condition].append(log)
    parts: Parts = {}
    for timing, log in zip(timings, logs, strict=True):
        usual = fmean(by_method[timing.method, timing.condition])
        parts.setdefault(timing.date.isoformat(), {}).setdefault(timing.job, []).append(log - usual)
    return {day: jobs for day, jobs in parts.items() if sum(map(len, jobs.values())) > 1}


def _variances(parts: Parts) -> tuple[float, float, float]:
    """The variances of days, of jobs within a day, and of stages within a job, each at least 0."""
    cells = [cell for jobs in parts.values() for cell in jobs.values()]
    of_days = [[x for cell in jobs.values() for x in cell] for jobs in parts.values()]
    count, days, jobs = sum(map(len, cells)), len(of_days), len(cells)
    middle = fmean(x for cell in cells for x in cell)
    within = sum((x - fmean(cell)) ** 2 for cell in cells for x in cell)
    between_jobs = sum(len(cell) * fmean(cell) ** 2 for cell in cells) - sum(len(d) * fmean(d) ** 2 for d in of_days)
    between_days = sum(len(day) * (fmean(day) - middle) ** 2 for day in of_days)

    own = within / (count - jobs) if count > jobs else 0.0
    in_day = sum(sum(len(c) ** 2 for c in js.values()) / sum(map(len, js.values())) for js in parts.values())
    squares = sum(len(cell) ** 2 for cell in cells) / count
    of_job = 0.0
    if jobs > days:
        of_job = max(0.0, (between_jobs - (jobs - days) * own) / (count - in_day))
    rest = between_days - (days - 1) * own - (in_day - squares) * of_job
    of_day = max(0.0, rest / (count - sum(len(day) ** 2 for day in of_days) / count))
    if jobs == days:  # one job a day: what they share cannot be told apart, and is split as usual
        of_job = of_day * USUAL.job / (USUAL.day + USUAL.job)
        of_day -= of_job
    return of_day, of_job, own
