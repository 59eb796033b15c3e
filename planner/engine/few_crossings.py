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

SHARE, SPARES = 0.5, (2, 4)
"""The part of the time for it at the most, and the crossings beyond those needed that each core thinks of."""

PATIENCE = 0.5
"""It ends when nothing better was found for so many times as long as it took to find the last."""


def look_in_few_crossings(solving: Solving) -> bool:
    """Look for plans of few crossings where that is worth it, each core by its own number of them; whether it was."""
    if not _is_worth_it(solving):
        return False
    budget = solving.budget
    until = solving.clock() + SHARE * budget.seconds
    caps = [crossings_needed(solving.problem) + spare for spare in SPARES]
    caps = [cap for cap in caps if solving.most_crossings is None or cap <= solving.most_crossings]
    cores = 1 if budget.deterministic else max(1, budget.workers)
    with ThreadPoolExecutor(cores) as pool:
        for looking in [pool.submit(_look_within, solving, cap, until) for cap in caps[:cores]]:
            looking.result()
    return True


def _is_worth_it(solving: Solving) -> bool:
    """Whether one job of some size is known by a plan of far more restricted crossings than its loads need."""
    problem, best = solving.problem, solving.best
    if len(problem.jobs) != 1 or problem.is_large or solving.adjust is not None or best is None:
        return False
    sized = len(problem.activities) * len(problem.hands) >= MIDDLING
    return sized and best.crossings > crossings_needed(problem) + FAR


def _look_within(solving: Solving, cap: int, until: float) -> None:
    problem, best = solving.problem, solving.best
    v = Variables(problem, Caps(cap, cap, None if best is None else problem.origin + best.minutes))
    obey_all(v)
    v.model.add(v.crossings(restricted=True) <= cap)
    v.model.minimize(v.value())
    solving.solve_for_plans(v, v.model, max(0.1, until - solving.clock()), patience=PATIENCE)
