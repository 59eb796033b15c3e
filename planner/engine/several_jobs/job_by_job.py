"""A day of several jobs planned job by job, on several cores: a plan put together from theirs, and a bound."""

import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

from planner.day import Day
from planner.engine.problem import Problem
from planner.engine.ranking import LEAST_SECONDS, Budget
from planner.engine.several_jobs.at_a_job import AtAJob
from planner.engine.several_jobs.composing import Composing
from planner.engine.several_jobs.shortest_round import Least, ShortestRound
from planner.plan.measures import measure
from planner.plan.plan import Plan

PLANS_SHARE = 0.4
"""The part of the time in which plans of the jobs are looked for, before the first is put together."""

PIECES_SHARE = 0.3
"""Of the time of one job after that, the part in which its plan is bettered; in the rest its bound is raised."""

LAST_SECONDS = 4.0
"""With less left than this, the jobs that are worst proven get all of it: in less little is proven."""

LATE_SECONDS = 1.0
"""No job is planned anew where it comes to stand once the time has been over for so long."""

PlanInPlace = Callable[[Day, Budget], Plan | None]
"""Plans a day of one job within a budget."""


class JobByJob:
    """Plans the jobs of a day, each alone and out of the clock, and puts them together.

    Jobs are searched side by side, one thread for each core: the solver lets go of Python's lock while it works.
    ``on_plan`` is told each plan that is put together, none of them checked, and says whether it holds. Where the last
    takes no more than the shortest round over its jobs' plans, the day gets better only as these do, and they have all
    of ``longest`` seconds. ``least`` are lower bounds on value and minutes home of every plan of the day, at any time.
    """

    def __init__(
        self,
        day: Day,
        problem: Problem,
        budget: Budget,
        plan_in_place: PlanInPlace,
        on_plan: Callable[[Plan], bool],
        stop: threading.Event | None = None,
        longest: float = 0.0,
    ) -> None:
        self.day, self.problem, self.budget = day, problem, budget
        self.plan_in_place, self.on_plan, self.stop = plan_in_place, on_plan, stop
        self.cores = budget.cores
        self.began = time.monotonic()
        self.jobs = [AtAJob(day, job, budget, stop) for job in day.jobs]
        self.given: tuple[int, ...] = ()
        self.longest, self.is_its_jobs = max(longest, budget.seconds), False

    def run(self) -> None:
        """Look for plans of all jobs, put them together, and better the worst proven until the time is over.

        Where equal runs are to be equal each job is bettered once: the solver's count of its work is each job's own.
        """
        weights = [len(job.problem.activities) ** 1.5 for job in self.jobs]
        whole = PLANS_SHARE * self._left() * min(self.cores, len(self.jobs)) / sum(weights)
        with ThreadPoolExecutor(self.cores) as pool:
            for _ in pool.map(lambda job, weight: self._look(job, whole * weight), self.jobs, weights):
                if self._left() > 0:
                    self._put_together(as_they_are=True)
            if self._left() > 0 or not self.problem.is_large:  # which takes a large day a second
                self._put_together()
            if self.budget.deterministic:
                for job in self.jobs:
                    self._better(job, (1 - PLANS_SHARE) * self._left() / len(self.jobs))
                self._put_together()
                return
            while self._left() > 0 and not self._is_over():
                waiting = sorted((job for job in self.jobs if not job.is_proven), key=lambda job: -job.gap)
                waiting = waiting[: self.cores]
                is_last = len(waiting) <= 1 or self._left() < LAST_SECONDS
                seconds = self._left() if is_last else self._left() / 2
                for _ in pool.map(lambda job, seconds=seconds: self._better(job, seconds), waiting):
                    pass
                self._put_together()

    @property
    def least(self) -> Least:
        """Lower bounds on the value and on the minutes home of every plan of the day."""
        value, minutes = ShortestRound(self.problem, [job.least for job in self.jobs]).least()
        return Least(value, minutes)

    def _left(self) -> float:
        """Seconds that are left; where the solver's own work is counted, all: each job counts its own."""
        if self.budget.deterministic:
            return self.budget.seconds
        return (self.longest if self.is_its_jobs else self.budget.seconds) - (time.monotonic() - self.began)

    def _is_stopped(self) -> bool:
        return self.stop is not None and self.stop.is_set()

    def _is_over(self) -> bool:
        if self._is_stopped() or any(job.is_impossible for job in self.jobs):
            return True
        return all(job.is_proven for job in self.jobs)

    def _look(self, job: AtAJob, seconds: float) -> None:
        """Look for a job's plans for some time, and not at all once that of the day is over."""
        if (left := self._left()) > 0:
            job.look_for_plans(job.clock() + min(max(LEAST_SECONDS, seconds), left))

    def _better(self, job: AtAJob, seconds: float) -> None:
        """Better one job's plan and raise its bound; one that has no plan yet gets all the time for one."""
        if job.best is None:
            job.look_for_plans(job.clock() + seconds)
        job.better_piece_by_piece(job.clock() + PIECES_SHARE * seconds)
        job.prove((1 - PIECES_SHARE) * seconds)

    def _put_together(self, *, as_they_are: bool = False) -> None:
        """Give out the day of the jobs' best plans, if it is not the one given before.

        With ``as_they_are`` no job is planned anew where it comes to stand: one that cannot be there leaves none.
        """
        if self._is_stopped():
            return
        own = {job.job: plan for job in self.jobs if (plan := job.plan or job.first) is not None}
        now = tuple(0 if job.best is None else job.best.value(job.problem.price) for job in self.jobs)
        if len(own) < len(self.jobs) or not any(now) or now == self.given:
            return
        self.given = () if as_they_are else now
        seconds = max(LEAST_SECONDS, self._left() / len(self.jobs) / 4)
        budget = replace(self.budget, seconds=seconds, quick=True)

        def in_place(day: Day) -> Plan | None:
            return None if as_they_are or self._left() < -LATE_SECONDS else self.plan_in_place(day, budget)

        plan = Composing(self.day, own, in_place, self._is_stopped).plan()
        if plan is not None:
            self.is_its_jobs = self.on_plan(plan) and measure(self.day, plan).value <= self._round_of_plans()

    def _round_of_plans(self) -> int:
        """What the shortest round over the jobs as they are planned takes; -1 where one may be come back to."""
        if any(job.returns or job.best is None for job in self.jobs):
            return -1
        known = [(job.best, job.problem.price) for job in self.jobs if job.best is not None]
        done = [Least(best.value(price), best.minutes, best.crossings) for best, price in known]
        return ShortestRound(self.problem, done).least()[0]
