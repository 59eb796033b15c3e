"""What a plan holds beside the work: arriving, leaving, and which of its rests are meals."""

from collections.abc import Iterator
from typing import Literal

from planner.day import Day
from planner.plan.plan import Plan, Rest, Visit

Coming = tuple[Literal["arrive", "leave"], int, int]
"""What it is, and from and to which minute."""


def coming_and_going(day: Day, plan: Plan, visit: Visit) -> Iterator[Coming]:
    """The times of arriving and leaving that fall in a visit: of a job's first visit, and of its last."""
    job = day.jobs[visit.job]
    last = max(other.number for other in plan.visits if other.job == visit.job)
    if visit.number == 1 and job.arriving:
        yield "arrive", visit.arrive, visit.arrive + job.arriving
    if visit.number == last and job.leaving:
        yield "leave", visit.depart - job.leaving, visit.depart


def is_meal(day: Day, rest: Rest) -> bool:
    """Whether a rest is the meal of a long day: as long as that, and begun at its hour."""
    meal = day.meal
    return meal is not None and rest.end - rest.start >= meal.length and meal.earliest <= rest.start <= meal.latest
