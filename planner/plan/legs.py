"""The two legs of a crossing: when a hand walks in, and when out again."""

from planner.day import Day
from planner.plan.plan import Crossing


def legs(day: Day, crossing: Crossing) -> tuple[tuple[int, int], tuple[int, int]]:
    """From and to of the in-leg and of the out-leg, in minutes of the day."""
    walk = day.jobs[crossing.job].grounds[crossing.ground].way_in.minutes
    return (crossing.start, crossing.start + walk), (crossing.end - walk, crossing.end)
