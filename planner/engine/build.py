"""From a day to its constraint problem. Nothing is decided here; every rule of the day becomes data."""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import TypeVar

from planner.day import Day, Job, Stage, Wait
from planner.day.drawn_together import shared_containers
from planner.day.following import later_stages
from planner.day.gates import shut_spans
from planner.day.kit import KitThatStays
from planner.day.names import called
from planner.engine import closing, fresh, mixing
from planner.engine import problem as p
from planner.engine.index import Index
from planner.engine.leavings import all_leavings
from planner.engine.reach import below, passed
from planner.trade.chemicals import chemicals
from planner.trade.exposure import EIGHT_HOURS, vibration_points
from planner.trade.lifting import KG_OF_AN_ARMFUL
from planner.trade.limits import limits

T = TypeVar("T")

LAST_HOME = 27 * 60
"""No plan is home later than three the next morning: work that does not fit so much is no day's work."""

RECKONED_WITH = 0.9
"""Room is kept for stages that take as long as they do in so many days, where the day does not say in how many."""

SPARE_HORIZON = 3 * 60
"""A day whose latest finish lies later than that has so much more; so has one under way whose plan is home later."""


def build(day: Day) -> p.Problem:
    """The constraint problem of a day.

    Raises `ValueError` when a stage has a rate but no measure (validation of the day reports this before), and
    `KeyError` when two places have no driving time.
    """
    index = Index.of(day)
    finish = min([day.finish, *(day.hours_of(h)[1] for h, hand in day.hands.items() if not hand.own_transport)])
    resources = _supplies(day, index)
    most_shake, shake_action = _shake_limits(day)
    at = index.number_of.__getitem__
    shared = _shared(day, index)
    activities = tuple(_sharing(shared, (_activity(day, index, resources, j, s) for j, s in index.stages)))
    apart = {tuple(sorted((at((j, a)), at((j, b))))) for j, job in day.jobs.items() for a, b in job.apart}
    apart |= {tuple(sorted(pair)) for pair in fresh.within_reach(day, at)}
    return p.Problem(
        activities=activities,
        horizon=max(LAST_HOME, day.finish + SPARE_HORIZON),
        lags=_steady((*_lags(day, index), *fresh.dust_before_water(day, at))),
        resources=tuple(p.Resource(f"{name} at {j}.{g}", amount) for (j, g, name), amount in resources.items()),
        apart=tuple(sorted((a, b) for a, b in apart)),
        closed=_steady(closing.closed(day, index, at)),
        spoiling=_steady([*fresh.spoiling(day, at), *mixing.drifting(day, at)]),
        unmixable=_steady(mixing.unmixable(day, at)),
        cleaned=_steady(fresh.cleaned(day, at)),
        kept=_steady(fresh.kept(day, activities, at)),
        wetted=_steady(fresh.wetted(day, at)),
        slippery=_steady(fresh.slippery(day, index, at)),
        beneath=_steady((*fresh.beneath(day, index, at), *fresh.underfoot(day, index, at))),
        spells=_steady(fresh.spells(day, at)),
        above=_steady(_above(day, at)),
        grounds=tuple(_ground(day, index, j, g) for j, g in index.grounds),
        kit=tuple(_kit(day, index, key) for key in index.kit),
        materials=tuple(
            p.Material(key, _scaled(m.load), _weighed(m.mass), m.water)
            for key, m in ((key, day.materials[key]) for key in index.materials)
        ),
        shared=tuple(found for found, _ in shared),
        leaving=_steady(all_leavings(day, index, activities)),
        hands=tuple(_hand(day, h) for h in index.hands),
        jobs=tuple(
            p.Job(key, job.visits, job.arrive, job.done_by, job.arriving, job.leaving) for key, job in day.jobs.items()
        ),
        route=_route(day),
        origin=day.start,
        opens=max([day.start, *(day.hours_of(h)[0] for h, hand in day.hands.items() if not hand.own_transport)]),
        finish=finish,
        fixed_start=day.fixed_start,
        price=day.crossing_price,
        most_shake=most_shake,
        shake_action=shake_action,
        keeps_room=day.sure is not None,
    )


def _steady(found: Iterable[T]) -> tuple[T, ...]:
    """In an order that goes by what they say: not by keys, nor by how a set happens to be gone through."""
    return tuple(sorted(found, key=repr))


def _scaled(load: float) -> int:
    return round(load * p.LOAD_SCALE)


def _weighed(mass: float | None) -> int:
    return math.ceil(p.MASS_SCALE * (mass or 0.0) - 1e-6)


def _kit(day: Day, index: Index, key: str) -> p.Kit:
    kit = day.kit[key]
    if isinstance(kit, KitThatStays):
        kit = kit.model_copy(update={"load": 0.0, "lift": 1, "mass": None})
    found = p.Kit(
        called(kit, key),
        kit.own,
        _scaled(kit.load),
        kit.lift,
        kit.set_up,
        kit.pack_down + kit.rinsing,
        kit.may_be_left,
        _weighed(kit.mass),
        _weighed(kit.wheels),
        _scaled((kit.wheels or 0.0) / KG_OF_AN_ARMFUL),
        kit.rinsing > 0,
        kit.water,
        tuple(sorted(index.kit.index(other) for other in kit.needs)),
    )
    return replace(found, stays_put=isinstance(kit, KitThatStays))


