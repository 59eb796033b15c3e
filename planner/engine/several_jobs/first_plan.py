"""The first plan of a day: the careful person's; where that fails, of several jobs, their own one after the other."""

import math
import threading

from planner.day import Day
from planner.engine.build import build
from planner.engine.order_asked import OrderAsked
from planner.engine.problem import Problem
from planner.engine.serial.careful import first_serial_plan, serial_plan
from planner.engine.several_jobs.alone import alone, out_of_the_clock
from planner.engine.several_jobs.composing import Composing, with_breaks
from planner.plan.plan import Plan


def first_plan_of(
    day: Day, problem: Problem, order: OrderAsked, until: float = math.inf, stop: threading.Event | None = None
) -> Plan | None:
    """The first plan that anyone sees, checked; None where none was found soon, or by ``until`` of the steady clock."""
    return first_serial_plan(day, problem, order, until, stop, lambda: _one_after_the_other(day, until, stop))


def _one_after_the_other(day: Day, until: float, stop: threading.Event | None) -> Plan | None:
    """The first plans of the jobs, each where it comes to stand; with breaks where there is room. It need not hold.

    None for a day of one job, and where some job has no plan there.
    """
    if len(day.jobs) < 2:
        return None
    known = {job: serial_plan(one, out_of_the_clock(build(one))) for job in day.jobs for one in [alone(day, job)]}
    own = {job: plan for job, plan in known.items() if plan is not None}
    if len(own) < len(day.jobs):
        return None

    def in_place(one: Day) -> Plan | None:
        problem = build(one)
        return first_serial_plan(one, problem, OrderAsked(problem, stop), until, stop)

    joined = Composing(day, own, in_place, lambda: stop is not None and stop.is_set()).joined()
    return None if joined is None else with_breaks(day, joined) or joined
