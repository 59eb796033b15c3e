"""Waits that no number of sections can keep: what every patch may wait is less than the work takes."""

from collections.abc import Iterator

from planner.day.day import Day
from planner.day.faults import Fault
from planner.day.sections import least_sections, minutes_at_hand, sections_of
from planner.day.waiting import MOST_SECTIONS, Wait
from planner.trade.units import show_minutes


def section_faults(day: Day) -> Iterator[Fault]:
    """Every wait whose bounds hold for no patch-by-patch work in as many sections as are allowed."""
    for key, job in day.jobs.items():
        for i, wait in enumerate(job.waits):
            if wait.before is not None and sections_of(day, key, wait) is None:
                wrong, right = _told(day, key, wait)
                yield Fault(("jobs", key, "waits", i, "most"), None, wrong, right, is_too_much=True)


def _told(day: Day, key: str, wait: Wait) -> tuple[str, str]:
    """What is wrong, with the minutes of the two stages that come nearest, and what would be right."""
    assert wait.before is not None
    pairs = [(a, b) for a in minutes_at_hand(day, key, wait.after) for b in minutes_at_hand(day, key, wait.before)]
    found = [(least_sections(a, b, wait.least, wait.most, wait.order), a, b) for a, b in pairs]
    needed, first, second = min(found, key=lambda one: (one[0] or MOST_SECTIONS + 1, one[1] + one[2]))
    most = 0 if wait.most is None else wait.most
    wrong = (
        f"'{wait.after}' takes {show_minutes(first)} and '{wait.before}' {show_minutes(second)}, and each patch may"
        f" wait {show_minutes(wait.least)} to {show_minutes(most)}, gone over in order '{wait.order}'"
    )
    limit = 1 if day.jobs[key].stages[wait.after].part else wait.sections
    enough = _enough(first, second, wait, limit)
    more = f"give a most of {show_minutes(enough)} or more"
    if needed is None:
        return f"{wrong}: no section is small enough for that", f"{more}{', or a shorter least' if wait.least else ''}"
    wrong = f"{wrong}: that takes {needed} sections, and {limit} {'is' if limit == 1 else 'are'} allowed"
    if needed <= MOST_SECTIONS and not day.jobs[key].stages[wait.after].part:
        more = f"write sections = {needed} in this wait, take a quicker method, or {more}"
    return wrong, more


def _enough(first: int, second: int, wait: Wait, count: int) -> int:
    """The smallest most that so many sections hold; see `least_sections`."""
    if wait.order == "same":
        return max(-(-max(first, second) // count), wait.least - (-abs(first - second) // count))
    return wait.least - (-(first + second) // count)
