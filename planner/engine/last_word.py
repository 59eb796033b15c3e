"""Which of many plans of one value is shown: the lower levels of what is best, settled alike on every machine.

With the value proven, the search begins anew, from nothing but the problem and that value: one thread, the solver's own
count of its work, and an order of hands, kit and grounds that does not go by their keys (`planner.engine.index`). So
whatever plan the search came upon, by whatever threads and luck, the last word is the same.

The solver looks without linear relaxations but where it is said: they are what bounds come from, and these levels want
plans. Models of few crossings in a row come first; they are small, and where no plan of that value is among so few,
that is soon proven.
"""

import threading
import time
from collections.abc import Callable, Iterator

from ortools.sat.python import cp_model

from planner.engine.bounds import crude_minutes, legs_needed
from planner.engine.hints import start_from
from planner.engine.natural import in_the_order_of_the_file, unnatural
from planner.engine.problem import Problem
from planner.engine.ranking import Budget, Score
from planner.engine.rules.room import may_be_short, shortfall
from planner.engine.several_jobs.neighbourhoods import hold_yes_and_no
from planner.engine.solver import Way, solver_alone
from planner.engine.solving import Solution
from planner.engine.tidy import swapped, untidiness
from planner.engine.variables import Caps, Expr, Variables

MORE_IN_A_ROW = (2, 5, 9)
"""How many more crossings in a row than are surely needed the first models have; the last has as many as are of use."""

ANY_WORK = 0.15
"""Work, by the solver's own count, for any plan of that value, with nothing to make least: some tenths of a second."""

FIRST_WORK = 0.1
"""Work for room and tidiness: some tenths of a second, on the largest days about one."""

HELD_WORK = 0.02
"""Work at the most for the times of a plan whose choices hold, of which hardly any is used: hours that are paid for
nothing are seen at once so, and not always by a search with all choices open in its time."""

LAST_STEPS = ((False, True, 0.04), (False, False, 0.06), (True, False, 0.04))
"""The natural order and the times, in steps: whether choices hold, whether with linear relaxations, and the work. With
relaxations the solver soon sees what stands too long, without them it gets further in what is then left; there goes
what room and tidiness did not use of their work."""

MOST_SHORT = 2000
"""No more missing minutes of room are told apart."""

ROOM_WEIGHT = 10**14
"""A minute of room outweighs all untidiness."""

MOST_UNTIDY = 10**18
"""More than all of both: what the solver can still sum."""

NATURAL_WEIGHT = 10**6
"""A minute of trouble outweighs all that can be earlier."""


_Found = tuple[tuple[int, ...] | None, float]
"""Values of a model's variables, if any were found, and the work that it took."""


class Levels:
    """The lower levels of one model: first room and tidiness, then what is natural, then times."""

    def __init__(self, v: Variables, order: tuple[int, ...] = ()) -> None:
        self.v = v
        short = v.model.new_int_var(0, MOST_SHORT, "short of room")
        v.model.add(short >= (shortfall(v) if may_be_short(v) else 0))
        self.first = v.model.new_int_var(0, MOST_UNTIDY, "room and tidiness")
        v.model.add(self.first == ROOM_WEIGHT * short + untidiness(v))
        self.last: Expr = NATURAL_WEIGHT * (swapped(v, order) + unnatural(v)) + in_the_order_of_the_file(v)


def last_word(
    problem: Problem,
    standing: Score,
    make: Callable[[Caps], Variables],
    until: float,
    stop: threading.Event | None,
    most_crossings: int | None = None,
) -> Solution | None:
    """The plan that is shown of all that are as good as ``standing``; None where none is found in time.

    Parameters
    ----------
    problem, standing
        What was planned, and the value that is proven to be the least.
    make
        Makes a model with its rules, and without a hint.
    most_crossings
        So many restricted crossings at the most, where that is asked.
    until, stop
        When to end by the monotonic clock, which comes first only on a machine that is far too slow; and if told to.
    """
    for caps in _caps(problem, standing):
        v = make(caps)
        bind_value(v, standing, most_crossings)
        levels = Levels(v)
        found = settled(levels, None, standing, until, stop)
        if found is not None or _is_over(until, stop):
            return found
    return None


def _caps(problem: Problem, standing: Score) -> Iterator[Caps]:
    """Models with more and more crossings in a row."""
    latest = problem.origin + standing.minutes + (0 if standing.overrun else problem.price * standing.crossings)
    spare = standing.value(problem.price) - crude_minutes(problem)
    restricted = spare // problem.price if problem.price else None
    grounds = [g for g, ground in enumerate(problem.grounds) if ground.slots]
    needed = max((legs_needed(problem, g) for g in grounds), default=0)
    for more in MORE_IN_A_ROW if grounds else ():
        yield Caps(restricted, needed + more, latest)
    yield Caps(restricted, None, latest)


def bind_value(v: Variables, standing: Score, most_crossings: int | None = None) -> None:
    """No plan is worse than this, nor has more restricted crossings than are wanted."""
    problem = v.problem
    v.model.add(v.value() <= standing.value(problem.price))
    if most_crossings is not None:
        v.model.add(v.crossings(restricted=True) <= most_crossings)
    if problem.finish is not None:
        v.model.add(v.home <= problem.finish + standing.overrun)


def settled(
    levels: Levels, start: tuple[int, ...] | None, standing: Score, until: float, stop: threading.Event | None
) -> Solution | None:
    """The levels of one model settled one after the other, from a solution of it without levels or from nothing.

    None where there is no time for the first of them.
    """
    v, model = levels.v, levels.v.model
    if start is None:
        start = _solve(model, ANY_WORK, until, stop)[0]
        if start is None:
            return None

    def step(level: Expr, known: tuple[int, ...], *, choices_hold: bool, linear: bool, work: float) -> _Found:
        again, begin = model.clone(), Solution(v, known, standing)
        if choices_hold:
            hold_yes_and_no(again, begin)
        else:
            start_from(again, known)
        again.minimize(level)
        return _solve(again, work, until, stop, linear=linear)

    held, _ = step(levels.first, start, choices_hold=True, linear=True, work=HELD_WORK)
    free, used = step(levels.first, held or start, choices_hold=False, linear=False, work=FIRST_WORK)
    values = free or held
    if values is None:
        return None
    values = step(levels.first, values, choices_hold=True, linear=True, work=HELD_WORK)[0] or values
    spare = max(0.0, FIRST_WORK - used)
    model.add(levels.first <= values[levels.first.index])
    for choices_hold, linear, work in LAST_STEPS:
        more = 0.0 if choices_hold or linear else spare
        values = step(levels.last, values, choices_hold=choices_hold, linear=linear, work=work + more)[0] or values
    return Solution(v, values, standing)


def _solve(
    model: cp_model.CpModel, work: float, until: float, stop: threading.Event | None, *, linear: bool = False
) -> _Found:
    """The values that are found, if any, and the work that it took."""
    left = until - time.monotonic()
    if left <= 0:
        return None, 0.0
    solver = solver_alone(Budget(left), left, Way(linear=linear, probes=False), stop)
    solver.parameters.max_deterministic_time = work
    status = solver.solve(model)
    found, work = solver.response_proto.solution, solver.response_proto.deterministic_time
    return (tuple(found) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None), work


def _is_over(until: float, stop: threading.Event | None) -> bool:
    return time.monotonic() >= until or (stop is not None and stop.is_set())
