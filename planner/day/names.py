"""What the parts of a day are called for people, with any text from a file made harmless to show.

Names from a file may hold any sign. Control signs and those that turn the reading direction round are left out here,
so that one name cannot disturb the words beside it; markup is escaped where each document is written.
"""

from dataclasses import dataclass
from functools import lru_cache

from planner.day.day import Day
from planner.day.hands import Hand, Place
from planner.day.jobs import Ground, Job, Method, Stage, Surface
from planner.day.kit import Kit, Material
from planner.day.signs import is_an_order

Named = Hand | Place | Kit | Material | Ground | Surface | Stage | Method | Job


@lru_cache(4096)
def plain(text: str) -> str:
    """The text in one line, without control signs and without signs that turn the reading direction."""
    kept = "".join(" " if sign.isspace() else sign for sign in text if sign.isspace() or not is_an_order(sign))
    return " ".join(kept.split())


def sentence(text: str) -> str:
    """The text with its first letter made a capital."""
    return text[:1].upper() + text[1:]


def listed(words: list[str]) -> str:
    """Words in a row: "a, b and c"."""
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


def called(thing: Named, key: str) -> str:
    """What a part of a day is called for people: its name or title, or else its key."""
    return plain(thing.title if isinstance(thing, Job) else thing.name) or key


def written_name(table: object, key: str, *words: str) -> str:
    """What a part is called in the table that is written of it: the first of some words that is said, else its key."""
    said = (table.get(word) for word in words or ("name",)) if isinstance(table, dict) else ()
    return next((word for word in said if isinstance(word, str) and word), key)


def stage_name(job: Job, key: str) -> str:
    """A stage's name, or else what is done to which surface: "Grind: Patio".

    Stages of a job that are named the same get their surface too, and where even that is the same (two layers of
    filling) a number in the order of the file.
    """
    stages = job.stages
    own, surface = _plain_stage(job, key), stages[key].surface
    alike = [other for other in stages if _plain_stage(job, other) == own]
    words = own if stages[key].name and len(alike) == 1 else f"{own}: {called(job.surfaces[surface], surface)}"
    same = [other for other in alike if stages[other].surface == surface]
    return words if len(same) == 1 else f"{words} ({same.index(key) + 1} of {len(same)})"


def _plain_stage(job: Job, key: str) -> str:
    stage = job.stages[key]
    kind = "" if stage.kind == "work" else plain(stage.kind)
    return sentence(plain(stage.name) or kind or key)


@dataclass(frozen=True, slots=True)
class Names:
    """What the parts of one day are called, found by their keys."""

    day: Day

    def hand(self, key: str) -> str:
        """A hand's name."""
        return called(self.day.hands[key], key)

    def place(self, key: str) -> str:
        """A place's name."""
        return called(self.day.places[key], key)

    def kit(self, key: str) -> str:
        """A piece of kit's name."""
        return called(self.day.kit[key], key)

    def material(self, key: str) -> str:
        """A material's name with its container: "Joint filler (tub)"."""
        material = self.day.materials[key]
        return f"{called(material, key)} ({plain(material.container) or 'container'})"

    def job(self, key: str) -> str:
        """A job's title."""
        return called(self.day.jobs[key], key)

    def customer(self, key: str) -> str:
        """The customer's name, or else the job's."""
        return plain(self.day.jobs[key].customer.name) or self.job(key)

    def ground(self, job: str, key: str) -> str:
        """A ground's name."""
        return called(self.day.jobs[job].grounds[key], key)

    def surface(self, job: str, key: str) -> str:
        """A surface's name."""
        return called(self.day.jobs[job].surfaces[key], key)

    def stage(self, job: str, key: str) -> str:
        """A stage's name in its job."""
        return stage_name(self.day.jobs[job], key)

    def method(self, job: str, stage: str, key: str) -> str:
        """A method's name."""
        return called(self.day.jobs[job].stages[stage].methods[key], key)

    def way(self, job: str, ground: str) -> str:
        """A way in: "through the house", or else "to Rear"."""
        through = plain(self.day.jobs[job].grounds[ground].way_in.through)
        return f"through {through}" if through else f"to {self.ground(job, ground)}"
