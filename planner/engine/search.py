"""The search: least overrun first, then least value of minutes and restricted crossings, then tidiness.

Minutes and crossings as one weighted objective bound badly, so the second level is taken apart by the number of
restricted crossings: the fewest are found first; then, for each number from there up, only plans that would beat
the best so far are looked for. Each such search is small, and together they prove the whole.
"""

import time
from collections.abc import Sequence
from dataclasses import replace
from typing import Unpack

from ortools.sat.python import cp_model

from planner.engine.bounds import crossings_needed, legs_needed, without_ways
from planner.engine.by_number import ByNumber
from planner.engine.few_crossings import MANY, look_in_few_crossings
from planner.engine.hints import give, hold_other_jobs
from planner.engine.last_word import Levels, bind_value, last_word, settled
from planner.engine.piece_by_piece import better_piece_by_piece, caps_of_best, held_in_model
from planner.engine.problem import Problem
from planner.engine.projects.list_scheduling import makespan, schedule
from planner.engine.ranking import LEAST_SECONDS, Budget, Range
from planner.engine.rules import obey_all
from planner.engine.several_jobs.shortest_round import Least
from planner.engine.solver import HARDER
from planner.engine.solving import Outcome, Solution, ToSolve
from planner.engine.variables import Caps, Variables

FEW_TRIPS, MORE_TRIPS, FEW_SHARE = 4, 2, 0.2
"""Trips of a hand in a row that a first, small model has at the least, how many more than the loads need, and the part
of the time for it."""

FEW_SHUTTLES = 6
"""The same where a trip may be several, all but one of them with containers alone."""

FIRST_PLAN_SHARE, NO_PLAN_SHARE, FEWER_SHARE = 0.5, 0.2, 0.2
"""Parts of what is left for one model that looks for the fewest crossings. As long as there is no plan at all, finding
one, whichever it is, matters more than anything later, or to prove that there is none: harder reasoning does so in a
tenth of the time, or hardly at all, so it goes first. With a plan in hand, the number is worth a look and no more."""

MORE_CROSSINGS = 2
"""By how many crossings a model that was too small is raised: one that adds a single trip seldom helps, as what comes
in goes out again, and every model that is proven too small has cost its time. Where there is no plan at all the number
is doubled each time: perhaps there is none."""

QUICK_SHARE = 0.9
"""The part of what is left for one look of a quick search, which has no later: all but what building a model takes."""

WORTH_ANOTHER_ROUND = 0.99
"""Jobs are planned anew in another round only when the last one took at least a hundredth off the value."""

FLOOR_SHARE, JOBS_SHARE = 0.1, 0.25
"""Parts of the time for the floor, and for planning job by job."""

LEAST_ROW = 4
"""Slots in a row that a plan which is bettered piece by piece may use, at the least."""

LONGEST_TIDY = 60.0
"""Seconds that tidying may take where the budget is of work, not of time: only a machine that hangs takes so long."""


