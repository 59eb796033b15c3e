"""The search: least overrun first, then least value of minutes and restricted crossings, then tidiness.

Minutes and crossings as one weighted objective bound badly, so the second level is taken apart by the number of
restricted crossings: the fewest are found first; then, for each number from there up, only plans that would beat
the best so far are looked for. Each such search is small, and together they prove the whole.
"""

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from planner.engine.problem import Problem
from planner.engine.rules import obey_all
from planner.engine.tidy import dawdling, untidiness
from planner.engine.variables import Caps, Expr, Variables

OPEN_SLOTS = 6
"""Slots in a row to a long but unrestricted way in; more crossings of one hand in one visit are not thought of."""

MOST_SLOTS = 12
"""Slots in a row to a restricted way in while the number of crossings is not yet bounded."""

TIDY_SHARE = 0.15
TIDY_SECONDS = 3.0


@dataclass(frozen=True)
class Solution:
    """Values for the variables of one model, and the levels by which it is judged."""

    variables: Variables
    values: tuple[int, ...]
    minutes: int
    overrun: int
    crossings: int

    def of(self, expr: Expr) -> int:
        """The value of a variable, literal or constant."""
        if isinstance(expr, int):
            return expr
        index: int = expr.index
        return self.values[index] if index >= 0 else 1 - self.values[-index - 1]

    def rank(self, price: int) -> tuple[int, int]:
        """What is least for the best: overrun, then value."""
        return self.overrun, self.minutes + price * self.crossings


@dataclass
class Outcome:
    """What a search found and proved.

    ``bound`` is a lower bound on the value, ``overrun_bound`` on the overrun; ``least`` maps a number of restricted
    crossings to (fewest minutes found, lower bound) with at most so many.
    """

    best: Solution | None = None
    bound: int = 0
    overrun_bound: int = 0
    infeasible: bool = False
    stopped: bool = False
    seconds: float = 0.0
    least: dict[int, tuple[int, int]] = field(default_factory=dict)


@dataclass(frozen=True)
class Budget:
    """How long and how the solver may work. ``deterministic`` makes equal runs equal: time is then the solver's own."""

    seconds: float = 20.0
    workers: int = 2
    seed: int = 0
    deterministic: bool = False


class _Watch(cp_model.CpSolverSolutionCallback):
    """Hands each solution on as it is found, and stops the solver when asked."""

    def __init__(self, search: "Search", variables: Variables, goal: Callable[[Solution], bool] | None) -> None:
        super().__init__()
        self.search, self.variables, self.goal = search, variables, goal

    def on_solution_callback(self) -> None:
        """Keep the solution if it is the best so far."""
        solution = self.search.read(self.variables, tuple(self.Response().solution))
        self.search.offer(solution)
        if self.search.must_stop() or (self.goal is not None and self.goal(solution)):
            self.stop_search()


