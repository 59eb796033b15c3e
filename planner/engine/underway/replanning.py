"""Planning the rest of a day under way: the past is fixed, running waits keep their clocks, the rest is free."""

import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from planner.day import Day
from planner.day.names import called
from planner.engine.build import Index
from planner.engine.planning import Planning
from planner.engine.problem import Lag, Problem
from planner.engine.ranking import Budget, Score
from planner.engine.result import Result
from planner.engine.underway.old_choices import what_is_left
from planner.engine.underway.rest import underway
from planner.plan.past import NOT_YET
from planner.plan.plan import Plan, Proof
from planner.plan.progress import Progress
from planner.plan.went import day_as_it_went, with_wait_longer
from planner.trade.units import show_clock, show_minutes

if TYPE_CHECKING:
    from planner.engine.solving import Outcome, Solution
    from planner.engine.variables import Expr, Variables

FIRST_SECONDS = 8.0
"""How long is spent at the most on keeping the old plan as it was, only later; it is mostly done at once."""

RESCUE_SECONDS = 4.0
"""How long is spent on finding how late the first rinse can be, when a running dwell cannot be kept."""


@dataclass(frozen=True)
class Running:
    """A wait with a most that runs now, and the minute at which its most is reached."""

    lag: Lag
    deadline: int


