"""From where a day is planned: here a fresh day, from its start; a day under way has an outset of its own.

An outset says what planning begins with, how a solution is read back, and why there is no plan; `Planning` is the same
for all.
"""

import math
import threading
import time
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Protocol

from planner.day import Day
from planner.engine.build import build
from planner.engine.order_asked import OrderAsked
from planner.engine.problem import Problem
from planner.engine.ranking import Budget
from planner.engine.several_jobs.first_plan import first_plan_of
from planner.plan.checker import broken_rules
from planner.plan.plan import Plan

if TYPE_CHECKING:
    from planner.engine.solving import Solution
    from planner.engine.variables import Variables

SOUGHT_SHARE = 0.25
"""The part of the time in which a large day of several jobs has its serial order sought: by job it is found sooner."""

MODEL_TAKES = 25
"""A model of all of a large day takes about so many times as long to make as its problem."""


class Outset(Protocol):
    """What planning asks of where it begins.

    ``since`` is the minute it is now on a day under way: the checker looks no further back. ``serial`` is what the plan
    is compared with. ``order`` says whether the order of the work alone cannot be. ``adjust`` adds what has happened to
    every model. ``crossings_begun`` are the restricted crossings under way, ``crossings_over`` those that are over, of
    which the search knows nothing.
    """

    day: Day
    problem: Problem
    order: OrderAsked
    previous: Plan | None
    since: int | None
    serial: Plan | None
    crossings_begun: int
    crossings_over: int
    model_seconds: float
    adjust: "Callable[[Variables], None] | None"

    def known(self) -> Sequence[Plan]:
        """Plans that hold, had without a search."""

    def read(self, solution: "Solution") -> Plan:
        """The plan that a solution is."""

    def hint(self, variables: "Variables", best: Plan | None, solution: "Solution | None") -> dict[int, int]:
        """A start for a new model: the best solution so far, or the best plan where there is none."""

    def conflict(self, budget: Budget, stop: threading.Event | None) -> tuple[str, ...]:
        """The facts that cannot hold together."""


class FreshDay:
    """A day that has not begun; its serial order is sought until some time of the steady clock, where it must be."""

    since: int | None = None
    adjust: "Callable[[Variables], None] | None" = None
    crossings_begun = crossings_over = 0

    def __init__(
        self,
        day: Day,
        previous: Plan | None = None,
        until: float = math.inf,
        stop: threading.Event | None = None,
    ) -> None:
        self.day, self.previous = day, previous
        began = time.monotonic()
        self.problem = build(day)
        self.model_seconds = MODEL_TAKES * (time.monotonic() - began)
        if self.problem.is_large and len(day.jobs) > 1:
            now = time.monotonic()
            until = now + SOUGHT_SHARE * (until - now)
        self.order = OrderAsked(self.problem, stop)
        self.serial = first_plan_of(day, self.problem, self.order, until, stop)

    def known(self) -> Sequence[Plan]:
        """The previous plan, if it still holds for this day, and the serial order."""
        holds = self.previous is not None and not broken_rules(self.day, self.previous)
        return [plan for plan in (self.previous if holds else None, self.serial) if plan is not None]

    def read(self, solution: "Solution") -> Plan:
        """The plan that a solution is."""
        from planner.engine.solution import SolutionReader

        return SolutionReader(self.day, solution.variables, solution.of).plan()

    def hint(self, variables: "Variables", best: Plan | None, solution: "Solution | None") -> dict[int, int]:
        """The best solution, or else the best plan, said to a new model."""
        from planner.engine.hints import Hint

        plan = best if solution is None else self.read(solution)
        return {} if plan is None else Hint(self.day, plan, variables).said

    def conflict(self, budget: Budget, stop: threading.Event | None) -> tuple[str, ...]:
        """Facts of the day."""
        from planner.engine.conflict import conflict_of

        return conflict_of(self.day, budget, stop, by_order=self.order.is_none)
