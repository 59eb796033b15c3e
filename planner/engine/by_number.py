"""What each number of restricted crossings can bring: better plans, or the proof that there are none.

Minutes and crossings as one weighted objective bound badly. With the number of crossings given each search is small,
and together they prove the whole.
"""

import threading
from concurrent.futures import ThreadPoolExecutor
from typing import Unpack

from ortools.sat.python import cp_model

from planner.engine.bounds import certain_work, crude_minutes
from planner.engine.dominance import most_restricted_crossings
from planner.engine.problem import Problem
from planner.engine.ranking import Budget, Range, Score
from planner.engine.several_jobs.shortest_round import Least
from planner.engine.solver import Way
from planner.engine.solving import Solving, ToSolve

BEAT_SHARE, WEAKEST_SHARE = 0.45, 0.8
"""Parts of what is left for one number of crossings, at the most: in the first round somewhat less than half, so that
there is as much again for the next; later, where the bound is weakest, most."""

FIRST_LOOK, LONGER = 1.5, 3.0
"""Seconds for a first look at one number of crossings, by the end of which most are settled, and how many times as long
each further look at the same number is. So no number keeps the others waiting, and what needs long is given it."""

WITH_BOUNDS, HARDER = Way(linear=True), Way(linear=False, harder=True)
"""How a look after the first goes about it: what the one does not settle soon, the other mostly does."""

BEYOND_CROSSINGS = 1000
"""More than there are in any plan: a minute outweighs them all."""


