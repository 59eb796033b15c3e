"""A serial order sought by the solver, for the days on which the careful person's simple way of working fails.

One thing after another still, if the day lets anyone work so; else as much at once as it asks for (a rinse that two
hands begin together, a dwell that another stage must fill). Short, and the same for the same day, unless its time ends.
"""

import math
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from planner.day import Day
from planner.engine.bounds import legs_needed
from planner.engine.hints import Hint, give, start_from
from planner.engine.problem import Problem
from planner.engine.ranking import Budget
from planner.engine.rules import obey_all
from planner.engine.solution import SolutionReader
from planner.engine.solver import FOR_PLANS, Way, solver_alone
from planner.engine.solving import value_in
from planner.engine.variables import Caps, Expr, Variables
from planner.plan.checker import broken_rules
from planner.plan.measures import longest_row
from planner.plan.plan import Plan

SMALL_ROW, MORE_IN_A_ROW = 3, (5, 7)
"""Crossings of a hand in a row in the first attempts, whose models are small; and in those after them. With room for as
many as are ever of use a plan that needs five of them is often not found in a hundred times the work."""


@dataclass(frozen=True)
class _Attempt:
    """What is asked for, in how large a model, for how long in the solver's own count of its work, and how.

    One that ``starts`` from a plan has no visit and no crossing that this lacks.
    """

    one_by_one: bool
    row: int | None
    work: float
    way: Way = FOR_PLANS
    starts: bool = False


ATTEMPTS = (
    _Attempt(True, SMALL_ROW, 0.05),
    _Attempt(False, SMALL_ROW, 0.1),
    _Attempt(False, SMALL_ROW, 0.05, replace(FOR_PLANS, restarts=True)),
    _Attempt(False, None, 0.15, replace(FOR_PLANS, harder=True), starts=True),
    _Attempt(False, SMALL_ROW, 0.25),
    *(_Attempt(False, row, 0.15) for row in MORE_IN_A_ROW),
    _Attempt(False, None, 0.15),
)
"""One after the other until there is a plan. One thing after another is soon found where it can be, and hard to rule
out where it cannot. That a row is too short at all is mostly seen at once, and no more is tried in it. Begun with a
plan that lacks little, harder reasoning finds in less work what is not found without it in twice as much."""

LARGE_ATTEMPTS = (_Attempt(True, SMALL_ROW, 0.15), _Attempt(False, SMALL_ROW, 0.15))
"""Of a large day, whose model as a whole takes too long to make."""


def sought_serial_plan(
    day: Day,
    problem: Problem,
    until: float = math.inf,
    stop: threading.Event | None = None,
    by_job: Callable[[], Plan | None] = lambda: None,
) -> Plan | None:
    """A plan found in a fraction of a second, checked; None where none was found, by ``until`` of the steady clock.

    Where the model is not too large, ``by_job`` is first asked for a plan that may not hold: its jobs one after the
    other. What they cannot know of each other, as breaks and room, is mostly little, and with that plan to start from
    a model with no visit and no crossing more finds in less work what it does not find from nothing. Where it has
    longer rows than the small ones, nothing is sought in these: mostly a job alone has no plan there.
    """
    too_short: set[int | None] = {row for row in (SMALL_ROW, *MORE_IN_A_ROW) if _is_too_short(problem, row)}
    start = None if problem.is_large else by_job()
    if start is not None and not broken_rules(day, start):
        return start
    if start is not None and longest_row(start) > SMALL_ROW:
        too_short.add(SMALL_ROW)
    for attempt in LARGE_ATTEMPTS if problem.is_large else ATTEMPTS:
        if time.monotonic() >= until or (stop is not None and stop.is_set()):
            return None
        if attempt.row in too_short or (attempt.starts and start is None):
            continue
        status, plan = _tried(day, problem, _Lead(until, stop), attempt, start)
        if plan is not None and not broken_rules(day, plan):
            return plan
        if status == cp_model.INFEASIBLE and not attempt.one_by_one and not attempt.starts:
            too_short.add(attempt.row)
    return None


def _is_too_short(problem: Problem, row: int) -> bool:
    """Whether more must be carried to some ground than all hands can in rows of so many crossings."""
    most = [row * len(problem.hands) * problem.jobs[ground.job].visits for ground in problem.grounds]
    return any(x.slots and legs_needed(problem, g) > most[g] for g, x in enumerate(problem.grounds))


@dataclass(frozen=True)
class _Lead:
    """Until when may be sought, and what ends it sooner."""

    until: float
    stop: threading.Event | None


def _tried(
    day: Day, problem: Problem, lead: _Lead, attempt: _Attempt, start: Plan | None
) -> tuple[cp_model.CpSolverStatus, Plan | None]:
    """What the solver says of an attempt, and the plan that it found, none of its minutes idled away."""
    row = longest_row(start) if attempt.starts and start is not None else attempt.row
    v = Variables(problem, Caps(per_row=row))
    obey_all(v)
    if attempt.starts and start is not None:
        said = Hint(day, start, v).said
        give(v, said)
        _leave_out_more(v, said)
    if attempt.one_by_one:
        v.model.add_no_overlap([task.interval for task in v.all_tasks()])
    status, found = _solved(v, lead, attempt)
    if found is None:
        return status, None
    _keep_choices(v, found)
    v.model.minimize(v.home)
    values = _solved(v, lead, attempt)[1] or found

    def value(expr: Expr) -> int:
        return value_in(values, expr)

    return status, SolutionReader(day, v, value).plan()


def _solved(v: Variables, lead: _Lead, attempt: _Attempt) -> tuple[cp_model.CpSolverStatus, tuple[int, ...] | None]:
    """What the solver says, and the values of a solution, if one is found in time."""
    solver = solver_alone(Budget(attempt.work, deterministic=True), attempt.work, attempt.way, lead.stop)
    solver.seconds = lead.until - time.monotonic()
    status = solver.solve(v.model)
    is_found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return status, tuple(solver.response_proto.solution) if is_found else None


def _leave_out_more(v: Variables, said: Mapping[int, int]) -> None:
    """No visit and no crossing is there of which a hint does not say that it is.

    Jobs one after the other are each come to once, and crossed for often enough: more is hardly ever what they lack,
    and a search that has room for it looks there for long.
    """
    for present in (x.present for row in (v.visits, v.slots) for x in row):
        if present is not v.true and not said.get(present.index):
            v.model.add(present == 0)


def _keep_choices(v: Variables, values: tuple[int, ...]) -> None:
    """Bind every yes and no as it was found; only times stay free, so that no minute is idled away."""
    start_from(v.model, values)
    for index, variable in enumerate(v.model.proto.variables):
        if list(variable.domain) == [0, 1]:
            v.model.add(v.model.get_int_var_from_proto_index(index) == values[index])
