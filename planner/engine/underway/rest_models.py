"""Models of the rest of a day outside the search: for its first plan, for running waits, for why there is none."""

import time
from dataclasses import dataclass, field, replace

from ortools.sat.python import cp_model

from planner.day import Day
from planner.engine.build import SPARE_HORIZON
from planner.engine.problem import Problem
from planner.engine.ranking import Budget, Score
from planner.engine.rules import obey_all
from planner.engine.solver import solver_within
from planner.engine.solving import Solution
from planner.engine.underway.held import Held
from planner.engine.underway.rest import underway
from planner.engine.underway.whole_day import RestReading
from planner.engine.variables import Caps, Variables
from planner.plan.past import Past
from planner.plan.plan import Plan
from planner.plan.progress import Progress

LEAST_SECONDS = 2.0
"""However little time is left, a question is given so long: what is on is not left on for want of a second."""


@dataclass(frozen=True)
class RestModels:
    """Makes models of what is left of a day as it went, bound to what has happened.

    ``left`` is the part of the old plan that is not over: no model has fewer stays or slots than it needs. Each
    question may take half of the time that is left of the budget, which runs from ``began``.
    """

    day: Day
    past: Past
    left: Plan
    progress: Progress
    budget: Budget
    began: float = field(default_factory=time.monotonic)

    def problem_of(self, day: Day) -> Problem:
        """The problem of the rest of a day: its end of time leaves room for what the plan has, however late that is."""
        found = underway(day, self.past, self.progress.at)
        planned = max((drive.end + SPARE_HORIZON for drive in self.left.drives), default=0)
        return replace(found, horizon=max(found.horizon, planned))

    def bind(self, v: Variables) -> None:
        """Bind a model to what has happened."""
        Held(self.day, self.past, v, self.progress).bind()

    def model(self, problem: Problem, row: int | None = None, stays: int = 1) -> Variables:
        """A model of a problem of the rest, with rows of so many slots and at the least so many stays."""
        stays = max([stays, *(s.number for s in self.left.stays)])
        v = Variables(problem, Caps(None, row, least_stays=stays))
        obey_all(v)
        self.bind(v)
        return v

    def rest_of(self, solution: Solution) -> Plan:
        """The plan of what is left that a solution is."""
        return RestReading(self.day, self.past, solution.variables, solution.of, self.progress).plan()

    def solve(self, v: Variables, seconds: float) -> tuple[Solution | None, cp_model.CpSolverStatus]:
        """The solution, where one was found in the time, and what came of it."""
        most = 2 * self.budget.seconds
        if not self.budget.deterministic:
            most = max(LEAST_SECONDS, (self.began + self.budget.seconds - time.monotonic()) / 2)
        solver = solver_within(self.budget, min(seconds, most))
        status = solver.solve(v.model)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None, status
        return Solution(v, tuple(solver.response_proto.solution), Score(0, 0, 0)), status