def _shared(day: Day, index: Index) -> list[tuple[p.DrawnTogether, int]]:
    """The containers that stages share, each with how many they are."""
    at = index.number_of.__getitem__
    found = []
    for x in shared_containers(day):
        activities, sure = (tuple(sorted(at((x.job, s)) for s in some)) for some in (x.stages, x.sure))
        ground, material = index.grounds.index((x.job, x.ground)), index.materials.index(x.material)
        found.append((p.DrawnTogether(ground, material, activities, sure), x.count))
    return sorted(found, key=repr)


def _sharing(shared: list[tuple[p.DrawnTogether, int]], activities: Iterable[p.Activity]) -> Iterator[p.Activity]:
    """The activities, of those that share containers the first that is sure to be done with all of them."""
    for a, activity in enumerate(activities):
        modes = activity.modes
        for x, count in shared:
            if a in x.activities:
                own = ((x.material, count),) if a == x.sure[0] else ()
                modes = tuple(_with_uses(mode, x.material, own) for mode in modes)
        yield replace(activity, modes=modes)


def _with_uses(mode: p.Mode, material: int, own: tuple[tuple[int, int], ...]) -> p.Mode:
    return replace(mode, uses=tuple(sorted((*((m, n) for m, n in mode.uses if m != material), *own))))


def _supplies(day: Day, index: Index) -> dict[tuple[str, str, str], int]:
    """Every (job, ground, supply) that some kit may draw on, with how many it serves at once."""
    wanted = sorted({name for kit in day.kit.values() for name in kit.supply})
    return {(j, g, name): day.jobs[j].grounds[g].supplies.get(name, 0) for j, g in index.grounds for name in wanted}


def _activity(day: Day, index: Index, supplies: dict[tuple[str, str, str], int], j: str, s: str) -> p.Activity:
    job, stage = day.jobs[j], day.jobs[j].stages[s]
    ground = job.ground_of(s)
    places = list(supplies)
    modes = []
    for m, method in stage.methods.items():
        closure = day.kit_closure(method.kit)
        drawn = [name for key in closure for name in day.kit[key].supply]
        demands = {places.index((j, ground, name)): drawn.count(name) for name in drawn}
        if any(day.kit[key].own == 0 for key in closure):
            continue
        if max([method.hands, *(day.kit[key].lift for key in closure)]) > len(day.hands):
            continue
        if any(amount > list(supplies.values())[r] for r, amount in demands.items()):
            continue
        modes.append(
            p.Mode(
                m,
                job.likely_minutes(s, m),
                method.hands,
                tuple(sorted(index.kit.index(key) for key in closure)),
                tuple(sorted(demands.items())),
                tuple(sorted((index.materials.index(key), n) for key, n in method.uses.items() if n)),
                _shake(day, closure, job.likely_minutes(s, m) * method.trigger),
                _slow(job, s, m, day.sure or RECKONED_WITH),
            )
        )
    if not modes:
        raise ValueError(
            f"no method of stage '{j}.{s}' can be used: its kit is not owned, its ground lacks the supply,"
            " or it takes more hands than there are"
        )
    return p.Activity(
        f"{j}.{s}",
        tuple(modes),
        index.grounds.index((j, ground)),
        earliest=day.start,
        start=stage.starts_at,
        shut=tuple(shut_spans(day, j, s)),
        optional=stage.only_if_needed,
        hand=None if stage.by_hand is None else index.hands.index(stage.by_hand),
        is_section=stage.part is not None,
        chemical=None if stage.chemical is None else chemicals().class_of(stage.chemical),
        wants_water=_wants_water(day, job, stage, ground),
        kind=stage.kind,
        surface=index.surfaces.index((j, stage.surface)),
    )


def _slow(job: Job, stage: str, method: str, share: float) -> int:
    """The minutes by which a stage takes longer than planned, but for the slowest days: in this share of all days."""
    slowest = job.minutes(stage, method).within(share)
    return max(0, math.ceil(slowest - 1e-6) - job.likely_minutes(stage, method))


def _wants_water(day: Day, job: Job, stage: Stage, ground: str) -> bool:
    """Whether water must be there before: something is mixed or corrosive, and van and tap are away."""
    place = job.grounds[ground]
    if place.way_in.is_open or place.supplies.get("tap", 0):
        return False
    table = chemicals() if stage.chemical is not None else None
    if not stage.mixing and (table is None or table.class_of(stage.chemical or "") not in table.corrosive):
        return False
    ways = [way for s in job.stages for way in job.stages[s].methods.values() if job.ground_of(s) == ground]
    from_kit = any(day.kit[key].water for way in ways for key in day.kit_closure(way.kit))
    return from_kit or any(day.materials[key].water for way in ways for key, n in way.uses.items() if n)


