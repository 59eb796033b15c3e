"""Lower bounds that need no search."""

from planner.engine.problem import Problem


def crude_minutes(problem: Problem, crossings: int = 0) -> int:
    """A lower bound on minutes home with at least so many restricted crossings.

    All work, the chores that no choice of methods avoids, floor protection and the walks of the crossings, shared
    evenly among all hands, plus the shortest driving.
    """
    work = sum(min(m.minutes * m.hands for m in a.modes) for a in problem.activities if not a.optional)
    work += sum(_sure_chores(problem, g) for g in range(len(problem.grounds)))
    walks = [g.walk for g in problem.grounds if g.slots and g.restricted]
    work += 2 * min(walks, default=0) * crossings
    minutes = shortest_driving(problem) + -(-work // max(1, len(problem.hands)))
    return problem.opens - problem.origin + minutes


def _sure_chores(problem: Problem, g: int) -> int:
    """Minutes of hands' work for setting up and packing down what a ground needs whatever the methods."""
    modes = [a.modes for a in problem.activities if a.ground == g and not a.optional]
    sure = {k for choice in modes for k in set.intersection(*(set(m.kit) for m in choice))}
    chores = sum(sum(problem.chore_minutes(g, k)) * problem.chore_hands(g, k) for k in sure)
    protection = problem.grounds[g].lay + problem.grounds[g].lift if problem.grounds[g].slots and modes else 0
    return chores + protection


def shortest_driving(problem: Problem) -> int:
    """A lower bound on the round: each job is reached from somewhere, and the last leads home."""
    route, jobs = problem.route, range(len(problem.jobs))
    if route is None or not jobs:
        return 0
    return min(route.back) + sum(
        min([route.out[j], *(route.between[k][j] for k in jobs if k != j)]) for j in jobs
    )
