"""Which cautions a plan calls for, and by what: its stages, kit, material, jobs and hands, the weather, the dark."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from planner.day import Day
from planner.plan.exposed import DUST, dusty_work, heaviest_lift, noise_exposed, vibration_exposed, working_hands
from planner.plan.plan import Plan
from planner.trade.cautions import all_cautions
from planner.trade.daylight import daylight
from planner.trade.exposure import Band
from planner.trade.lifting import LiftStanding
from planner.trade.limits import limits
from planner.trade.weather import RainTold

LONE_WORK, LADDER, LONE_LADDER, LADDER_LEFT = "lone-work", "ladder", "lone-ladder", "ladder-left"
VIBRATION, NOISE, LIFTING, DARK = "vibration", "noise", "lifting", "dark"

LEFT_FOR = 10
"""Minutes for which a ladder that is up may be without anybody at it before that is told: what it takes to fetch
something. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that calls for a caution, and the minute from which it is there.

    Attributes
    ----------
    kind
        What it is; "every day", "alone", "dark" and "weather" have no key.
    job, key
        Its job, where it has one, and its key; for the weather, what the air is in words.
    """

    kind: Literal["job", "stage", "kit", "material", "hand", "alone", "weather", "dark", "every day"]
    job: str
    key: str
    at: int


def called_for(day: Day, plan: Plan) -> dict[str, list[Cause]]:
    """For each tag that a plan calls for, its causes, those that come first in the day first."""
    found: dict[str, dict[tuple[str, str, str], Cause]] = {}
    called = [(tag, cause) for tell in _TELLING for tag, cause in tell(day, plan)]
    if len(day.hands) == 1 and any(tag == LADDER for tag, _ in called):
        called.append((LONE_LADDER, Cause("alone", "", "", plan.leaves)))
    for tag, cause in called:
        found.setdefault(tag, {}).setdefault((cause.kind, cause.job, cause.key), cause)
    return {tag: list(causes.values()) for tag, causes in found.items()}


def _by_jobs(day: Day, plan: Plan) -> Iterator[tuple[str, Cause]]:
    for visit in plan.visits:
        for tag in day.jobs[visit.job].hazards:
            yield tag, Cause("job", visit.job, visit.job, visit.arrive)


def _by_works(day: Day, plan: Plan) -> Iterator[tuple[str, Cause]]:
    for work in sorted(plan.works, key=lambda w: w.start):
        stage = day.jobs[work.job].stages[work.stage]
        method = stage.methods[work.method]
        for tag in stage.tags:
            yield tag, Cause("stage", work.job, work.stage, work.start)
        for key in day.kit_closure(method.kit):
            for tag in day.kit[key].tags:
                yield tag, Cause("kit", "", key, work.start)
        for key in method.uses:
            for tag in day.materials[key].tags:
                yield tag, Cause("material", "", key, work.start)


def _by_ladders(day: Day, plan: Plan) -> Iterator[tuple[str, Cause]]:
    """Ladders that stand up for a while though nobody works from them."""
    for stay in plan.stays:
        if LADDER not in day.kit[stay.kit].tags:
            continue
        own = [c for c in plan.chores if (c.job, c.ground, c.kit, c.stay) == stay.key]
        works = [w for w in plan.works if w.job == stay.job and day.jobs[w.job].ground_of(w.stage) == stay.ground]
        used = sorted((w.start, w.end) for w in works if (stay.kit, stay.number) in w.stays)
        up = max((c.end for c in own if c.what == "set up"), default=stay.carried_in)
        down = min((c.start for c in own if c.what == "pack down"), default=stay.carried_out)
        for since, until in pairwise([up, *(minute for span in used for minute in span), down]):
            if until - since > LEFT_FOR and (since, until) not in used:
                yield LADDER_LEFT, Cause("kit", "", stay.kit, since)


def _by_hands(day: Day, plan: Plan) -> Iterator[tuple[str, Cause]]:
    country = limits()
    for hand in working_hands(day, plan):
        told = Cause("hand", "", hand, plan.leaves)
        for tag, exposure in ((VIBRATION, vibration_exposed(day, plan, hand)), (NOISE, noise_exposed(day, plan, hand))):
            if exposure and exposure.standing is not Band.BELOW:
                yield tag, told
        for job, dusty, _ in dusty_work(day, plan, hand):
            yield DUST, Cause("stage", job, dusty, plan.leaves)
        lifted = heaviest_lift(day, plan, hand, country.lifting)
        if lifted and lifted.standing(country.lifting) is not LiftStanding.WITHIN:
            yield LIFTING, told
    if len(day.hands) == 1 and plan.works:
        yield LONE_WORK, Cause("alone", "", "", plan.leaves)


def _by_day(day: Day, plan: Plan) -> Iterator[tuple[str, Cause]]:
    """What the date and its weather call for: always, by the air, or because somebody is out there in the dark."""
    if not plan.works:
        return
    for caution in all_cautions():
        if caution.always:
            yield caution.tag, Cause("every day", "", "", plan.leaves)
        # a night of frost comes after the work: whatever is known from the start of the day on counts
        for hour in day.weather:
            is_known = not isinstance(hour, RainTold)
            if is_known and hour.minute + 60 > plan.leaves and caution.is_called_for_by_air(hour.air):
                yield caution.tag, Cause("weather", "", f"{hour.air:g} C", hour.minute)
                break
    for visit in plan.visits:
        light = _light(day, visit.job)
        if light and not (light[0] <= visit.arrive and visit.depart <= light[1]):
            yield DARK, Cause("dark", visit.job, "", min(visit.arrive, light[1]))


def _light(day: Day, job: str) -> tuple[int, int] | None:
    """Civil dawn and dusk at a job; None where it is not known how far north it lies."""
    at = day.places[day.jobs[job].place].at or day.places[day.van.starts_at].at
    if at is None:
        return None
    found = daylight(*at, day.date, day.time_zone)
    return found.dawn, found.dusk


_TELLING = (_by_jobs, _by_works, _by_ladders, _by_hands, _by_day)
"""Each tells tags, with what calls for them."""
