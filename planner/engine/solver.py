"""The solver, kept on a lead: it ends when it is told to, when its time is over by the steady clock, and at Ctrl+C.

Left to itself it measures time by the clock on the wall, which may be set back, and while it runs Python hears no
signal. So it runs in a thread of its own, and we watch it.
"""

import math
import os
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from planner.engine.ranking import Budget

PAIR = ("no_lp", "default_lp")
"""Searches of CP-SAT that do well side by side."""

LOOK_SECONDS = 0.05
"""How often we look whether the solver is to be stopped."""

LATE_SECONDS = 0.3
"""How much later than it should the solver may end by itself before it is stopped."""


@dataclass(frozen=True, slots=True)
class Way:
    """How a search goes about it that is alone on its core: with linear relaxations, reasoning harder, beginning anew.

    Hands are disjunctive resources; to reason harder about what comes before what on them costs most days more than it
    saves, and settles what was not settled without. Where any plan will do, or a short look, to probe the model first
    costs more than it saves; and one who begins anew often has some in a tenth of the time, and others not at all.
    """

    linear: bool
    harder: bool = False
    probes: bool = True
    restarts: bool = False


HARDER = Way(linear=False, harder=True)
"""What cannot be is shown by harder reasoning on what does one thing at a time, and by probing the model."""

WITH_BOUNDS = Way(linear=True, harder=True, probes=False)
"""The other way to show it, by linear relaxations beside: what the one does not settle soon, the other mostly does."""

FOR_PLANS = Way(linear=False, probes=False)
"""Far more is tried in the same time, and hardly anything proven: bounds come from linear relaxations."""


_Solve = Callable[..., cp_model.CpSolverStatus]


class Led(cp_model.CpSolver):
    """A solver that is watched while it solves, and ended after ``seconds`` of the steady clock, or by a stop."""

    def __init__(self, *stops: threading.Event | None) -> None:
        super().__init__()
        self.parameters.catch_sigint_signal = False  # else Ctrl+C would end one solve, and the search go on to the next
        self.seconds = math.inf
        self._stops = [stop for stop in stops if stop is not None]

    def solve(
        self, model: cp_model.CpModel, solution_callback: cp_model.CpSolverSolutionCallback | None = None
    ) -> cp_model.CpSolverStatus:
        """Solve a model; an error in the callback, or Ctrl+C, is raised here once the solver has ended.

        A model that is none is an error of ours, but to a user the same as one of which nothing is found in the time.

        Raises
        ------
        ValueError
            Where ``SLACKWATER_STRICT`` is set, as it is in the tests, when the model is none.
        """
        found: list[cp_model.CpSolverStatus] = []
        faults: list[BaseException] = []
        over = threading.Event()
        solve = super().solve

        def run() -> None:
            try:
                found.append(self._not_broken_down(solve, model, solution_callback))
            except BaseException as fault:
                faults.append(fault)
            finally:
                over.set()

        until = time.monotonic() + self.seconds
        thread = threading.Thread(target=run, daemon=True)
        thread.start()
        try:
            while not over.wait(LOOK_SECONDS):
                if time.monotonic() > until or any(stop.is_set() for stop in self._stops):
                    self.stop_search()
        except BaseException:
            while not over.wait(LOOK_SECONDS):  # said again and again: before it has begun it does not hear
                self.stop_search()
            raise
        thread.join()
        if faults:
            raise faults[0]
        if found[0] == cp_model.MODEL_INVALID and os.environ.get("SLACKWATER_STRICT"):
            raise ValueError(model.validate() or "parameters that the solver does not take")
        return found[0]

    def _not_broken_down(
        self, solve: _Solve, model: cp_model.CpModel, callback: cp_model.CpSolverSolutionCallback | None
    ) -> cp_model.CpSolverStatus:
        """What the solver says of a model; where it breaks down while it makes ready, what it says without doing so.

        It breaks down as it finds equal constraints that cannot hold, and so at the same model every time: a number of
        crossings was open for ever.
        """
        presolves = self.parameters.cp_model_presolve
        for readies in (presolves, False):
            self.parameters.cp_model_presolve = readies
            try:
                return solve(model, callback)
            except IndexError as fault:
                if not _is_its_own(fault):
                    raise
            finally:
                self.parameters.cp_model_presolve = presolves
        solve(cp_model.CpModel())  # of nothing, so that whoever asks for its answer finds one
        return cp_model.UNKNOWN


def _is_its_own(fault: BaseException) -> bool:
    """Whether the solver itself broke down, as it does once in very many solves that end while it still makes ready."""
    return isinstance(fault, IndexError) and "absl::" in str(fault)


def solver_alone(budget: Budget, seconds: float, way: Way, *stops: threading.Event | None) -> Led:
    """A solver on one core, that goes about it in a way of its own."""
    solver = solver_within(replace(budget, workers=1), seconds, *stops)
    solver.parameters.linearization_level = int(way.linear)
    solver.parameters.use_dynamic_precedence_in_disjunctive = way.harder
    solver.parameters.use_strong_propagation_in_disjunctive = way.harder
    if not way.probes:
        solver.parameters.cp_model_probing_level = 0
    if way.restarts:
        solver.parameters.search_branching = cp_model.PORTFOLIO_WITH_QUICK_RESTART_SEARCH
    return solver


def solver_within(budget: Budget, seconds: float, *stops: threading.Event | None) -> Led:
    """A solver that takes so long at the most, by the clock or, where equal runs are to be equal, by its own count.

    Of two cores one searches without linear relaxations, which finds plans and proves small days several times sooner;
    the other has them, for the bounds. Left alone the solver gives both to searches that have them.
    """
    solver = Led(*stops)
    solver.parameters.random_seed = budget.seed
    if budget.deterministic:
        solver.parameters.num_workers = 1
        solver.parameters.max_deterministic_time = max(0.0, seconds)
    else:
        solver.parameters.num_workers = budget.workers
        if budget.workers == len(PAIR):
            solver.parameters.subsolvers.extend(PAIR)
        solver.parameters.max_time_in_seconds = max(0.0, seconds)
        solver.seconds = seconds + LATE_SECONDS
    return solver
