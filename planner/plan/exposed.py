"""Which tools shake and deafen which hand, and for how long."""

from planner.day import Day
from planner.plan.plan import Plan

Uses = list[tuple[float, float]]
"""Pairs of a magnitude (m/s2 or dB(A)) and minutes with the trigger held."""


def vibration_uses(day: Day, plan: Plan, hand: str) -> Uses:
    """The shaking kit of the stages that a hand works on.

    Where two work together, each is counted as if they held the tool all the time: on the safe side.
    """
    return [(magnitude, minutes) for kit, minutes in _kit_run(day, plan, hand) if (magnitude := day.kit[kit].vibration)]


def noise_uses(day: Day, plan: Plan, hand: str) -> Uses:
    """The loud kit that a hand works beside; what other stages make on the same ground is left out."""
    return [(level, minutes) for kit, minutes in _kit_run(day, plan, hand) if (level := day.kit[kit].noise)]


def _kit_run(day: Day, plan: Plan, hand: str) -> list[tuple[str, float]]:
    """Kit, and minutes with its trigger held, for each kit of each stage that a hand works on."""
    runs = []
    for work in plan.works:
        if hand in work.hands:
            method = day.jobs[work.job].stages[work.stage].methods[work.method]
            minutes = (work.end - work.start) * method.trigger
            runs += [(kit, minutes) for kit in day.kit_closure(method.kit)]
    return runs
