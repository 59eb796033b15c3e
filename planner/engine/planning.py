"""Planning a day: the serial order at once, then better and better plans, each checked, until proven or out of time."""

import math
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from planner.day import Day
from planner.engine.for_nothing import without_what_is_for_nothing
from planner.engine.index import Index
from planner.engine.outset import FreshDay, Outset
from planner.engine.ranking import LEAST_SECONDS, Budget, Score
from planner.engine.result import Result
from planner.engine.several_jobs.shortest_round import Least
from planner.plan.checker import broken_rules
from planner.plan.measures import Measures, longest_row, measure, most_stays
from planner.plan.plan import Plan, Proof, TradeOff

if TYPE_CHECKING:
    from planner.engine.solving import Outcome, Solution
    from planner.engine.variables import Variables

JOBS_SHARE = 0.4
"""The part of the budget in which a day of several jobs is planned job by job, unless all are proven sooner."""

UNSURE_SHARE = 0.5
"""On a day that says how sure it is to be, the part of the budget in which it is planned without, to tell the price."""

LARGE_SHARE = 0.7
"""The same for a large day, which is too much for one search."""

LARGE_MODEL_SECONDS = 1.5
"""A large day that has a plan is not searched as a whole with less time left: its model alone takes as long."""

KEPT_SECONDS = 5.0
"""So much is kept of the budget, to tidy, of a day that gets better only as its jobs do."""

CHECKING_SHARE = 4.0
"""After a better plan was checked and given out, none is for so many times as long as that took."""


