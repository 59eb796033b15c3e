"""One solve after another of one problem: each model made, hinted and solved, and the best solution kept."""

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TypedDict, Unpack

from ortools.sat.python import cp_model

from planner.engine.hints import give
from planner.engine.problem import Problem
from planner.engine.ranking import Budget, Score
from planner.engine.rules import obey_all
from planner.engine.solver import FOR_PLANS, Way, solver_alone, solver_within
from planner.engine.variables import Caps, Expr, Variables

LEAST_PATIENCE = 1.0
"""Seconds without a better plan before a search for plans is given up, at the least."""


TIDY_SHARE, TIDY_SECONDS = 0.15, 3.0
"""So much of the time, and so many seconds at the most, are kept for the lower levels."""


@dataclass(frozen=True)
class Solution:
    """Values for the variables of one model."""

    variables: Variables
    values: tuple[int, ...]
    standing: Score

    def of(self, expr: Expr) -> int:
        """The value of a variable, literal or constant."""
        return value_in(self.values, expr)


def value_in(values: tuple[int, ...], expr: Expr) -> int:
    """The value of a variable, literal or constant among the values of a model's variables."""
    if isinstance(expr, int):
        return expr
    index: int = expr.index
    return values[index] if index >= 0 else 1 - values[-index - 1]


@dataclass
class Outcome:
    """What a search found and proved.

    ``best`` is None when nothing better than the known plan was found. ``bound`` is a lower bound on the value, of
    which the search itself proved ``own_bound``; ``overrun_bound`` is one on the overrun; ``least`` maps a number of
    restricted crossings to (minutes, lower bound).
    """

    best: Solution | None = None
    bound: int = 0
    own_bound: int = 0
    overrun_bound: int = 0
    infeasible: bool = False
    stopped: bool = False
    seconds: float = 0.0
    least: dict[int, tuple[int | None, int]] = field(default_factory=dict)


class _Watch(cp_model.CpSolverSolutionCallback):
    """Hands each solution on as it is found, and stops the solver when asked."""

    def __init__(self, solving: "Solving", variables: Variables, goal: Callable[[Solution], bool] | None) -> None:
        super().__init__()
        self.solving, self.variables, self.goal = solving, variables, goal
        self.began = time.monotonic()
        self.last: float | None = None

    def is_idle(self, patience: float) -> bool:
        """Whether nothing better was found for so many times as long as it took to find the last."""
        if self.last is None:
            return False
        return time.monotonic() - self.last > max(LEAST_PATIENCE, patience * (self.last - self.began))

    def on_solution_callback(self) -> None:
        """Keep the solution if it is the best so far."""
        self.last = time.monotonic()
        solution = self.solving.read(self.variables, tuple(self.response_proto.solution))
        self.solving.offer(solution)
        if self.solving.must_stop() or (self.goal is not None and self.goal(solution)):
            self.stop_search()


@contextmanager
def _giving_up(solver: cp_model.CpSolver, watch: _Watch, patience: float | None) -> Iterator[None]:
    """Stops a solver that has found nothing better for long, by its own measure; with no ``patience`` named, never."""
    if patience is None:
        yield
        return
    over = threading.Event()

    def wait() -> None:
        while not over.wait(0.1):
            if watch.is_idle(patience):
                solver.stop_search()

    waiting = threading.Thread(target=wait, daemon=True)
    waiting.start()
    try:
        yield
    finally:
        over.set()
        waiting.join()


class ToSolve(TypedDict, total=False):
    """What a solving may be told beside its problem and budget.

    ``known`` says how good a plan already known is; ``hint`` is called on every new model with the best solution so
    far; ``adjust`` may add to every model (what has already happened); ``most_crossings`` are allowed at the most.
    """

    known: Score | None
    on_better: Callable[[Solution], None] | None
    hint: Callable[[Variables, Solution | None], dict[int, int]] | None
    stop: threading.Event | None
    most_crossings: int | None
    adjust: Callable[[Variables], None] | None


