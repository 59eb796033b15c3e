"""A day of several jobs planned job by job, on several cores: a plan put together from theirs, and a bound."""

import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from enum import Enum

from planner.day import Day
from planner.engine.problem import Problem
from planner.engine.ranking import LEAST_SECONDS, Budget
from planner.engine.several_jobs.at_a_job import AtAJob
from planner.engine.several_jobs.composing import Composing
from planner.engine.several_jobs.shortest_round import Least, ShortestRound
from planner.plan.measures import measure
from planner.plan.plan import Plan

PLANS_SHARE = 0.4
"""The part of the time in which plans of the jobs are looked for, before all that is there is bettered and proven."""

TURN_SHARE, LEAST_TURN = 0.1, 2.0
"""How long a core betters a plan, or raises a bound, before it looks where it is needed most: a part of the time, and
seconds at the least, as in less little is proven."""

PIECES_SHARE = 0.5
"""Of the time of one job after the first look, the part in which its plan is bettered; else its bound is raised."""

LAST_SECONDS = 4.0
"""With less left than this, a job that is proven by one search gets all of it."""

JOINING_SHARE = 4.0
"""After a day was put together, none is for so many times as long as that took."""

WAIT_SECONDS = 0.1
"""How often a core with nothing to do looks whether there is something."""

LATE_SECONDS = 1.0
"""No job is planned anew where it comes to stand once the time has been over for so long."""

PlanInPlace = Callable[[Day, Budget], Plan | None]
"""Plans a day of one job within a budget."""


class Purpose(Enum):
    """What a core does for a job in one turn."""

    LOOK = "a first look for plans"
    BETTER = "its best plan is bettered piece by piece"
    PROVE = "its bound is raised"
    ALL = "a search that does both, of a small job or one without a plan"


@dataclass(frozen=True, eq=False)
class Turn:
    """What one core does next, and for how long."""

    job: AtAJob
    work: Purpose
    seconds: float


@dataclass(eq=False)
class Given:
    """Seconds that a job was given for each kind of work, and what is done for it now."""

    seconds: dict[Purpose, float] = field(default_factory=lambda: dict.fromkeys(Purpose, 0.0))
    now: list[Purpose] = field(default_factory=list)

    def begun(self, turn: Turn) -> None:
        """Count the seconds that a turn is to take."""
        self.now.append(turn.work)
        self.seconds[turn.work] += turn.seconds

    def ended(self, turn: Turn, seconds: float) -> None:
        """Count those that it took instead: some end soon, and a question that was begun goes on."""
        self.now.remove(turn.work)
        self.seconds[turn.work] += max(WAIT_SECONDS, seconds) - turn.seconds

    @property
    def total(self) -> float:
        """All of the seconds."""
        return sum(self.seconds.values())


