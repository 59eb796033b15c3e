"""What cannot be carried, reached, supplied or driven to."""

import math
from collections import Counter
from collections.abc import Iterator

from planner.day.day import Day
from planner.day.faults import Fault, Where
from planner.day.jobs import Ground, Job, Method
from planner.trade.units import show_minutes


def reach_faults(day: Day) -> Iterator[Fault]:
    """Grounds out of reach, stages that no method can do, and drives of unknown length."""
    for key, job in day.jobs.items():
        yield from _grounds(day, job, ("jobs", key))
        for name, stage in job.stages.items():
            here: Where = ("jobs", key, "stages", name, "methods")
            found_of = [
                list(hindrances(day, job.grounds[job.ground_of(name)], job.ground_of(name), method, (*here, way)))
                for way, method in stage.methods.items()
            ]
            for way, method in stage.methods.items():
                yield from _waste(day, job.grounds[job.ground_of(name)], method, (*here, way))
            if all(found_of):  # one method that works is enough
                yield from (fault for found in found_of for fault in found)
        yield from _surfaces(job, ("jobs", key))
    yield from _drives(day)


def _grounds(day: Day, job: Job, at: Where) -> Iterator[Fault]:
    longest = max(max(0, end - start) for start, end in (day.hours_of(hand) for hand in day.hands))
    for name, ground in job.grounds.items():
        here = (*at, "grounds", name)
        there_and_back = 2 * ground.way_in.minutes
        if there_and_back > longest > 0:
            wrong = f"ground '{name}' is out of reach: {show_minutes(there_and_back)} there and back"
            right = f"the longest hours of any hand are {show_minutes(longest)}; give the minutes for one way"
            yield Fault((*here, "way_in", "minutes"), None, wrong, right)


def _surfaces(job: Job, at: Where) -> Iterator[Fault]:
    for name, surface in job.surfaces.items():
        for other in surface.worked_from:
            if not job.surfaces[other].stood_on:
                yield Fault(
                    (*at, "surfaces", name, "worked_from"),
                    None,
                    f"'{name}' is worked from '{other}', on which nobody can stand",
                    f"name a surface that is stood on, or take stood_on = false from '{other}'",
                )


def hindrances(day: Day, ground: Ground, name: str, method: Method, at: Where) -> Iterator[Fault]:
    """Why a method cannot be used on its ground, with these hands and this kit."""
    if method.hands > len(day.hands):
        wrong = f"it takes {method.hands} hands, and the day has {len(day.hands)}"
        yield Fault((*at, "hands"), None, wrong, "add a hand, or a method that needs fewer")
    keys = day.kit_closure(method.kit)
    for key in keys:
        yield from _carrying(day, ground, name, key, at)
    yield from _materials(day, ground, name, method, at)
    for supply, wanted in Counter(s for key in keys for s in day.kit[key].supply).items():
        have = ground.supplies.get(supply, 0)
        if wanted > have:
            takers = " and ".join(f"'{key}'" for key in keys if supply in day.kit[key].supply)
            verb = "needs" if wanted == 1 else "need"
            yield Fault(
                (*at, "kit"),
                None,
                f"{takers} {verb} {wanted} x {supply}, and ground '{name}' has {have or 'none'}",
                f"give the ground supplies = {{ {supply} = {wanted} }}, or add a method that does without",
            )


def _carrying(day: Day, ground: Ground, name: str, key: str, at: Where) -> Iterator[Fault]:
    kit = day.kit[key]
    if kit.own == 0:
        yield Fault(
            (*at, "kit"),
            None,
            f"kit '{key}' is not owned (own = 0)",
            "hire it and set own = 1, or take another method",
        )
    if kit.lift > len(day.hands):
        wrong = f"it takes {kit.lift} hands to lift '{key}', and the day has {len(day.hands)}"
        yield Fault(("kit", key, "lift"), None, wrong, "add a hand, or a method that does without it")
    yield from _weighing(day, ground, key)
    limit = ground.way_in.load_limit
    if not ground.way_in.is_open and kit.load > limit * kit.lift + 1e-9:
        bearers = "one hand carries" if kit.lift == 1 else f"{kit.lift} hands carry"
        yield Fault(
            ("kit", key, "load"),
            None,
            f"'{key}' has a load of {kit.load:g}; into '{name}' {bearers} at most {limit * kit.lift:g}",
            f"raise the load_limit of the way in, or carry it with more hands (lift = {kit.lift + 1})",
        )


