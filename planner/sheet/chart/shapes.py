"""The plain shapes of which the threshold chart is made, free of any screen or paper.

All measures are in pixels of the page, x to the right and y down. A shape's ``role`` says what it stands for; a theme
turns roles into inks. ``about`` points into the plan, for example ``("work", job, stage)``.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, Protocol

About = tuple[str | int, ...]
"""What in the plan a shape stands for: its kind, then the keys that name it."""

Side = Literal["", "left", "top"]
Pattern = Literal["bare", "solid", "dots", "hatch", "cross", "waves", "rise", "fall"]
Anchor = Literal["start", "middle", "end"]


class Spoken(Protocol):
    """Something of the plan that can be pointed at, with its words."""

    @property
    def about(self) -> About: ...

    @property
    def words(self) -> str: ...


@dataclass(frozen=True, slots=True)
class Thing:
    """The plainest of them."""

    about: About = ()
    words: str = ""


NOTHING = Thing()
"""What shapes stand for that only adorn."""


@dataclass(frozen=True, slots=True)
class Shape:
    """What all shapes have.

    ``words`` is the text alternative and tooltip. A ``pinned`` shape belongs to the margin ("left") or the head
    ("top") and stays in sight when the picture is moved under it. Higher layers lie over lower ones.
    """

    role: str
    about: About
    words: str
    pinned: Side
    layer: int


@dataclass(frozen=True, slots=True)
class Rect(Shape):
    """A rectangle, with a fill pattern; ``round`` is the radius of its corners."""

    x: float
    y: float
    width: float
    height: float
    pattern: Pattern = "solid"
    round: float = 0.0


@dataclass(frozen=True, slots=True)
class Line(Shape):
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class Path(Shape):
    """A line through points, or the outline of an area when ``closed``."""

    points: tuple[tuple[float, float], ...]
    closed: bool = False
    pattern: Pattern = "solid"


@dataclass(frozen=True, slots=True)
class Label(Shape):
    """A line of text; ``y`` is its baseline, ``length`` the measured width of the text."""

    x: float
    y: float
    text: str
    size: float
    length: float
    anchor: Anchor = "start"
    bold: bool = False

    @property
    def left(self) -> float:
        """Where the text begins."""
        return self.x - {"start": 0.0, "middle": self.length / 2, "end": self.length}[self.anchor]

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of the text (its letters rise 0.74 of their size and fall 0.22)."""
        return self.left, self.y - 0.74 * self.size, self.left + self.length, self.y + 0.22 * self.size


@dataclass(frozen=True, slots=True)
class Item:
    """One thing of the plan that can be pointed at and walked to by keyboard, with its box on the page."""

    about: About
    words: str
    x: float
    y: float
    width: float
    height: float
    minute: int


@dataclass(frozen=True)
class Chart:
    """The picture: shapes from the back to the front, and the things that they stand for in order of time.

    ``margin`` is the width of the pinned left part, ``head`` the height of the pinned top, and the
    lanes end at ``foot``; the minutes from ``first``
    to ``last`` run from ``margin`` to ``width``, less a right edge of ``edge``. Strokes and patterns are drawn
    ``scale`` times as wide.
    """

    title: str
    summary: tuple[str, ...]
    width: float
    height: float
    margin: float
    head: float
    foot: float
    edge: float
    scale: float
    first: int
    last: int
    shapes: tuple[Shape, ...]
    items: tuple[Item, ...]

    def x_of(self, minute: float) -> float:
        """Where a minute of the day lies."""
        span = self.width - self.margin - self.edge
        return self.margin + span * (minute - self.first) / (self.last - self.first)

    def minute_at(self, x: float) -> int:
        """The whole minute of the day that lies there, kept to the picture."""
        span = self.width - self.margin - self.edge
        minute = self.first + (x - self.margin) * (self.last - self.first) / span
        return round(min(max(minute, self.first), self.last))

    def item(self, about: About) -> Item | None:
        """The thing that is so named, if the picture shows it."""
        return next((item for item in self.items if item.about == about), None)

    def labels(self) -> Iterable[Label]:
        """All texts of the picture."""
        return (shape for shape in self.shapes if isinstance(shape, Label))
