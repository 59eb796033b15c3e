"""One job, out of the clock: its best plan wherever it comes to stand, and what it takes at the least."""

import threading
from dataclasses import replace

from planner.day import Day
from planner.engine.bounds import crude_minutes, legs_needed
from planner.engine.build import build
from planner.engine.hints import Hint, give
from planner.engine.piece_by_piece import held_in_model
from planner.engine.problem import Problem
from planner.engine.ranking import Budget
from planner.engine.rules import obey_all
from planner.engine.search import Search
from planner.engine.serial.careful import serial_plan
from planner.engine.several_jobs.alone import alone, out_of_the_clock, with_the_van_away
from planner.engine.several_jobs.neighbourhoods import Neighbourhoods
from planner.engine.several_jobs.refuting import Refuting
from planner.engine.several_jobs.shortest_round import NEVER, Least
from planner.engine.solution import SolutionReader
from planner.engine.solving import Outcome, Solution, Solving
from planner.engine.variables import Caps, Expr, Variables
from planner.plan.measures import longest_row, most_stays
from planner.plan.plan import Plan

SPARE_CROSSINGS = 2
"""Restricted crossings that are thought of beyond those that the loads, or the best plan so far, need."""

MOST_SPARE = 8
"""Where no plan has so many crossings more than the loads or the serial order need, it is left to the proof."""

SLOTS_A_ROW = 4
"""Crossings of one hand to one ground that are thought of at first: few, as models that have more are slower."""

PATIENCE = 1.0
"""A search for plans ends when nothing better was found for as long as it took to find the last, so many times."""