class Search(ByNumber):
    """One search through the levels, within a budget.

    To what is asked of it before, ``order`` are activities in the order of a plan before, to stay near; ``row`` the
    most crossings of one hand to one ground in one visit of the plan that is known, ``stays`` how often one kit comes
    to one ground in it; ``is_shown`` says that this plan was shown to somebody before.
    """

    def __init__(
        self,
        problem: Problem,
        budget: Budget,
        *,
        order: Sequence[int] = (),
        row: int = 0,
        stays: int = 1,
        is_shown: bool = False,
        fewest: int = 0,
        least: Least | None = None,
        **asked: Unpack[ToSolve],
    ) -> None:
        super().__init__(problem, budget, fewest=fewest, least=least, **asked)
        self.order, self.is_shown, self.rows_and_stays = order, is_shown, (max(LEAST_ROW, row), stays)

    def run(self) -> Outcome:
        """Search all levels; the outcome holds the best solution and what is proven of it."""
        least = None if self._is_proven_before() else look_in_few_crossings(self)
        looked = least is not None
        self.floor = max(self.floor, least or 0)
        if self.best is None and not self.problem.is_large:
            self._look_for_any_plan()
        is_kept = self._is_known_as_a_whole() and not self._is_proven_before()
        if is_kept:
            self._better_piece_by_piece()
        if not self.problem.jobs:
            self._find_least_makespan()
        elif self._is_proven_before() or (is_kept and self.problem.is_large and self.adjust is None):
            self.lows[Range(0, None)] = self.floor  # of a large day the jobs prove more than any model of the whole
            self._conclude()
            self._tidy()
        elif self._find_fewest_crossings(by_loads=looked) and self.budget.quick:
            self._beat(Range(self.fewest, self._standing.crossings + 1), QUICK_SHARE * self._left())
        elif self.best is not None:
            if not least:
                self._raise_floor()
            self._better_in_few_trips()
            self._better_job_by_job()
            if not is_kept and (self.problem.is_large or self.adjust is not None):
                self._better_piece_by_piece()
            self._beat_by_number_of_crossings(looked=looked)
            self._press_on()
            self._conclude()
            self._tidy()
        self.outcome.stopped = self.must_stop()
        self.outcome.seconds = time.monotonic() - self.began
        return self.outcome

    def prove(self) -> Outcome:
        """Raise the bounds, and better the best plan where that comes of it; nothing is tidied."""
        if self._find_fewest_crossings():
            self._raise_floor()
            self._better_in_few_trips()
            self._beat_by_number_of_crossings()
            self._press_on()
            self._conclude()
        return self.outcome

    def _find_least_makespan(self) -> None:
        """A problem of activities alone has one level, and often one that is proven without a solver."""
        built = schedule(self.problem)
        most = None if built is None else makespan(self.problem, built[0])
        v = self._variables(Caps(latest_home=most))
        if built is not None:
            for task, start in zip(v.activities, built[0], strict=True):
                v.model.add_hint(task.start, start)
            v.model.add(v.home >= built[1])
            if most == built[1]:
                self.offer(self._scheduled(v, built[0]))
                self.outcome.bound = built[1] - self.problem.origin
                return
        v.model.minimize(v.home)
        solver, status = self.solve(v, self._left())
        self.outcome.infeasible = status == cp_model.INFEASIBLE
        self.outcome.bound = self.home_bound(solver) if self.best is not None else 0

    def _scheduled(self, v: Variables, starts: Sequence[int]) -> Solution:
        """A solution from start minutes alone."""
        values = [0] * len(v.model.proto.variables)
        for task, start in zip(v.activities, starts, strict=True):
            values[task.start.index] = start
        values[v.home.index] = makespan(self.problem, starts)
        return self.read(v, tuple(values))

    def _find_fewest_crossings(self, *, by_loads: bool = False) -> bool:
        """The fewest restricted crossings: some plan, and a lower bound on their number. False when no plan is found.

        Models with few slots are small, so the number is raised from what the loads need until a plan is found. Only
        what the loads need is taken ``by_loads``: where a good plan is known, each number alone is soon proven too few.
        """
        if by_loads and self.best is not None:
            self.fewest = max(self.fewest, crossings_needed(self.problem))
            return True
        if self.best is not None and (self.must_stop() or not self._restricted()):
            return True
        least = max(crossings_needed(self.problem), self.fewest)
        if self.best is not None and self.best.crossings == least:
            self.fewest = least
            return True
        most = self.useful if self.most_crossings is None else min(self.useful, self.most_crossings)
        most = most if self.best is None else min(most, self.best.crossings)
        cap, more = min(most, least + 1), MORE_CROSSINGS
        while True:
            v = self._variables(self._caps(cap))
            count = v.crossings(restricted=True)
            v.model.add(count <= cap)
            if self._left() <= 0:  # to make the model of a large day takes seconds
                return self.best is not None
            enough = (lambda _: True) if self.budget.quick else None
            status = cp_model.UNKNOWN
            if self.best is None:
                _, status = self.solve(v, NO_PLAN_SHARE * self._left(), lambda _: True, way=HARDER)
                if status == cp_model.UNKNOWN and not self._may_go_on():
                    return False
            if status != cp_model.INFEASIBLE:
                v.model.minimize(count)
                share = FIRST_PLAN_SHARE if self.best is None else FEWER_SHARE
                solver, status = self.solve(v, share * self._left(), enough)
            if status == cp_model.INFEASIBLE:
                self.fewest = cap + 1
                if cap >= most:
                    self.outcome.infeasible = self.best is None
                    return self.best is not None
                if not self._may_go_on():
                    return self.best is not None
            else:
                self.fewest = max(self.fewest, round(solver.best_objective_bound))
                if self.best is not None or self._left() < 0.1 or self.must_stop():
                    return self.best is not None
            cap, more = min(most, cap + more), more if self.best is not None else 2 * more

    def _raise_floor(self) -> None:
        """A better bound on minutes home for any number of crossings: the least with every way in free."""
        if self.adjust is not None or self.must_stop():
            return
        latest = self._caps(None).latest_home
        _, solver, status = self.soonest_home(without_ways(self.problem), self._left() * FLOOR_SHARE, latest)
        if status != cp_model.INFEASIBLE:
            self.floor = max(self.floor, self.home_bound(solver))

    def _look_for_any_plan(self) -> None:
        """Where nothing is known and nobody counts the trips by a long way: any plan of few of them, in a small model.

        With room for as many as are ever of use the model is so large that for long none is found.
        """
        if self._has_long_ways() and self._may_go_on():
            v = self._variables(Caps(None, FEW_SHUTTLES, shuttles=True))
            self.solve_for_plans(v, v.model, self._left() * FEW_SHARE)

    def _has_long_ways(self) -> bool:
        """Whether there is a way that takes time and is not restricted."""
        return any(ground.slots and not ground.restricted for ground in self.problem.grounds)

    def _better_in_few_trips(self) -> None:
        """By long ways that are not restricted nobody counts the trips: first see what few of them can do.

        The model is small, and a better plan leaves less time for more trips; it proves nothing.
        """
        if not self._has_long_ways() or not self._may_go_on():
            return
        best, price = self._standing, self.problem.price
        needed = max(legs_needed(self.problem, g) for g, ground in enumerate(self.problem.grounds) if ground.slots)
        caps = self._caps(None if not self._restricted() else best.crossings, row=max(FEW_TRIPS, needed + MORE_TRIPS))
        v = self._variables(replace(caps, per_row=FEW_SHUTTLES, shuttles=True) if needed >= MANY else caps)
        v.model.minimize(v.home + price * v.crossings(restricted=True))
        self.solve(v, self._left() * FEW_SHARE)

    def _is_proven_before(self) -> bool:
        """Whether what is known of every plan already proves the best one."""
        best = self.best
        return best is not None and not best.overrun and best.value(self.problem.price) <= self.least.value

    def _better_job_by_job(self) -> None:
        """With several jobs: plan each anew while the choices made for the others hold, as long as that gains much.

        A small day is sooner planned whole.
        """
        if len(self.problem.jobs) < 2 or self.problem.is_small or self.problem.is_large:
            return
        gained, until = True, self._left() * (1 - JOBS_SHARE)
        while gained and self._left() > until and not self.must_stop():
            before = self._standing
            for job in range(len(self.problem.jobs)):
                if self._left() > until and not self.must_stop():
                    self._better_job(job)
            gained = self._standing.value(self.problem.price) < WORTH_ANOTHER_ROUND * before.value(self.problem.price)

    def _better_job(self, job: int) -> None:
        price, best = self.problem.price, self._standing
        v = self._variables(self._caps(best.crossings), hinted=False)
        said = {} if self.hint is None else self.hint(v, self.outcome.best)
        give(v, said)
        hold_other_jobs(v, said, job)
        count = v.crossings(restricted=True)
        v.model.minimize(v.home + price * count)
        self.solve(v, max(LEAST_SECONDS, self.budget.seconds * JOBS_SHARE / (2 * len(self.problem.jobs))))

    def _is_known_as_a_whole(self) -> bool:
        """Whether there is a plan that pieces soon better: the kept order, or one job after another."""
        problem = self.problem
        of_jobs = len(problem.jobs) > 1 and not problem.is_small
        return self.best is not None and (self.adjust is not None or (of_jobs and not self.budget.quick))

    def _better_piece_by_piece(self) -> None:
        """What is too much for one search at once: plan pieces of the best plan anew, the rest held as it is."""
        if self.best is not None and self._may_go_on():
            better_piece_by_piece(self, *self.rows_and_stays, self._left())

    def _tidy(self) -> None:
        """The lower levels: the last word where the best is proven, else from the best that there is."""
        if self.best is None or not self.problem.hands or self._is_as_it_was():
            return
        until = self.began + self.budget.seconds if not self.budget.deterministic else time.monotonic() + LONGEST_TIDY
        if time.monotonic() + (self.making if self.problem.is_large else 0) >= until:
            return
        standing, found = self._standing, None
        if self._is_proven() and self.adjust is None and not self.problem.is_large:
            found = last_word(self.problem, standing, self._bare, until, self.stop, self.most_crossings)
        self.outcome.best = found or self._tidied(until) or self.outcome.best

    def _tidied(self, until: float) -> Solution | None:
        """The best plan, with the lower levels settled from there."""
        standing, start = self._standing, None
        if self.problem.is_large:
            held = held_in_model(self, caps_of_best(self, *self.rows_and_stays))
            if held is None:
                return None
            v, start = held[0].variables, held[0].values
        else:
            v = self._variables(self._caps(standing.crossings, standing.minutes))
        bind_value(v, standing, self.most_crossings)
        return settled(Levels(v, tuple(self.order)), start, standing, until, self.stop)

    def _bare(self, caps: Caps) -> Variables:
        v = Variables(self.problem, caps)
        obey_all(v)
        return v

    def _is_proven(self) -> bool:
        out = self.outcome
        return out.overrun_bound >= self._standing.overrun and out.bound >= self._standing.value(self.problem.price)

    def _is_as_it_was(self) -> bool:
        """A plan that was shown before stays as it is, where nothing better was found and it is not proven."""
        return self.is_shown and self.outcome.best is None and not self._is_proven()
