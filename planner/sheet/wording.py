"""How a day's parts and times are called on paper, and how any text from a file is made harmless to print.

Names from a file may hold any sign. Control signs and those that turn the reading direction round are left out here,
so that one name cannot disturb the words beside it; markup is escaped where each document is written.
"""

import datetime as dt
from dataclasses import dataclass
from functools import lru_cache

from planner.day import Day
from planner.sheet.signs import is_an_order
from planner.trade.units import MINUTES_IN_A_DAY, show_clock

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


@lru_cache(4096)
def plain(text: str) -> str:
    """The text in one line, without control signs and without signs that turn the reading direction."""
    kept = "".join(" " if sign.isspace() else sign for sign in text if sign.isspace() or not is_an_order(sign))
    return " ".join(kept.split())


def sentence(text: str) -> str:
    """The text with its first letter made a capital."""
    return text[:1].upper() + text[1:]


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


def listed(words: list[str]) -> str:
    """Words in a row: "a, b and c"."""
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


def counted(name: str, count: int) -> str:
    """A name with its count where there is more than one: "2 × tub"."""
    return name if count == 1 else f"{count} × {name}"


@dataclass(frozen=True, slots=True)
class Names:
    """What the parts of a day are called for people: their name, or else their key."""

    day: Day

    def hand(self, key: str) -> str:
        """A hand's name."""
        return plain(self.day.hands[key].name) or key

    def place(self, key: str) -> str:
        """A place's name."""
        return plain(self.day.places[key].name) or key

    def kit(self, key: str) -> str:
        """A piece of kit's name."""
        return plain(self.day.kit[key].name) or key

    def material(self, key: str) -> str:
        """A material's name with its container: "Joint filler (tub)"."""
        material = self.day.materials[key]
        return f"{plain(material.name) or key} ({plain(material.container) or 'container'})"

    def job(self, key: str) -> str:
        """A job's title."""
        return plain(self.day.jobs[key].title) or key

    def customer(self, key: str) -> str:
        """The customer's name, or else the job's."""
        return plain(self.day.jobs[key].customer.name) or self.job(key)

    def ground(self, job: str, key: str) -> str:
        """A ground's name."""
        return plain(self.day.jobs[job].grounds[key].name) or key

    def surface(self, job: str, key: str) -> str:
        """A surface's name."""
        return plain(self.day.jobs[job].surfaces[key].name) or key

    def stage(self, job: str, key: str) -> str:
        """A stage's name, or else what is done to which surface: "Grind: Patio".

        Stages of a job that are named the same get their surface too, and where even that is the same (two layers of
        filling) a number in the order of the file.
        """
        stages = self.day.jobs[job].stages
        own, surface = self._plain_stage(job, key), stages[key].surface
        alike = [other for other in stages if self._plain_stage(job, other) == own]
        words = own if stages[key].name and len(alike) == 1 else f"{own}: {self.surface(job, surface)}"
        same = [other for other in alike if stages[other].surface == surface]
        return words if len(same) == 1 else f"{words} ({same.index(key) + 1} of {len(same)})"

    def _plain_stage(self, job: str, key: str) -> str:
        stage = self.day.jobs[job].stages[key]
        return sentence(plain(stage.name) or plain(stage.kind) or key)

    def method(self, job: str, stage: str, key: str) -> str:
        """A method's name."""
        return plain(self.day.jobs[job].stages[stage].methods[key].name) or key

    def way(self, job: str, ground: str) -> str:
        """A way in: "through the house", or else "to Rear"."""
        through = plain(self.day.jobs[job].grounds[ground].way_in.through)
        return f"through {through}" if through else f"to {self.ground(job, ground)}"