class AtAJob(Solving):
    """Finds plans of one job, and proves what it takes at the least.

    ``plan`` is the best so far, of a day whose only job it is and which begins at the day's start.
    """

    def __init__(self, day: Day, job: str, budget: Budget, stop: threading.Event | None = None) -> None:
        self.job, self.day = job, alone(day, job)
        super().__init__(out_of_the_clock(build(self.day)), replace(budget, workers=1), stop=stop)
        self.first = serial_plan(self.day, self.problem)
        crude = crude_minutes(self.problem)
        self.returns = day.jobs[job].visits > 1
        away = crude if self.returns else None
        self.least = Least(crude, crude, away=away, minutes_away=away)
        self.hint = self._hint
        self.model: tuple[Variables, Expr] | None = None
        self.bettered = 0
        self.in_vain_from: Solution | None = None
        relaxed = [with_the_van_away(self.problem)] if self.returns else []
        self.refuting = [Refuting(problem, self.budget, stop=stop) for problem in (self.problem, *relaxed)]
        self.is_impossible = False

    @property
    def plan(self) -> Plan | None:
        """The best plan so far."""
        return None if self.outcome.best is None else self._read(self.outcome.best)

    @property
    def is_proven(self) -> bool:
        """Whether no plan of this job alone is better."""
        return self.best is not None and self.best.value(self.problem.price) <= self.least.value

    @property
    def gap(self) -> int:
        """Minutes between the best plan's value and what is proven."""
        return (self.best.value(self.problem.price) if self.best is not None else NEVER) - self.least.value

    # --- plans ----------------------------------------------------------------------------------------------------

    def look_for_plans(self, until: float) -> None:
        """Look for better plans, until some time of its clock or until little is gained."""
        needed = sum(legs_needed(self.problem, g) for g in self._restricted())
        cap, most = needed + SPARE_CROSSINGS, max(needed, self._crossings_at_first()) + MOST_SPARE
        while cap <= most and self.clock() < until and not self.must_stop():
            self._look_within(cap, until)
            if self.best is None:
                cap = max(cap + SPARE_CROSSINGS, self._crossings_at_first())
            elif self._restricted() and self.best.crossings >= cap:
                cap += SPARE_CROSSINGS
            else:
                return

    def better_piece_by_piece(self, until: float) -> None:
        """Better the best plan by planning pieces of it anew, each time others.

        A plan that a proof came upon is first made one of a model of its own. From one that was bettered in vain the
        model has room for more crossings, as long as these could yet be worth their price.
        """
        known, room = self.outcome.best, self._room_for_crossings()
        if known is not None and (room is None or known is self.in_vain_from):
            self._take_up(known, SPARE_CROSSINGS + (known.standing.crossings if room is None else room))
        known = self.outcome.best
        if self.model is not None and known is not None:
            Neighbourhoods(self, *self.model, self.bettered).better(until)
            self.bettered += 1
            self.in_vain_from = known if self.outcome.best is known else None

    def _room_for_crossings(self) -> int | None:
        """For how many restricted crossings the model has room of which the best plan is one; None where it is none."""
        known = self.outcome.best
        if known is None or self.model is None or known.variables is not self.model[0]:
            return None
        return self.model[0].caps.restricted

    def _take_up(self, known: Solution, crossings: int) -> None:
        """Make the best plan one of a model with room for so many crossings, but no more than could be worth it."""
        price, value, plan = self.problem.price, known.standing.value(self.problem.price), self._read(known)
        if price:
            crossings = max(known.standing.crossings, min(crossings, (value - self.least.minutes) // price))
        if crossings <= (self._room_for_crossings() or -1):
            return
        caps = Caps(
            crossings, max(SLOTS_A_ROW, longest_row(plan), crossings), self.problem.origin + value, most_stays(plan)
        )
        found = held_in_model(self, caps)
        with self.offering:
            if found is not None and self.outcome.best is known:
                self.outcome.best, self.model = found[0], (found[0].variables, found[1])

    def _look_within(self, cap: int, until: float) -> None:
        """Look for plans of no more restricted crossings than ``cap``."""
        row = SLOTS_A_ROW if self.best is not None or self.first is None else max(SLOTS_A_ROW, longest_row(self.first))
        latest = self.problem.horizon if self.first is None else self.first.home
        if self.best is not None:
            latest = self.problem.origin + self.best.value(self.problem.price)
        v = Variables(self.problem, Caps(cap, max(row, cap), latest))
        obey_all(v)
        known = self.plan or self.first
        if known is not None:
            give(v, Hint(self.day, known, v).said)
        v.model.add(v.crossings(restricted=True) <= cap)
        value = v.minimize_value(v.end_of_time + self.problem.price * cap)
        before = self.outcome.best
        self.solve_for_plans(v, v.model, max(0.1, until - self.clock()), patience=PATIENCE)
        if self.outcome.best is not before:
            self.model = v, value

    def _crossings_at_first(self) -> int:
        """Restricted crossings of the first plan."""
        grounds = self.day.jobs[self.job].grounds
        crossings = () if self.first is None else self.first.crossings
        return sum(grounds[c.ground].way_in.restricted for c in crossings)

    def _read(self, solution: Solution) -> Plan:
        return SolutionReader(self.day, solution.variables, solution.of).plan()

    # --- proofs ---------------------------------------------------------------------------------------------------

    def must_stop(self) -> bool:
        """Whether somebody asked the search to end, or its best plan was proven meanwhile on another core."""
        return super().must_stop() or self.is_proven

    def prove(self, seconds: float, longest: float) -> None:
        """Raise what is proven, and take over a better plan that turns up.

        Questions are begun for so many seconds; one that was begun goes on, but none longer than ``longest``.
        """
        if self.best is None or self.problem.is_small:
            self._prove_by_search(seconds)
            return
        share = seconds / len(self.refuting)
        end = self.clock() + longest
        for refuting in self.refuting:
            refuting.best, now = self.best, refuting.clock()
            refuting.raise_bound(now + share, now + end - self.clock())
            if refuting is self.refuting[0] and refuting.outcome.best is not None:
                self.offer(refuting.outcome.best)
        here, least = self.refuting[0], self.least
        self.least = replace(
            least,
            value=max(least.value, here.bound),
            minutes=max(least.minutes, here.floor),
            crossings=0 if self.returns else here.needed,
        )
        if self.returns:
            self._take_over_away(self.refuting[1].bound, self.refuting[1].floor)

    def _prove_by_search(self, seconds: float) -> None:
        """Prove a small job, or find a plan of one that has none, by a search for the best."""
        search, outcome = self._search(self.problem, seconds / 2 if self.returns else seconds)
        self.is_impossible = outcome.infeasible
        if outcome.best is not None:
            self.offer(outcome.best)
        if self.best is None:
            return
        restricted, least = bool(self._restricted()), self.least
        self.least = replace(
            least,
            value=max(least.value, outcome.bound),
            minutes=max(least.minutes, search.floor if restricted else outcome.bound),
            crossings=search.fewest if restricted and not self.returns else 0,
        )
        if self.returns:
            search, outcome = self._search(with_the_van_away(self.problem), seconds / 2)
            self._take_over_away(outcome.bound, search.floor if restricted else outcome.bound)

    def _take_over_away(self, value: int, minutes: int) -> None:
        """Keep what is proven of all visits together, where that is more than what was."""
        least = self.least
        if least.away is not None and least.minutes_away is not None:
            self.least = replace(least, away=max(least.away, value), minutes_away=max(least.minutes_away, minutes))

    def _search(self, problem: Problem, seconds: float) -> tuple[Search, Outcome]:
        budget = replace(self.budget, seconds=seconds)
        search = Search(problem, budget, known=self.best, hint=self._hint, stop=self.stop)
        return search, search.prove()

    def _hint(self, variables: Variables, solution: Solution | None) -> dict[int, int]:
        plan = self.plan if solution is None else self._read(solution)
        plan = plan or self.first
        return {} if plan is None else Hint(self.day, plan, variables).said
