"""The levels among equals, when there is no time to settle them."""

import time

from ortools.sat.python import cp_model

from planner.engine.build import build
from planner.engine.last_word import Levels, settled
from planner.engine.ranking import Budget, Score
from planner.engine.rules import obey_all
from planner.engine.solver import solver_within
from planner.engine.variables import Caps, Variables
from tests.days import tiny_day


def test_a_start_that_was_found_before_the_levels_were_said_is_no_answer() -> None:
    """It knows nothing of them; the plan there is then stays, and nothing is raised."""
    v = Variables(build(tiny_day()), Caps())
    obey_all(v)
    solver = solver_within(Budget(30.0, workers=1, deterministic=True), 30.0)
    assert solver.solve(v.model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    start = tuple(solver.response_proto.solution)
    assert settled(Levels(v), start, Score(0, 0, 0), time.monotonic() - 1, None) is None
