"""Marks over the picture for what is at another time than in the plan before."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from planner.sheet.chart import About, Chart, Theme


def draw_moved(painter: QPainter, theme: Theme, picture: Chart, moved: dict[About, tuple[int, int]]) -> None:
    """A dashed box where each was, a heavy frame where it is, and an arrow from one start to the other."""
    for about, (start, end) in moved.items():
        item = picture.item(about)
        if item is None:
            continue
        pen = QPen(QColor(theme.colour("promise")), 2.0 * theme.scale)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(QRectF(item.x, item.y, item.width, item.height).adjusted(-2, -2, 2, 2), 3, 3)
        left, right = (max(picture.margin, picture.x_of(minute)) for minute in (start, end))
        pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.drawRoundedRect(QRectF(left, item.y + 4, max(right - left, 2.0), item.height - 8), 2, 2)
        _draw_arrow(painter, theme, left, item.x, item.y + item.height - 6)  # names stand over the boxes


def _draw_arrow(painter: QPainter, theme: Theme, before: float, now: float, y: float) -> None:
    if abs(now - before) < 8:
        return
    way, size = (1 if now > before else -1), 4.0 * theme.scale
    colour = QColor(theme.colour("promise"))
    painter.setPen(QPen(colour, 2.0 * theme.scale))
    painter.drawLine(QPointF(before, y), QPointF(now - way * size, y))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    back = now - way * 2 * size
    painter.drawPolygon(QPolygonF([QPointF(now, y), QPointF(back, y - size), QPointF(back, y + size)]))
