"""What each hand is exposed to over the day: shaking and loud kit, dust, heavy lifts, long hours."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from planner.day import Day
from planner.day.names import called
from planner.plan.plan import Carried, Plan, Work
from planner.trade.exposure import Exposure, noise_exposure, vibration_exposure
from planner.trade.lifting import LiftStanding, lift_standing, of_guideline
from planner.trade.limits import LiftingLimits, limits

Uses = list[tuple[float, float]]
"""Pairs of a magnitude (m/s2 or dB(A)) and minutes with the trigger held."""

DUST = "dust"
"""What a stage makes, or the tag of its kit, where the air needs a mask."""

HEARING_PROTECTION = "ear defenders"
"""What is worn, as the day writes it, where it takes noise off."""


@dataclass(frozen=True, slots=True)
class Lifted:
    """What is borne in one go: ``mass`` in kg of it all, ``team`` hands who bear it, and what it is by name.

    Kit and material of which the day does not say the mass is left out.
    """

    mass: float
    team: int
    what: tuple[str, ...]

    def standing(self, limits: LiftingLimits) -> LiftStanding:
        """How it stands against the guideline."""
        return lift_standing(self.mass, self.team, limits)


@dataclass(frozen=True, slots=True)
class Heard:
    """The noise of one stage at a hand: its level in dB(A), minutes, and what the worn protection takes off in dB."""

    level: float
    minutes: float
    takes_off: float


def working_hands(day: Day, plan: Plan) -> list[str]:
    """The hands who work in the plan, in the order of the file."""
    return [hand for hand in day.hands if any(hand in work.hands for work in plan.works)]


def vibration_uses(day: Day, plan: Plan, hand: str) -> Uses:
    """The shaking kit of each stage that a hand works on: of several the worst, as only one is held at a time.

    Where two work together, each is counted as if they held the tool all the time: on the safe side.
    """
    return [(max(found), minutes) for _, found, minutes in _kit_run(day, plan, hand, "vibration")]


def noise_heard(day: Day, plan: Plan, hand: str) -> list[Heard]:
    """The loud kit of each stage that a hand works on, all of it running at once: levels add up by their energy.

    What other stages make on the same ground is left out. Where the stage or its kit asks for ear defenders, those
    that suit its level are taken to be worn.
    """
    country, heard = limits(), []
    for work, found, minutes in _kit_run(day, plan, hand, "noise"):
        level = 10 * math.log10(sum(10 ** (one / 10) for one in found))
        worn = any(HEARING_PROTECTION in name.lower() for name in worn_for(day, work))
        heard.append(Heard(level, minutes, country.defenders_for(level).takes_off if worn else 0.0))
    return heard


def vibration_exposed(day: Day, plan: Plan, hand: str) -> Exposure | None:
    """A hand's vibration over the day; None where nothing shakes."""
    uses = vibration_uses(day, plan, hand)
    return vibration_exposure(uses, limits().vibration) if uses else None


def noise_exposed(day: Day, plan: Plan, hand: str) -> Exposure | None:
    """A hand's noise over the day, without and with what is worn; None where nothing is loud."""
    heard = noise_heard(day, plan, hand)
    if not heard:
        return None
    at_ear = [(one.level - one.takes_off, one.minutes) for one in heard]
    worn = at_ear if any(one.takes_off for one in heard) else None
    return noise_exposure([(one.level, one.minutes) for one in heard], limits().noise, at_ear=worn)


def worn_for(day: Day, work: Work) -> tuple[str, ...]:
    """What must be worn for a planned stage: by the stage itself, and by the kit that it is done with."""
    stage = day.jobs[work.job].stages[work.stage]
    kit = day.kit_closure(stage.methods[work.method].kit)
    return tuple(dict.fromkeys([*stage.wear, *(name for key in kit for name in day.kit[key].wear)]))