class Replanning(Planning):
    """A day under way being planned again. Its plan is the whole day: what happened, and what is still to come."""

    def __init__(
        self,
        day: Day,
        plan: Plan,
        progress: Progress,
        budget: Budget,
        *,
        on_better: Callable[[Plan], None] | None = None,
        stop: threading.Event | None = None,
    ) -> None:
        self.progress = progress
        went, self.past = day_as_it_went(day, plan, progress)
        super().__init__(went, budget, previous=plan, on_better=on_better, stop=stop)
        self.since = progress.at
        self.serial = self.serial_measures = None
        self.problem: Problem = underway(went, self.past, progress.at)
        self.left: Plan = what_is_left(went, plan, self.past, progress)
        self.first: Solution | None = None
        self.urgent = self._rescue()

    def run(self) -> Result:
        """Plan the rest of the day; what is urgent is said first."""
        return replace(super().run(), urgent=self.urgent, assumed=self.past.assumed, day=self.day)

    # --- what a day under way does otherwise ----------------------------------------------------------------------

    def _known(self) -> Plan | None:
        """The plan that the day went by, kept as it was but for its times, as far as that goes."""
        from ortools.sat.python import cp_model

        from planner.engine.solving import Solution
        from planner.engine.underway.old_choices import keep_choices, most_in_a_row

        for kit_too in (True, False):
            v = self._model(self.problem, most_in_a_row(self.left) if kit_too else None)
            keep_choices(v, self.day, self.left, kit_too=kit_too)
            v.model.minimize(v.home)
            solver, status = self._solve(v, FIRST_SECONDS)
            if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                self.first = Solution(v, tuple(solver.response_proto.solution), Score(0, 0, 0))
                return self._checked(self._read(self.first))
        return None

    def _standing_of(self, plan: Plan) -> Score:
        whole = super()._standing_of(plan)
        return replace(whole, crossings=whole.crossings - self._crossings_over())

    def adjust(self, variables: "Variables") -> None:
        """Bind a model to what has happened."""
        from planner.engine.underway.held import Held

        Held(self.day, self.past, variables, self.progress).bind()

    def fewest_crossings(self) -> int:
        """Restricted crossings under way."""
        return sum(self.problem.grounds[g].restricted for g, _ in self.problem.inside)

    def _read(self, solution: "Solution") -> Plan:
        from planner.engine.underway.whole_day import RestReading

        whole = RestReading(self.day, self.past, solution.variables, solution.of, self.progress).whole()
        return replace(whole, since=self.progress.at)

    def _hint(self, variables: "Variables", solution: "Solution | None") -> dict[int, int]:
        from planner.engine.hints import Hint
        from planner.engine.underway.whole_day import RestReading

        solution = solution or self.first
        if solution is None:
            return Hint(self.day, self.left, variables).said
        rest = RestReading(self.day, self.past, solution.variables, solution.of, self.progress).plan()
        return Hint(self.day, rest, variables).said

    def _proof(self, plan: Plan, outcome: "Outcome | None") -> Proof:
        """The proof of the whole day: the search knew nothing of crossings that are over."""
        if outcome is not None:
            over = self._crossings_over()
            least = {number + over: found for number, found in outcome.least.items()}
            outcome = replace(outcome, bound=outcome.bound + self.problem.price * over, least=least)
        return super()._proof(plan, outcome)

    def _crossings_over(self) -> int:
        """Restricted crossings that the search knows nothing of: they are over."""
        over = [c for c in self.past.plan.crossings if c.end <= self.progress.at]
        return sum(self.day.jobs[c.job].grounds[c.ground].way_in.restricted for c in over)

    def _conflict(self) -> tuple[str, ...]:
        """Why the rest cannot be planned: what the record says, and the facts of the day that it cannot hold with."""
        from planner.engine.conflict import conflict_of

        gone = [called(self.day.hands[h], h) for h in self.progress.gone]
        said = tuple(f"{name} has gone home" for name in gone)
        if self.progress.rain is not None:
            said += (f"rain from {show_clock(self.progress.rain)}",)
        facts = conflict_of(self.day, self.budget, self.stop, is_impossible=self._is_impossible)
        return (*said, *facts, f"it is {show_clock(self.progress.at)}")

    def _is_impossible(self, day: Day, budget: Budget) -> bool:
        from ortools.sat.python import cp_model

        from planner.engine.conflict import SECONDS_A_TRY

        v = self._model(underway(day, self.past, self.progress.at))
        return bool(self._solve(v, SECONDS_A_TRY)[1] == cp_model.INFEASIBLE)

    # --- a model outside the search -------------------------------------------------------------------------------

    def _model(self, problem: Problem, row: int | None = None) -> "Variables":
        from planner.engine.bounds import most_slots
        from planner.engine.rules import obey_all
        from planner.engine.variables import Caps, Variables

        stays = max((s.number for s in self.left.stays), default=1)
        v = Variables(problem, Caps(None, row or most_slots(problem), least_stays=stays))
        obey_all(v)
        self.adjust(v)
        return v

    def _solve(self, v: "Variables", seconds: float):  # type: ignore[no-untyped-def]
        from planner.engine.solving import solver_within

        solver = solver_within(self.budget, seconds)
        return solver, solver.solve(v.model)

    # --- waits that run -------------------------------------------------------------------------------------------

    def _running(self) -> Iterator[Running]:
        stages = Index.of(self.day).stages
        for lag in self.problem.lags:
            first = self.past.plan.work(*stages[lag.first])
            if first is None or first.end == NOT_YET or self.past.is_begun(*stages[lag.second]):
                continue
            most = lag.most
            for since, _, step_most in lag.steps:
                most = step_most if first.end >= since else most
            if most is not None:
                yield Running(lag, first.end + most)

    def _rescue(self) -> tuple[str, ...]:
        """Words on every running wait with a most; one that cannot be kept runs over by the least there can be."""
        running = list(self._running())
        if not running:
            return ()
        stages = Index.of(self.day).stages
        late, words = self._least_lateness(running), []
        for wait, over in zip(running, late, strict=True):
            words.append(self._urgent_words(wait, over))
            if over:
                (job, after), (_, before) = stages[self._counted_from(wait.lag)], stages[wait.lag.second]
                self.day = with_wait_longer(self.day, job, after, before, over)
        self.problem = underway(self.day, self.past, self.progress.at)
        return tuple(words)

    def _counted_from(self, lag: Lag) -> int:
        """The stage after which the day's wait stands that a lag is of: a re-wet counts for the stage it wets again."""
        stages = Index.of(self.day).stages
        job, first = stages[lag.first]
        after = next((w.after for w in self.day.jobs[job].waits if w.extended_by == first), first)
        return stages.index((job, after))

    def _urgent_words(self, wait: Running, over: int) -> str:
        job, stage = Index.of(self.day).stages[wait.lag.second]
        name = f"{called(self.day.jobs[job], job)}: '{called(self.day.jobs[job].stages[stage], stage)}'"
        if over >= self.problem.horizon:
            return f"{name} must begin by {show_clock(wait.deadline)}, and no way to do so was found. See to it first."
        if over:
            return (
                f"{name} cannot begin by {show_clock(wait.deadline)}: {show_minutes(over)} too late at the soonest."
                " Before anything else, keep it wet or rinse it by hand, as the label of the product says."
            )
        if wait.lag.extended_by is not None:
            return f"{name} must begin by {show_clock(wait.deadline)}, or be wetted again by then."
        return f"{name} must begin by {show_clock(wait.deadline)}."

    def _least_lateness(self, running: list[Running]) -> list[int]:
        """How many minutes each running wait must run over its most at the least (all together).

        First with the choices of the plan that the day went by: where that is in time, no more need be asked. Where no
        way is found at all in the time there is, a wait may run as long as the day.
        """
        from planner.engine.underway.old_choices import keep_choices, most_in_a_row

        free = {id(wait.lag) for wait in running}
        lags = tuple(
            replace(x, most=None, steps=tuple((s, least, None) for s, least, _ in x.steps)) if id(x) in free else x
            for x in self.problem.lags
        )
        problem, best = replace(self.problem, lags=lags), None
        for kept in (True, False):
            v = self._model(problem, most_in_a_row(self.left) if kept else None)
            over = [self._lateness(v, wait) for wait in running]
            v.model.minimize(sum(over))
            if kept:
                keep_choices(v, self.day, self.left, kit_too=True)
            found = self._values(v, over, FIRST_SECONDS if kept else RESCUE_SECONDS)
            if found is not None and (best is None or sum(found) < sum(best)):
                best = found
            if best is not None and not any(best):
                break
        return best or [self.problem.horizon] * len(running)

    def _values(self, v: "Variables", of: "list[Expr]", seconds: float) -> list[int] | None:
        from ortools.sat.python import cp_model

        solver, status = self._solve(v, seconds)
        return [int(solver.value(x)) for x in of] if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None

    def _lateness(self, v: "Variables", wait: Running) -> "Expr":
        """By how much a wait runs over its most; a re-wet in time counts anew."""
        late = v.model.new_int_var(0, v.end_of_time, "late")
        second = v.activities[wait.lag.second]
        if wait.lag.extended_by is None:
            v.model.add(late >= second.start - wait.deadline)
            return late
        first = self.past.plan.work(*Index.of(self.day).stages[wait.lag.first])
        most = wait.deadline - (0 if first is None else first.end)
        again = v.activities[wait.lag.extended_by]
        v.model.add(late >= second.start - wait.deadline).only_enforce_if(~again.present)
        v.model.add(late >= again.start - wait.deadline).only_enforce_if(again.present)
        v.model.add(late >= second.start - again.end - most).only_enforce_if(again.present)
        v.model.add(again.end <= second.start).only_enforce_if(again.present)
        return late
