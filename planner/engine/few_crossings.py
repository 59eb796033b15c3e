"""A first look for plans of few restricted crossings, before anything is proven.

The serial order fetches each kit as it is needed and so crosses several times as often as the best plan. In a model of
as few slots as the loads need, and a few more, good plans are found in seconds; one with room for all crossings of the
serial order takes a minute for that. Even a small model has no plan for long when all of it is open at once. What is
done by which method is mostly told best by a problem that leaves crossings out, which is solved in a second or two; so
the stages first have these methods, or where nothing comes of it keep the order that is known. From the plan that comes
of it, pieces are planned anew.
"""

import threading
from concurrent.futures import ThreadPoolExecutor

from ortools.sat.python import cp_model

from planner.engine.bounds import crossings_needed, with_tolls
from planner.engine.hints import by_methods, give, in_order
from planner.engine.rules import obey_all
from planner.engine.several_jobs.neighbourhoods import better_on_all_cores
from planner.engine.solving import Solving
from planner.engine.variables import Caps, Expr, Variables

FAR = 4
"""The look is worth its time where the plan that is known has so many more restricted crossings than the loads need."""

MANY = 8
"""Crossings needed from which containers go in and out by shuttles, so that the model stays small."""

SHARE, SPARES = 0.3, (5, 6)
"""The part of the time for it at the most, and the crossings beyond those needed that each core thinks of."""

METHODS_SHARE, ORDER_SHARE = 0.4, 0.5
"""Of that, the part in which methods are sought, and at the most that of each look in which the stages keep theirs or
their order."""

ROWS, SHUTTLES_SHARE = (3, 6), 0.7
"""With shuttles: how often each hand goes to stay, that each core thinks of; and the part of the time for it."""

PATIENCE, TRIES = 0.5, 8
"""It ends when nothing better was found for so many times as long as it took to find the last; and then, when that many
pieces in a row were planned anew in vain."""

VALUE_AT_MOST = 10**6
"""Above every value of a plan: minutes of a day, and a price of its crossings."""


def look_in_few_crossings(solving: Solving) -> int | None:
    """Look for plans of few crossings where that is worth it, each core by its own number of them.

    Returned is what has come to be known of the minutes home of every plan, 0 if nothing; None where it was not worth
    it.
    """
    if not _is_worth_it(solving):
        return None
    budget, needed = solving.budget, crossings_needed(solving.problem)
    until = solving.clock() + (SHUTTLES_SHARE if needed >= MANY else SHARE) * budget.seconds
    latest = None if solving.best is None else solving.problem.origin + solving.best.minutes
    if needed >= MANY:  # a first plan is found sooner where it may be later than the one that is known
        caps = [Caps(None, row, shuttles=True) for row in ROWS]
    else:
        numbers = [needed + spare for spare in SPARES]
        most = solving.most_crossings
        caps = [Caps(number, number, latest) for number in numbers if most is None or number <= most]
    methods, least = _best_methods(solving, until)
    with ThreadPoolExecutor(budget.cores) as pool:
        enough = threading.Event()
        looks = [pool.submit(_look_within, solving, cap, methods, until, enough) for cap in caps[: budget.cores]]
        models = [look.result() for look in looks]
    for variables, value in models:
        if _has_found(solving, variables):
            better_on_all_cores(solving, variables, value, until, TRIES)
    return least


def _is_worth_it(solving: Solving) -> bool:
    """Whether one job of some size is known by a plan of far more restricted crossings than its loads need."""
    problem, best = solving.problem, solving.best
    if len(problem.jobs) != 1 or solving.adjust is not None:
        return False
    needed = crossings_needed(problem)
    if best is None or needed >= MANY:
        return needed >= MANY
    return not problem.is_small and best.crossings > needed + FAR


def _best_methods(solving: Solving, until: float) -> tuple[list[int | None], int]:
    """The methods of a plan with crossings left out, and how many minutes home no plan is below.

    Of each activity the number among its own is told, if it is done; of none at all where no such plan is found. The
    minutes are 0 where it is not settled how few they are.
    """
    seconds = max(0.1, METHODS_SHARE * (until - solving.clock()))
    v, solver, status = solving.soonest_home(with_tolls(solving.problem, restricted=True), seconds)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return [], 0
    methods = [next((n for n, mode in enumerate(modes) if solver.value(mode)), None) for modes in v.modes]
    return methods, solving.home_bound(solver) if status == cp_model.OPTIMAL else 0


def _look_within(
    solving: Solving, caps: Caps, methods: list[int | None], until: float, enough: threading.Event
) -> tuple[Variables, Expr]:
    """Look for plans in one small model, first of those by some ``methods``, then of those in the order that is known.

    Returned are the model, and what it makes least. The first look that ends with a plan is ``enough`` for all.
    """
    most = caps.restricted if solving.most_crossings is None else solving.most_crossings
    v = Variables(solving.problem, caps)
    obey_all(v)
    if most is not None:
        v.model.add(v.crossings(restricted=True) <= most)
    value = v.minimize_value(VALUE_AT_MOST)
    said = {} if solving.hint is None else solving.hint(v, solving.outcome.best)
    give(v, said)
    models = [(v.model, 1.0)] if not said else [(in_order(v, said), ORDER_SHARE), (v.model, 1.0)]
    if methods:
        models.insert(0, (by_methods(v, methods), ORDER_SHARE))
    for model, share in models:
        if not _has_found(solving, v) and not enough.is_set():
            seconds = max(0.1, share * (until - solving.clock()))
            solving.solve_for_plans(v, model, seconds, patience=PATIENCE, enough=enough)
    if _has_found(solving, v):
        enough.set()
    return v, value


def _has_found(solving: Solving, v: Variables) -> bool:
    return solving.outcome.best is not None and solving.outcome.best.variables is v
