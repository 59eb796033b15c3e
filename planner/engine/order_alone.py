"""What the order of the work alone forbids: a day without hands, kit, ways and loads, and whether even that has a plan.

Many days that cannot be done fail by that: a coat that must wait for 24 h, two chemicals of which neither can come
first. A model of the whole day may need minutes to find it, and one of the order alone finds it in milliseconds.
"""

import threading
from dataclasses import replace

from ortools.sat.python import cp_model

from planner.engine.problem import Activity, Problem
from planner.engine.ranking import Budget
from planner.engine.rules import obey_all
from planner.engine.solver import HARDER, solver_alone
from planner.engine.variables import Caps, Variables

SECONDS = 1.0
"""What is not seen in so long is not seen so at all."""


def has_no_order(problem: Problem, stop: threading.Event | None = None) -> bool:
    """Whether no plan is home by the end of time, as the order of the work and the hands it takes are enough to see."""
    v = Variables(order_alone(problem), Caps())
    obey_all(v)
    hands = len(problem.hands)
    works = [(task, min(m.hands for m in a.modes)) for task, a in zip(v.activities, problem.activities, strict=True)]
    if hands and not problem.is_underway:
        v.model.add_cumulative([task.interval for task, _ in works], [least for _, least in works], hands)
    budget = Budget(SECONDS, deterministic=True)
    solver = solver_alone(budget, SECONDS, HARDER, stop)
    return bool(solver.solve(v.model) == cp_model.INFEASIBLE)


def order_alone(problem: Problem) -> Problem:
    """A relaxation: of activities and what binds them to each other and to the clock, nothing else.

    Take any plan, and forget who does what, with which kit, and how all of it comes there: its times keep all of this.
    """
    return replace(
        problem,
        activities=tuple(_bare(activity) for activity in problem.activities),
        resources=(),
        closed=tuple(replace(x, ways=(), kit=()) for x in problem.closed),
        kept=tuple(replace(x, kit=(), is_over=False) for x in problem.kept),
        slippery=(),
        beneath=(),
        grounds=(),
        kit=(),
        materials=(),
        shared=(),
        leaving=(),
        hands=(),
        jobs=(),
        route=None,
        keeps_room=False,
        standing=(),
        laid=(),
        inside=(),
        begun_visits=frozenset(),
    )


def _bare(activity: Activity) -> Activity:
    modes = tuple(replace(m, kit=(), demands=(), uses=(), shake=0) for m in activity.modes)
    return replace(activity, modes=modes, ground=None, hand=None, wants_water=False)
