"""A plan put together job by job: an order of the jobs, then each job planned as a day of its own.

Long days of many jobs are too much for one search at first. Each job alone is small; planned one after another, each
beginning where the one before ended, they make a good whole in seconds, from which the search for all goes on.
"""

import itertools
import threading
from collections.abc import Callable, Sequence
from dataclasses import replace

from planner.day import Break, Day
from planner.engine.build import build
from planner.engine.ranking import Budget
from planner.engine.serial.careful import checked_serial_plan
from planner.plan.plan import Plan

FEW_JOBS = 6
"""Of so many jobs every order is looked at; of more, orders are bettered by moving one job at a time."""

LATE_WEIGHT = 100
"""A minute past a window or a promise counts as so many minutes of the round."""

SECONDS_A_JOB = 5.0


PlanAlone = Callable[[Day, Budget], Plan | None]
"""Plans a day of one job."""


class Composing:
    """Plans the jobs of a day one after another, within a budget for all of them."""

    def __init__(self, day: Day, budget: Budget, plan_alone: PlanAlone, stop: threading.Event | None = None) -> None:
        self.day, self.budget, self.plan_alone, self.stop = day, budget, plan_alone, stop
        self.longest_drive = max(day.drive_minutes(a, b) for a in _places(day) for b in _places(day))
        self.minutes = {job: self._guess(job) for job in day.jobs}

    def plan(self) -> Plan | None:
        """The composed plan, not yet checked; None when some job has no plan where it comes to stand."""
        parts: list[Plan] = []
        here, now, leaves = self.day.van.starts_at, self.day.start, None
        rested = False
        for job in self.order():
            part = self._plan_job(job, here, now, leaves, rested=rested)
            if part is None or (self.stop is not None and self.stop.is_set()):
                return None
            parts.append(part)
            leaves = part.leaves if leaves is None else leaves
            here, now = self.day.jobs[job].place, part.home
            rested = rested or bool(part.rests)
        return _joined(self.day, parts)

    def order(self) -> Sequence[str]:
        """The order of jobs that costs least by their guessed minutes: driving, waiting for windows, lateness."""
        jobs = list(self.day.jobs)
        if len(jobs) <= FEW_JOBS:
            return min(itertools.permutations(jobs), key=self._cost)
        best = sorted(jobs, key=lambda j: (self.day.jobs[j].done_by or 10_000, jobs.index(j)))
        bettered = True
        while bettered:
            moved = (_moved(best, n, m) for n in range(len(best)) for m in range(len(best)))
            other = min(moved, key=self._cost)
            bettered = self._cost(other) < self._cost(best)
            best = other if bettered else best
        return best

    def _cost(self, order: Sequence[str]) -> int:
        here, now, late = self.day.van.starts_at, self.day.start, 0
        for key in order:
            job = self.day.jobs[key]
            now += self.day.drive_minutes(here, job.place)
            if job.arrive is not None:
                now = max(now, job.arrive[0])
                late += max(0, now - job.arrive[1])
            now += self.minutes[key]
            late += max(0, now - job.done_by) if job.done_by is not None else 0
            here = job.place
        return now + self.day.drive_minutes(here, self.day.van.ends_at) + LATE_WEIGHT * late

    def _guess(self, job: str) -> int:
        """The minutes at a job: those of its serial order, or the bare work where that fails."""
        alone = self._alone(job, self.day.jobs[job].place, self.day.start, self.day.rest)
        plan = checked_serial_plan(alone, build(alone))
        if plan is not None:
            return plan.home - plan.leaves
        work = self.day.jobs[job]
        return sum(min(work.likely_minutes(s, m) for m in stage.methods) for s, stage in work.stages.items())

    def _alone(self, job: str, here: str, now: int, rest: Break | None) -> Day:
        """The day with one job only, begun at ``here`` and ended at the job."""
        place = self.day.jobs[job].place
        return self.day.model_copy(
            update={
                "jobs": {job: self.day.jobs[job].model_copy(update={"visits": 1})},
                "van": self.day.van.model_copy(update={"starts_at": here, "ends_at": place}),
                "start": now,
                "fixed_start": self.day.fixed_start and now == self.day.start,
                "rest": rest,
            }
        )

    def _plan_job(self, job: str, here: str, now: int, leaves: int | None, *, rested: bool) -> Plan | None:
        alone = self._alone(job, here, now, None if rested else self._rest_from(now, leaves))
        seconds = min(SECONDS_A_JOB, self.budget.seconds / len(self.day.jobs))
        return self.plan_alone(alone, replace(self.budget, seconds=seconds, quick=True))

    def _rest_from(self, now: int, leaves: int | None) -> Break | None:
        """The break still owed, as seen from a job that begins now: in time before whatever drive comes next."""
        rest = self.day.rest
        if rest is None:
            return None
        gone = 0 if leaves is None else now - leaves
        once_over = max(0, rest.once_over - gone - self.longest_drive)
        return rest.model_copy(update={"once_over": once_over, "soonest": max(0, min(rest.soonest - gone, once_over))})


def _moved(order: Sequence[str], n: int, m: int) -> list[str]:
    """The order with its n-th job moved to place m."""
    others = [*order[:n], *order[n + 1 :]]
    return [*others[:m], order[n], *others[m:]]


def _places(day: Day) -> list[str]:
    return list(dict.fromkeys([day.van.starts_at, day.van.ends_at, *(job.place for job in day.jobs.values())]))


def _joined(day: Day, parts: Sequence[Plan]) -> Plan:
    """Plans of single jobs, each begun where the one before ended, as one; each visit lasts until the next drive."""
    drives = [part.drives[0] for part in parts]
    last = parts[-1].visits[0].depart
    place, end = drives[-1].to_place, day.van.ends_at
    drives.append(
        replace(drives[-1], from_place=place, to_place=end, start=last, end=last + day.drive_minutes(place, end))
    )
    visits = [replace(part.visits[0], depart=leaving.start) for part, leaving in zip(parts, drives[1:], strict=True)]
    return Plan(
        drives=tuple(drives),
        visits=tuple(visits),
        works=tuple(x for part in parts for x in part.works),
        crossings=tuple(x for part in parts for x in part.crossings),
        stays=tuple(x for part in parts for x in part.stays),
        chores=tuple(x for part in parts for x in part.chores),
        rests=tuple(x for part in parts for x in part.rests),
        attendances=tuple(x for part in parts for x in part.attendances),
    )
