"""Rule 5 once more: no leg is heavier than its hands lift, and what came in, and what the work left, goes out again."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from planner.day import Material
from planner.day.names import Names
from planner.plan.plan import Carried, Crossing, Work
from planner.plan.rules.day_and_plan import (
    Breaches,
    BrokenRule,
    DayAndPlan,
    ground_words,
    hand_words,
    kit_words,
    span_words,
)
from planner.trade.units import show_clock

_GRAM = 0.01
"""Masses are sums of decimal fractions, and what is left in a container is known to a hundredth."""

TEAM_SHARES = {1: 1.0, 2: 2 / 3, 3: 1 / 2, 4: 3 / 8}
"""The part of the sum of what each lifts alone that so many lift together (HSE INDG143 and L23, the trio's from memory;
four lift no more than three)."""


# --- masses --------------------------------------------------------------------------------------------------------


def no_leg_is_too_heavy(r: DayAndPlan) -> Breaches:
    """Rule 5: nobody carries more on one leg than they lift; a team lifts together what the guideline gives it."""
    for crossing in r.plan.crossings:
        leg_in, leg_out = r.legs(crossing)
        for word, carried, minute in (
            ("in", crossing.carried_in, leg_in[1]),
            ("out", crossing.carried_out, leg_out[0]),
        ):
            if crossing.wheels is not None:
                takes = r.day.kit[crossing.wheels].wheels or 0.0
                kg = sum(x.count * x.share * _mass(r, x) for x in carried)
                if kg > takes + _GRAM:
                    wrong = f"{kg:.1f} kg are wheeled {word}, and {kit_words(r.day, crossing.wheels)} takes {takes:g}"
                    yield _of_crossing(r, crossing, wrong)
                continue
            strain = sum(_strain(r, crossing, x, word, minute) for x in carried)
            own = r.day.hands[crossing.hand].lifts
            if strain * own > own + _GRAM:
                name = hand_words(r.day, crossing.hand)
                yield _of_crossing(r, crossing, f"{strain * own:.1f} kg are carried {word}, and {name} lifts {own:g}")


def _strain(r: DayAndPlan, crossing: Crossing, carried: Carried, word: str, minute: int) -> float:
    """The part of what this hand lifts that a load takes up; of what a team bears, as much of each as of the others."""
    mass = carried.count * _mass(r, carried)
    if carried.share == 1:
        return mass / r.day.hands[crossing.hand].lifts
    team = {
        other.hand
        for other in r.plan.crossings
        if (other.job, other.ground) == (crossing.job, crossing.ground)
        and (r.legs(other)[0][1] if word == "in" else r.legs(other)[1][0]) == minute
        and any(x.what == carried.what for x in (other.carried_in if word == "in" else other.carried_out))
    }
    return mass / together(r, team)


def together(r: DayAndPlan, team: set[str]) -> float:
    """What some hands lift together, in kg, by the guideline."""
    return TEAM_SHARES.get(len(team), TEAM_SHARES[4]) * sum(r.day.hands[hand].lifts for hand in team)


def _mass(r: DayAndPlan, carried: Carried) -> float:
    if not carried.is_material:
        return r.day.kit[carried.what].mass or 0.0
    return r.day.materials[carried.what].mass_with(1.0 if carried.rest is None else carried.rest)


def no_chore_is_too_heavy(r: DayAndPlan) -> Breaches:
    """Rule 5: on an open way, whoever sets kit up or packs it down lifts it, in as many goes as its armfuls make."""
    for chore in r.plan.chores:
        if chore.kit is None or not r.way_in(chore.job, chore.ground).is_open:
            continue
        kit, way = r.day.kit[chore.kit], r.way_in(chore.job, chore.ground)
        goes = max(1, math.ceil(kit.load / (way.load_limit * kit.lift) - 1e-9))
        lifted, may = (kit.mass or 0.0) / goes, together(r, set(chore.hands))
        if way.wheeled:
            may = max([may, *(other.wheels or 0.0 for other in r.day.kit.values() if other.own)])
        if lifted > may + _GRAM:
            names = " and ".join(hand_words(r.day, hand) for hand in chore.hands)
            words = f"{kit_words(r.day, chore.kit)} at {show_clock(chore.start)}"
            text = f"{words} is {lifted:.1f} kg, and {names} lift {may:.1f}"
            yield BrokenRule(5, text, chore.job, chore.start, chore.end)


def wheels_go_where_they_can(r: DayAndPlan) -> Breaches:
    """Rule 5: a sack truck or barrow goes along ways that take wheels only, and no more of it than we own."""
    rolling = [c for c in r.plan.crossings if c.wheels is not None]
    for crossing in rolling:
        if not r.way_in(crossing.job, crossing.ground).wheeled:
            yield _of_crossing(r, crossing, f"the way takes no wheels, and '{crossing.wheels}' goes along")
        at_once = [c for c in rolling if c.wheels == crossing.wheels and c.start <= crossing.start < c.end]
        own = r.day.kit[crossing.wheels or ""].own
        if len(at_once) > own:
            yield _of_crossing(r, crossing, f"{len(at_once)} of '{crossing.wheels}' are out, and we own {own}")


# --- out again -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Due:
    """Containers that must go out: so many, with so much in each, after this minute."""

    count: int
    rest: float
    ready: int


def everything_goes_out_again(r: DayAndPlan) -> Breaches:
    """Rule 5: containers go out after the last stage that uses them there, with what is left in them unless the
    customer keeps it; what a stage leaves goes out after it, in as few containers as hold all that is left by several.
    Nothing else is carried out, and nothing stays."""
    for job in {v.job: None for v in r.visits}:
        gone = max(v.depart for v in r.visits if v.job == job)
        for ground in r.day.jobs[job].grounds:
            if r.way_in(job, ground).is_open:
                continue
            here = [c for c in r.plan.crossings if (c.job, c.ground) == (job, ground)]
            for key, material in r.day.materials.items():
                due = [*_containers(r, job, ground, key, material, here), *_leavings(r, job, ground, key)]
                out = [(r.legs(c)[1][0], x) for c in here for x in c.carried_out if x.is_material and x.what == key]
                yield from _compared(r, job, ground, key, due, out, gone)


def _containers(
    r: DayAndPlan, job: str, ground: str, key: str, material: Material, here: list[Crossing]
) -> Iterator[_Due]:
    brought = sum(x.count for c in here for x in c.carried_in if x.is_material and x.what == key)
    users = [w for w in r.works_on(job, ground) if _takes(r, w, key)]
    if not brought:
        return
    used = sum(_used(r, w, key) for w in users)
    ready = max((w.end for w in users), default=0)
    left = 0.0 if material.water else max(0.0, brought - used)
    full = math.floor(left + _GRAM / 2)
    part = left - full if left - full > _GRAM / 2 else 0.0
    is_kept = key in r.day.jobs[job].customer.keeps
    if full and not is_kept:
        yield _Due(full, 1.0, ready)
    if part and not is_kept:
        yield _Due(1, part, ready)
    if empty := brought - full - (part > 0):
        yield _Due(empty, 0.0, ready)


def _takes(r: DayAndPlan, work: Work, key: str) -> bool:
    method = r.stage(work).methods[work.method]
    return key in method.uses or key in method.expected


def _used(r: DayAndPlan, work: Work, key: str) -> float:
    """Containers that a stage is reckoned to use up; all it takes, where the day does not say."""
    method = r.stage(work).methods[work.method]
    return method.expected.get(key, float(method.uses.get(key, 0)))


def _leavings(r: DayAndPlan, job: str, ground: str, key: str) -> Iterator[_Due]:
    """Full containers of what each stage leaves, and of what is left over then as few as hold all of it."""
    rest, ready = 0.0, 0
    for work in r.works_on(job, ground):
        left = r.stage(work).methods[work.method].leaves.get(key, 0.0)
        full = math.floor(left + _GRAM / 2)
        if full:
            yield _Due(full, 1.0, work.end)
        if left - full > _GRAM / 2:
            rest, ready = rest + left - full, max(ready, work.end)
    together = math.floor(rest + _GRAM / 2)
    if together:
        yield _Due(together, 1.0, ready)
    if rest - together > _GRAM / 2:
        yield _Due(1, rest - together, ready)


def _compared(
    r: DayAndPlan, job: str, ground: str, key: str, due: list[_Due], out: list[tuple[int, Carried]], gone: int
) -> Breaches:
    name = Names(r.day).material(key)
    where = ground_words(r.day, job, ground)
    wanted = sorted(d.rest for d in due for _ in range(d.count))
    taken = sorted((x.rest or 0.0) for _, x in out for _ in range(x.count))
    is_same = len(wanted) == len(taken) and all(abs(a - b) <= _GRAM for a, b in zip(wanted, taken, strict=True))
    if r.plan.since is not None:  # what was brought before, and how full it left, is as it happened
        is_same = len(taken) >= sum(d.count for d in due if d.ready > r.plan.since)
    if not is_same:
        text = f"of '{name}' {_said(wanted)} must leave {where}, and {_said(taken)} are carried out"
        yield BrokenRule(5, text, job, gone, gone)
        return
    for minute, _ in out:
        by_then = sum(x.count for m, x in out if m <= minute)
        there = sum(d.count for d in due if d.ready <= minute)
        if by_then > there:
            text = f"{by_then} of '{name}' have left {where} by {show_clock(minute)}, and {there} are done with"
            yield BrokenRule(5, text, job, minute, minute)


def _said(rests: list[float]) -> str:
    if not rests:
        return "none"
    return f"{len(rests)} (holding {', '.join(f'{100 * rest:.0f} %' for rest in rests)})"


def _of_crossing(r: DayAndPlan, crossing: Crossing, wrong: str) -> BrokenRule:
    where = ground_words(r.day, crossing.job, crossing.ground)
    span = span_words(crossing.start, crossing.end)
    text = f"the crossing of {hand_words(r.day, crossing.hand)} to {where} ({span}): {wrong}"
    return BrokenRule(5, text, crossing.job, crossing.start, crossing.end)
