"""How dates, times, counts and rows of words are said on paper."""

import datetime as dt
from collections.abc import Iterable

from planner.day import Day
from planner.plan.plan import Chore, Plan, Work
from planner.trade.units import MINUTES_IN_A_DAY, show_clock

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def long_date(date: dt.date) -> str:
    """A date in words: "Tuesday 16 June 2026"."""
    return f"{DAYS[date.weekday()]} {date.day} {MONTHS[date.month - 1]} {date.year}"


def moment(date: dt.date, minute: int) -> str:
    """A minute of a day, with the date when it lies on another: "07:30", "Wed 17 June 12:00"."""
    days, rest = divmod(minute, MINUTES_IN_A_DAY)
    if days == 0:
        return show_clock(rest)
    then = date + dt.timedelta(days=days)
    return f"{DAYS[then.weekday()][:3]} {then.day} {MONTHS[then.month - 1]} {show_clock(rest)}"


def told_in_a_row(notes: Iterable[str]) -> str:
    """Notes one after the other: "Wear: gloves; each from the top", none of them with a full stop inside the row."""
    told = [note for note in notes if note]
    return "; ".join([*(note.removesuffix(".") for note in told[:-1]), *told[-1:]])


def how_full(rest: float) -> str:
    """How full a container goes out: "empty", "full", "three quarters full" as "75 % full"."""
    return "empty" if rest == 0 else "full" if rest == 1 else f"{100 * rest:.0f} % full"


def counted(name: str, count: int) -> str:
    """A name with its count where there is more than one: "2 × tub"."""
    return name if count == 1 else f"{count} × {name}"


def chore_told(day: Day, chore: Chore) -> str:
    """What is done to a piece of kit: "set up", "pack down", "rinse out" of what is only rinsed, or both."""
    kit = None if chore.kit is None else day.kit[chore.kit]
    if kit is None or chore.what != "pack down" or not kit.rinsing:
        return chore.what
    return "rinse out and pack down" if kit.pack_down else "rinse out"


def sections_told(day: Day, plan: Plan, work: Work) -> str:
    """All sections of the stage that a work is one of, with the time of each; nothing where it is not cut."""
    stages = day.jobs[work.job].stages
    part = stages[work.stage].part
    if part is None or ", section " not in stages[work.stage].name:  # the rest of a stage, or more of it, is none
        return ""
    alike = [key for key, other in stages.items() if other.part is not None and other.part.of == part.of]
    found = sorted((w.start, w.end) for key in alike if (w := plan.work(work.job, key)) is not None)
    times = ", ".join(f"{show_clock(start)} to {show_clock(end)}" for start, end in found)
    return f"In {part.count} sections: {times}"
