"""What a job takes at the least, by refuting that it could take less: mostly with crossings left out that cost nothing.

A solver that makes a value least raises its bound slowly, and where there are many stages hardly at all. That there is
no plan within so many minutes is shown in seconds, if so many are not too near the best; so that is asked, nearer and
nearer.
"""

import math
from dataclasses import dataclass
from typing import Unpack

from ortools.sat.python import cp_model

from planner.engine.bounds import crossings_needed, crude_minutes, with_tolls
from planner.engine.dominance import interchangeable, most_crossings, most_restricted_crossings
from planner.engine.problem import Problem
from planner.engine.ranking import Budget, Range
from planner.engine.rules import obey_all
from planner.engine.solver import HARDER, WITH_BOUNDS
from planner.engine.solving import Solving, ToSolve
from planner.engine.variables import Caps, Variables

FIRST_LOOK, LONGER = 2.0, 3.0
"""Seconds for a first question, and how many times as long for the next once two in a row had no answer."""

PARTS, RUNG = (2, 4), 0.02
"""What is asked by turns, while it has no answer: the half and the quarter of what is open; all of it once that is no
more than so much of the best value. To refute what is far from the best takes a tenth of the work."""

ONE_BY_ONE = 12
"""So many numbers of restricted crossings are asked about one by one, and all that are higher together."""

BY_TURNS = (HARDER, WITH_BOUNDS)
"""How questions are gone about: hands and kit that do one thing at a time are what makes a job long."""


@dataclass
class Bounded:
    """What is known of plans with so many restricted ``crossings`` (None: any number, where they are left out).

    All of them take ``low`` minutes or more; ``in_vain`` were the last questions for more than that, of ``seconds``
    now. Once the problem without some of its crossings allows no more to be refuted, ``is_whole`` is set.
    """

    crossings: Range | None
    low: int = 0
    seconds: float = FIRST_LOOK
    in_vain: int = 0
    is_whole: bool = False


class Refuting(Solving):
    """Raises a lower bound on the value of every plan of a problem, on one core, and keeps better plans that turn up.

    With any number of crossings minutes home are at least the ``floor``, by the problem in which all are left out. For
    each number that could yet beat the best plan known they are bounded anew: with the unrestricted ones left out
    (`with_tolls`) as long as that refutes anything, then with everything. Of higher numbers the price alone makes up
    for all that the floor leaves. As every plan has some number of crossings, the least over the numbers is a bound.

    A best plan needs no more slots in a row than `most_crossings` says of the problem itself; the one with fewer
    crossings left out has as many, as each of its own may still be one of that plan. Of hands who are alike the first
    has the most restricted crossings: their names could be changed, and so could be those of the plan.
    """

    def __init__(self, problem: Problem, budget: Budget, **asked: Unpack[ToSolve]) -> None:
        super().__init__(problem, budget, **asked)
        self.needed, self.useful = crossings_needed(problem), most_restricted_crossings(problem)
        ways = [ground for ground in problem.grounds if ground.slots]
        self.any = Bounded(None, crude_minutes(problem), is_whole=not ways)
        self.alike = interchangeable(problem)
        self.leaves_out = any(not ground.restricted for ground in ways)
        self.by_number: dict[int, Bounded] = {}

    @property
    def floor(self) -> int:
        """A lower bound on minutes home with any number of crossings."""
        return self.any.low

    @property
    def bound(self) -> int:
        """A lower bound on the value of every plan."""
        lows = (self._value(one) for one in self._of_use())
        return min([self._standing.value(self.problem.price), *lows])

    def raise_bound(self, until: float, end: float = math.inf) -> None:
        """Begin questions until that time of its clock, or until the best plan known is proven best.

        The last may go on for as long as it takes, but not beyond the ``end``: a long one that had to fit into a turn
        would be begun anew, or not at all, each time.
        """
        asked = self._weakest()
        while asked is not None and self.clock() < until and not self.must_stop():
            self._ask(asked, end)
            asked = self._weakest()

    def _weakest(self) -> Bounded | None:
        """What keeps the bound where it is; None where that is the best plan known."""
        weakest = min(self._of_use(), key=self._value, default=None)
        if weakest is None or self._value(weakest) >= self._standing.value(self.problem.price):
            return None
        rests_on_floor = weakest.low <= self.floor and not self.any.is_whole
        return self.any if rests_on_floor and self.any.seconds <= weakest.seconds else weakest

    def _of_use(self) -> list[Bounded]:
        """The numbers of restricted crossings whose price alone, beside the floor, does not reach the best value."""
        price, top, found = self.problem.price, self._standing.value(self.problem.price), []
        last = self.needed + (ONE_BY_ONE if price else 0)
        for number in range(self.needed, min(last, self.useful) + 1):
            if self.floor + price * number >= top:
                break
            most = self.useful if number == last else number
            found.append(self.by_number.setdefault(number, self._unasked(Range(number, most))))
        return found

    def _unasked(self, crossings: Range) -> Bounded:
        return Bounded(crossings, is_whole=not self.leaves_out)

    def _value(self, asked: Bounded) -> int:
        least = self.needed if asked.crossings is None else asked.crossings.least
        return max(asked.low, self.floor) + self.problem.price * least

    def _ask(self, asked: Bounded, end: float) -> None:
        """Whether all such plans take so much longer than what is known of them: a part of the way to the best."""
        least = self.needed if asked.crossings is None else asked.crossings.least
        best = self._standing.value(self.problem.price)
        low, top = max(asked.low, self.floor), best - self.problem.price * least
        part = -(-(top - low) // PARTS[asked.in_vain % 2])
        goal = top if top - low <= RUNG * best else low + part
        v = self._model(asked, goal - 1)
        seconds = min(asked.seconds, max(0.1, end - self.clock()))
        solver, status = self.solve(v, seconds, offer=asked.is_whole, way=BY_TURNS[asked.in_vain % 2])
        asked.low = goal if status == cp_model.INFEASIBLE else max(low, min(goal, self.home_bound(solver)))
        if status == cp_model.OPTIMAL and not asked.is_whole:
            asked.is_whole, asked.seconds, asked.in_vain = True, FIRST_LOOK, 0
        elif asked.low >= goal:
            asked.in_vain -= asked.in_vain % 2
        elif seconds == asked.seconds:
            asked.in_vain += 1
            asked.seconds *= 1 if asked.in_vain % 2 else LONGER

    def _model(self, asked: Bounded, minutes: int) -> Variables:
        """The problem with so many crossings and so many minutes home at the most."""
        latest = self.problem.origin + minutes
        if asked.crossings is None:
            v = Variables(with_tolls(self.problem, restricted=True), Caps(latest_home=latest))
        else:
            problem = self.problem if asked.is_whole else with_tolls(self.problem, restricted=False)
            with_slots = [g for g, ground in enumerate(self.problem.grounds) if ground.slots]
            row = max((most_crossings(self.problem, g, latest) for g in with_slots), default=None)
            v = Variables(problem, Caps(asked.crossings.most, None if asked.is_whole else row, latest))
        obey_all(v)
        if asked.crossings is not None:
            count = v.crossings(restricted=True)
            v.model.add(count >= asked.crossings.least)
            v.model.add(count <= asked.crossings.most)
            for one, other in self.alike:
                v.model.add(v.crossings(restricted=True, hand=one) >= v.crossings(restricted=True, hand=other))
        v.model.minimize(v.home)
        return v
