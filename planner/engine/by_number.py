"""What each number of restricted crossings can bring: better plans, or the proof that there are none.

Minutes and crossings as one weighted objective bound badly. With the number of crossings given each search is small,
and together they prove the whole.
"""

import threading
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Unpack

from ortools.sat.python import cp_model

from planner.engine.bounds import certain_work, crude_minutes, with_tolls
from planner.engine.dominance import interchangeable, most_crossings, most_restricted_crossings
from planner.engine.problem import Problem
from planner.engine.ranking import Budget, Range, Score
from planner.engine.rules import obey_all
from planner.engine.several_jobs.shortest_round import Least
from planner.engine.solver import WITH_BOUNDS, Way
from planner.engine.solving import Solving, ToSolve
from planner.engine.variables import Variables

BEAT_SHARE, WEAKEST_SHARE = 0.45, 0.8
"""Parts of what is left for one number of crossings, at the most: in the first round somewhat less than half, so that
there is as much again for the next; later, where the bound is weakest, most."""

FIRST_LOOK, LONGER = 2.0, 3.0
"""Seconds for a first look at one number of crossings, by the end of which most are settled, and how many times as long
each further look at the same number is. So no number keeps the others waiting, and what needs long is given it."""

WITHOUT = Way(linear=False, harder=True, probes=False)
"""How a look after the first goes about it where it does not do so `WITH_BOUNDS`: without linear relaxations."""

RUNG = 0.02
"""Where the bound is farther off the best than this part of it, a look is at half of what is between them, and after
every two in vain at half as much: to refute what is far from the very best takes a tenth of the work that what is near
it takes."""

BEYOND_CROSSINGS = 1000
"""More than there are in any plan: a minute outweighs them all."""