class JobByJob:
    """Plans the jobs of a day, each alone and out of the clock, and puts them together.

    Each core takes one turn after the other at what needs it most, none waits for the others: the solver lets go of
    Python's lock while it works.
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
        self.put: tuple[int, ...] = ()
        self.longest, self.is_its_jobs = max(longest, budget.seconds), False
        self.given = {job: Given() for job in self.jobs}
        self.choosing, self.joining, self.quiet_until = threading.Lock(), threading.Lock(), 0.0
        weights = {job: len(job.problem.activities) ** 1.5 for job in self.jobs}
        look = PLANS_SHARE * self._left() * min(self.cores, len(self.jobs)) / sum(weights.values())
        self.look_seconds = {job: look * weight for job, weight in weights.items()}

    def run(self) -> None:
        """Look for plans of all jobs, put them together, and better and prove them until the time is over.

        Where equal runs are to be equal each job is bettered once: the solver's count of its work is each job's own.
        """
        if self.budget.deterministic:
            for job in self.jobs:
                self._look(job, self.look_seconds[job])
                self._put_together(as_they_are=True)
            self._put_together()
            for job in self.jobs:
                if not self._is_stopped():
                    self._better(job, (1 - PLANS_SHARE) * self._left() / len(self.jobs))
        else:
            with ThreadPoolExecutor(self.cores) as pool:
                for core in [pool.submit(self._take_turns) for _ in range(self.cores)]:
                    core.result()
        self._put_together()

    # --- turns --------------------------------------------------------------------------------------------------------

    def _take_turns(self) -> None:
        """What one core does."""
        while self._left() > 0 and not self._is_over():
            with self.choosing:
                turn = self._next()
            if turn is None:
                time.sleep(WAIT_SECONDS)
                continue
            began = time.monotonic()
            try:
                self._do(turn)
            finally:
                with self.choosing:
                    self.given[turn.job].ended(turn, time.monotonic() - began)
            if self._left() > 0 and time.monotonic() >= self.quiet_until:
                with self.joining:
                    began = time.monotonic()
                    self._put_together(as_they_are=not self._have_all_been_seen())
                    self.quiet_until = time.monotonic() + JOINING_SHARE * (time.monotonic() - began)

    def _next(self) -> Turn | None:
        """A job that was not looked at yet, the largest first; else the one with the widest gap for the time it had."""
        jobs, given, left = self.jobs, self.given, self._left()
        unseen = max((j for j in jobs if not given[j].total), key=self.look_seconds.__getitem__, default=None)
        if unseen is not None:
            return self._begun(Turn(unseen, Purpose.LOOK, min(left, max(LEAST_SECONDS, self.look_seconds[unseen]))))
        for job in sorted(jobs, key=lambda j: -j.gap / given[j].total):
            if job.is_proven or Purpose.LOOK in given[job].now or Purpose.ALL in given[job].now:
                continue
            if job.best is None or job.problem.is_small:
                if not given[job].now:
                    is_last = left < LAST_SECONDS or sum(not j.is_proven for j in jobs) == 1
                    return self._begun(Turn(job, Purpose.ALL, left if is_last else left / 2))
                continue
            work = self._work_for(given[job])
            if work is not None:
                return self._begun(Turn(job, work, min(left, max(LEAST_TURN, TURN_SHARE * self.budget.seconds))))
        return None

    def _have_all_been_seen(self) -> bool:
        return all(given.total and Purpose.LOOK not in given.now for given in self.given.values())

    def _work_for(self, given: Given) -> Purpose | None:
        """To better its plan or to prove it, whichever had less than its share; None where both are done now."""
        bettered, proved = given.seconds[Purpose.BETTER], given.seconds[Purpose.PROVE]
        wanted = Purpose.BETTER if bettered * (1 - PIECES_SHARE) <= proved * PIECES_SHARE else Purpose.PROVE
        other = Purpose.PROVE if wanted is Purpose.BETTER else Purpose.BETTER
        return next((work for work in (wanted, other) if work not in given.now), None)

    def _begun(self, turn: Turn) -> Turn:
        self.given[turn.job].begun(turn)
        return turn

    def _do(self, turn: Turn) -> None:
        job = turn.job
        match turn.work:
            case Purpose.LOOK:
                self._look(job, turn.seconds)
            case Purpose.BETTER:
                job.better_piece_by_piece(job.clock() + turn.seconds)
            case Purpose.PROVE:
                job.prove(turn.seconds, self._left())
            case Purpose.ALL:
                self._better(job, turn.seconds)

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
        proving = (1 - PIECES_SHARE) * seconds
        job.prove(proving, proving)

    def _put_together(self, *, as_they_are: bool = False) -> None:
        """Give out the day of the jobs' best plans, if it is not the one given before.

        With ``as_they_are`` no job is planned anew where it comes to stand: one that cannot be there leaves none.
        """
        if self._is_stopped():
            return
        own = {job.job: plan for job in self.jobs if (plan := job.plan or job.first) is not None}
        now = tuple(0 if job.best is None else job.best.value(job.problem.price) for job in self.jobs)
        if len(own) < len(self.jobs) or not any(now) or now == self.put:
            return
        self.put = () if as_they_are else now
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