def _kit_run(
    day: Day, plan: Plan, hand: str, what: Literal["vibration", "noise"]
) -> Iterator[tuple[Work, list[float], float]]:
    """For each stage that a hand works on with such kit, its magnitudes and the minutes with the trigger held."""
    for work in plan.works:
        if hand in work.hands:
            method = day.jobs[work.job].stages[work.stage].methods[work.method]
            found = [value for key in day.kit_closure(method.kit) if (value := getattr(day.kit[key], what))]
            if found:
                yield work, found, (work.end - work.start) * method.trigger


def dusty_work(day: Day, plan: Plan, hand: str) -> list[tuple[str, str, int]]:
    """The stages of a hand that make dust, as job, stage and minutes: they need respiratory protection."""
    found = []
    for work in sorted(plan.works, key=lambda w: w.start):
        stage = day.jobs[work.job].stages[work.stage]
        kit = day.kit_closure(stage.methods[work.method].kit)
        if hand in work.hands and (DUST in (stage.makes or ()) or any(DUST in day.kit[key].tags for key in kit)):
            found.append((work.job, work.stage, work.end - work.start))
    return found


def heaviest_lift(day: Day, plan: Plan, hand: str, limits: LiftingLimits) -> Lifted | None:
    """What a hand bears that comes nearest to the guideline, or goes furthest beyond it.

    Returns
    -------
    Lifted or None
        With its mass in kg; None where the day gives no masses.
    """
    lifted = list(_lifts(day, plan, hand))
    return max(lifted, key=lambda one: of_guideline(one.mass, one.team, "man", limits), default=None)


def _lifts(day: Day, plan: Plan, hand: str) -> Iterator[Lifted]:
    """Each leg of each crossing, and on open ways each piece of kit set up and each container used."""
    for crossing in plan.crossings:
        if crossing.hand == hand and crossing.wheels is None:
            for leg in (crossing.carried_in, crossing.carried_out):
                yield from _leg(day, leg)
    for chore in plan.chores:
        kit = day.kit[chore.kit] if chore.kit else None
        if hand in chore.hands and kit and kit.mass and day.jobs[chore.job].grounds[chore.ground].way_in.is_open:
            yield Lifted(kit.mass, kit.lift, (called(kit, str(chore.kit)),))
    for work in plan.works:
        job = day.jobs[work.job]
        if hand in work.hands and job.grounds[job.ground_of(work.stage)].way_in.is_open:
            for key in job.stages[work.stage].methods[work.method].uses:
                if mass := day.materials[key].mass:
                    yield Lifted(mass, 1, (called(day.materials[key], key),))


def _leg(day: Day, leg: Iterable[Carried]) -> Iterator[Lifted]:
    """One hand's load on a leg; where some of it is borne together, all of it as if the team bore it."""
    known = [(one, (day.materials if one.is_material else day.kit)[one.what]) for one in leg]
    known = [(one, thing) for one, thing in known if thing.mass]
    if known:
        team = round(1 / min(one.share for one, _ in known))
        own = sum(_mass(day, one) * one.count * one.share for one, thing in known)
        yield Lifted(own * team, team, tuple(called(thing, one.what) for one, thing in known))


def _mass(day: Day, carried: Carried) -> float:
    """Of one, in kg; of material that goes out, with what is left in it."""
    if carried.is_material:
        return day.materials[carried.what].mass_with(1.0 if carried.rest is None else carried.rest)
    return day.kit[carried.what].mass or 0.0


def time_out(day: Day, plan: Plan, hand: str) -> tuple[int, int] | None:
    """From when to when a hand is out, as minutes of the day; None for one who stays at home."""
    if day.hands[hand].own_transport:
        spans = [(a.arrive, a.leave) for a in plan.attendances if a.hand == hand]
    else:
        spans = [(plan.leaves, plan.home)] if plan.drives else []
    return (min(start for start, _ in spans), max(end for _, end in spans)) if spans else None


def resting(plan: Plan, hand: str) -> int:
    """Minutes of a hand's breaks."""
    return sum(rest.end - rest.start for rest in plan.rests if rest.hand == hand)
