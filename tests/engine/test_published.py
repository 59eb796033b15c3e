"""The engine against published optima, and against brute force where lags have a most."""

import itertools
import random

import pytest

from planner.engine.search import Budget, Search
from tests.engine import published


@pytest.mark.parametrize(
    ("jobs", "optimum", "source"),
    [
        (published.FT06, 55, "Fisher and Thompson 1963"),
        (published.LA01, 666, "Lawrence 1984"),
    ],
    ids=["FT06", "LA01"],
)
def test_job_shops_reach_their_published_optimum(jobs, optimum, source) -> None:
    outcome = Search(published.job_shop(jobs), Budget(seconds=60)).run()
    assert outcome.best is not None
    assert outcome.best.standing.minutes == optimum, source
    assert outcome.bound == optimum, source


def _brute_force(minutes, demands, capacities, lags, latest: int) -> int | None:
    """Least makespan over all start times up to ``latest``: every vector of starts is looked at."""
    best = None
    for starts in itertools.product(range(latest + 1), repeat=len(minutes)):
        if any(starts[j] < starts[i] + lag for i, j, lag in lags):
            continue
        makespan = max(s + m for s, m in zip(starts, minutes, strict=True))
        if best is not None and makespan >= best:
            continue
        loads = (
            sum(d[r] for s, m, d in zip(starts, minutes, demands, strict=True) if s <= t < s + m) <= capacity
            for r, capacity in enumerate(capacities)
            for t in range(makespan)
        )
        if all(loads):
            best = makespan
    return best


@pytest.mark.parametrize("seed", range(12))
def test_minimum_and_maximum_lags_agree_with_brute_force(seed: int) -> None:
    dice = random.Random(seed)
    count = 4
    minutes = [dice.randint(1, 3) for _ in range(count)]
    demands = [[dice.randint(0, 2)] for _ in range(count)]
    lags = []
    for i, j in itertools.combinations(range(count), 2):
        if dice.random() < 0.5:
            least = dice.randint(0, 3)
            lags.append((i, j, least))
            if dice.random() < 0.7:
                lags.append((j, i, -(least + dice.randint(0, 1))))
    problem = published.project(minutes, demands, [2], lags)
    outcome = Search(problem, Budget(seconds=20)).run()
    exact = _brute_force(minutes, demands, [2], lags, latest=9)
    if exact is None:
        assert outcome.infeasible
    else:
        assert outcome.best is not None
        assert outcome.best.standing.minutes == exact
        assert outcome.bound == exact


def test_lags_that_contradict_each_other_have_no_plan() -> None:
    problem = published.project([2, 2], [[0], [0]], [1], [(0, 1, 5), (1, 0, -4)])
    outcome = Search(problem, Budget(seconds=5)).run()
    assert outcome.infeasible
    assert outcome.best is None
