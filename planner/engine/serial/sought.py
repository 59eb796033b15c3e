"""A serial order sought by the solver, for the days on which the careful person's simple way of working fails.

One thing after another still, if the day lets anyone work so; else as much at once as it asks for (a rinse that two
hands begin together, a dwell that another stage must fill). Short, and the same for the same day, unless its time ends.
"""

import math
import threading
import time
from dataclasses import dataclass

from ortools.sat.python import cp_model

from planner.day import Day
from planner.engine.problem import Problem
from planner.engine.ranking import Budget
from planner.engine.rules import obey_all
from planner.engine.solution import SolutionReader
from planner.engine.solver import FOR_PLANS, solver_alone
from planner.engine.solving import value_in
from planner.engine.variables import Caps, Expr, Variables
from planner.plan.checker import broken_rules
from planner.plan.plan import Plan

WORK, ONE_BY_ONE_WORK = 0.15, 0.05
"""How long each attempt may take, in the solver's own count of its work; of a large day that leaves out much. One thing
after another is soon found where it is possible, and hard to rule out where it is not."""

SMALL_ROW = 3
"""Crossings of a hand in a row in the first attempt, whose model is small."""


def sought_serial_plan(
    day: Day, problem: Problem, until: float = math.inf, stop: threading.Event | None = None
) -> Plan | None:
    """A plan found in a fraction of a second, checked; None where none was found, by ``until`` of the steady clock."""
    rows = (SMALL_ROW,) if problem.is_large else (SMALL_ROW, None)
    for one_by_one, row in ((True, SMALL_ROW), *((False, row) for row in rows)):
        if time.monotonic() >= until or (stop is not None and stop.is_set()):
            return None
        plan = _attempt(day, problem, _Lead(until, stop), one_by_one=one_by_one, row=row)
        if plan is not None and not broken_rules(day, plan):
            return plan
    return None


@dataclass(frozen=True)
class _Lead:
    """Until when may be sought, and what ends it sooner."""

    until: float
    stop: threading.Event | None


def _attempt(day: Day, problem: Problem, lead: _Lead, *, one_by_one: bool, row: int | None) -> Plan | None:
    v = Variables(problem, Caps(per_row=row))
    obey_all(v)
    if one_by_one:
        v.model.add_no_overlap([task.interval for task in v.all_tasks()])
    work = ONE_BY_ONE_WORK if one_by_one else WORK
    found = _solved(v, lead, work)
    if found is None:
        return None
    _keep_choices(v, found)
    v.model.minimize(v.home)
    values = _solved(v, lead, work) or found

    def value(expr: Expr) -> int:
        return value_in(values, expr)

    return SolutionReader(day, v, value).plan()


def _solved(v: Variables, lead: _Lead, work: float) -> tuple[int, ...] | None:
    """The values of a solution, if one is found in time."""
    solver = solver_alone(Budget(work, deterministic=True), work, FOR_PLANS, lead.stop)
    solver.seconds = lead.until - time.monotonic()
    if solver.solve(v.model) in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return tuple(solver.response_proto.solution)
    return None


def _keep_choices(v: Variables, values: tuple[int, ...]) -> None:
    """Bind every yes and no as it was found; only times stay free, so that no minute is idled away."""
    for index, variable in enumerate(v.model.proto.variables):
        if list(variable.domain) == [0, 1]:
            v.model.add(v.model.get_int_var_from_proto_index(index) == values[index])
        v.model.add_hint(v.model.get_int_var_from_proto_index(index), values[index])
