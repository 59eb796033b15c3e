"""The two legs of a crossing: when a hand walks in, and when out again; and the stays that begin or end with them."""

from planner.day import Day
from planner.plan.plan import Crossing, Plan, Stay


def legs(day: Day, crossing: Crossing) -> tuple[tuple[int, int], tuple[int, int]]:
    """From and to of the in-leg and of the out-leg, in minutes of the day."""
    walk = day.jobs[crossing.job].grounds[crossing.ground].way_in.minutes
    return (crossing.start, crossing.start + walk), (crossing.end - walk, crossing.end)


def stays_moved(day: Day, plan: Plan, crossing: Crossing, *, inward: bool) -> list[Stay]:
    """The stays that begin with a crossing's walk in, or end with its walk out."""
    (_, there), (leaves, _) = legs(day, crossing)
    kit = {x.what for x in (crossing.carried_in if inward else crossing.carried_out) if not x.is_material}
    here = [s for s in plan.stays if (s.job, s.ground) == (crossing.job, crossing.ground) and s.kit in kit]
    return [s for s in here if (s.carried_in == there if inward else s.carried_out == leaves)]