@dataclass(frozen=True, eq=False)
class Look:
    """A look at a number of crossings on one core: until when by the clock, which way, and what ends it sooner.

    One that ``refutes`` leaves out the crossings that cost nothing: it finds no plans, and bounds those there are.
    """

    crossings: Range
    until: float
    way: Way
    ended: threading.Event
    refutes: bool = False


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
        self.alike = interchangeable(problem)
        self.lows: dict[Range, int] = {}
        self.looks: dict[Range, int] = {}
        self.in_vain: dict[Range, int] = {}
        self.by_halves: set[Range] = set()
        self.left_out = _without_what_costs_nothing(problem) if self.adjust is None else None
        self.refuted: set[Range] = set()
        self.under_way: list[Look] = []
        self.choosing = threading.Lock()

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
            self.by_halves.add(crossings)
        elif self._may_go_on():
            self._look_at(crossings)

    def _may_go_on(self) -> bool:
        """Whether there is time for another model."""
        return self._left() > self.making and not self.must_stop()

    def _press_on(self) -> None:
        """With time left, look again at what is open: each core at its own number of crossings.

        Alone on its core a search mostly settles a number sooner than one on two cores that share what they learn.
        """
        with ThreadPoolExecutor(self.budget.cores) as pool:
            for looking in [pool.submit(self._keep_looking) for _ in range(self.budget.cores)]:
                looking.result()

    def _keep_looking(self) -> None:
        """On one core: look at one open number after the other, until none is open or the time is over."""
        while self._left() > 1.0 and self._may_go_on():
            with self.choosing:
                look = self._next_of_one_core()
            if look is None:
                return
            self._beat(look.crossings, max(FIRST_LOOK, look.until - self.clock()), look)
            with self.choosing:
                self.under_way.remove(look)

    def _next_of_one_core(self) -> Look | None:
        """What a core that is free looks at: the number with the weakest bound that no other looks at.

        Cores that are left over look at the same numbers another way; whoever settles one first ends both.
        """
        open_yet = self._open_yet()
        if not open_yet:
            return None
        looked_at = [look.crossings for look in self.under_way]
        crossings = min(open_yet, key=lambda r: (looked_at.count(r), self.lows[r]))
        others = [look for look in self.under_way if look.crossings == crossings and not look.ended.is_set()]
        way, refutes = self._way(crossings, len(others)), self._refutes(crossings, others)
        going_on = [look for look in others if look.until - self.clock() > FIRST_LOOK]
        if going_on:
            look = replace(going_on[0], way=way, refutes=refutes)
        else:  # one that is about to end would have those who take turns at it look briefly for ever
            seconds = self._next_look(crossings, none_waits=2 * len(open_yet) <= self.budget.cores)
            ended = others[0].ended if others else threading.Event()
            look = Look(crossings, self.clock() + seconds, way, ended, refutes)
        self.under_way.append(look)
        return look

    def _open_yet(self) -> list[Range]:
        """Numbers of crossings that may yet beat the best."""
        return [r for r, low in self.lows.items() if low < self.goal(r)]

    def _way(self, crossings: Range, others: int) -> Way:
        """How this look at a number goes about it: not as two in vain before it did, nor as another core at it."""
        others_turn = self.in_vain.get(crossings, 0) % 4 in (2, 3)
        return WITHOUT if others_turn != bool(others % 2) else WITH_BOUNDS

    def _refutes(self, crossings: Range, others: Sequence[Look]) -> bool:
        """Whether a look leaves crossings out: as long as that may refute anything, by turns with looks that do not."""
        if self.left_out is None or crossings in self.refuted or self._standing.overrun:
            return False
        return not any(look.refutes for look in others) and self.in_vain.get(crossings, 0) % 4 in (0, 1)

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

        Of plans that are late the one that is home first is best, of those, where crossings have a price, the one with
        fewest: with fewer than the best has, they have to be home a minute later.
        """
        best, price = best or self._standing, self.problem.price
        if not best.overrun:
            return best.value(price)
        if price and crossings.most is not None and crossings.most < best.crossings:
            return best.minutes + 1 + price * crossings.least
        return best.minutes + price * max(crossings.least, best.crossings)

    def _aim(self, crossings: Range, best: Score) -> int:
        """The bound that a look is after: the goal or, where that was too far for one, a rung on the way there."""
        goal = self.goal(crossings, best)
        if crossings not in self.by_halves:
            return goal
        low, least = self.lows[crossings], max(1, int(RUNG * best.value(self.problem.price)))
        if goal - low <= least:
            return goal
        half = (goal - low) >> 1 + self.in_vain.get(crossings, 0) // 2
        return min(goal - least, low + max(1, least // 4, half))

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

    def _beat(self, crossings: Range, seconds: float, look: Look | None = None) -> None:
        """Look for a plan that beats the best with so many restricted crossings; keep a bound on all such.

        As a ``look`` it is done on one core, until it has ended on another, and not told of the best plan, which is
        none of those looked for: that would lead a proof astray. Of hands who are alike the first crosses most often.
        """
        price, best = self.problem.price, self._standing
        aim, refutes = self._aim(crossings, best), look is not None and look.refutes
        v = self._beating(crossings, aim, look)
        way, ended = (None, None) if look is None else (look.way, look.ended)
        solver, status = self.solve(v, seconds, way=way, ended=ended, offer=not refutes)
        if status == cp_model.INFEASIBLE:
            low = aim
        else:
            low = round(solver.best_objective_bound) + (price * crossings.least if best.overrun else 0)
        with self.choosing:
            self.lows[crossings] = max(low, self.floor + price * crossings.least, self.lows.get(crossings, 0))
            if refutes and status == cp_model.OPTIMAL:
                self.refuted.add(crossings)
            elif look is not None and status in (cp_model.INFEASIBLE, cp_model.OPTIMAL):
                look.ended.set()
                self.in_vain[crossings] = 0
            elif look is not None and not look.ended.is_set():
                self.in_vain[crossings] = self.in_vain.get(crossings, 0) + 1
                self.by_halves.add(crossings)
        found = self._standing
        if crossings.least == crossings.most == found.crossings:
            self.outcome.least[found.crossings] = (found.minutes, self.lows[crossings] - price * found.crossings)

    def _beating(self, crossings: Range, aim: int, look: Look | None) -> Variables:
        """A model of the plans with so many restricted crossings whose value is below the ``aim``."""
        price, best = self.problem.price, self._standing
        latest = aim - 1 - price * crossings.least
        if best.overrun and aim == self.goal(crossings, best):
            latest = best.minutes  # where fewer crossings would do
        elif not best.overrun:
            latest = min(self._in_time(), latest)
        caps = self._caps(crossings.most, latest)
        if look is not None and look.refutes and self.left_out is not None:
            row = max(most_crossings(self.problem, g, caps.latest_home) for g in self._restricted())
            v = Variables(self.left_out, replace(caps, per_row=row))
            obey_all(v)
        else:
            v = self._variables(caps, hinted=look is None)
        count, minutes = v.crossings(restricted=True), v.home - self.problem.origin
        v.model.add(count >= crossings.least)
        if crossings.most is not None:
            v.model.add(count <= crossings.most)
        for one, other in self.alike if look is not None else ():
            v.model.add(v.crossings(restricted=True, hand=one) >= v.crossings(restricted=True, hand=other))
        if best.overrun:
            fewer = best.crossings if price else 0
            v.model.add(minutes * BEYOND_CROSSINGS + count <= best.minutes * BEYOND_CROSSINGS + fewer - 1)
            v.model.minimize(minutes)
        else:
            v.model.add(minutes + price * count <= aim - 1)
            v.model.minimize(minutes + price * count)
        return v

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


def _without_what_costs_nothing(problem: Problem) -> Problem | None:
    """The problem with unrestricted crossings left out (`with_tolls`); None where there are none, or no others."""
    kinds = {ground.restricted for ground in problem.grounds if ground.slots}
    return with_tolls(problem, restricted=False) if kinds == {False, True} else None
