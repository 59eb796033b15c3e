"""Whether a day fits at all: some plan is home in time, or none is, and nothing else is asked.

That is settled far sooner than what is best. What no search needs to say comes first; then the day with every way in
free, whose model is small and which is late where the day is; then models of few crossings, for a plan; last one with
as many as there is time to walk, which settles it. On one thread it goes without linear relaxations, which give bounds
on what is best and cost more than they give where only plans and contradictions are looked for.
"""

import threading
import time
from collections.abc import Sequence
from dataclasses import replace

from ortools.sat.python import cp_model

from planner.day import Day
from planner.engine.asked import Answer, Attending
from planner.engine.bounds import certain_work, crossings_needed, crude_minutes, without_ways
from planner.engine.dominance import most_restricted_crossings
from planner.engine.hints import Hint, give
from planner.engine.index import Index
from planner.engine.outset import FreshDay
from planner.engine.problem import Problem
from planner.engine.ranking import Budget
from planner.engine.rules import obey_all
from planner.engine.solution import SolutionReader
from planner.engine.solver import solver_within
from planner.engine.solving import value_in
from planner.engine.variables import Caps, Expr, Variables
from planner.plan.checker import broken_rules
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan

RELAXED_SHARE, FEW_SHARE, SOUGHT_SHARE = 0.3, 0.4, 0.9
"""Parts of the time for the day with every way in free, and of what is left then for each model of few crossings: where
a short stay is sought, nearly all."""


class Fitting:
    """One day of which it is asked whether it fits."""

    def __init__(
        self,
        day: Day,
        budget: Budget,
        previous: Plan | None,
        stop: threading.Event | None,
        attending: Attending | None,
        spares: Sequence[int],
    ) -> None:
        outset = FreshDay(day, previous)
        self.day, self.problem, self.budget, self.stop = day, outset.problem, budget, stop
        self.attending, self.spares = attending, spares
        self.previous = previous or outset.serial
        self.known = [plan for plan in outset.known() if plan.home <= latest_finish(day)]
        self.is_only_asked = attending is None or attending.sought is None
        self.until = time.monotonic() + budget.seconds

    def answer(self) -> tuple[Answer, Plan | None]:
        """Settle it, or say that it is not known."""
        if self.known and self.attending is None:
            return "yes", self.known[0]
        finish = self.problem.finish
        assert finish is not None
        if self.problem.origin + crude_minutes(self.problem) > finish:
            return "no", None
        if self._solved(self._model(without_ways(self.problem), Caps(latest_home=finish)), RELAXED_SHARE) == "no":
            return "no", None
        restricted = any(ground.restricted and ground.slots for ground in self.problem.grounds)
        most, needed = self._crossings_in_time(finish), crossings_needed(self.problem)
        for cap in sorted({min(most, needed + spare) for spare in self.spares} - {most}) if restricted else ():
            found = self._looked(Caps(cap, None, finish), FEW_SHARE if self.is_only_asked else SOUGHT_SHARE)
            if found[0] == "yes":
                return found
        return self._looked(Caps(most if restricted else None, None, finish), 1.0)

    def _crossings_in_time(self, finish: int) -> int:
        """Beyond this number of restricted crossings no plan is home in time, or no more are of use."""
        most, certain = most_restricted_crossings(self.problem), certain_work(self.problem)
        number = 0
        while number < most and self.problem.origin + crude_minutes(self.problem, number + 1, certain) <= finish:
            number += 1
        return number

    def _model(self, problem: Problem, caps: Caps) -> Variables:
        v = Variables(problem, caps)
        obey_all(v)
        if caps.restricted is not None:
            v.model.add(v.crossings(restricted=True) <= caps.restricted)
        if self.attending is not None:
            self._attend(v, self.attending)
        return v

    def _attend(self, v: Variables, asked: Attending) -> None:
        """The hand is there within so many steps of the grid, or as few as can be."""
        last = -(-(v.end_of_time - asked.begin) // asked.step)
        first, steps = v.model.new_int_var(0, last, "first step"), v.model.new_int_var(0, asked.most, "steps")
        hand = Index.of(self.day).hands.index(asked.hand)
        for n in range(len(v.visits)):
            at = v.attendances[hand, n]
            v.model.add(at.arrive >= asked.begin + asked.step * first).only_enforce_if(at.present)
            v.model.add(at.leave <= asked.begin + asked.step * (first + steps)).only_enforce_if(at.present)
        if asked.sought is not None:
            v.model.add(steps >= asked.sought)  # so that the solver ends when it is there
            if v.problem is self.problem:
                v.model.minimize(steps)

    def _looked(self, caps: Caps, share: float) -> tuple[Answer, Plan | None]:
        """Look for a plan in a model with room for so much; "no" is no plan with so much room."""
        v = self._model(self.problem, caps)
        if self.previous is not None:
            give(v, Hint(self.day, self.previous, v).said)
        answer = self._solved(v, share)
        if answer != "yes":
            return answer, None
        values = self.values

        def value(expr: Expr) -> int:
            return value_in(values, expr)

        plan = SolutionReader(self.day, v, value).plan()
        return ("yes", plan) if not broken_rules(self.day, plan) else ("unknown", None)

    def _solved(self, v: Variables, share: float) -> Answer:
        left = max(0.1, self.until - time.monotonic()) * share
        solver = solver_within(replace(self.budget, seconds=left), left, self.stop)
        if self.budget.workers == 1:
            solver.parameters.linearization_level = 0
        status = solver.solve(v.model)
        if status == cp_model.INFEASIBLE:
            return "no"
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return "unknown"
        self.values = tuple(solver.response_proto.solution)
        return "yes"
