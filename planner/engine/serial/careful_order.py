"""The order in which a careful person would take jobs and stages one after another."""

from planner.engine.problem import Problem


def serial_order(problem: Problem) -> list[tuple[int, list[int]]] | None:
    """Jobs by their windows and promises, each with its stages in file order as far as the rules allow.

    A stage that follows another after a wait comes straight after it; whatever else it needs comes before both.
    None when the rules go round in a circle.
    """
    jobs = sorted(range(len(problem.jobs)), key=lambda j: (_due(problem, j), j))
    before = _before(problem)
    order = []
    for j in jobs:
        stages = [
            a
            for a, activity in enumerate(problem.activities)
            if activity.ground is not None and problem.grounds[activity.ground].job == j and not activity.optional
        ]
        found = _stages(problem, stages, before)
        if found is None:
            return None
        if found:
            order.append((j, found))
    return order


def _due(problem: Problem, j: int) -> int:
    job = problem.jobs[j]
    ends = [problem.horizon]
    if job.arrive is not None:
        ends.append(job.arrive[1])
    if job.done_by is not None:
        ends.append(job.done_by)
    return min(ends)


def _before(problem: Problem) -> dict[int, set[int]]:
    """What must come wholly before each activity: lags, and what would be barred or spoiled for good."""
    before: dict[int, set[int]] = {a: set() for a in range(len(problem.activities))}
    for lag in problem.lags:
        before[lag.second].add(lag.first)
    for closed in problem.closed:
        if closed.until is None:
            before[closed.first] |= set(closed.activities)
    for spoiling in problem.spoiling:
        if None in spoiling.until:
            before[spoiling.spoiled].add(spoiling.maker)
    return before


def _stages(problem: Problem, stages: list[int], before: dict[int, set[int]]) -> list[int] | None:
    tied = {lag.first: lag.second for lag in problem.lags if lag.least or lag.most is not None or lag.steps}
    done: list[int] = []
    doing: set[int] = set()

    def do(a: int) -> bool:
        if a in done or a not in stages:
            return True
        if a in doing:
            return False
        doing.add(a)
        needs = set(before[a])
        chain, at = [a], a
        while at in tied and tied[at] not in chain:
            at = tied[at]
            needs |= before[at] - set(chain)
            chain.append(at)
        ready = all(do(x) for x in sorted(needs - set(chain)))
        for link in chain:
            if ready and link not in done and link in stages:
                done.append(link)
        doing.discard(a)
        return ready

    return done if all(do(a) for a in stages) else None
