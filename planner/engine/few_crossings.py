"""A first look for plans of few restricted crossings, before anything is proven.

The serial order fetches each kit as it is needed and so crosses several times as often as the best plan. In a model of
as few slots as the loads need, and a few more, good plans are found in seconds; one with room for all crossings of the
serial order takes a minute for that.
"""

from concurrent.futures import ThreadPoolExecutor

from planner.engine.bounds import crossings_needed
from planner.engine.rules import obey_all
from planner.engine.solving import Solving
from planner.engine.variables import Caps, Variables

MIDDLING, FAR = 20, 4
"""Activities times hands from which the look is worth its time, where the plan that is known has so many more
restricted crossings than the loads need."""

MANY = 8
"""Crossings needed from which containers go in and out by shuttles, so that the model stays small."""

SHARE, SPARES = 0.5, (2, 4)
"""The part of the time for it at the most, and the crossings beyond those needed that each core thinks of."""

ROWS, SHUTTLES_SHARE = (3, 6), 0.7
"""With shuttles: how often each hand goes to stay, that each core thinks of; and the part of the time for it."""

PATIENCE = 0.5
"""It ends when nothing better was found for so many times as long as it took to find the last."""


def look_in_few_crossings(solving: Solving) -> bool:
    """Look for plans of few crossings where that is worth it, each core by its own number of them; whether it was."""
    if not _is_worth_it(solving):
        return False
    budget, needed = solving.budget, crossings_needed(solving.problem)
    until = solving.clock() + (SHUTTLES_SHARE if needed >= MANY else SHARE) * budget.seconds
    latest = None if solving.best is None else solving.problem.origin + solving.best.minutes
    if needed >= MANY:  # a first plan is found sooner where it may be later than the one that is known
        caps = [Caps(None, row, shuttles=True) for row in ROWS]
    else:
        numbers = [needed + spare for spare in SPARES]
        most = solving.most_crossings
        caps = [Caps(number, number, latest) for number in numbers if most is None or number <= most]
    cores = 1 if budget.deterministic else max(1, budget.workers)
    with ThreadPoolExecutor(cores) as pool:
        for looking in [pool.submit(_look_within, solving, cap, until) for cap in caps[:cores]]:
            looking.result()
    return True


def _is_worth_it(solving: Solving) -> bool:
    """Whether one job of some size is known by a plan of far more restricted crossings than its loads need."""
    problem, best = solving.problem, solving.best
    if len(problem.jobs) != 1 or solving.adjust is not None:
        return False
    needed = crossings_needed(problem)
    if best is None or needed >= MANY:
        return needed >= MANY
    sized = len(problem.activities) * len(problem.hands) >= MIDDLING and not problem.is_large
    return sized and best.crossings > needed + FAR


def _look_within(solving: Solving, caps: Caps, until: float) -> None:
    most = caps.restricted if solving.most_crossings is None else solving.most_crossings
    v = Variables(solving.problem, caps)
    obey_all(v)
    if most is not None:
        v.model.add(v.crossings(restricted=True) <= most)
    v.model.minimize(v.value())
    solving.solve_for_plans(v, v.model, max(0.1, until - solving.clock()), patience=PATIENCE)
