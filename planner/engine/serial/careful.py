"""A careful person's serial order: one thing after another, at once, without a solver.

Jobs follow each other, each in one visit; stages follow the file wherever the rules let them; kit comes in for a stage
and goes out again unless the very next stage needs it; waits are waited out. It is the plan that the best one is
compared with, and the first that anyone sees.
"""

import math
import threading
from collections.abc import Iterator

from planner.day import Day
from planner.engine.build import build
from planner.engine.problem import Problem
from planner.engine.serial.as_plan import SerialReading
from planner.engine.serial.careful_order import serial_orders
from planner.engine.serial.duties import Writing, riders
from planner.engine.serial.timing import Pacing
from planner.engine.several_jobs.alone import alone, out_of_the_clock
from planner.engine.several_jobs.composing import Composing, with_breaks
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
    from planner.engine.order_alone import has_no_order  # only now: most first plans need no solver
    from planner.engine.serial.sought import sought_serial_plan

    if (stop is not None and stop.is_set()) or has_no_order(problem, stop):
        return None
    return sought_serial_plan(day, problem, until, stop, lambda: _job_by_job(day, until, stop))


def _job_by_job(day: Day, until: float, stop: threading.Event | None) -> Plan | None:
    """The first plans of the jobs one after the other, each where it comes to stand; with breaks where there is room.

    It need not hold. None for a day of one job, and where some job has no plan there.
    """
    if len(day.jobs) < 2:
        return None
    known = {job: serial_plan(one, out_of_the_clock(build(one))) for job in day.jobs for one in [alone(day, job)]}
    own = {job: plan for job, plan in known.items() if plan is not None}
    if len(own) < len(day.jobs):
        return None

    def in_place(one: Day) -> Plan | None:
        return first_serial_plan(one, build(one), until, stop)

    joined = Composing(day, own, in_place, lambda: stop is not None and stop.is_set()).joined()
    return None if joined is None else with_breaks(day, joined) or joined


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