class Solving:
    """Solves models of one problem within a budget, and knows the best solution so far.

    ``making`` is how long the slowest model took to be made, which on a large day is seconds, by the steady clock.
    """

    def __init__(
        self,
        problem: Problem,
        budget: Budget,
        **asked: Unpack[ToSolve],
    ) -> None:
        self.problem, self.budget = problem, budget
        self.on_better, self.hint, self.stop = asked.get("on_better"), asked.get("hint"), asked.get("stop")
        self.most_crossings, self.adjust = asked.get("most_crossings"), asked.get("adjust")
        self.outcome = Outcome()
        self.offering = threading.Lock()
        self.best = asked.get("known")
        self.began = time.monotonic()
        self.spent = 0.0
        self.making = 0.0

    @property
    def _standing(self) -> Score:
        """How good the best plan known is; there must be one."""
        assert self.best is not None
        return self.best

    def _variables(self, caps: Caps, *, hinted: bool = True) -> Variables:
        began = time.monotonic()
        v = Variables(self.problem, caps)
        obey_all(v)
        if self.adjust is not None:
            self.adjust(v)
        if self.most_crossings is not None:
            v.model.add(v.crossings(restricted=True) <= self.most_crossings)
        if hinted and self.hint is not None and self._left() > 0:  # of a large day a hint takes seconds
            give(v, self.hint(v, self.outcome.best))
        if not self.budget.deterministic:
            self.making = max(self.making, time.monotonic() - began)
        return v

    def solve(
        self,
        v: Variables,
        seconds: float,
        goal: Callable[[Solution], bool] | None = None,
        *,
        offer: bool = True,
        way: Way | None = None,
        ended: threading.Event | None = None,
    ) -> tuple[cp_model.CpSolver, cp_model.CpSolverStatus]:
        """Look for plans and bounds on all cores, or, in a ``way``, on one until it has ``ended`` on another."""
        if way is None:
            solver = solver_within(self.budget, seconds, self.stop, ended)
        else:
            solver = solver_alone(self.budget, seconds, way, self.stop, ended)
        status = solver.solve(v.model, _Watch(self, v, goal) if offer else None)
        self.spent += solver.response_proto.deterministic_time
        return solver, status

    def solve_for_plans(
        self,
        v: Variables,
        model: cp_model.CpModel,
        seconds: float,
        *,
        patience: float | None = None,
        enough: threading.Event | None = None,
    ) -> cp_model.CpSolverStatus:
        """Look for better plans and hardly for bounds, on one core; ``model`` is that of ``v`` or says more.

        With ``patience`` it ends when nothing better was found for so many times as long as it took to find the last;
        it also ends when what others found is ``enough``.
        """
        solver = solver_alone(self.budget, seconds, FOR_PLANS, self.stop, enough)
        watch = _Watch(self, v, None)
        with _giving_up(solver, watch, None if self.budget.deterministic else patience):
            status = solver.solve(model, watch)
        self.spent += solver.response_proto.deterministic_time
        return status

    def soonest_home(
        self, relaxed: Problem, seconds: float, latest_home: int | None = None
    ) -> tuple[Variables, cp_model.CpSolver, cp_model.CpSolverStatus]:
        """Solve a relaxation for the least minutes home; its solutions are no plans."""
        v = Variables(relaxed, Caps(latest_home=latest_home))
        obey_all(v)
        v.model.minimize(v.home)
        return v, *self.solve(v, seconds, offer=False)

    def read(self, v: Variables, values: tuple[int, ...]) -> Solution:
        """A solution from the values of a model's variables; what a copy of the model has beside them is left out."""
        values = values[: len(v.model.proto.variables)]
        home = value_in(values, v.home)
        restricted = [s for s in v.slots if self.problem.grounds[s.ground].restricted]
        crossings = sum(value_in(values, n) for s in restricted for n in (s.present, s.before, s.after))
        overrun = 0 if self.problem.finish is None else max(0, home - self.problem.finish)
        return Solution(v, values, Score(overrun, home - self.problem.origin, crossings))

    def offer(self, solution: Solution) -> None:
        """Keep a solution if it is better than the best so far, and say so."""
        price = self.problem.price
        with self.offering:
            if self.best is None or solution.standing.rank(price) < self.best.rank(price):
                self.outcome.best, self.best = solution, solution.standing
                if self.on_better is not None:
                    self.on_better(solution)

    def clock(self) -> float:
        """Seconds by which budgets are kept: of the steady clock, or of the solver's own count of its work."""
        return self.spent if self.budget.deterministic else time.monotonic()

    def must_stop(self) -> bool:
        """Whether somebody asked the search to end."""
        return self.stop is not None and self.stop.is_set()

    def _left(self) -> float:
        if self.budget.deterministic:
            return max(0.0, self.budget.seconds - self.spent)
        kept = 0.0 if self.budget.quick else min(TIDY_SECONDS, TIDY_SHARE * self.budget.seconds)
        return max(0.0, self.budget.seconds - kept - (time.monotonic() - self.began))

    def home_bound(self, solver: cp_model.CpSolver) -> int:
        """Minutes home that no solution of a model is below whose least they were made."""
        return round(solver.best_objective_bound) - self.problem.origin

    def _restricted(self) -> list[int]:
        """The grounds with a restricted way in."""
        return [g for g, ground in enumerate(self.problem.grounds) if ground.restricted and ground.slots]

    def _in_time(self) -> int:
        """The most minutes home that are no overrun."""
        finish = self.problem.finish
        return (self.problem.horizon if finish is None else finish) - self.problem.origin

    def _caps(self, restricted: int | None, minutes: int | None = None, row: int | None = None) -> Caps:
        """Caps for at most so many restricted crossings and minutes home (by default, no worse than the best)."""
        if minutes is None and self.best is not None:
            minutes = self.best.minutes if self.best.overrun else self._in_time()
        latest = None if minutes is None else self.problem.origin + minutes
        return Caps(restricted, row, latest)
