"""A careful person's serial order: one thing after another, at once, without a solver.

Jobs follow each other, each in one visit; stages follow the file wherever the rules let them; kit comes in for a stage
and goes out again unless the very next stage needs it; waits are waited out. It is the plan that the best one is
compared with, and the first that anyone sees.
"""

import math
import threading
from collections.abc import Callable, Iterator

from planner.day import Day
from planner.engine.order_asked import OrderAsked
from planner.engine.problem import Problem
from planner.engine.serial.as_plan import SerialReading
from planner.engine.serial.careful_order import serial_orders
from planner.engine.serial.duties import Writing, riders
from planner.engine.serial.timing import Pacing
from planner.plan.checker import broken_rules
from planner.plan.plan import Plan


def first_serial_plan(
    day: Day,
    problem: Problem,
    order: OrderAsked,
    until: float = math.inf,
    stop: threading.Event | None = None,
    by_job: Callable[[], Plan | None] = lambda: None,
) -> Plan | None:
    """The careful person's plan, or where that simple way fails one that the solver seeks, as serial as the day allows.

    Checked. None where none was found in a fraction of a second, or by ``until`` of the steady clock. What ``by_job``
    gives is where it may seek from (`planner.engine.several_jobs.first_plan`).
    """
    plan = checked_serial_plan(day, problem)
    if plan is not None:
        return plan
    from planner.engine.serial.sought import sought_serial_plan  # only now: most first plans need no solver

    if (stop is not None and stop.is_set()) or order.is_none:
        return None
    return sought_serial_plan(day, problem, until, stop, by_job)


def checked_serial_plan(day: Day, problem: Problem) -> Plan | None:
    """The serial plan that passes the checker: that simple way of working does not always have one."""
    return next((plan for plan in _serial_plans(day, problem) if not broken_rules(day, plan)), None)


def serial_plan(day: Day, problem: Problem) -> Plan | None:
    """The serial plan, as it was written: that it holds is not asked."""
    return next(_serial_plans(day, problem), None)


def _serial_plans(day: Day, problem: Problem) -> Iterator[Plan]:
    """Plans that keep all that binds in time: kit is fetched when it is needed, or early, lest a wait run over."""
    if not riders(problem):
        return
    for order in serial_orders(problem):
        for early in (False, True):
            duties = Writing(day, problem, early=early).write(order)
            timing = Pacing(problem, duties)
            if timing.fits():
                yield SerialReading(day, problem, duties, timing.rests).plan()
