"""The cautions that apply to a day: those that the planned stages, their kit and the jobs call for, and exposure."""

from collections.abc import Iterable
from dataclasses import dataclass

from planner.day import Day
from planner.day.names import Names, plain
from planner.plan.called_for import Cause, called_for
from planner.plan.exposed import (
    Lifted,
    dusty_work,
    heaviest_lift,
    noise_exposed,
    noise_heard,
    resting,
    time_out,
    vibration_exposed,
)
from planner.plan.plan import Plan
from planner.trade.breaks import break_minutes
from planner.trade.cautions import cautions_for, without_caution
from planner.trade.exposure import Band, Exposure
from planner.trade.lifting import guideline
from planner.trade.limits import limits
from planner.trade.units import show_minutes


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
    """What calls for each tag: stages, kit, material, jobs, hands and the weather, by name."""
    names = Names(day)
    return {
        tag: _few(list(dict.fromkeys(_cause_words(names, cause) for cause in causes)))
        for tag, causes in called_for(day, plan).items()
    }


def _cause_words(names: Names, cause: Cause) -> str:
    match cause.kind:
        case "stage":
            return names.stage(cause.job, cause.key)
        case "job":
            return names.job(cause.job)
        case "kit":
            return names.kit(cause.key)
        case "material":
            return names.material(cause.key)
        case "hand":
            return names.hand(cause.key)
        case "weather":
            return f"{cause.key} forecast"
        case "dark":
            return f"{names.job(cause.job)} before dawn or after dusk"
        case "alone":
            return "one hand all day"
        case "every day":
            return "every day"


def _few(words: list[str]) -> str:
    """Both of two, or the first and how many more there are."""
    return ", ".join(words) if len(words) < 3 else f"{words[0]} and {len(words) - 1} more"


def exposure_words(day: Day, plan: Plan, hand: str) -> str:
    """What a hand takes over the day, in words: hours and break, vibration, noise, dust, and the heaviest lift.

    All of it goes by the figures that the day gives for its kit and material.
    """
    told = [_hours_words(day, plan, hand)]
    if vibration := vibration_exposed(day, plan, hand):
        told.append(f"vibration {vibration.value:.1f} m/s² A(8), {vibration.points:.0f} points, {vibration.standing}")
    if noise := noise_exposed(day, plan, hand):
        told.append(noise_words(day, plan, hand, noise))
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


def noise_words(day: Day, plan: Plan, hand: str, noise: Exposure) -> str:
    """A hand's noise in words: what reaches the ear and under which defenders comes before any limit is named.

    Parameters
    ----------
    day, plan, hand
        The hand, in a plan of that day.
    noise
        What that hand hears over the day, as `planner.plan.exposed.noise_exposed` gives it.
    """
    heard = noise_heard(day, plan, hand)
    worn = [one for one in heard if one.takes_off]
    if noise.at_ear is None:
        advice = "" if noise.standing is Band.BELOW else ": wear hearing protection"
        return f"noise {noise.value:.0f} dB(A) unprotected, {noise.points:.0f} points, {noise.standing}{advice}"
    ratings = {limits().defenders_for(one.level) for one in worn}
    snr, off = (_from_to(getattr(one, word) for one in ratings) for word in ("snr", "takes_off"))
    return (
        f"noise {max(0.0, noise.at_ear):.0f} dB(A) at the ear under defenders of SNR {snr} (as worn they take off "
        f"{off} dB), {noise.value:.0f} without, {noise.points:.0f} points, {noise.standing}"
    )


def _from_to(values: Iterable[float]) -> str:
    """One value, or the least and the greatest: "20 to 30"."""
    listed = sorted(values)
    return f"{listed[0]:.0f}" if listed[0] == listed[-1] else f"{listed[0]:.0f} to {listed[-1]:.0f}"