class Planning:
    """One day being planned. ``run`` gives the result; better plans go to ``on_better`` as they are found.

    ``began`` is when the budget began to run, by the monotonic clock; now, if it is not said. At the end ``least`` is
    what the jobs alone prove of every plan, and ``own_bound`` what the search for the whole proved of its value.
    """

    def __init__(
        self,
        outset: Outset,
        budget: Budget,
        *,
        on_better: Callable[[Plan], None] | None = None,
        stop: threading.Event | None = None,
        most_crossings: int | None = None,
        began: float | None = None,
    ) -> None:
        self.outset, self.budget = outset, budget
        self.day, self.problem, self.serial = outset.day, outset.problem, outset.serial
        self.on_better, self.stop, self.most_crossings = on_better, stop, most_crossings
        self.refused: list[str] = []
        self.serial_measures = None if self.serial is None else measure(self.day, self.serial)
        self.best: Plan | None = None
        self.least, self.own_bound = Least(0, 0), 0
        self.unsure: Measures | None = None
        self.quiet_until = 0.0
        self.began = time.monotonic() if began is None else began

    def run(self) -> Result:
        """Plan the day within the budget."""
        known = self._known()
        if known is not None:
            self._give(known)
        elif not self._is_stopped() and self.outset.order.is_none:
            conflict = self.outset.conflict(self._left(), self.stop)
            return Result(None, self.serial, conflict, self._is_stopped(), tuple(self.refused))
        kept_anyway = self._plan_without_room()
        if kept_anyway is not None:
            return Result(kept_anyway, self.serial, refused=tuple(self.refused))
        self.least = self._plan_job_by_job()
        known = self.best
        kept = self.outset.model_seconds if known is None else LARGE_MODEL_SECONDS
        if self._is_stopped() or (self.problem.is_large and self._is_over(kept)):
            plan = None if known is None else self._finished(known, None)
            return Result(plan, self.serial, (), self._is_stopped(), tuple(self.refused))
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
            adjust=self.outset.adjust,
            fewest=self.outset.crossings_begun,
            least=self.least,
            row=0 if known is None else longest_row(known, self.outset.since),
            stays=1 if known is None else most_stays(known, self.outset.since),
            is_shown=known is not None and known is self.outset.previous,
        )
        outcome = search.run()
        self.own_bound = outcome.own_bound
        if outcome.best is not None:
            last = self._checked(self.outset.read(outcome.best))
            self.best = last or self.best
        if self.best is None:
            conflict = self._conflict() if outcome.infeasible else ()
            return Result(None, self.serial, conflict, outcome.stopped, tuple(self.refused))
        plan = self._finished(self.best, outcome)
        return Result(plan, self.serial, (), outcome.stopped, tuple(self.refused))

    def _known(self) -> Plan | None:
        """The best of the plans that are had without a search."""
        plans = [plan for plan in self.outset.known() if self._checked(plan) and not self._crosses_too_often(plan)]
        return min(plans, key=self._rank, default=None)

    def _crosses_too_often(self, plan: Plan) -> bool:
        most = self.most_crossings
        return most is not None and measure(self.day, plan).restricted_crossings > most

    def _standing_of(self, plan: Plan) -> Score:
        """How good a plan is, as the search counts: it knows nothing of crossings that are over."""
        measures = measure(self.day, plan)
        crossings = measures.restricted_crossings - self.outset.crossings_over
        return Score(measures.overrun, measures.minutes_home, crossings)

    def _left(self) -> Budget:
        """The budget without what composing took; one that counts the solver's own work is left whole."""
        if self.budget.deterministic:
            return self.budget
        return replace(self.budget, seconds=max(LEAST_SECONDS, self.budget.seconds - (time.monotonic() - self.began)))

    def _is_stopped(self) -> bool:
        return self.stop is not None and self.stop.is_set()

    def _is_over(self, left: float) -> bool:
        """Whether the time is over but for so many seconds, which a quick search would still use."""
        seconds = self.budget.seconds - (0 if self.budget.quick else left)
        return not self.budget.deterministic and time.monotonic() - self.began > seconds

    def _rank(self, plan: Plan) -> tuple[int, int]:
        return self._standing_of(plan).rank(self.problem.price)

    def _plan_job_by_job(self) -> Least:
        """Plan each job alone, where it is worth it, and put them together; what every plan takes at the least."""
        if self.outset.adjust is not None or self.most_crossings is not None or not self._is_worth_its_jobs():
            return Least(0, 0)
        from planner.engine.several_jobs.job_by_job import JobByJob

        share = LARGE_SHARE if self.problem.is_large else JOBS_SHARE
        budget = replace(self._left(), seconds=share * self._left().seconds)
        longest = self._left().seconds - KEPT_SECONDS
        by_job = JobByJob(self.day, self.problem, budget, self._alone, self._offer, self.stop, longest)
        by_job.run()
        return by_job.least

    def _is_worth_its_jobs(self) -> bool:
        """Whether a day is planned job by job first: one of several, or of a middling one with ways of both kinds.

        Of these nearly all that is ever proven is refuted with the crossings left out that cost nothing.
        """
        if len(self.day.jobs) > 1:
            return True
        kinds = {ground.restricted for ground in self.problem.grounds if ground.slots}
        is_middling = not self.problem.is_small and not self.problem.is_large
        return len(kinds) > 1 and is_middling and not self.budget.quick

    def _plan_without_room(self) -> Plan | None:
        """On a day that says how sure it is to be: plan it as if that were only wished for, to tell what it costs.

        The plan is given if it is proven best and as sure as it is to be; else it may be where the search begins.
        """
        if not self.problem.keeps_room or self.outset.adjust is not None or self.budget.quick:
            return None
        day = self.day.model_copy(update={"sure": None})
        budget = replace(self._left(), seconds=UNSURE_SHARE * self._left().seconds)
        previous = self.best if self.outset.previous is None else self.outset.previous
        outset = FreshDay(day, previous, self._until(budget), self.stop)
        outset.problem = replace(self.problem, keeps_room=False)
        plan = Planning(outset, budget, stop=self.stop, most_crossings=self.most_crossings).run().plan
        if plan is None or plan.proof is None:
            return None
        self.unsure = measure(day, plan)
        self._offer(plan)
        if self.best is not plan or not plan.proof.is_best:
            return None
        minutes, crossings = self.unsure.minutes_home, self.unsure.restricted_crossings
        return replace(plan, proof=replace(plan.proof, unsure_minutes=minutes, unsure_crossings=crossings))

    def _offer(self, plan: Plan) -> bool:
        """Give out a plan that was put together, if it holds and is better; whether it holds."""
        if broken_rules(self.day, plan):
            return False
        if self.best is None or self._rank(plan) < self._rank(self.best):
            self._give(plan)
        return True

    def _alone(self, day: Day, budget: Budget) -> Plan | None:
        """The plan of one job of this day as a day of its own."""
        outset = FreshDay(day, until=self._until(budget), stop=self.stop)
        return Planning(outset, budget, stop=self.stop).run().plan

    def _until(self, budget: Budget) -> float:
        """When a budget that begins to run now is over, by the steady clock."""
        return math.inf if budget.deterministic else time.monotonic() + budget.seconds

    def _checked(self, plan: Plan | None) -> Plan | None:
        """A plan that passes the checker, or None; what it broke is kept for the result."""
        if plan is None:
            return None
        broken = broken_rules(self.day, plan, since=self.outset.since)
        self.refused += [f"rule {b.rule}: {b.text}" for b in broken]
        return None if broken else plan

    def _found(self, solution: "Solution") -> None:
        """Check and give out a better plan, unless checking them all would hold the solver up."""
        began = time.monotonic()
        if began < self.quiet_until:
            return
        plan = self._checked(self.outset.read(solution))
        if plan is not None:
            self._give(plan)
        self.quiet_until = time.monotonic() + CHECKING_SHARE * (time.monotonic() - began)

    def _give(self, plan: Plan) -> None:
        self.best = plan
        if self.on_better is not None:
            self.on_better(replace(plan, proof=self._proof(plan, None)))

    def _hint(self, variables: "Variables", solution: "Solution | None") -> dict[int, int]:
        return self.outset.hint(variables, self.best, solution)

    def _order_before(self) -> Sequence[int]:
        """On a day under way: the order of the plan it went by."""
        if self.outset.previous is None or self.outset.adjust is None:
            return ()
        stages = Index.of(self.day).stages
        return [stages.index((w.job, w.stage)) for w in self.outset.previous.works if (w.job, w.stage) in stages]

    def _finished(self, plan: Plan, outcome: "Outcome | None") -> Plan:
        """The plan that is given at the end, with its proof; one that was shown before stays as it is."""
        if plan is not self.outset.previous:
            plan = without_what_is_for_nothing(self.day, plan)
        return replace(plan, proof=self._proof(plan, outcome))

    def _proof(self, plan: Plan, outcome: "Outcome | None") -> Proof:
        measures, serial, over = measure(self.day, plan), self.serial_measures, self.outset.crossings_over
        unsure = self.unsure
        if unsure is not None and (measures.overrun, measures.value) <= (unsure.overrun, unsure.value):
            unsure = measures  # found without the rule in half of the time, and so perhaps not the best without it
        bound = max(0 if outcome is None else outcome.bound + self.problem.price * over, self.least.value)
        return Proof(
            value=measures.value,
            bound=min(bound, measures.value),
            overrun=measures.overrun,
            overrun_bound=0 if outcome is None else min(outcome.overrun_bound, measures.overrun),
            minutes=measures.minutes_home,
            crossings=measures.restricted_crossings,
            seconds=0.0 if outcome is None else outcome.seconds,
            serial_minutes=None if serial is None else serial.minutes_home,
            serial_crossings=None if serial is None else serial.restricted_crossings,
            unsure_minutes=None if unsure is None else unsure.minutes_home,
            unsure_crossings=None if unsure is None else unsure.restricted_crossings,
            trade_off=() if outcome is None else _trade_off(outcome, over),
        )

    def _conflict(self) -> tuple[str, ...]:
        """Why there is no plan; with a limit on crossings it is taken to be that."""
        if self.most_crossings is not None:
            return (f"at most {self.most_crossings} restricted crossings",)
        return self.outset.conflict(self._left(), self.stop)


def _trade_off(outcome: "Outcome", over: int) -> tuple[TradeOff, ...]:
    """The numbers of crossings, with those that are over, for which plans were found; their minutes and bounds."""
    return tuple(
        TradeOff(number + over, minutes, bound)
        for number, (minutes, bound) in sorted(outcome.least.items())
        if minutes is not None
    )
