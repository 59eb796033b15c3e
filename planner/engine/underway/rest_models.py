"""Models of the rest of a day outside the search: for its first plan, for running waits, for why there is none."""

from dataclasses import dataclass

from ortools.sat.python import cp_model

from planner.day import Day
from planner.engine.problem import Problem
from planner.engine.ranking import Budget, Score
from planner.engine.rules import obey_all
from planner.engine.solver import solver_within
from planner.engine.solving import Solution
from planner.engine.underway.held import Held
from planner.engine.underway.whole_day import RestReading
from planner.engine.variables import Caps, Variables
from planner.plan.past import Past
from planner.plan.plan import Plan
from planner.plan.progress import Progress


@dataclass(frozen=True)
class RestModels:
    """Makes models of what is left of a day as it went, bound to what has happened.

    ``left`` is the part of the old plan that is not over: no model has fewer stays or slots than it needs.
    """

    day: Day
    past: Past
    left: Plan
    progress: Progress
    budget: Budget

    def bind(self, v: Variables) -> None:
        """Bind a model to what has happened."""
        Held(self.day, self.past, v, self.progress).bind()

    def model(self, problem: Problem, row: int | None = None) -> Variables:
        """A model of a problem of the rest, with rows of so many slots."""
        stays = max((s.number for s in self.left.stays), default=1)
        v = Variables(problem, Caps(None, row, least_stays=stays))
        obey_all(v)
        self.bind(v)
        return v

    def rest_of(self, v: Variables, values: tuple[int, ...]) -> Plan:
        """The plan of what is left that a solution is."""
        solution = Solution(v, values, Score(0, 0, 0))
        return RestReading(self.day, self.past, v, solution.of, self.progress).plan()

    def solve(self, v: Variables, seconds: float) -> tuple[cp_model.CpSolver | None, cp_model.CpSolverStatus]:
        """The solver, where it found a solution in the time, and what came of it."""
        solver = solver_within(self.budget, min(seconds, 2 * self.budget.seconds))
        status = solver.solve(v.model)
        return (solver if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None), status
