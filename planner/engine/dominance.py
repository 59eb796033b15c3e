"""How much of a thing can ever be of use: whatever plan there is, one as good has no more stays and crossings.

Each bound says why. A model with so many of each leaves nothing out, so that what it proves is proven of every plan.
"""

import math
from dataclasses import replace
from itertools import pairwise

from planner.engine.bounds import certain_work, hands_minutes, legs_needed, shortest_driving
from planner.engine.problem import Hand, Problem


def users(problem: Problem, kit: int, ground: int) -> list[int]:
    """The activities on a ground that may use a kit."""
    return [
        a
        for a, activity in enumerate(problem.activities)
        if activity.ground == ground and any(kit in mode.kit for mode in activity.modes)
    ]


def most_stays(problem: Problem, kit: int, ground: int) -> int:
    """The most stays of a kit on a ground that any plan has use for.

    A stay serves some stage, so there are no more than stages that use it. Give each unit the stays it makes, in their
    order. Two in a row on one ground in one visit can be made one: the kit stands there in between, where it bars
    nothing, and a pack-down, a set-up and two legs are saved. So between two of a unit on this ground it is on another,
    and a ground has no more stays in a visit than units that come to it and stays on the others. Where there are units
    enough for all that can run at once, each ground keeps its own, and nothing goes to and fro. One more stands there
    for each that a day under way finds there. Two stays of what is rinsed out between chemicals are not made one, nor
    two of sheets that lie where others work in between, or of a ladder, or what must be kept dry, that stands where
    paving is washed in between.
    """
    own, job = problem.kit[kit].own, problem.grounds[ground].job
    hands = max(1, len(problem.hands))
    if any(kit in kept.kit for kept in problem.kept):  # what covers serves on while its hand does something else
        hands = max(hands, own)
    here = len(users(problem, kit, ground))
    others = [len(users(problem, kit, g)) for g in grounds_of(problem, job) if g != ground]
    at_once = min(own, hands, here)
    enough = own >= at_once + sum(min(hands, n) for n in others)
    in_a_visit = at_once if enough or not any(others) else min(own, here) + sum(others)
    if _is_taken_up_between(problem, kit, ground):
        in_a_visit = here
    return min(here, in_a_visit * problem.jobs[job].visits) + len(problem.standing_on(ground, kit))


def _is_taken_up_between(problem: Problem, kit: int, ground: int) -> bool:
    """Whether a plan may have to pack a kit down on a ground and set it up there again.

    That is so of what is rinsed out between chemicals, of sheets that lie where others work in between, and of a ladder
    that stands where paving is washed, or what must be kept dry, if that may come between two that take it.
    """
    chemicals = {problem.activities[a].chemical for a in users(problem, kit, ground)}
    lies_on_work = any(kit in kept.kit and kept.under for kept in problem.kept)
    barring = [x.above for x in problem.beneath if x.is_down and (x.kit, x.ground) == (kit, ground)]
    stands_in_the_way = any(_may_come_between(problem, a, users(problem, kit, ground)) for a in barring)
    return lies_on_work or stands_in_the_way or (problem.kit[kit].of_one_chemical and len(chemicals) > 1)


def _may_come_between(problem: Problem, above: int, takers: list[int]) -> bool:
    """Whether no order of the day puts an activity after all of some others."""
    before: dict[int, set[int]] = {}
    for lag in problem.lags:
        if lag.is_in_turn:
            before.setdefault(lag.second, set()).add(lag.first)
    found, waiting = set[int](), [above]
    while waiting:
        new = before.get(waiting.pop(), set()) - found
        found |= new
        waiting += (a for a in new if not problem.activities[a].optional)  # one left out puts nothing in order
    return len(takers) > 1 and not set(takers) <= found


def may_lie(problem: Problem, kit: int, ground: int) -> bool:
    """Whether it is of use that kit lies packed down on a ground until it is set up there again.

    Only where it may have to be packed down in between (elsewhere two stays in a row are made one), or where a day
    under way finds it there: packed down, or with a chemical in it. By an open way its chores carry it.
    """
    g = problem.grounds[ground]
    is_there = bool(problem.standing_on(ground, kit))
    return bool(g.slots or g.toll) and (is_there or _is_taken_up_between(problem, kit, ground))


def grounds_of(problem: Problem, job: int) -> list[int]:
    """The grounds of a job."""
    return [g for g, ground in enumerate(problem.grounds) if ground.job == job]