def _shake(day: Day, kit: tuple[str, ...], minutes: float) -> int:
    """Vibration of the worst of the kit, its trigger held so long, rounded up."""
    worst = max((day.kit[key].vibration or 0.0 for key in kit), default=0.0)
    return math.ceil(p.SHAKE_SCALE * vibration_points([(worst, minutes)]) - 1e-6)


def _shake_limits(day: Day) -> tuple[int | None, int | None]:
    """The limit and the action value in scaled points, where anything shakes."""
    if not any(kit.vibration for kit in day.kit.values()):
        return None, None
    bounds = limits().vibration
    most, action = (vibration_points([(a, EIGHT_HOURS)]) for a in (bounds.limit, bounds.action))
    return int(p.SHAKE_SCALE * most), int(p.SHAKE_SCALE * action)


def _lags(day: Day, index: Index) -> list[p.Lag]:
    at = index.number_of.__getitem__
    lags = []
    for j, job in day.jobs.items():
        for s, stage in job.stages.items():
            lags += [p.Lag(at((j, a)), at((j, s))) for a in stage.after]
        for wait in job.waits:
            if wait.before is not None:
                extended = None if wait.extended_by is None else at((j, wait.extended_by))
                lags += _of_wait(wait, at((j, wait.after)), at((j, wait.before)), extended)
                if (label := wait.label) is not None:
                    lags += _of_wait(label, at((j, wait.after)), at((j, wait.before)), None)
    return lags


def _of_wait(wait: Wait, first: int, second: int, extended_by: int | None) -> list[p.Lag]:
    """The lags of a wait: one for the stages as wholes, or those that hold its bounds for every patch.

    A patch that the first stage leaves at an even pace x of the way from start to end is reached by the second, in the
    same order, x of its way too: what it waits goes evenly from start - start to end - end. In the reversed order, or
    any, the last patch left may be the first reached and the first left the last: start - end and end - start.
    """
    steps = tuple((step.since, step.least, step.most) for step in wait.by_hour)
    whole = p.Lag(first, second, wait.least, wait.most, steps=steps, extended_by=extended_by)
    if wait.order is None:
        return [whole]
    whole = replace(whole, patchwise=True)
    if wait.order == "same":
        return [p.Lag(first, second), replace(whole, from_start=True), replace(whole, to_end=True)]
    longest = replace(
        whole, least=None, steps=tuple((since, None, most) for since, _, most in steps), from_start=True, to_end=True
    )
    return [replace(whole.endless(), extended_by=None), longest]


def _above(day: Day, at: Callable[[tuple[str, str]], int]) -> Iterator[tuple[int, int]]:
    """Stages of which the first works on what the second's surface lies below, where the day leaves the order open.

    Or behind it: where the way in to the first goes over that, from another ground.
    """
    for j, job in day.jobs.items():
        under, later = below(job), later_stages(job)
        behind = {g: passed(job, ground.way_in.over) for g, ground in job.grounds.items()}
        for a, upper in job.stages.items():
            for b, lower in job.stages.items():
                is_behind = lower.surface in behind[job.ground_of(a)] and job.ground_of(a) != job.ground_of(b)
                is_above = lower.surface in under[upper.surface] or is_behind
                if is_above and b not in later[a] and a not in later[b]:
                    yield at((j, a)), at((j, b))


def _ground(day: Day, index: Index, j: str, g: str) -> p.Ground:
    way = day.jobs[j].grounds[g].way_in
    ours = way.protection == "ours" and not way.is_open
    return p.Ground(
        f"{j}.{g}",
        index.jobs.index(j),
        way.minutes,
        not way.is_open,
        way.restricted,
        _scaled(way.load_limit),
        way.lay if ours else 0,
        way.lift if ours else 0,
        way.wheeled,
    )


def _hand(day: Day, key: str) -> p.Hand:
    hand, rest = day.hands[key], day.rest_of(key)
    owed = (
        None
        if rest is None or rest.length == 0
        else p.Rest(rest.length, rest.once_over, rest.begun_within, rest.soonest, rest.earliest, rest.latest)
    )
    earliest, latest = day.hours_of(key)
    meal = None
    if day.meal is not None:
        meal = p.Meal(day.meal.length, day.meal.once_over, day.meal.earliest, day.meal.latest)
    lifts = math.floor(p.MASS_SCALE * hand.lifts + 1e-6)
    return p.Hand(called(hand, key), earliest, latest, not hand.own_transport, owed, lifts=lifts, meal=meal)


def _route(day: Day) -> p.Route:
    places = [job.place for job in day.jobs.values()]
    return p.Route(
        tuple(day.drive_minutes(day.van.starts_at, x) for x in places),
        tuple(tuple(day.drive_minutes(x, y) for y in places) for x in places),
        tuple(day.drive_minutes(x, day.van.ends_at) for x in places),
    )
