"""Days that are too much for one search at once: their best plan is held in a model, and bettered piece by piece.

So it is with a large day. And where the plan that is known is the kept order of a day under way, or one job after
another, what it wastes is mostly in one place, and a piece is planned anew in tenths of a second: these are first.
"""

import time

from ortools.sat.python import cp_model

from planner.engine.hints import give
from planner.engine.rules import obey_all
from planner.engine.several_jobs.neighbourhoods import better_on_all_cores, hold
from planner.engine.solver import solver_within
from planner.engine.solving import Solution, Solving
from planner.engine.variables import Caps, Expr, Variables

PIECES_SHARE = 0.7
"""The part of the time of a large day of one job in which its best plan is bettered piece by piece; of several jobs all
of it, as no model of the whole gives anything in the time."""

FIRST_SHARE, FIRST_TRIES = 0.4, 12
"""The same for a day that is then searched as a whole; and how many pieces in a row are tried in vain."""

FIRST_SECONDS = 5.0
"""How long is spent at the most on finding the times of a plan whose choices are all made."""


def better_piece_by_piece(solving: Solving, row: int, stays: int, left: float) -> None:
    """Plan pieces of the best plan anew, each core its own, the rest held as it is.

    The model has rows of so many slots and so many stays of a kit; of the seconds ``left`` a part is used.
    """
    is_all = solving.problem.is_large and solving.adjust is None
    share = FIRST_SHARE
    if is_all:
        share = PIECES_SHARE if len(solving.problem.jobs) == 1 else 1.0
    until = solving.clock() + left * share
    found = held_in_model(solving, caps_of_best(solving, row, stays))
    if found is None:
        return
    solving.outcome.best, value = found
    tries = None if is_all else FIRST_TRIES
    better_on_all_cores(solving, solving.outcome.best.variables, value, until, tries)


def caps_of_best(solving: Solving, row: int, stays: int) -> Caps:
    """The caps of a model in which no plan is worse than the best one, with so many slots a row and stays of a kit."""
    best, problem = solving.best, solving.problem
    if best is None:
        return Caps(per_row=row, least_stays=stays)
    return Caps(best.crossings, row, problem.origin + best.minutes if best.overrun else problem.finish, stays)


def held_in_model(solving: Solving, caps: Caps) -> tuple[Solution, Expr] | None:
    """The best plan as a solution of a model with such caps, and its value there; None when it needs more.

    Of the caps that on restricted crossings must be given.
    """
    best, problem = solving.best, solving.problem
    if best is None or solving.must_stop():
        return None
    assert caps.restricted is not None
    v = Variables(problem, caps)
    obey_all(v)
    if solving.adjust is not None:
        solving.adjust(v)
    said = {} if solving.hint is None else solving.hint(v, solving.outcome.best)
    give(v, said)
    v.model.add(v.crossings(restricted=True) <= caps.restricted)
    value = v.minimize_value(v.end_of_time + problem.price * caps.restricted)
    model = v.model.clone()
    known = Solution(v, tuple(said.get(n, 0) for n in range(len(v.model.proto.variables))), best)
    hold(v, model, known, set())
    seconds = FIRST_SECONDS if solving.budget.deterministic else min(FIRST_SECONDS, whole_left(solving))
    solver = solver_within(solving.budget, seconds, solving.stop)
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    solution = solving.read(v, tuple(solver.response_proto.solution))
    return (solution, value) if solution.standing.rank(problem.price) <= best.rank(problem.price) else None


def whole_left(solving: Solving) -> float:
    """Seconds that are left by the steady clock, with those kept for tidying; a moment at the least."""
    return max(0.1, solving.began + solving.budget.seconds - time.monotonic())