class ByNumber(Solving):
    """The bounds that are known of each number of restricted crossings, and looks that raise them.

    To what is asked of every solving, ``fewest`` are the restricted crossings that what has already happened takes, and
    ``least`` is what is proven of every plan before.
    """

    def __init__(
        self, problem: Problem, budget: Budget, *, fewest: int = 0, least: Least | None = None, **asked: Unpack[ToSolve]
    ) -> None:
        super().__init__(problem, budget, **asked)
        self.fewest, self.least = fewest, least or Least(0, 0)
        self.certain = certain_work(problem)
        self.floor = max(crude_minutes(problem, work=self.certain), self.least.minutes)
        self.useful = most_restricted_crossings(problem)
        self.lows: dict[Range, int] = {}
        self.looks: dict[Range, int] = {}

    def _beat_by_number_of_crossings(self, *, looked: bool = False) -> None:
        """Levels 1 and 2: for each number of crossings from the fewest up, beat the best or prove that none does.

        Where plans of few crossings were ``looked`` for, better ones are seldom found in a first look: all is left to
        the further ones.
        """
        if not self._restricted():
            self.lows[Range(0, None)] = self.floor
            if not self.must_stop():
                self._look_at(Range(0, None))
            return
        number = self.fewest
        top = self.useful if self.most_crossings is None else self.most_crossings
        while self._may_go_on() and number <= min(top, self._standing.crossings + 1):
            self._first_look(Range(number, number), looked=looked)
            number += 1
        if number <= min(top, self._most_useful_crossings()):
            self._first_look(Range(number, min(top, self._most_useful_crossings())), looked=looked)

    def _first_look(self, crossings: Range, *, looked: bool) -> None:
        self.lows[crossings] = self.floor + self.problem.price * crossings.least
        if looked:
            self.looks[crossings] = 1
        elif self._may_go_on():
            self._look_at(crossings)

    def _may_go_on(self) -> bool:
        """Whether there is time for another model."""
        return self._left() > self.making and not self.must_stop()

    def _press_on(self) -> None:
        """With time left, look again at what is open, where the bound is weakest first."""
        while (open_yet := self._open_yet()) and self._left() > 1.0 and self._may_go_on():
            self._look_side_by_side(open_yet)

    def _open_yet(self) -> list[Range]:
        """Numbers of crossings that may yet beat the best, those with the weakest bound first."""
        return sorted((r for r, low in self.lows.items() if low < self.goal(r)), key=lambda r: self.lows[r])

    def _look_side_by_side(self, open_yet: list[Range]) -> None:
        """Each core looks at its own number of crossings, another way each time.

        Alone on its core a search mostly settles a number sooner than one on two cores that share what they learn.
        Cores that are left over look at the same numbers another way; whoever settles one first ends both.
        """
        cores = self.budget.cores
        none_waits = 2 * len(open_yet) <= cores
        looks = {r: self._next_look(r, none_waits=none_waits) for r in open_yet[:cores]}
        ended = {r: threading.Event() for r in looks}
        ways = [(r, self._way(r, n)) for n in range(cores) for r in looks]
        with ThreadPoolExecutor(cores) as pool:
            for look in [pool.submit(self._beat, r, looks[r], way, ended[r]) for r, way in ways[:cores]]:
                look.result()

    def _way(self, crossings: Range, core: int) -> Way:
        """How this look at a number goes about it: not as the last did, nor as another core at it."""
        return (WITH_BOUNDS, HARDER)[(self.looks[crossings] + core) % 2]

    def _look_at(self, crossings: Range) -> None:
        """Look at one number of crossings on all cores."""
        self._beat(crossings, self._next_look(crossings))

    def _next_look(self, crossings: Range, *, none_waits: bool = False) -> float:
        """How many seconds the next look at a number of crossings may take; more where no other number waits for it."""
        seen = self.looks[crossings] = self.looks.get(crossings, 0) + 1
        seconds = max(1.0, (BEAT_SHARE if seen == 1 else WEAKEST_SHARE) * self._left())
        if none_waits or not self._restricted():
            return seconds
        return min(seconds, FIRST_LOOK * LONGER ** (seen - 1))

    def goal(self, crossings: Range, best: Score | None = None) -> int:
        """The bound that says of so many crossings that no plan beats the best.

        Of plans that are late the one that is home first is best, of those the one with fewest crossings: with fewer
        than the best has, they have to be home a minute later.
        """
        best, price = best or self._standing, self.problem.price
        if not best.overrun:
            return best.value(price)
        if crossings.most is not None and crossings.most < best.crossings:
            return best.minutes + 1 + price * crossings.least
        return best.minutes + price * max(crossings.least, best.crossings)

    def _most_useful_crossings(self) -> int:
        """Beyond this number of restricted crossings no plan can beat the best (or no more are of use)."""
        number, most = self._standing.crossings, self.useful
        while number < most and self._value_beyond(number) < self.goal(Range(number + 1, None)):
            number += 1
        return number

    def _value_beyond(self, number: int) -> int:
        """A lower bound on the value of every plan with more restricted crossings than this."""
        minutes = crude_minutes(self.problem, number + 1, self.certain)
        return max(self.floor, minutes) + self.problem.price * (number + 1)

    def _beat(
        self, crossings: Range, seconds: float, way: Way | None = None, ended: threading.Event | None = None
    ) -> None:
        """Look for a plan that beats the best with so many restricted crossings; keep a bound on all such.

        In a ``way`` it is done on one core, until it has ``ended`` on another. A further look is not told of the best
        plan, which is none of those looked for: that would lead a proof astray.
        """
        price, best = self.problem.price, self._standing
        latest = best.minutes if best.overrun else min(self._in_time(), best.value(price) - 1 - price * crossings.least)
        v = self._variables(self._caps(crossings.most, latest), hinted=self.looks.get(crossings, 0) <= 1)
        count, minutes = v.crossings(restricted=True), v.home - self.problem.origin
        v.model.add(count >= crossings.least)
        if crossings.most is not None:
            v.model.add(count <= crossings.most)
        if best.overrun:
            v.model.add(minutes * BEYOND_CROSSINGS + count < best.minutes * BEYOND_CROSSINGS + best.crossings)
            v.model.minimize(minutes)
        else:
            v.model.add(minutes + price * count <= best.value(price) - 1)
            v.model.minimize(minutes + price * count)
        solver, status = self._solve(v, seconds, way=way, ended=ended)
        if status == cp_model.INFEASIBLE:
            low = self.goal(crossings, best)
        else:
            low = round(solver.best_objective_bound) + (price * crossings.least if best.overrun else 0)
        self.lows[crossings] = max(low, self.floor + price * crossings.least, self.lows.get(crossings, 0))
        if ended is not None and status in (cp_model.INFEASIBLE, cp_model.OPTIMAL):
            ended.set()
        found = self._standing
        if crossings.least == crossings.most == found.crossings:
            self.outcome.least[found.crossings] = (found.minutes, self.lows[crossings] - price * found.crossings)

    def _conclude(self) -> None:
        """What is proven of the best: a bound on overrun, and one on the value of plans with no more overrun."""
        best, price = self._standing, self.problem.price
        lows = dict(self.lows)
        if self._restricted() and self.most_crossings is None:
            beyond = max([best.crossings, *(r.most for r in lows if r.most is not None)])
            if beyond < self.useful:
                lows[Range(beyond + 1, None)] = self._value_beyond(beyond)
        numbered = [max(self.floor, low - price * r.least) for r, low in lows.items()]
        minutes = min([best.minutes, *(numbered or [self.floor])])
        finish = self.problem.finish
        self.outcome.overrun_bound = 0 if finish is None else max(0, self.problem.origin + minutes - finish)
        if best.overrun:
            numbers = [r.least for r, low in lows.items() if low < self.goal(r)]
            self.outcome.bound = minutes + price * (min([best.crossings, *numbers]) if lows else 0)
        else:
            self.outcome.bound = min([best.value(price), *lows.values()])
        self.outcome.own_bound = self.outcome.bound
        self.outcome.bound = min(best.value(price), max(self.outcome.bound, self.least.value))
