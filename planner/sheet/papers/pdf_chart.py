"""The chart drawn into a PDF, shape by shape, in the grey theme."""

from collections.abc import Iterator
from functools import singledispatchmethod
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Flowable

from planner.sheet.chart import THEMES, Chart, Ink, Label, Line, Path, Rect, Shape
from planner.sheet.fonts import runs

TILE = 5.0
"""Distance of a pattern's lines or dots, in pixels of the chart."""

LEAST_TEXT = 7.0
"""Text of a chart that would be smaller, in points, is not printed."""

Segment = tuple[float, float, float, float]
Box = tuple[float, float, float, float]


class ChartFlowable(Flowable):
    """A chart as wide as it is told to be, in points, or narrower where it would be taller than ``most``."""

    def __init__(self, chart: Chart, width: float, most: float = 1e6) -> None:
        super().__init__()
        self.chart, self.ratio = chart, min(width / chart.width, most / chart.height)
        self.width, self.height = chart.width * self.ratio, chart.height * self.ratio

    @property
    def is_readable(self) -> bool:
        """Whether its smallest text can still be read."""
        return min((label.size for label in self.chart.labels()), default=LEAST_TEXT) * self.ratio >= LEAST_TEXT

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """How wide and high it is."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it; the chart's y runs down, the page's up."""
        self.canv.saveState()
        self.canv.translate(0, self.height)
        self.canv.scale(self.ratio, -self.ratio)
        pen = _Pen(self.canv)
        for shape in self.chart.shapes:
            pen.draw(shape)
        self.canv.restoreState()


class _Pen:
    """Draws shapes on a canvas."""

    def __init__(self, canvas: Any) -> None:
        self.canvas, self.theme = canvas, THEMES["grey"]

    @singledispatchmethod
    def draw(self, shape: Shape) -> None:
        raise TypeError(f"{type(shape).__name__} is no shape that can be drawn")

    @draw.register
    def _(self, shape: Rect) -> None:
        outline = self.canvas.beginPath()
        outline.roundRect(shape.x, shape.y, shape.width, shape.height, shape.round)
        box = (shape.x, shape.y, shape.x + shape.width, shape.y + shape.height)
        self.area(outline, self.theme.ink(shape.role), shape.pattern, box)

    @draw.register
    def _(self, shape: Path) -> None:
        outline = self.canvas.beginPath()
        outline.moveTo(*shape.points[0])
        for point in shape.points[1:]:
            outline.lineTo(*point)
        ink = self.theme.ink(shape.role)
        if not shape.closed:
            if self.pen(ink):
                self.canvas.drawPath(outline, stroke=1, fill=0)
            return
        outline.close()
        xs, ys = zip(*shape.points, strict=True)
        self.area(outline, ink, shape.pattern, (min(xs), min(ys), max(xs), max(ys)))

    @draw.register
    def _(self, shape: Line) -> None:
        if self.pen(self.theme.ink(shape.role)):
            self.canvas.line(shape.x1, shape.y1, shape.x2, shape.y2)

    @draw.register
    def _(self, shape: Label) -> None:
        self.canvas.setFillColor(HexColor(self.theme.ink(shape.role).fill))
        parts = runs(shape.text, bold=shape.bold)
        length = sum(stringWidth(text, font, shape.size) for font, text in parts)
        x = shape.x - {"start": 0.0, "middle": length / 2, "end": length}[shape.anchor]
        self.canvas.saveState()
        self.canvas.translate(x, shape.y)
        self.canvas.scale(1, -1)
        at = 0.0
        for font, text in parts:
            self.canvas.setFont(font, shape.size)
            self.canvas.drawString(at, 0, text)
            at += stringWidth(text, font, shape.size)
        self.canvas.restoreState()

    def pen(self, ink: Ink) -> bool:
        """Take up the ink of lines and edges; whether there is any."""
        if not ink.stroke or not ink.edge:
            return False
        self.canvas.setStrokeColor(HexColor(ink.stroke))
        self.canvas.setLineWidth(ink.width)
        self.canvas.setDash(list(ink.dash))
        self.canvas.setLineJoin(1)
        return True

    def area(self, outline: Any, ink: Ink, pattern: str, box: Box) -> None:
        """Fill an outline, lay its pattern over it, and draw its edge."""
        if ink.fill and pattern != "bare":
            self.canvas.setFillColor(HexColor(ink.fill))
            self.canvas.drawPath(outline, stroke=0, fill=1)
        if pattern not in ("solid", "bare"):
            self.canvas.saveState()
            self.canvas.clipPath(outline, stroke=0, fill=0)
            self.tile(pattern, ink, box)
            self.canvas.restoreState()
        if self.pen(ink):
            self.canvas.drawPath(outline, stroke=1, fill=0)

    def tile(self, pattern: str, ink: Ink, box: Box) -> None:
        """Cover a box with a pattern."""
        self.canvas.setStrokeColor(HexColor(ink.stroke))
        self.canvas.setFillColor(HexColor(ink.stroke))
        self.canvas.setDash([])
        self.canvas.setLineWidth(0.7)
        if pattern == "dots":
            for x, y in _grid(box):
                self.canvas.circle(x, y, 0.8, stroke=0, fill=1)
            return
        self.canvas.lines(list(_strokes(pattern, box)))


def _grid(box: Box) -> Iterator[tuple[float, float]]:
    """The points of the pattern's grid within a box, every second row shifted by half."""
    left, top, right, bottom = box
    row = 0
    while (y := top + (row + 0.5) * TILE) < bottom:
        x = left + TILE * (0.3 if row % 2 else 0.8)
        while x < right:
            yield x, y
            x += TILE
        row += 1


def _strokes(pattern: str, box: Box) -> Iterator[Segment]:
    """The lines of a pattern, long enough to cover a box."""
    left, top, right, bottom = box
    height = bottom - top
    if pattern == "waves":
        for x, y in _grid(box):
            yield x - TILE / 3, y, x, y - TILE / 4
            yield x, y - TILE / 4, x + TILE / 3, y
        return
    x = left - height
    while x < right:
        if pattern in ("hatch", "rise", "cross"):
            yield x, bottom, x + height, top
        if pattern in ("fall", "cross"):
            yield x, top, x + height, bottom
        x += TILE


def paper_measure(text: str, size: float, bold: bool = False) -> float:
    """How wide a text is in the bundled font: the measure with which a chart fits its texts on paper."""
    return sum(stringWidth(piece, font, size) for font, piece in runs(text, bold=bold))
