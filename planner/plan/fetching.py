"""Kit that was forgotten is fetched: one hand drives the van to where it starts its day, and back."""

from dataclasses import replace

from planner.day import Day
from planner.plan.plan import Fetch, Plan
from planner.plan.progress import Progress, ProgressError, Sent
from planner.trade.units import show_clock

LOADING = 5
"""Minutes to find what was forgotten and put it into the van: common practice, no source."""


def with_fetch(day: Day, plan: Plan, progress: Progress, kit: str, hand: str, leaves: int | None = None) -> Progress:
    """The record with a hand who drives for kit that was forgotten, and back; told again, the later word holds.

    Hand and kit are there again after the drive there, some minutes to find it, and the drive back. Who goes by their
    own transport leaves the van where it is.

    Parameters
    ----------
    day, plan
        The day, and the plan that says where they are.
    progress
        What was told so far.
    kit, hand
        Their keys.
    leaves
        The minute at which they leave; now where it is not said.

    Raises
    ------
    ProgressError
        When the van does not stand at a job then, or it is still to come.
    """
    at = progress.at if leaves is None else leaves
    job = _standing_at(day, plan, progress, at)
    if at > progress.at:
        raise ProgressError(f"'{kit}' cannot have been fetched from {show_clock(at)} on, which is still to come")
    place, yard = day.jobs[job].place, day.van.starts_at
    back = at + day.drive_minutes(place, yard) + LOADING + day.drive_minutes(yard, place)
    others = tuple(x for x in progress.fetches if x.kit != kit)
    earlier = {x.hand: x.back for x in progress.fetches if x.kit == kit}
    away = {h: minute for h, minute in progress.back.items() if earlier.get(h) != minute} | {hand: back}
    if not day.hands[hand].own_transport:
        others += (Sent(hand, kit, job, at, back),)
    return replace(progress, lacking=progress.lacking | {kit: back}, back=away, fetches=others)


def fetch_of(day: Day, sent: Sent) -> Fetch:
    """The drive of a hand who was sent for something, as a plan has it."""
    place, yard = day.jobs[sent.job].place, day.van.starts_at
    there, away = sent.leaves + day.drive_minutes(place, yard), sent.back - day.drive_minutes(yard, place)
    return Fetch(sent.hand, sent.kit, sent.job, yard, sent.leaves, there, away, sent.back)


def _standing_at(day: Day, plan: Plan, progress: Progress, minute: int) -> str:
    """The job at which the van stands: the one planned then, or where something was noted last."""
    told = [job for job, when in progress.arrived.items() if when <= minute]
    told += [n.job for n in progress.noted if (n.start or n.end or minute) <= minute]
    planned = [visit.job for visit in plan.visits if visit.arrive <= minute]
    known = [job for job in (*told, *planned) if job in day.jobs]
    if not known:
        raise ProgressError(f"the van does not stand at a job at {show_clock(minute)}; what is forgotten can be loaded")
    visited = [visit.job for visit in sorted(plan.visits, key=lambda v: v.arrive) if visit.job in known]
    return visited[-1] if visited else known[-1]
