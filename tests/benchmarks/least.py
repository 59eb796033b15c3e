"""What a day of several jobs takes at the least, by long questions: what plans of large days are measured against.

``python -m tests.benchmarks.least FILE [--seconds S]``: of each job alone and out of the clock a plan is sought; then,
for each number of restricted crossings that could yet beat it, one question with everything in the model, for so long
at the most. A better plan that turns up is the one to beat from then on. The last line is the shortest round over what
the jobs take at the least. Breaks, windows and hours of hands only add to it.
"""

import argparse
import time
from pathlib import Path

from ortools.sat.python import cp_model

from planner.day.reading import read_day
from planner.engine.bounds import crossings_needed
from planner.engine.build import build
from planner.engine.ranking import Budget, Range
from planner.engine.several_jobs.at_a_job import AtAJob
from planner.engine.several_jobs.refuting import Bounded, Refuting
from planner.engine.several_jobs.shortest_round import Least, ShortestRound
from planner.engine.solver import HARDER

LOOKING = 10.0
"""Seconds for a plan of each job, and as many to better it piece by piece."""


def main() -> None:
    """Ask of each job, print what is found, and last the least of the day."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.least", description=__doc__)
    parser.add_argument("file", type=Path, help="a day of several jobs")
    parser.add_argument("--seconds", type=float, default=120.0, help="for each question (default %(default)s)")
    asked = parser.parse_args()
    day = read_day(asked.file)
    values = []
    for key in day.jobs:
        job = AtAJob(day, key, Budget(asked.seconds, 1))
        job.look_for_plans(job.clock() + LOOKING)
        job.better_piece_by_piece(job.clock() + LOOKING)
        least, most = least_of(job, asked.seconds)
        print(f"{key}: {least} at the least, the best plan {'-' if most is None else most}", flush=True)
        values.append(least)
    least, _ = ShortestRound(build(day), [Least(value, 0) for value in values]).least()
    print(f"the day: {least} at the least")


def least_of(job: AtAJob, seconds: float) -> tuple[int, int | None]:
    """A lower bound on the value of a job's plans, and the value of the best that is known.

    Parameters
    ----------
    job : AtAJob
        One that was looked at.
    seconds : float
        For each question.
    """
    if job.best is None or job.problem.is_small or job.returns:
        job.prove(seconds, seconds)
        return job.least.value, None if job.best is None else job.best.value(job.problem.price)
    price, refuting = job.problem.price, job.refuting[0]
    refuting.best = job.best
    refuting.raise_bound(refuting.clock() + LOOKING)
    number, lows = crossings_needed(job.problem), []
    while number <= refuting.useful and refuting.floor + price * number < _best(refuting):
        most = number if price else refuting.useful
        lows.append(_ask(refuting, Range(number, most), seconds))
        number = most + 1
    return min([_best(refuting), *lows]), _best(refuting)


def _best(refuting: Refuting) -> int:
    assert refuting.best is not None
    return refuting.best.value(refuting.problem.price)


def _ask(refuting: Refuting, crossings: Range, seconds: float) -> int:
    """A lower bound on the value of plans with so many restricted crossings: the best known, if none beats it."""
    began, price, best = time.monotonic(), refuting.problem.price, _best(refuting)
    v = refuting._model(Bounded(crossings, is_whole=True), best - price * crossings.least - 1)
    solver, status = refuting.solve(v, seconds, way=HARDER)
    low = best if status == cp_model.INFEASIBLE else refuting.home_bound(solver) + price * crossings.least
    took = time.monotonic() - began
    print(f"    {crossings.least} crossings: {low} at the least after {took:.0f} s", flush=True)
    return low


if __name__ == "__main__":
    main()
