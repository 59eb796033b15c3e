"""A small picture of planning at work: the plan's value coming down, the proven bound coming up."""

import time

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from planner.desktop.look import inks_of
from planner.desktop.plain import tip
from planner.plan.plan import Plan
from planner.trade.units import show_minutes


class GapLine(QWidget):
    """Two stepped lines, the best value above and the bound below; where they meet the plan is proven best."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._points: list[tuple[float, int, int]] = []
        self._began = time.monotonic()
        self.setFixedSize(self.sizeHint())

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to show."""
        return not self._points

    def begin(self) -> None:
        """Planning begins anew."""
        self._points, self._began = [], time.monotonic()
        self.update()

    def add(self, plan: Plan) -> None:
        """A better plan, or a better proof of it."""
        if plan.proof is None:
            return
        self._points.append((time.monotonic() - self._began, plan.proof.value, plan.proof.bound))
        value, bound = show_minutes(plan.proof.value), show_minutes(plan.proof.bound)
        words = ("Best so far {value}, proven that none is under {bound} (minutes home and the price of crossings)")
        said = words.format(value=value, bound=bound)
        self.setToolTip(tip(said))
        self.setAccessibleName(said)
        self.update()

    def sizeHint(self) -> QSize:
        """Small."""
        return QSize(120, 44)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Both lines; the space between them is what is not known yet."""
        if not self._points:
            return
        inks = inks_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        frame = QRectF(self.rect()).adjusted(2, 4, -6, -4)
        until = max(self._points[-1][0], 0.1)
        low = min(bound for _, _, bound in self._points[-1:])
        high = max(value for _, value, _ in self._points)
        span = max(1, high - low)

        def spot(seconds: float, minutes: int) -> QPointF:
            share = (max(low, minutes) - low) / span
            return QPointF(frame.left() + frame.width() * seconds / until, frame.bottom() - frame.height() * share)

        values = _steps([spot(s, value) for s, value, _ in self._points], frame.right())
        bounds = _steps([spot(s, bound) for s, _, bound in self._points], frame.right())
        shade = QColor(inks.water)
        shade.setAlpha(36)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(shade)
        painter.drawPolygon(QPolygonF([*values, *reversed(bounds)]))
        painter.setPen(QPen(QColor(inks.ink), 1.6))
        painter.drawPolyline(values)
        painter.setPen(QPen(QColor(inks.water), 1.6, Qt.PenStyle.DashLine))
        painter.drawPolyline(bounds)
        painter.end()


def _steps(points: list[QPointF], right: float) -> list[QPointF]:
    """A line that keeps each height until the next point."""
    line: list[QPointF] = []
    for point in points:
        if line:
            line.append(QPointF(point.x(), line[-1].y()))
        line.append(point)
    line.append(QPointF(right, line[-1].y()))
    return line