def _weighing(day: Day, ground: Ground, key: str) -> Iterator[Fault]:
    """Kit that is above what the strongest lift together by the guideline, and that no wheels can take."""
    kit = day.kit[key]
    if kit.mass is None or kit.lift > len(day.hands):
        return
    team = sorted((hand.lifts for hand in day.hands.values()), reverse=True)[: kit.lift]
    may = _TEAM_SHARES[kit.lift] * sum(team)
    goes = 1
    if ground.way_in.is_open:
        goes = max(1, math.ceil(kit.load / (ground.way_in.load_limit * kit.lift) - 1e-9))
    if kit.mass / goes > max(may, _on_wheels(day, ground)) + 0.01:
        bearers = "one hand lifts" if kit.lift == 1 else f"{kit.lift} hands lift"
        yield Fault(
            ("kit", key, "mass"),
            None,
            f"'{key}' weighs {kit.mass:g} kg, and {bearers} at most {may:.1f} kg together by the guideline"
            if kit.lift > 1
            else f"'{key}' weighs {kit.mass:g} kg, and {bearers} at most {may:.1f} kg by the guideline",
            f"{_with_more_hands(kit.mass / goes, team[0])}{_ON_WHEELS}, or say what your hands lift (lifts)",
        )


def _with_more_hands(mass: float, lifts: float) -> str:
    """The fewest hands of such strength that lift so many kg by the guideline; nothing where no team does."""
    enough = next((n for n, share in _TEAM_SHARES.items() if share * n * lifts >= mass), None)
    return f"carry it with more hands (lift = {enough}), " if enough is not None else ""


def _on_wheels(day: Day, ground: Ground) -> float:
    """The most kg that go along a way on a sack truck or a barrow of the day."""
    rolling = [kit.wheels or 0.0 for kit in day.kit.values() if kit.own]
    return max(rolling, default=0.0) if ground.way_in.wheeled else 0.0


def _container(day: Day, ground: Ground, key: str) -> Iterator[Fault]:
    """A container that nobody can carry alone."""
    mass, strongest = day.materials[key].mass, max(hand.lifts for hand in day.hands.values())
    if mass is not None and not ground.way_in.is_open and mass > max(strongest, _on_wheels(day, ground)) + 0.01:
        yield Fault(
            ("materials", key, "mass"),
            None,
            f"one {day.materials[key].container or 'container'} of '{key}' weighs {mass:g} kg, and no hand lifts more "
            f"than {strongest:g} kg",
            f"take a smaller container, {_ON_WHEELS}, or say what your hands lift (lifts)",
        )


def _waste(day: Day, ground: Ground, method: Method, at: Where) -> Iterator[Fault]:
    """What a method leaves: it must weigh something, be carried, and not be what is used up."""
    for key, count in method.leaves.items():
        if not count:
            continue
        if not day.materials[key].mass:
            wrong = f"'{key}' is left by the work, and what a container of it weighs is not given"
            yield Fault(("materials", key, "mass"), None, wrong, 'add that of a full one, for example mass = "14 kg"')
        if method.uses.get(key):
            wrong = f"'{key}' is used up and left by the same method"
            yield Fault((*at, "leaves"), None, wrong, "give what is left a material of its own, for example 'rubble'")
        yield from _container(day, ground, key)


_ON_WHEELS = "bring a sack truck where there are no steps ([kit.sack-truck], and wheeled = true in the way in)"
_TEAM_SHARES = {1: 1.0, 2: 2 / 3, 3: 1 / 2, 4: 3 / 8}
"""The part of the sum of what each lifts alone that so many lift together (HSE INDG143 and L23)."""


def _materials(day: Day, ground: Ground, name: str, method: Method, at: Where) -> Iterator[Fault]:
    limit = ground.way_in.load_limit
    for key, count in method.uses.items():
        yield from _container(day, ground, key) if count else ()
    for key, count in [*method.uses.items(), *((k, math.ceil(n)) for k, n in method.leaves.items())]:
        load = day.materials[key].load
        if count and not ground.way_in.is_open and load > limit + 1e-9:
            yield Fault(
                ("materials", key, "load"),
                None,
                f"one {day.materials[key].container or 'container'} of '{key}' has a load of {load:g}; "
                f"into '{name}' one hand carries at most {limit:g}",
                "take a smaller container, or raise the load_limit of the way in",
            )


def _drives(day: Day) -> Iterator[Fault]:
    """Every drive that the van may have to make must have a length."""
    stops = list(dict.fromkeys(job.place for job in day.jobs.values()))
    pairs = [(day.van.starts_at, stop) for stop in stops] + [(stop, day.van.ends_at) for stop in stops]
    pairs += [(one, other) for one in stops for other in stops]
    missing: dict[frozenset[str], tuple[str, str]] = {}
    for one, other in pairs:
        try:
            day.drive_minutes(one, other)
        except KeyError:
            missing.setdefault(frozenset((one, other)), (one, other))
    for one, other in missing.values():
        trip = f'{{ from = "{one}", to = "{other}", minutes = "20 min" }}'
        yield Fault(
            ("travel", "trips"),
            None,
            f"no driving time from '{one}' to '{other}'",
            f"add the trip {trip} with its minutes, or give both places coordinates (at = [53.1, -2.0])",
        )
