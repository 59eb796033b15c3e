"""A careful person's serial order: one thing after another, at once, without a solver.

Jobs follow each other, each in one visit; stages follow the file wherever the rules let them; kit comes in for a stage
and goes out again unless the very next stage needs it; waits are waited out. It is the plan that the best one is
compared with, and the first that anyone sees.
"""

import math
import threading

from planner.day import Day
from planner.engine.problem import Problem
from planner.engine.serial.as_plan import SerialReading
from planner.engine.serial.duties import Writing, riders
from planner.engine.serial.timing import Pacing
from planner.plan.checker import broken_rules
from planner.plan.plan import Plan


def first_serial_plan(
    day: Day, problem: Problem, until: float = math.inf, stop: threading.Event | None = None
) -> Plan | None:
    """The careful person's plan, or where that simple way fails one that the solver seeks, as serial as the day allows.

    Checked. None where none was found in a fraction of a second, or by ``until`` of the steady clock.
    """
    plan = checked_serial_plan(day, problem)
    if plan is not None:
        return plan
    from planner.engine.serial.sought import sought_serial_plan  # only now: most first plans need no solver

    return sought_serial_plan(day, problem, until, stop)


def checked_serial_plan(day: Day, problem: Problem) -> Plan | None:
    """The serial plan where it passes the checker: that simple way of working does not always do."""
    plan = serial_plan(day, problem)
    return plan if plan is not None and not broken_rules(day, plan) else None


def serial_plan(day: Day, problem: Problem) -> Plan | None:
    """The serial plan: kit fetched when it is needed, or early where a wait would otherwise run over."""
    for early in (False, True):
        plan = _written(day, problem, early=early)
        if plan is not None:
            return plan
    return None


def _written(day: Day, problem: Problem, *, early: bool) -> Plan | None:
    """The duties written, timed and read; None where this simple way of working breaks a rule that binds in time."""
    duties = Writing(day, problem, early=early).write() if riders(problem) else None
    if duties is None:
        return None
    timing = Pacing(problem, duties)
    if not timing.fits():
        return None
    return SerialReading(day, problem, duties, timing.rests).plan()
