"""A small picture of the trade-off: trips to the right, time home upwards; one point is looked at."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from planner.desktop.look import inks_of
from planner.desktop.pages.lettered import Lettered
from planner.plan.plan import TradeOff
from planner.trade.units import show_clock


class TradeOffChart(Lettered):
    """Points to walk by arrow keys or touch; Enter or a double click picks one."""

    point_changed = Signal()
    point_picked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._points: list[TradeOff] = []
        self._start = 0
        self._now = 0
        self._at = 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    @property
    def point(self) -> TradeOff | None:
        """The point that is looked at."""
        return self._points[self._at] if self._at < len(self._points) else None

    def show_points(self, points: list[TradeOff], start: int, now: int) -> None:
        """Show points; ``start`` is the minute from which they count, ``now`` the trips of the plan shown."""
        self._points, self._start, self._now = points, start, now
        counts = [point.crossings for point in points]
        self._at = counts.index(now) if now in counts else 0
        words = "; ".join(f"{p.crossings}: {show_clock(start + p.minutes)}" for p in points)
        self.setAccessibleName(f"Trips and time home: {words}")
        self.update()

    def look_at(self, at: int) -> None:
        """Look at another point."""
        at = max(0, min(len(self._points) - 1, at))
        if at != self._at:
            self._at = at
            self.update()
            self.point_changed.emit()

    def sizeHint(self) -> QSize:
        """Wide enough for a panel."""
        return QSize(360, round(118 + 5 * self.row + 10))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrow keys walk, Enter picks."""
        if event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Up):
            self.look_at(self._at - 1)
        elif event.key() in (Qt.Key.Key_Right, Qt.Key.Key_Down):
            self.look_at(self._at + 1)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.point_picked.emit()
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Look at the nearest point."""
        if self._points:
            x = event.position().x()
            self.look_at(min(range(len(self._points)), key=lambda at: abs(self._spot(at).x() - x)))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Pick it."""
        self.point_picked.emit()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show where the keys are."""
        self.update()
        super().focusInEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Axes as bare as can be, a step line, the points with their times."""
        if not self._points:
            return
        inks = inks_of(self)
        ink, faint, water = QColor(inks.ink), QColor(inks.faint), QColor(inks.water)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(inks.sheet))
        frame = self._frame()
        painter.setPen(QPen(QColor(inks.line), 1))
        painter.drawLine(frame.bottomLeft() + QPointF(-14, 12), frame.bottomRight() + QPointF(14, 12))
        painter.setFont(self.small)
        painter.setPen(QPen(water, 1.4))
        for at in range(len(self._points) - 1):
            one, two = self._spot(at), self._spot(at + 1)
            corner = QPointF(two.x(), one.y())
            painter.drawLine(one, corner)
            painter.drawLine(corner, two)
        for at, point in enumerate(self._points):
            spot = self._spot(at)
            painter.setPen(QPen(water, 2))
            painter.setBrush(water if point.is_proven else QColor(inks.sheet))
            painter.drawEllipse(spot, 5, 5)
            if at == self._at:
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(QPen(ink, 1.6 if self.hasFocus() else 1))
                painter.drawEllipse(spot, 10, 10)
            painter.setPen(ink if point.crossings == self._now else faint)
            count = QRectF(spot.x() - 60, frame.bottom() + 14, 120, self.row)
            painter.drawText(count, Qt.AlignmentFlag.AlignCenter, str(point.crossings))
            clock = QRectF(spot.x() - 60, spot.y() - 12 - self.row, 120, self.row)
            painter.drawText(clock, Qt.AlignmentFlag.AlignCenter, show_clock(self._start + point.minutes))
        painter.setPen(faint)
        bottom = QRectF(0, self.height() - self.row, self.width(), self.row)
        painter.drawText(bottom, Qt.AlignmentFlag.AlignCenter, "restricted trips")
        painter.drawText(QRectF(8, 4, self.width() - 16, self.row), Qt.AlignmentFlag.AlignLeft, "home at")
        painter.end()

    def _frame(self) -> QRectF:
        side = max(40.0, QFontMetricsF(self.small).horizontalAdvance("00:00") / 2 + 8)
        return QRectF(self.rect()).adjusted(side, 2 * self.row + 14, -side, -2 * self.row - 16)

    def _spot(self, at: int) -> QPointF:
        frame, points = self._frame(), self._points
        crossings, minutes = [p.crossings for p in points], [p.minutes for p in points]
        wide, high = max(crossings) - min(crossings), max(minutes) - min(minutes)
        x = (crossings[at] - min(crossings)) / wide if wide else 0.5
        y = (minutes[at] - min(minutes)) / high if high else 0.5
        return QPointF(frame.left() + frame.width() * x, frame.bottom() - frame.height() * y)
