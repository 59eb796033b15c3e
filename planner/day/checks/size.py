"""How large a day may be: far larger than any that a van can do, and small enough that time limits are kept."""

from collections.abc import Iterator

from planner.day.day import Day
from planner.day.faults import Fault

MOST_JOBS = 30
MOST_STAGES = 300
"""A day of so many, more than two people do, is planned: measured 2 to 8 s past the time that was given."""


def size_faults(day: Day) -> Iterator[Fault]:
    """More jobs or stages than one day is planned for."""
    jobs, stages = len(day.jobs), len(day.stages())
    if jobs > MOST_JOBS:
        wrong = f"there are {jobs} jobs, and at most {MOST_JOBS} are planned in one day"
        yield Fault(("jobs",), None, wrong, "put some of them into another day file")
    if stages > MOST_STAGES:
        wrong = f"there are {stages} stages, and at most {MOST_STAGES} are planned in one day"
        yield Fault(("jobs",), None, wrong, "put some of the jobs into another day file")
