"""Schedules for problems of activities alone, built in an instant: bounds between which the solver need not look.

Serial schedule generation by priority rules (Kelley 1963; Kolisch 1996, European Journal of Operational Research
90:320), and the longest path through the lags as a lower bound. Where the two meet, the schedule is proven best.
"""

from collections.abc import Sequence

from planner.engine.problem import Problem


def schedule(problem: Problem) -> tuple[list[int], int] | None:
    """Start minutes of a feasible schedule, and a lower bound on every makespan.

    None where this simple way does not apply: hands, several modes, maximum lags, shut spans, or a cycle.
    """
    if not _is_plain(problem):
        return None
    order = _sorted_by_lags(problem)
    if order is None:
        return None
    heads = _longest(problem, order)
    tails = _tails(problem, order)
    bound = max(
        [heads[a] + tails[a] for a in order] + [_energy(problem, r) for r in range(len(problem.resources))], default=0
    )
    best: list[int] = []
    for priority in (
        lambda a: -tails[a],
        lambda a: heads[a] - tails[a],
        lambda a: heads[a],
        lambda a: -problem.activities[a].modes[0].minutes,
    ):
        starts = _generate(problem, sorted(order, key=priority))
        if not best or makespan(problem, starts) < makespan(problem, best):
            best = starts
    return best, bound


def _is_plain(problem: Problem) -> bool:
    if problem.jobs or problem.hands or problem.apart or problem.closed or problem.spoiling or problem.unmixable:
        return False
    plain = all(
        len(a.modes) == 1 and not a.optional and not a.shut and a.start is None and a.latest is None
        for a in problem.activities
    )
    fits = all(amount <= problem.resources[r].capacity for x in problem.activities for r, amount in x.modes[0].demands)
    lags = all(x.most is None and not x.steps and x.least is not None and x.least >= 0 for x in problem.lags)
    return plain and fits and lags


def _minutes(problem: Problem, a: int) -> int:
    return problem.activities[a].modes[0].minutes


def makespan(problem: Problem, starts: Sequence[int]) -> int:
    """The minute at which all is done."""
    return max((start + _minutes(problem, a) for a, start in enumerate(starts)), default=0)


def _span(problem: Problem, lag: int) -> int:
    """Minutes from the start of a lag's first activity to the earliest start of its second."""
    x = problem.lags[lag]
    since_start = (x.least or 0) + (0 if x.from_start else _minutes(problem, x.first))
    return since_start - (_minutes(problem, x.second) if x.to_end else 0)


def _sorted_by_lags(problem: Problem) -> list[int] | None:
    """Activities so that each comes after all that its lags put before it; None for a cycle."""
    waiting = [0] * len(problem.activities)
    for lag in problem.lags:
        waiting[lag.second] += 1
    ready = [a for a, count in enumerate(waiting) if not count]
    order = []
    while ready:
        a = ready.pop()
        order.append(a)
        for lag in problem.lags:
            if lag.first == a:
                waiting[lag.second] -= 1
                if not waiting[lag.second]:
                    ready.append(lag.second)
    return order if len(order) == len(problem.activities) else None


def _longest(problem: Problem, order: Sequence[int]) -> list[int]:
    """Earliest start of each activity by its lags alone."""
    heads = [activity.earliest for activity in problem.activities]
    after = _by_first(problem)
    for a in order:
        for lag in after[a]:
            second = problem.lags[lag].second
            heads[second] = max(heads[second], heads[a] + _span(problem, lag))
    return heads


def _tails(problem: Problem, order: Sequence[int]) -> list[int]:
    """Minutes from the start of each activity to the end of all, by lags alone."""
    tails = [_minutes(problem, a) for a in range(len(problem.activities))]
    after = _by_first(problem)
    for a in reversed(order):
        for lag in after[a]:
            tails[a] = max(tails[a], _span(problem, lag) + tails[problem.lags[lag].second])
    return tails


def _by_first(problem: Problem) -> list[list[int]]:
    after: list[list[int]] = [[] for _ in problem.activities]
    for n, lag in enumerate(problem.lags):
        after[lag.first].append(n)
    return after


def _energy(problem: Problem, r: int) -> int:
    """The work that a resource must do, at its full capacity."""
    work = sum(_minutes(problem, a) * dict(x.modes[0].demands).get(r, 0) for a, x in enumerate(problem.activities))
    return -(-work // max(1, problem.resources[r].capacity))


def _generate(problem: Problem, priority: Sequence[int]) -> list[int]:
    """Serial schedule generation: the first activity in the list whose predecessors stand, as early as it fits."""
    before: list[list[int]] = [[] for _ in problem.activities]
    for n, lag in enumerate(problem.lags):
        before[lag.second].append(n)
    starts: dict[int, int] = {}
    used = [[0] * (problem.horizon + 1) for _ in problem.resources]
    left = list(priority)
    while left:
        a = next(x for x in left if all(problem.lags[n].first in starts for n in before[x]))
        left.remove(a)
        start = problem.activities[a].earliest
        for n in before[a]:
            start = max(start, starts[problem.lags[n].first] + _span(problem, n))
        minutes, demands = _minutes(problem, a), problem.activities[a].modes[0].demands
        while True:
            clash = next(
                (
                    t
                    for t in range(start + minutes - 1, start - 1, -1)
                    for r, amount in demands
                    if used[r][min(t, problem.horizon)] + amount > problem.resources[r].capacity
                ),
                None,
            )
            if clash is None:
                break
            start = clash + 1
        for r, amount in demands:
            for t in range(start, start + minutes):
                used[r][min(t, problem.horizon)] += amount
        starts[a] = start
    return [starts[a] for a in range(len(problem.activities))]