def most_crossings(problem: Problem, ground: int, latest_home: int | None = None) -> int:
    """The most crossings of one hand to a ground in one visit that any plan has use for; at least one.

    A crossing that carries nothing and holds no work is left out. Two in a row, with nothing carried out by the first
    nor in by the second, and nothing done elsewhere between them, can be made one: the hand stays there. Material may
    come sooner than it must, and what goes out again may go later, so no two legs of one hand carry such things only if
    one could carry both. And as no plan is wanted that is home later than ``latest_home``, all walking must fit beside
    the work there is for certain. Where a sack truck may go along, two crossings are not made one: it may be needed
    elsewhere in between.
    """
    stays = _all_stays(problem, ground)
    inside = sum(a.ground == ground for a in problem.activities) + 2 * stays
    if problem.grounds[ground].wheeled and any(kit.wheels and kit.own for kit in problem.kit):
        containers = sum(n for _, _, n in [*_brought(problem, ground), *_taken(problem, ground)])
        most = 2 * stays + containers + inside
        return max(1, min(most, _walks_in_time(problem, ground, most, latest_home)))
    legs = 2 * stays + _container_legs(problem, ground)
    outside = sum(_episodes(problem, g) for g in grounds_of(problem, problem.grounds[ground].job) if g != ground)
    most = min(legs + inside, 1 + legs + outside)
    return max(1, min(most, _walks_in_time(problem, ground, most, latest_home)))


def most_restricted_crossings(problem: Problem) -> int:
    """The most restricted crossings, of all hands together, that any plan has use for: each carries or holds something.

    What two carry together is carried by two crossings, and each hand that does a stage is there in one of its own.
    """
    barred = {g for g, ground in enumerate(problem.grounds) if ground.restricted and ground.slots}
    count = sum(g in barred for g, _ in problem.inside)
    for activity in problem.activities:
        if activity.ground in barred:
            count += max(mode.hands + sum(n for _, n in mode.uses) for mode in activity.modes)
    for g in barred:
        count += sum(n for _, _, n in _taken(problem, g))
        for k, kit in enumerate(problem.kit):
            set_up, pack_down = problem.chore_minutes(g, k)
            count += most_stays(problem, k, g) * (2 * kit.lift + (set_up > 0) + (pack_down > 0))
    return count


def _all_stays(problem: Problem, ground: int) -> int:
    return sum(most_stays(problem, k, ground) for k in range(len(problem.kit)))


def _brought(problem: Problem, ground: int) -> list[tuple[int, int, int]]:
    """Load, mass and number of the containers that may be brought to a ground: of each stage the most of each."""
    found = []
    for activity in problem.activities:
        if activity.ground == ground:
            for m in {m for mode in activity.modes for m, _ in mode.uses}:
                most = max(dict(mode.uses).get(m, 0) for mode in activity.modes)
                found.append((problem.materials[m].load, problem.materials[m].mass, most))
    return found


def _taken(problem: Problem, ground: int) -> list[tuple[int, int, int]]:
    """Load, mass and number of the containers that may go out of a ground again."""
    return [(x.load, x.mass, x.count) for x in problem.leaving if x.ground == ground]


def _container_legs(problem: Problem, ground: int) -> int:
    """Legs of one hand that carry containers only, no two of which could be one.

    Each pair is above the way's limit or above what that hand lifts; so of both, summed as parts of the limits, each
    pair has more than one, and all together more than half as many as there are legs.
    """
    limit = problem.grounds[ground].limit
    alone = [hand.lifts for hand in problem.hands if hand.lifts]
    legs = 0
    for containers in (_brought(problem, ground), _taken(problem, ground)):
        parts = sum(n * (load / limit + (mass / min(alone) if alone else 0.0)) for load, mass, n in containers)
        legs += min(sum(n for _, _, n in containers), max(1, math.ceil(2 * parts - 1e-9))) if containers else 0
    return legs


def _episodes(problem: Problem, ground: int) -> int:
    """How often, at the most, a hand has something to do on a ground: its stages, chores, legs, and its sheets."""
    g = problem.grounds[ground]
    stages = sum(a.ground == ground for a in problem.activities)
    stays = _all_stays(problem, ground)
    if not g.slots:
        return stages + 2 * stays
    return stages + 4 * stays + _container_legs(problem, ground) + (g.lay > 0) + (g.lift > 0)


def _walks_in_time(problem: Problem, ground: int, most: int, latest_home: int | None) -> int:
    """How many walks there and back all hands' time leaves room for beside the work and walks that are certain."""
    walk = problem.grounds[ground].walk
    if latest_home is None or not walk or problem.is_underway:
        return most
    hours = hands_minutes(problem, latest_home - problem.opens - shortest_driving(problem) - problem.coming_and_going)
    elsewhere = sum(
        2 * g.walk * max(1, legs_needed(problem, n))
        for n, g in enumerate(problem.grounds)
        if n != ground and g.slots and any(a.ground == n and not a.optional for a in problem.activities)
    )
    return max(0, hours - certain_work(problem) - elsewhere) // (2 * walk)


def interchangeable(problem: Problem) -> list[tuple[int, int]]:
    """Pairs of hands who differ in nothing but their names, each with the next like them.

    Whatever a plan has the one do, another as good has the other do: all that they do changes hands. So of plans in
    which they cross differently often only those need be looked at in which the first of them crosses more often. On a
    day under way they differ in what they have begun.
    """
    if problem.is_underway:
        return []
    given = {activity.hand for activity in problem.activities}
    groups: dict[Hand, list[int]] = {}
    for h, hand in enumerate(problem.hands):
        if h not in given:
            groups.setdefault(replace(hand, name=""), []).append(h)
    return [pair for group in groups.values() for pair in pairwise(group)]
