"""The sheet on which the picture is laid out: the scale of time, text, and what is drawn so far."""

from dataclasses import dataclass, field

from planner.sheet.chart.shapes import (
    NOTHING,
    About,
    Anchor,
    Item,
    Label,
    Line,
    Path,
    Pattern,
    Rect,
    Shape,
    Side,
    Spoken,
)
from planner.sheet.chart.text import Measure, elided
from planner.sheet.chart.things import Zone

# Layers, from the back to the front.
SHADE, GROUND, GRID, REACH, POOL, KIT, PATH, BAR, STROKE, NOW, NAME_BACK, TEXT = range(12)

BARE_NAMES = ("flag", "load", "kit name", "caption", "job title", "promise name", "note", "number")
"""Roles of texts that lie on no bar and in no pool, so that a line down the picture would run through them."""

Box = tuple[float, float, float, float]
"""Left, top, right and bottom."""


@dataclass(frozen=True, slots=True)
class Density:
    """How closely the picture is packed: the stretch of what is not text, and whether kit is folded to bare lines."""

    stretch: float = 1.0
    is_kit_folded: bool = False


@dataclass(slots=True)
class Canvas:
    """Gathers the shapes of one picture; lengths in pixels."""

    width: float
    margin: float
    edge: float
    first: int
    last: int
    scale: float
    measure: Measure
    density: Density
    brief: bool = False
    shapes: list[Shape] = field(default_factory=list)
    items: dict[About, Item] = field(default_factory=dict)
    strip: float = 0.0
    levels: dict[tuple[Zone, str], float] = field(default_factory=dict)
    thresholds: dict[Zone, float] = field(default_factory=dict)
    tops: dict[str, float] = field(default_factory=dict)
    marks: list[tuple[float, float]] = field(default_factory=list)
    """From and to of the lines that run down the whole picture: home, the latest finish."""

    @property
    def text(self) -> float:
        """The size of ordinary text."""
        return 12 * self.scale

    @property
    def small(self) -> float:
        """The size of the smallest text."""
        return 11 * self.scale

    @property
    def row(self) -> float:
        """The height of a row of small text."""
        return 14 * self.scale

    @property
    def bar(self) -> float:
        """The height of a stage's bar: two rows of text, and its sole; in a brief picture one row."""
        return (20 if self.brief else 33) * self.scale

    @property
    def right(self) -> float:
        """Where time ends."""
        return self.width - self.edge

    def gap(self, pixels: float) -> float:
        """A distance that grows where there is room."""
        return pixels * self.scale * self.density.stretch

    def x(self, minute: float) -> float:
        """Where a minute lies."""
        return self.margin + (self.right - self.margin) * (minute - self.first) / (self.last - self.first)

    def wide(self, text: str, size: float | None = None, *, bold: bool = False) -> float:
        """How wide a text is."""
        return self.measure(text, size or self.small, bold)

    def label(
        self,
        x: float,
        y: float,
        text: str,
        role: str,
        *,
        size: float | None = None,
        anchor: Anchor = "start",
        bold: bool = False,
        of: Spoken = NOTHING,
        pinned: Side = "",
        room: float | None = None,
    ) -> None:
        """Write a line of text on its baseline, shortened to the room if it is given."""
        size = size or self.small
        if room is not None:
            text = elided(text, room, size, self.measure, bold=bold)
        if text:
            length = self.wide(text, size, bold=bold)
            if role in BARE_NAMES and not pinned:
                left = x - {"start": 0.0, "middle": length / 2, "end": length}[anchor]
                self.part_marks((left, left + length), y - 0.36 * size)
            self.shapes.append(Label(role, of.about, of.words, pinned, TEXT, x, y, text, size, length, anchor, bold))

    def part_marks(self, text: tuple[float, float], middle: float) -> None:
        """Leave a gap in each line that runs down the picture where a row of text crosses it."""
        for left, right in self.marks:
            if text[0] < right and left < text[1]:
                box = (left - 1, middle - self.row / 2, right + 1, middle + self.row / 2)
                self.rect(box, "name back", NAME_BACK)

    def rect(
        self,
        box: Box,
        role: str,
        layer: int,
        *,
        pattern: Pattern = "solid",
        round_by: float = 0.0,
        of: Spoken = NOTHING,
        pinned: Side = "",
    ) -> None:
        """Draw a rectangle."""
        x0, y0, x1, y1 = box
        place = (x0, y0, max(x1 - x0, 1.0), y1 - y0)
        self.shapes.append(Rect(role, of.about, of.words, pinned, layer, *place, pattern, round_by))

    def line(self, ends: Box, role: str, layer: int, *, of: Spoken = NOTHING, pinned: Side = "") -> None:
        """Draw a line from x, y to x, y."""
        self.shapes.append(Line(role, of.about, of.words, pinned, layer, *ends))

    def path(
        self,
        points: list[tuple[float, float]],
        role: str,
        layer: int,
        *,
        closed: bool = False,
        pattern: Pattern = "solid",
        of: Spoken = NOTHING,
        pinned: Side = "",
    ) -> None:
        """Draw a line through points, or an area."""
        self.shapes.append(Path(role, of.about, of.words, pinned, layer, tuple(points), closed, pattern))

    def item(self, of: Spoken, box: Box, minute: int) -> None:
        """Remember something that can be pointed at; the first box of a thing stands."""
        x0, y0, x1, y1 = box
        self.items.setdefault(of.about, Item(of.about, of.words, x0, y0, max(x1 - x0, 1.0), y1 - y0, minute))
