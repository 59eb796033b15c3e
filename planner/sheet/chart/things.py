"""The things in the picture, still in minutes: bars, steps over thresholds, pools and bands."""

from dataclasses import dataclass
from typing import Literal

from planner.sheet.chart.shapes import About, Pattern

Zone = tuple[str, str | None]
"""A job, and one of its grounds behind a threshold, or None for the van and the grounds that lie open."""

BarKind = Literal["stage", "set up", "pack down", "lay", "lift", "arrive", "leave", "break", "fetch"]


@dataclass(frozen=True, slots=True)
class Bar:
    """Something that a hand does, as it lies on the hand's path; ``titles`` are its names, the longest first.

    ``section`` is its number where the stage is worked in sections, which share ``whole``: the names of the stage, and
    how many there are. ``was`` is from when to when another plan has it, if at another time.
    """

    kind: BarKind
    hand: str
    zone: Zone
    start: int
    end: int
    titles: tuple[str, ...]
    pattern: Pattern
    about: About
    words: str
    section: int | None = None
    whole: tuple[str, ...] = ()
    was: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Tread:
    """A crossing: over the threshold at ``start + walk / 2`` and back at ``end - walk / 2``.

    ``number`` is what the order of the day calls it.
    """

    zone: Zone
    hand: str
    start: int
    end: int
    walk: int
    restricted: bool
    carried_in: tuple[str, ...]
    carried_out: tuple[str, ...]
    number: int
    about: About
    words: str

    @property
    def legs(self) -> tuple[tuple[int, int], tuple[int, int]]:
        """From and to of the walk in and of the walk out."""
        return (self.start, self.start + self.walk), (self.end - self.walk, self.end)


@dataclass(frozen=True, slots=True)
class Pool:
    """A wait: it runs from ``begins`` to ``ends``; ``bare`` are the spans in which no hand does anything."""

    zone: Zone
    kind: str
    begins: int
    ends: int
    least: int
    most: int | None
    bare: tuple[tuple[int, int], ...]
    is_open_ended: bool
    titles: tuple[str, ...]
    about: About
    words: str


@dataclass(frozen=True, slots=True)
class Stripe:
    """A piece of kit's time on a ground."""

    zone: Zone
    start: int
    end: int
    title: str
    about: About
    words: str
