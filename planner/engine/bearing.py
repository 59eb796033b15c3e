"""What hands bear: one alone, a team together, on one leg, and along an open way."""

import math

from planner.engine.problem import Problem

TEAM_SHARES = (1.0, 2 / 3, 1 / 2, 3 / 8)
"""What part of the sum of what each lifts alone one, two, three, four lift together (HSE INDG143, L23 guideline)."""


def together(problem: Problem, team: tuple[int, ...]) -> float | None:
    """What some hands lift together (scaled), by the guideline; None where one of them has no limit."""
    alone = [problem.hands[h].lifts for h in team]
    known = [x for x in alone if x is not None]
    if len(known) < len(alone):
        return None
    return TEAM_SHARES[min(len(team), len(TEAM_SHARES)) - 1] * sum(known)


def strain(problem: Problem, team: tuple[int, ...], hand: int, mass: int) -> int:
    """Of what one hand lifts alone, how much a load takes up that a team bears, each as much of theirs (scaled)."""
    may, own = together(problem, team), problem.hands[hand].lifts
    return 0 if may is None or own is None else math.ceil(mass * own / may - 1e-6)


def may_set_up(problem: Problem, ground: int, kit: int, team: tuple[int, ...]) -> bool:
    """Whether these hands may lift a kit along an open way, in as many goes as its armfuls make."""
    g, k = problem.grounds[ground], problem.kit[kit]
    may = together(problem, team)
    if not g.is_carried_to_by_chores or not k.mass or may is None:
        return True
    if g.wheeled:
        may = max([may, *(other.wheels for other in problem.kit if other.own)])
    goes = max(1, -(-k.load // (g.limit * k.lift)))
    return k.mass / goes <= may + 1


def wheels_for(problem: Problem, ground: int) -> int | None:
    """The sack truck or barrow that takes most, where the way to a ground takes wheels; None where there is none."""
    rolling = [k for k, kit in enumerate(problem.kit) if kit.wheels and kit.own]
    if not rolling or not problem.grounds[ground].wheeled:
        return None
    return max(rolling, key=lambda k: problem.kit[k].wheels)


def most_in_one_go(problem: Problem, ground: int) -> tuple[int, int | None]:
    """The most armfuls and the most mass (both scaled) of one leg of any hand; None: no limit of mass."""
    g = problem.grounds[ground]
    alone = [hand.lifts for hand in problem.hands]
    mass = None if any(x is None for x in alone) else max((x or 0 for x in alone), default=0)
    if not g.wheeled:
        return g.limit, mass
    rolling = [k for k in problem.kit if k.wheels and k.own]
    load = max([g.limit, *(k.wheels_load for k in rolling)])
    return load, None if mass is None else max([mass, *(k.wheels for k in rolling)])


def fit_in_one_go(problem: Problem, ground: int, hand: int, one: tuple[int, int]) -> int:
    """How many containers of one load and mass a hand may carry at once to a ground; 0 where they weigh nothing."""
    load, mass = one
    lifts = problem.hands[hand].lifts
    limits = [(problem.grounds[ground].limit, load)] + ([(lifts, mass)] if lifts is not None else [])
    return min((limit // each for limit, each in limits if each), default=0)
