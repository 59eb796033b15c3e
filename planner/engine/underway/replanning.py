"""Planning the rest of a day under way: the past is fixed, running waits keep their clocks, the rest is free."""

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace

from planner.day import Day
from planner.day.names import Names
from planner.engine.conflict import conflict_of, said_of
from planner.engine.hints import Hint
from planner.engine.order_asked import OrderAsked
from planner.engine.problem import Problem
from planner.engine.ranking import Budget
from planner.engine.solving import Solution
from planner.engine.underway.old_choices import keep_choices, most_in_a_row, what_is_left, without_who_goes
from planner.engine.underway.promises import promise_words, promises_broken
from planner.engine.underway.rescue import FIRST_SECONDS, running_over
from planner.engine.underway.rest_models import RestModels
from planner.engine.underway.whole_day import RestReading
from planner.engine.variables import Variables
from planner.plan.fresh_in_rain import fresh_in_rain
from planner.plan.pieces import with_pieces
from planner.plan.plan import Plan
from planner.plan.progress import Progress
from planner.plan.went import day_as_it_went, with_what_cannot_hold
from planner.trade.units import show_clock


class Underway:
    """The outset of a day under way. Its plan is the whole day: what happened, and what is still to come.

    ``day`` is the day as it went, in which a running wait or a promise that cannot be kept may run over by the least
    there can be, as ``held_to``, the record, says; ``urgent`` is what must be done or said before all else, in words,
    the worst first.
    """

    serial: Plan | None = None
    model_seconds = 0.0
    previous: Plan | None
    since: int | None
    adjust: Callable[[Variables], None] | None

    def __init__(self, day: Day, plan: Plan, progress: Progress, budget: Budget) -> None:
        self.progress, self.previous, self.since = progress, plan, progress.at
        went, self.past = day_as_it_went(day, plan, progress)
        self.left = what_is_left(went, plan, self.past, progress)
        models = RestModels(went, self.past, self.left, progress, budget)
        rescue = running_over(models)
        late = replace(progress, over=rescue.over)
        longer = with_what_cannot_hold(went, late)
        broken, self.first = promises_broken(replace(models, day=longer), rescue.found)
        self.held_to = replace(late, promised=broken)
        self.day = with_what_cannot_hold(went, self.held_to)
        covered = fresh_in_rain(with_pieces(day, progress), self.past, progress)
        self.urgent = (*rescue.words, *covered, *promise_words(went, broken))
        known: dict[str, int | None] = {job: late for job, late in broken.items() if late is not None}
        self.urgent_without_plan = (*rescue.words, *covered, *promise_words(went, known))
        self.problem = models.problem_of(self.day)
        self.order = OrderAsked(self.problem)
        self.models = replace(models, day=self.day)
        self.adjust = self.models.bind
        self.crossings_begun = sum(self.problem.grounds[g].restricted for g, _ in self.problem.inside)
        crossed = [c for c in self.past.plan.crossings if c.end <= progress.at]
        self.crossings_over = sum(day.jobs[c.job].grounds[c.ground].way_in.restricted for c in crossed)

    def known(self) -> Sequence[Plan]:
        """The plan that the day went by, kept as it was but for its times, as far as that goes.

        Where a wait or a promise could be kept only otherwise, what was found to do so is kept instead. Where all of it
        runs past the hours of somebody who goes, what they were to do is open, who does it and how.
        """
        rest = self.left if self.first is None else self.models.rest_of(self.first)
        others = without_who_goes(self.day, rest)
        for kept, kit_too in ((rest, True), (others, True), (rest, False), (others, False)):
            v = self.models.model(self.problem, most_in_a_row(rest) if kit_too else None)
            keep_choices(v, self.day, kept, kit_too=kit_too)
            v.model.minimize(v.home)
            found, _ = self.models.solve(v, FIRST_SECONDS)
            self.first = found or self.first
            if self.first is not None:
                return [self.read(self.first)]
        return []

    def read(self, solution: Solution) -> Plan:
        """The whole day: the past as it went, joined with what the solution says of the rest."""
        return replace(self._reading(solution).whole(), since=self.since)

    def hint(self, variables: Variables, best: Plan | None, solution: Solution | None) -> dict[int, int]:
        """The rest as the best solution has it, or the first; where there is none, as the old plan had it."""
        solution = solution or self.first
        rest = self.left if solution is None else self._reading(solution).plan()
        return Hint(self.day, rest, variables).said

    def conflict(self, budget: Budget, stop: threading.Event | None) -> tuple[str, ...]:
        """Why the rest cannot be planned: what the record says, and the facts of the day that it cannot hold with."""
        said = tuple(f"{Names(self.day).hand(hand)} has gone home" for hand in self.progress.gone)
        if self.progress.rain is not None:
            said += (f"rain from {show_clock(self.progress.rain)}",)
        by_order = self.order.is_none
        facts = conflict_of(self.day, budget, stop, self._is_impossible, self._problem_of, by_order=by_order)
        return (*said, *facts, f"it is {show_clock(self.progress.at)}")

    def _reading(self, solution: Solution) -> RestReading:
        return RestReading(self.day, self.past, solution.variables, solution.of, self.progress)

    def _problem_of(self, day: Day) -> Problem:
        return self.models.problem_of(day)

    def _is_impossible(self, day: Day, budget: Budget, stop: threading.Event | None) -> bool | None:
        longer = replace(budget, seconds=2 * budget.seconds)
        models = replace(self.models, day=day, budget=longer, began=time.monotonic())
        v = models.model(self._problem_of(day))
        return said_of(models.solve(v, budget.seconds)[1])
