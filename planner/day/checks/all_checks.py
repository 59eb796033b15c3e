"""What a day says that cannot be so, though every value in it is of the right kind."""

from planner.day.checks.circles import order_faults
from planner.day.checks.contradictions import time_faults
from planner.day.checks.dangling import unknown_names
from planner.day.checks.parting import section_faults
from planner.day.checks.reach import reach_faults
from planner.day.checks.size import size_faults
from planner.day.checks.slips import slips
from planner.day.day import Day
from planner.day.faults import Fault


def faults_in(day: Day) -> list[Fault]:
    """Every fault of a day that lies between its parts, in no order of importance and still without lines.

    A day that is too large is not looked at any further. Then come names: while some name stands for nothing, the other
    questions have no good answer and are not asked.
    """
    found: list[Fault] = list(size_faults(day))
    found = found or [*unknown_names(day), *slips(day)] or [*order_faults(day), *reach_faults(day), *time_faults(day)]
    found = found or list(section_faults(day))  # they ask how long work takes
    return list(dict.fromkeys(found))  # kit that is too heavy is too heavy for every stage that uses it
