"""A changed day planned from the plan that it had before the change: soon, and never worse than that where it holds.

One model of few crossings, told where that plan leaves off, in which plans are looked for; what is proven of it holds
of the day only where it has room for all. What a remedy gains is seen so in seconds; the day is planned as any other
once it is taken up.
"""

import threading
from dataclasses import replace

from ortools.sat.python import cp_model

from planner.day import Day
from planner.engine.bounds import crossings_needed, crude_minutes
from planner.engine.dominance import most_crossings, most_restricted_crossings
from planner.engine.hints import Hint, give
from planner.engine.outset import FreshDay
from planner.engine.ranking import Budget, Score
from planner.engine.rules import obey_all
from planner.engine.solving import Solving
from planner.engine.variables import Caps, Variables
from planner.plan.checker import broken_rules
from planner.plan.measures import longest_row, measure
from planner.plan.plan import Plan, Proof

SPARE, LEAST_ROW = 2, 4
"""Restricted crossings beyond those that the loads need, and crossings of a hand in a row, that are thought of at the
least."""

PATIENCE = 1.5
"""It ends when nothing better was found for so many times as long as it took to find the last."""

LATE_WEIGHT = 1000
"""A minute past the latest finish outweighs all that there is to gain before it."""


class Near:
    """Plans a day near a plan ``before`` that need not hold for it."""

    def __init__(self, day: Day, before: Plan, budget: Budget, stop: threading.Event | None = None) -> None:
        self.day, self.before = day, before
        self.outset = FreshDay(day, before)
        self.problem = self.outset.problem
        known = [plan for plan in self.outset.known() if not broken_rules(day, plan)]
        self.best = min(known, key=lambda plan: self._standing(plan).rank(self.problem.price), default=None)
        standing = None if self.best is None else self._standing(self.best)
        self.is_proven = False
        self.solving = Solving(self.problem, replace(budget, workers=1), known=standing, stop=stop)

    def plan(self) -> Plan | None:
        """The best plan found; None where there is none."""
        v = self._variables()
        over = v.model.new_int_var(0, v.end_of_time, "past the latest finish")
        v.model.add(over >= v.home - (v.end_of_time if self.problem.finish is None else self.problem.finish))
        v.model.minimize(v.value() + LATE_WEIGHT * over)
        status = self.solving.solve_for_plans(v, v.model, self.solving.budget.seconds, patience=PATIENCE)
        self.is_proven = status == cp_model.OPTIMAL and self._leaves_nothing_out(v.caps)
        if self.solving.outcome.best is not None:
            found = self.outset.read(self.solving.outcome.best)
            self.best = self.best if broken_rules(self.day, found) else found
        return None if self.best is None else replace(self.best, proof=self._proof(self.best))

    def _variables(self) -> Variables:
        """A model with the rules, with room for little more than the plan before has."""
        crossings = measure(self.day, self.before).restricted_crossings
        cap = max(crossings, crossings_needed(self.problem) + SPARE)
        latest = None if self.best is None else self._latest_of_better(self.best)
        v = Variables(self.problem, Caps(cap, max(LEAST_ROW, longest_row(self.before), cap), latest))
        obey_all(v)
        v.model.add(v.crossings(restricted=True) <= cap)
        give(v, Hint(self.day, self.before, v).said)
        return v

    def _latest_of_better(self, plan: Plan) -> int:
        """No plan that is home later is better: fewer crossings are worth minutes, but none past the latest finish."""
        measures, finish = measure(self.day, plan), self.problem.finish
        latest = self.problem.origin + measures.value
        return plan.home if measures.overrun else min(latest, self.problem.horizon if finish is None else finish)

    def _leaves_nothing_out(self, caps: Caps) -> bool:
        """Whether the model has room for all that is ever of use."""
        grounds = [g for g, ground in enumerate(self.problem.grounds) if ground.slots]
        rows = (most_crossings(self.problem, g, caps.latest_home) for g in grounds)
        enough = caps.restricted is None or caps.restricted >= most_restricted_crossings(self.problem)
        return enough and max(rows, default=0) <= (caps.per_row or 0)

    def _standing(self, plan: Plan) -> Score:
        measures = measure(self.day, plan)
        return Score(measures.overrun, measures.minutes_home, measures.restricted_crossings)

    def _proof(self, plan: Plan) -> Proof:
        measures, least = measure(self.day, plan), crude_minutes(self.problem)
        finish = self.problem.finish
        late = 0 if finish is None else max(0, self.problem.origin + least - finish)
        bound = least + self.problem.price * crossings_needed(self.problem)
        if self.is_proven:
            bound, late = measures.value, measures.overrun
        return Proof(
            value=measures.value,
            bound=min(bound, measures.value),
            overrun=measures.overrun,
            overrun_bound=min(late, measures.overrun),
            minutes=measures.minutes_home,
            crossings=measures.restricted_crossings,
        )
