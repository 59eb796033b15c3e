"""The cautions that apply to a day: those that the planned stages, their kit and the jobs call for, and exposure."""

from dataclasses import dataclass

from planner.day import Day
from planner.day.names import Names, plain
from planner.plan.exposed import (
    DUST,
    Lifted,
    dusty_work,
    heaviest_lift,
    noise_uses,
    resting,
    time_out,
    vibration_uses,
)
from planner.plan.plan import Plan
from planner.trade.breaks import break_minutes
from planner.trade.cautions import cautions_for, without_caution
from planner.trade.exposure import Band, Exposure, noise_exposure, vibration_exposure
from planner.trade.lifting import LiftStanding, guideline
from planner.trade.limits import limits
from planner.trade.units import show_minutes

LONE_WORK, VIBRATION, NOISE, LIFTING = "lone-work", "vibration", "noise", "lifting"


@dataclass(frozen=True, slots=True)
class CautionNote:
    """A caution, and what in the day calls for it."""

    title: str
    text: str
    about: str


def cautions_today(day: Day, plan: Plan) -> tuple[CautionNote, ...]:
    """The cautions for a plan's stages, kit and jobs, the gravest first.

    A tag that no caution knows is told too, so that a slip of the pen in a file never loses one.
    """
    causes = _causes(day, plan)
    known = [CautionNote(caution.title, caution.text, causes[caution.tag]) for caution in cautions_for(causes)]
    unknown = [
        CautionNote(tag, "No caution of this name is known: ask before you start.", causes[tag])
        for tag in without_caution(causes)
    ]
    return (*known, *unknown)


def _causes(day: Day, plan: Plan) -> dict[str, str]:
    """What calls for each tag: stages, kit, jobs and hands by name."""
    names, causes = Names(day), dict[str, dict[str, None]]()
    for visit in plan.visits:
        for tag in day.jobs[visit.job].hazards:
            causes.setdefault(tag, {})[names.job(visit.job)] = None
    for work in sorted(plan.works, key=lambda w: w.start):
        stage = day.jobs[work.job].stages[work.stage]
        for tag in stage.tags:
            causes.setdefault(tag, {})[names.stage(work.job, work.stage)] = None
        for key in day.kit_closure(stage.methods[work.method].kit):
            for tag in day.kit[key].tags:
                causes.setdefault(tag, {})[names.kit(key)] = None
    for hand in exposed_hands(day, plan):
        for tag, exposure in _exposures(day, plan, hand).items():
            if exposure.standing is not Band.BELOW:
                causes.setdefault(tag, {})[names.hand(hand)] = None
        for job, dusty, _ in dusty_work(day, plan, hand):
            causes.setdefault(DUST, {})[names.stage(job, dusty)] = None
        lifted = heaviest_lift(day, plan, hand, limits().lifting)
        if lifted and lifted.standing(limits().lifting) is not LiftStanding.WITHIN:
            causes.setdefault(LIFTING, {})[names.hand(hand)] = None
    if len(day.hands) == 1 and plan.works:
        causes.setdefault(LONE_WORK, {})["one hand all day"] = None
    return {tag: _few(list(about)) for tag, about in causes.items()}


def _few(words: list[str]) -> str:
    """Both of two, or the first and how many more there are."""
    return ", ".join(words) if len(words) < 3 else f"{words[0]} and {len(words) - 1} more"


def exposed_hands(day: Day, plan: Plan) -> list[str]:
    """The hands who work in the plan, in the order of the file."""
    return [hand for hand in day.hands if any(hand in work.hands for work in plan.works)]


def exposure_words(day: Day, plan: Plan, hand: str) -> str:
    """What a hand takes over the day, in words: hours and break, vibration, noise, dust, and the heaviest lift.

    All of it goes by the figures that the day gives for its kit and material.
    """
    told = [_hours_words(day, plan, hand)]
    for tag, exposure in _exposures(day, plan, hand).items():
        value = f"{exposure.value:.1f} m/s² A(8)" if tag == VIBRATION else f"{exposure.value:.0f} dB(A) unprotected"
        worn = ": wear hearing protection" if tag == NOISE and exposure.standing is not Band.BELOW else ""
        told.append(f"{tag} {value}, {exposure.points:.0f} points, {exposure.standing}{worn}")
    if dusty := dusty_work(day, plan, hand):
        minutes = show_minutes(sum(spent for _, _, spent in dusty))
        told.append(f"dust for {minutes}, which needs respiratory protection")
    if lifted := heaviest_lift(day, plan, hand, limits().lifting):
        told.append(_lift_words(lifted))
    return f"{Names(day).hand(hand)}: {'; '.join(told)}"


def _hours_words(day: Day, plan: Plan, hand: str) -> str:
    start, end = time_out(day, plan, hand) or (plan.leaves, plan.home)
    rest, least = resting(plan, hand), break_minutes(end - start, limits().breaks)
    short = f", and the law asks for {least:.0f} min" if rest < least else ""
    return f"out {show_minutes(end - start)}, " + (f"break {show_minutes(rest)}" if rest else "no break") + short


def _lift_words(lifted: Lifted) -> str:
    country, team = limits().lifting, lifted.team
    of = ", ".join(plain(name) for name in lifted.what)
    together = "" if team == 1 else f", {team} together"
    two = (f"{guideline([person] * min(team, 3), country):.0f} kg" for person in ("man", "woman"))
    return f"heaviest in one go {lifted.mass:.0f} kg ({of}{together}), {lifted.standing(country)}, {' and '.join(two)}"


def _exposures(day: Day, plan: Plan, hand: str) -> dict[str, Exposure]:
    """Vibration and noise of a hand by the tags of their cautions, each only where there is some."""
    shaken, heard, country = vibration_uses(day, plan, hand), noise_uses(day, plan, hand), limits()
    found = {}
    if shaken:
        found[VIBRATION] = vibration_exposure(shaken, country.vibration)
    if heard:
        found[NOISE] = noise_exposure(heard, country.noise)
    return found