class Search:
    """One search through the levels, within a budget, from an optional warm start.

    ``hint`` is called on every new model with the best solution known; ``order`` is the order of activities of a
    plan before, to stay near; ``upper`` is the minutes home of a plan already known.
    """

    def __init__(
        self,
        problem: Problem,
        budget: Budget,
        *,
        on_better: Callable[[Solution], None] | None = None,
        hint: Callable[[Variables, Solution | None], None] | None = None,
        stop: threading.Event | None = None,
        order: list[int] | None = None,
        most_crossings: int | None = None,
        adjust: Callable[[Variables], None] | None = None,
    ) -> None:
        self.problem, self.budget = problem, budget
        self.on_better, self.hint, self.stop = on_better, hint, stop
        self.order, self.most_crossings, self.adjust = order or [], most_crossings, adjust
        self.outcome = Outcome()
        self.began = time.monotonic()
        self.spent = 0.0

    # --- the levels -----------------------------------------------------------------------------------------------

    def run(self) -> Outcome:
        """Search all levels; the outcome holds the best solution and what is proven of it."""
        if self._find_least_overrun():
            if self.outcome.best is not None and self.outcome.best.overrun:
                self._find_fewest_crossings(late=True)
            else:
                self._beat_by_number_of_crossings()
            self._tidy()
        self.outcome.stopped = self.must_stop()
        self.outcome.seconds = time.monotonic() - self.began
        return self.outcome

    def _find_least_overrun(self) -> bool:
        """Level 1. Ends as soon as some plan is home in time; False when there is no plan at all."""
        v = self._variables(Caps(self.most_crossings, self._slot_cap(self.most_crossings)))
        v.model.minimize(v.home)
        finish = self.problem.finish
        goal = None if finish is None else (lambda s: s.overrun == 0)
        solver, status = self._solve(v, self._left() * 0.5, goal)
        if status == cp_model.INFEASIBLE:
            self.outcome.infeasible = True
            return False
        if self.outcome.best is None:
            return False
        bound = round(solver.best_objective_bound)
        self.home_bound = bound
        self.outcome.overrun_bound = max(0, bound - finish) if finish is not None else 0
        self.outcome.bound = max(0, bound - self.problem.opens)
        return True

    def _find_fewest_crossings(self, *, late: bool = False) -> int:
        """The fewest restricted crossings with the least overrun: a plan with them, and a lower bound on their number."""
        best = self.outcome.best
        assert best is not None
        if not self._has_restricted():
            return 0
        cap = best.crossings
        v = self._variables(Caps(cap, self._slot_cap(cap), self._latest_home()))
        count = v.crossings(restricted=True)
        v.model.add(count <= cap)
        v.model.minimize(count)
        solver, status = self._solve(v, self._left() * (0.8 if late else 0.25))
        fewest = cap if status == cp_model.INFEASIBLE else round(solver.best_objective_bound)
        if late:
            self.outcome.bound += self.problem.price * fewest
        return fewest

    def _beat_by_number_of_crossings(self) -> None:
        """Level 2, in time: for each number of crossings from the fewest up, beat the best or prove that none does."""
        fewest = self._find_fewest_crossings()
        floor = self.home_bound - self.problem.opens
        bounds: dict[int, int] = {}
        number = fewest
        while self._left() > 0 and not self.must_stop():
            best = self._best_value()
            if self.most_crossings is not None and number > self.most_crossings:
                break
            if floor + self.problem.price * number >= best:
                break
            last = not self._has_restricted() or self.problem.price == 0
            bounds[number] = self._beat_with(None if last else number, best - 1)
            number += 1
            if last:
                break
        ends = [floor + self.problem.price * number] if self._may_have_more(number) else []
        lows = [max(floor, low) + self.problem.price * n for n, low in bounds.items()]
        self.outcome.bound = min([self._best_value(), *lows, *ends])

    def _may_have_more(self, number: int) -> bool:
        last = not self._has_restricted() or self.problem.price == 0
        return not (last and number > 0) and (self.most_crossings is None or number <= self.most_crossings)

    def _beat_with(self, number: int | None, value: int) -> int:
        """Look for a plan of at most this value with at most so many crossings; a lower bound on its minutes."""
        minutes = value - self.problem.price * (number or 0)
        cap = self.most_crossings if number is None else number
        v = self._variables(Caps(cap, self._slot_cap(cap), self.problem.opens + minutes))
        count = v.crossings(restricted=True)
        if cap is not None:
            v.model.add(count <= cap)
        v.model.minimize(v.home)
        solver, status = self._solve(v, max(1.0, self._left() * 0.45))
        if status == cp_model.INFEASIBLE:
            return minutes + 1
        low = round(solver.best_objective_bound) - self.problem.opens
        found = self.outcome.best
        if number is not None and found is not None and found.crossings == number:
            self.outcome.least[number] = (found.minutes, low)
        return low

    def _tidy(self) -> None:
        """Levels 3 to 5, then every choice fixed and all idle dawdling taken out."""
        best = self.outcome.best
        if best is None or not self.problem.hands:
            return
        seconds = min(TIDY_SECONDS, max(0.5, self.budget.seconds * TIDY_SHARE))
        for measure in (lambda v: untidiness(v, self.order), dawdling):
            best = self.outcome.best
            assert best is not None
            v = self._variables(
                Caps(best.crossings, self._slot_cap(best.crossings), self.problem.opens + best.minutes)
            )
            v.model.add(v.crossings(restricted=True) <= best.crossings)
            if measure is dawdling:
                self._fix_choices(v, best)
            v.model.minimize(measure(v))
            solver, status = self._solve(v, seconds, offer=False)
            if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                self.outcome.best = self.read(v, tuple(solver.response_proto.solution))

    def _fix_choices(self, v: Variables, best: Solution) -> None:
        """Every literal as in the best solution: only times are still free. Both models were made alike."""
        same = best.variables.caps == v.caps
        if not same:
            return
        for index in range(min(len(best.values), len(v.model.proto.variables))):
            if list(v.model.proto.variables[index].domain) == [0, 1]:
                v.model.add(v.model.get_int_var_from_proto_index(index) == best.values[index])

    # --- one solve ------------------------------------------------------------------------------------------------

    def _variables(self, caps: Caps) -> Variables:
        v = Variables(self.problem, caps)
        obey_all(v)
        if self.adjust is not None:
            self.adjust(v)
        if self.hint is not None:
            self.hint(v, self.outcome.best)
        return v

    def _solve(
        self,
        v: Variables,
        seconds: float,
        goal: Callable[[Solution], bool] | None = None,
        *,
        offer: bool = True,
    ) -> tuple[cp_model.CpSolver, int]:
        solver = cp_model.CpSolver()
        parameters = solver.parameters
        parameters.num_workers = self.budget.workers
        parameters.random_seed = self.budget.seed
        if self.budget.deterministic:
            parameters.interleave_search = self.budget.workers > 1
            parameters.max_deterministic_time = seconds
        else:
            parameters.max_time_in_seconds = seconds
        watch = _Watch(self, v, goal) if offer else None
        status = solver.solve(v.model, watch)
        self.spent += solver.response_proto.deterministic_time
        return solver, status

    def read(self, v: Variables, values: tuple[int, ...]) -> Solution:
        """A solution from the values of a model's variables."""
        solution = Solution(v, values, 0, 0, 0)
        restricted = [s for s in v.slots if self.problem.grounds[s.ground].restricted]
        crossings = sum(solution.of(s.present) for s in restricted)
        home = solution.of(v.home)
        finish = self.problem.finish
        overrun = 0 if finish is None else max(0, home - finish)
        return Solution(v, values, home - self.problem.opens, overrun, crossings)

    def offer(self, solution: Solution) -> None:
        """Keep a solution if it is better than the best so far, and say so."""
        best = self.outcome.best
        if best is None or solution.rank(self.problem.price) < best.rank(self.problem.price):
            self.outcome.best = solution
            if self.on_better is not None:
                self.on_better(solution)

    def must_stop(self) -> bool:
        """Whether somebody asked the search to end."""
        return self.stop is not None and self.stop.is_set()

    def _left(self) -> float:
        spent = self.spent if self.budget.deterministic else time.monotonic() - self.began
        return max(0.0, self.budget.seconds - spent)

    def _best_value(self) -> int:
        best = self.outcome.best
        assert best is not None
        return best.rank(self.problem.price)[1]

    def _latest_home(self) -> int | None:
        best = self.outcome.best
        if best is None:
            return None
        finish = self.problem.finish
        return self.problem.opens + best.minutes if best.overrun or finish is None else finish

    def _has_restricted(self) -> bool:
        return any(g.restricted and g.slots for g in self.problem.grounds)

    def _slot_cap(self, restricted: int | None) -> int:
        """Slots a row: one for each crossing that could be, but no fewer than an open way in wants."""
        open_ways = any(g.slots and not g.restricted for g in self.problem.grounds)
        wanted = MOST_SLOTS if restricted is None else restricted
        return max(1, wanted, OPEN_SLOTS if open_ways else 0)
