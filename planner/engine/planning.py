"""Planning a day: the serial order at once, then better and better plans, each checked, until proven or out of time."""

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from planner.day import Day
from planner.engine.build import Index, build
from planner.engine.problem import Problem
from planner.engine.ranking import Budget, Score
from planner.engine.result import Result
from planner.engine.serial.careful import checked_serial_plan
from planner.plan.checker import broken_rules
from planner.plan.measures import measure
from planner.plan.plan import Plan, Proof, TradeOff

if TYPE_CHECKING:
    from planner.engine.solving import Outcome, Solution
    from planner.engine.variables import Variables

COMPOSING_SHARE = 0.3
"""The part of the budget in which a plan of several jobs is put together job by job."""

LARGE_SHARE = 0.7
"""The same for a large day, which is too much for one search."""

CHECKING_SHARE = 4.0
"""After a better plan was checked and given out, none is for so many times as long as that took."""


class Planning:
    """One day being planned. ``run`` gives the result; better plans go to ``on_better`` as they are found."""

    since: int | None = None
    """On a day under way the minute it is now: the checker looks no further back."""

    def __init__(
        self,
        day: Day,
        budget: Budget,
        *,
        previous: Plan | None = None,
        on_better: Callable[[Plan], None] | None = None,
        stop: threading.Event | None = None,
        most_crossings: int | None = None,
    ) -> None:
        self.day, self.budget, self.previous = day, budget, previous
        self.on_better, self.stop, self.most_crossings = on_better, stop, most_crossings
        self.problem: Problem = build(day)
        self.refused: list[str] = []
        self.serial = checked_serial_plan(day, self.problem)
        self.serial_measures = None if self.serial is None else measure(day, self.serial)
        self.best: Plan | None = None
        self.quiet_until = 0.0
        self.began = time.monotonic()

    def run(self) -> Result:
        """Plan the day within the budget."""
        known = self._known()
        if known is not None:
            self._give(known)
        composed = self._composed()
        if composed is not None and (known is None or self._rank(composed) < self._rank(known)):
            known = composed
            self._give(known)
        from planner.engine.search import Search  # only now: the first plan must not wait for the solver to load

        search = Search(
            self.problem,
            self._left(),
            known=None if known is None or known.home > self.problem.horizon else self._standing_of(known),
            on_better=self._found,
            hint=self._hint,
            stop=self.stop,
            order=self._order_before(),
            most_crossings=self.most_crossings,
            adjust=self.adjust,
            fewest=self.fewest_crossings(),
        )
        outcome = search.run()
        if outcome.best is not None:
            last = self._checked(self._read(outcome.best))
            self.best = last or self.best
        if self.best is None:
            conflict = self._conflict() if outcome.infeasible else ()
            return Result(None, self.serial, conflict, outcome.stopped, tuple(self.refused))
        plan = replace(self.best, proof=self._proof(self.best, outcome))
        return Result(plan, self.serial, (), outcome.stopped, tuple(self.refused))

    adjust: Callable[["Variables"], None] | None = None
    """What is added to every model; a day under way binds what has happened."""

    def fewest_crossings(self) -> int:
        """Restricted crossings that a plan has at the least."""
        return 0

    def _known(self) -> Plan | None:
        """The better of the previous plan, if it still holds for this day, and the serial order."""
        plans = []
        for plan in (self.previous, self.serial):
            if plan is not None and not broken_rules(self.day, plan):
                crossings = measure(self.day, plan).restricted_crossings
                if self.most_crossings is None or crossings <= self.most_crossings:
                    plans.append(plan)
        return min(plans, key=self._rank, default=None)

    def _standing_of(self, plan: Plan) -> Score:
        """How good a plan is, as the search counts."""
        measures = measure(self.day, plan)
        return Score(measures.overrun, measures.minutes_home, measures.restricted_crossings)

    def _left(self) -> Budget:
        """The budget without what composing took; one that counts the solver's own work is left whole."""
        if self.budget.deterministic:
            return self.budget
        return replace(self.budget, seconds=max(0.5, self.budget.seconds - (time.monotonic() - self.began)))

    def _rank(self, plan: Plan) -> tuple[int, int]:
        return self._standing_of(plan).rank(self.problem.price)

    def _composed(self) -> Plan | None:
        """With several jobs: a plan put together job by job."""
        if len(self.day.jobs) < 2 or self.adjust is not None or self.most_crossings is not None:
            return None
        from planner.engine.composing import Composing

        share = LARGE_SHARE if self.problem.is_large else COMPOSING_SHARE
        budget = replace(self.budget, seconds=share * self.budget.seconds)
        plan = Composing(self.day, budget, self.stop).plan()
        return plan if plan is not None and not broken_rules(self.day, plan) else None

    def _checked(self, plan: Plan | None) -> Plan | None:
        """A plan that passes the checker, or None; what it broke is kept for the result."""
        if plan is None:
            return None
        broken = broken_rules(self.day, plan, since=self.since)
        self.refused += [f"rule {b.rule}: {b.text}" for b in broken]
        return None if broken else plan

    def _read(self, solution: "Solution") -> Plan:
        from planner.engine.solution import SolutionReader

        return SolutionReader(self.day, solution.variables, solution.of).plan()

    def _found(self, solution: "Solution") -> None:
        """Check and give out a better plan, unless checking them all would hold the solver up."""
        began = time.monotonic()
        if began < self.quiet_until:
            return
        plan = self._checked(self._read(solution))
        if plan is not None:
            self._give(plan)
        self.quiet_until = time.monotonic() + CHECKING_SHARE * (time.monotonic() - began)

    def _give(self, plan: Plan) -> None:
        self.best = plan
        if self.on_better is not None:
            self.on_better(replace(plan, proof=self._proof(plan, None)))

    def _hint(self, variables: "Variables", solution: "Solution | None") -> dict[int, int]:
        from planner.engine.hints import Hint

        plan = self.best if solution is None else self._read(solution)
        return {} if plan is None else Hint(self.day, plan, variables).said

    def _order_before(self) -> Sequence[int]:
        if self.previous is None:
            return ()
        stages = Index.of(self.day).stages
        return [stages.index((w.job, w.stage)) for w in self.previous.works if (w.job, w.stage) in stages]

    def _proof(self, plan: Plan, outcome: "Outcome | None") -> Proof:
        measures, serial = measure(self.day, plan), self.serial_measures
        return Proof(
            value=measures.value,
            bound=0 if outcome is None else min(outcome.bound, measures.value),
            overrun=measures.overrun,
            overrun_bound=0 if outcome is None else min(outcome.overrun_bound, measures.overrun),
            minutes=measures.minutes_home,
            crossings=measures.restricted_crossings,
            seconds=0.0 if outcome is None else outcome.seconds,
            serial_minutes=None if serial is None else serial.minutes_home,
            serial_crossings=None if serial is None else serial.restricted_crossings,
            trade_off=() if outcome is None else _trade_off(outcome),
        )

    def _conflict(self) -> tuple[str, ...]:
        """Why there is no plan; with a limit on crossings it is taken to be that."""
        if self.most_crossings is not None:
            return (f"at most {self.most_crossings} restricted crossings",)
        from planner.engine.conflict import conflict_of

        return conflict_of(self.day, self.budget, self.stop)


def _trade_off(outcome: "Outcome") -> tuple[TradeOff, ...]:
    """The numbers of crossings for which plans were found, with their minutes and bounds."""
    return tuple(
        TradeOff(number, minutes, bound)
        for number, (minutes, bound) in sorted(outcome.least.items())
        if minutes is not None
    )
