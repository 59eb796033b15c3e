"""How large a day may be: far larger than any that a van can do, and small enough that time limits are kept."""

from collections.abc import Iterator

from planner.day.day import Day
from planner.day.faults import Fault

MOST_JOBS = 20
MOST_STAGES = 150
"""A day of so many, more than a van full of people does, is planned within two seconds past the time that was given."""


def size_faults(day: Day) -> Iterator[Fault]:
    """More jobs or stages than one day is planned for; what is done only if it is needed does not count."""
    stages = sum(not stage.only_if_needed for _, _, stage in day.stages())
    for what, count, most in (("jobs", len(day.jobs), MOST_JOBS), ("stages", stages, MOST_STAGES)):
        if count > most:
            wrong = f"there are {count} {what}, and at most {most} are planned in one day"
            yield Fault(("jobs",), None, wrong, "put some of the jobs into another day file")
