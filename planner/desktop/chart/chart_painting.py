"""Draws the shapes of the threshold chart with Qt, in the inks of a theme."""

from functools import lru_cache, singledispatchmethod

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QGuiApplication,
    QPainter,
    QPainterPath,
    QPen,
    QPixmap,
    QPolygonF,
    QTransform,
)

from planner.sheet.chart import Ink, Label, Line, Path, Rect, Shape, Theme

TILE = 6
"""Width and height of one tile of a pattern, in pixels."""

_STROKES: dict[str, tuple[tuple[float, float, float, float], ...]] = {
    "hatch": ((0, 6, 6, 0), (-1, 1, 1, -1), (5, 7, 7, 5)),
    "rise": ((0, 6, 6, 0), (-1, 1, 1, -1), (5, 7, 7, 5)),
    "fall": ((0, 0, 6, 6), (-1, 5, 1, 7), (5, -1, 7, 1)),
    "cross": ((0, 0, 6, 6), (0, 6, 6, 0)),
    "waves": ((0, 4, 1.5, 3), (1.5, 3, 3, 4), (3, 4, 4.5, 5), (4.5, 5, 6, 4)),
}


def chart_font(size: float, *, bold: bool = False) -> QFont:
    """The face of the picture's text at a size in pixels."""
    font = QFont(QGuiApplication.font())
    font.setPixelSize(max(1, round(size)))
    font.setBold(bold)
    return font


@lru_cache(8192)
def _width(family: str, pixels: int, bold: bool, text: str) -> float:
    return QFontMetricsF(chart_font(pixels, bold=bold)).horizontalAdvance(text)


def screen_measure(text: str, size: float, bold: bool) -> float:
    """How wide a text is on this screen."""
    return _width(QGuiApplication.font().family(), max(1, round(size)), bold, text)


class ChartPainter:
    """Draws shapes by their roles; ``sharpness`` is how many device pixels make one pixel of the picture."""

    def __init__(self, painter: QPainter, theme: Theme, sharpness: float = 1.0) -> None:
        self._painter, self._theme, self._sharpness = painter, theme, sharpness
        self._inks: dict[str, Ink] = {}
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    def ink(self, role: str) -> Ink:
        """The ink of a role, looked up once."""
        if role not in self._inks:
            self._inks[role] = self._theme.ink(role)
        return self._inks[role]

    @singledispatchmethod
    def draw(self, shape: Shape) -> None:
        """Draw a shape. Raises `TypeError` when it is none of the shapes of the picture."""
        raise TypeError(f"{type(shape).__name__} is no shape that can be drawn")

    @draw.register
    def _(self, shape: Rect) -> None:
        ink = self.ink(shape.role)
        self._painter.setPen(_pen(ink))
        self._painter.setBrush(self._brush(ink, shape.pattern))
        box = QRectF(shape.x, shape.y, shape.width, shape.height)
        if shape.round:
            self._painter.drawRoundedRect(box, shape.round, shape.round)
        else:
            self._painter.drawRect(box)

    @draw.register
    def _(self, shape: Line) -> None:
        self._painter.setPen(_pen(self.ink(shape.role)))
        self._painter.drawLine(QLineF(shape.x1, shape.y1, shape.x2, shape.y2))

    @draw.register
    def _(self, shape: Path) -> None:
        ink = self.ink(shape.role)
        self._painter.setPen(_pen(ink))
        points = QPolygonF([QPointF(x, y) for x, y in shape.points])
        if shape.closed:
            self._painter.setBrush(self._brush(ink, shape.pattern))
            self._painter.drawPolygon(points)
        else:
            path = QPainterPath()
            path.addPolygon(points)
            self._painter.setBrush(Qt.BrushStyle.NoBrush)
            self._painter.drawPath(path)

    @draw.register
    def _(self, shape: Label) -> None:
        self._painter.setPen(QColor(self.ink(shape.role).fill))
        self._painter.setFont(chart_font(shape.size, bold=shape.bold))
        self._painter.drawText(QPointF(shape.left, shape.y), shape.text)

    def _brush(self, ink: Ink, pattern: str) -> QBrush:
        if pattern in ("solid", "bare"):
            return QBrush(QColor(ink.fill)) if ink.fill else QBrush(Qt.BrushStyle.NoBrush)
        brush = QBrush(_tile(pattern, ink.fill, ink.stroke, self._theme.scale, self._sharpness))
        brush.setTransform(QTransform.fromScale(1 / self._sharpness, 1 / self._sharpness))
        return brush


def _pen(ink: Ink) -> QPen:
    if not ink.stroke or not ink.edge:
        return QPen(Qt.PenStyle.NoPen)
    pen = QPen(QColor(ink.stroke), ink.width)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if ink.dash:
        pen.setDashPattern([part / ink.width for part in ink.dash])
    return pen


@lru_cache(256)
def _tile(pattern: str, fill: str, stroke: str, scale: float, sharpness: float) -> QPixmap:
    """One tile of a pattern, as sharp as the screen."""
    size = max(1, round(TILE * scale * sharpness))
    tile = QPixmap(size, size)
    tile.fill(QColor(fill) if fill else Qt.GlobalColor.transparent)
    painter = QPainter(tile)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(size / TILE, size / TILE)
    if pattern == "dots":
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(stroke))
        for centre in (1.5, 4.5):
            painter.drawEllipse(QPointF(centre, centre), 0.9, 0.9)
    else:
        painter.setPen(QPen(QColor(stroke), 0.8))
        for x1, y1, x2, y2 in _STROKES[pattern]:
            painter.drawLine(QLineF(x1, y1, x2, y2))
    painter.end()
    return tile
