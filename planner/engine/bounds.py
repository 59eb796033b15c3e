"""Lower bounds that need no search."""

from dataclasses import replace

from planner.engine.bearing import most_in_one_go
from planner.engine.problem import Kit, Problem


def crude_minutes(problem: Problem, crossings: int = 0, work: int | None = None) -> int:
    """A lower bound on minutes home with at least so many restricted crossings.

    All work, the chores that no choice of methods avoids, floor protection and the walks of the crossings, shared
    among all hands as far as each is there, plus the shortest driving. ``work`` is `certain_work`, where it is known
    already.
    """
    work = certain_work(problem) if work is None else work
    walks = [g.walk for g in problem.grounds if g.slots and g.restricted]
    work += 2 * min(walks, default=0) * crossings
    minutes = shortest_driving(problem) + problem.coming_and_going + _shared(problem, work)
    return problem.opens - problem.origin + minutes


def _shared(problem: Problem, work: int) -> int:
    """The fewest minutes at jobs in which all hands together have so many: those who come by themselves their hours."""
    left, sharing, minutes = work, max(1, len(problem.hands)), 0
    for there in sorted(hand.latest - hand.earliest for hand in problem.hands if not hand.rides):
        if left <= sharing * (there - minutes):
            break
        left, minutes, sharing = left - sharing * max(0, there - minutes), max(minutes, there), sharing - 1
    return minutes + -(-left // max(1, sharing))


def hands_minutes(problem: Problem, at_jobs: int) -> int:
    """The most minutes that all hands together have at jobs while the van is there for so many."""
    own = (hand.latest - hand.earliest for hand in problem.hands if not hand.rides)
    riding = sum(hand.rides for hand in problem.hands) if problem.hands else 1
    return riding * max(0, at_jobs) + sum(max(0, min(at_jobs, there)) for there in own)


def certain_work(problem: Problem) -> int:
    """Minutes of hands' work that no choice avoids: stages, chores and floor protection."""
    work = sum(min(m.minutes * m.hands for m in a.modes) for a in problem.activities if not a.optional)
    return work + certain_chores(problem)


def certain_chores(problem: Problem) -> int:
    """Of these, minutes for setting up and packing down, and for floor protection."""
    return sum(_sure_chores(problem, g) for g in range(len(problem.grounds)))


def _sure_chores(problem: Problem, g: int) -> int:
    """Minutes of hands' work for setting up and packing down what a ground needs whatever the methods."""
    modes = [a.modes for a in problem.activities if a.ground == g and not a.optional]
    sure = {k for choice in modes for k in set.intersection(*(set(m.kit) for m in choice))}
    to_carry = [k for k in sure if not problem.standing_on(g, k)]
    chores = sum(sum(problem.chore_minutes(g, k)) * problem.chore_hands(g, k) for k in to_carry)
    if any(ground == g for ground, _ in problem.laid):
        return chores
    protection = problem.grounds[g].lay + problem.grounds[g].lift if problem.grounds[g].slots and modes else 0
    return chores + protection


def shortest_driving(problem: Problem) -> int:
    """A lower bound on the round: each job is reached from somewhere, and the last leads home."""
    route, jobs = problem.route, range(len(problem.jobs))
    if route is None or not jobs:
        return 0
    return min(route.back) + sum(min([route.out[j], *(route.between[k][j] for k in jobs if k != j)]) for j in jobs)


def legs_needed(problem: Problem, g: int) -> int:
    """A lower bound on the crossings to a ground: what no choice of methods avoids carrying in, or out again.

    Loads are not poured: no two that are above half the limit share a leg (the second bound of Martello and Toth,
    Discrete Applied Mathematics 28:59, 1990, without its search over thresholds).
    """
    modes = [a.modes for a in problem.activities if a.ground == g and not a.optional]
    sure = {k for choice in modes for k in set.intersection(*(set(m.kit) for m in choice))}
    kit_in = [problem.kit[k] for k in sure if not problem.standing_on(g, k)]
    sure_uses = [min((mode.uses for mode in choice), key=lambda uses: sum(n for _, n in uses)) for choice in modes]
    alike = [uses for uses, choice in zip(sure_uses, modes, strict=True) if all(m.uses == uses for m in choice)]
    taken_in = [(problem.materials[m].load, problem.materials[m].mass, n) for uses in alike for m, n in uses]
    taken_out = [(x.load, x.mass, x.count) for x in problem.leaving if x.ground == g and not x.when]
    kit_out = [problem.kit[k] for k in sure]
    return max(_legs_for(problem, g, kit_in, taken_in), _legs_for(problem, g, kit_out, taken_out))


def crossings_needed(problem: Problem) -> int:
    """A lower bound on the restricted crossings of a plan."""
    bound = [g for g, ground in enumerate(problem.grounds) if ground.restricted and ground.slots]
    return sum(legs_needed(problem, g) for g in bound)


def _legs_for(problem: Problem, g: int, kit: list[Kit], containers: list[tuple[int, int, int]]) -> int:
    """Legs that these need; containers are given by load, mass and how many."""
    most, heaviest = most_in_one_go(problem, g)
    load = sum(k.load for k in kit) + sum(load * n for load, _, n in containers)
    large = sum(k.lift for k in kit if 2 * k.load > most * k.lift)
    large += sum(n for load, _, n in containers if 2 * load > most)
    legs = max(large, -(-load // most))
    if not heaviest:
        return legs
    alone = [k.mass for k in kit if k.lift == 1]  # what a team lifts takes up less of each
    mass = sum(alone) + sum(mass * n for _, mass, n in containers)
    heavy = sum(2 * mass > heaviest for mass in alone) + sum(n for _, mass, n in containers if 2 * mass > heaviest)
    return max(legs, heavy, -(-mass // heaviest))


def without_ways(problem: Problem) -> Problem:
    """A relaxation with every way in free: no crossings, no loads, no floor protection.

    Its least minutes home are a lower bound on those of the problem with any number of crossings. Water that is carried
    in is there whenever it is wanted.
    """
    return replace(
        problem,
        activities=tuple(replace(a, wants_water=False) for a in problem.activities),
        grounds=tuple(replace(g, walk=0, slots=False, restricted=False, lay=0, lift=0) for g in problem.grounds),
        kit=tuple(replace(k, load=0, lift=1, mass=0) for k in problem.kit),
        leaving=(),
        slippery=(),
        closed=tuple(replace(c, ways=(), kit=()) for c in problem.closed),
    )


def with_tolls(problem: Problem, *, restricted: bool) -> Problem:
    """A relaxation without crossings, but for those of restricted ways where these are not to be left out.

    Take a plan, and forget of each such way its crossings and what they carry. What hands do on its ground, and from
    when to when kit is set up there, stays as it is. Of the crossings this is still true, and all that is asked:

    * whoever does something there has walked in since coming to the job, and walks out before going (`toll`);
    * kit came by an in-leg that ended before its set-up, or its first use, and goes by an out-leg; on both it is out as
      well. Nothing asks kit to be there outside these, so its stay may as well last from the one to the other;
    * all hands together walk there and back at least as often as the loads need (`tolls`).

    Material and water are there when they are wanted, what is left and wet ways are nobody's concern, and no floor is
    protected. So minutes home are no more than those of the plan, and so are the crossings that are not left out.
    """
    free = {g for g, ground in enumerate(problem.grounds) if ground.slots and (restricted or not ground.restricted)}
    return replace(
        problem,
        activities=tuple(replace(a, wants_water=a.wants_water and a.ground not in free) for a in problem.activities),
        grounds=tuple(
            replace(x, walk=0, slots=False, restricted=False, lay=0, lift=0, toll=x.walk, tolls=legs_needed(problem, g))
            if g in free
            else x
            for g, x in enumerate(problem.grounds)
        ),
        leaving=tuple(x for x in problem.leaving if x.ground not in free),
        slippery=tuple(replace(x, grounds=tuple(g for g in x.grounds if g not in free)) for x in problem.slippery),
        closed=tuple(replace(c, ways=tuple(g for g in c.ways if g not in free)) for c in problem.closed),
    )
