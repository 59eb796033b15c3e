"""When the van is likely home: the plays of the day as a picture, those that are late marked off from the rest."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from planner.desktop.look import Inks, inks_of
from planner.desktop.pages.lettered import Lettered
from planner.fit.risk import Risk, in_percent
from planner.trade.units import show_clock

_SIDE, _BARS = 14.0, 118.0
"""Room at each side, and for the bars, in pixels; what is written takes as much as its letters need."""

_RARE = 0.002
"""Plays as seldom as this, at either end, need no room."""


class HomeChart(Lettered):
    """Bars of how many plays come home when; late ones are hatched. Lines: planned, four days of five, the latest."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._risk: Risk | None = None
        self._planned = 0

    def show_risk(self, risk: Risk, planned: int) -> None:
        """Show what came of the plays; ``planned`` is the minute at which the plan is home."""
        self._risk, self._planned = risk, planned
        words = "; ".join(f"{word} {show_clock(minute)}" for minute, word in self._marks(risk))
        self.setAccessibleName(f"Picture of the time home: {words}")
        self.setAccessibleDescription(risk.sentence)
        self.update()

    def sizeHint(self) -> QSize:
        """Wide enough for a panel."""
        return QSize(360, round(_BARS + self._labels + self._axis))

    @property
    def _labels(self) -> float:
        """Room above, for the words of three marks."""
        return 3 * self.row + 6

    @property
    def _axis(self) -> float:
        """Room below, for the clock and how many are in time."""
        return 2 * self.row + 8

    def paintEvent(self, event: QPaintEvent) -> None:
        """Bars on a line of time, and over them the marks with their words."""
        risk = self._risk
        if risk is None or not risk.homes:
            return
        inks = inks_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(inks.sheet))
        painter.setFont(self.small)
        frame = QRectF(self.rect()).adjusted(_SIDE, self._labels, -_SIDE, -self._axis)
        scale = _Scale(frame, *self._span(risk))
        self._draw_bars(painter, inks, scale, risk)
        self._draw_clock(painter, inks, scale)
        self._draw_marks(painter, inks, scale, risk)
        painter.end()

    def _span(self, risk: Risk) -> tuple[float, float]:
        """From when to when is drawn: the plays, the plan, and the latest finish where it is near enough."""
        rare, low, high = _RARE * risk.plays, risk.homes[0][0], risk.homes[-1][0]
        seen = 0
        for minute, count in risk.homes:
            if seen <= rare:
                low = minute
            seen += count
            if seen < risk.plays - rare:
                high = minute
        low, high = min(low, self._planned), max(high, self._planned)
        wide = max(10, high - low)
        if low - wide < risk.latest < high + 1.5 * wide:
            low, high = min(low, risk.latest), max(high, risk.latest)
        return low - 2.0, high + 3.0

    def _draw_bars(self, painter: QPainter, inks: Inks, scale: "_Scale", risk: Risk) -> None:
        """Each bar stands for as many minutes as make it a few pixels wide; none lies on both sides of the latest."""
        step = max(1, round(7 / scale.minute_width))
        bars: dict[int, int] = {}
        for minute, count in risk.homes:
            bar = risk.latest + -(-(minute - risk.latest) // step) * step  # the minute at which the bar ends
            bars[bar] = bars.get(bar, 0) + count
        most = max(bars.values())
        for end, count in bars.items():
            left, right = max(scale.x(end - step), scale.frame.left()), min(scale.x(end), scale.frame.right())
            height = scale.frame.height() * count / most
            box = QRectF(left + 0.5, scale.frame.bottom() - height, right - left - 1, height)
            if right - left < 1:
                continue
            if end > risk.latest:
                painter.setPen(QPen(QColor(inks.bad), 1))
                painter.setBrush(QBrush(QColor(inks.bad), Qt.BrushStyle.BDiagPattern))
            else:
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(QColor(inks.water))
            painter.drawRect(box)

    @staticmethod
    def _draw_clock(painter: QPainter, inks: Inks, scale: "_Scale") -> None:
        """The line of time with a time at every round step that has room."""
        frame = scale.frame
        painter.setPen(QPen(QColor(inks.ink), 1))
        painter.drawLine(frame.bottomLeft(), frame.bottomRight())
        half = painter.fontMetrics().horizontalAdvance("00:00") / 2
        step = next((s for s in (5, 10, 15, 30, 60, 120) if s * scale.minute_width >= 2 * half + 14), 240)
        painter.setPen(QColor(inks.faint))
        for minute in range(int(-(-scale.low // step) * step), int(scale.high) + 1, step):
            spot = scale.x(minute)
            painter.drawLine(QPointF(spot, frame.bottom()), QPointF(spot, frame.bottom() + 4))
            if min(spot, frame.right() + _SIDE - spot) > half + 2:
                box = QRectF(spot - half - 4, frame.bottom() + 5, 2 * half + 8, painter.fontMetrics().height())
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, show_clock(minute))

    def _draw_marks(self, painter: QPainter, inks: Inks, scale: "_Scale", risk: Risk) -> None:
        """Each mark is a line of its own kind with its words on a row of their own."""
        styles = (Qt.PenStyle.SolidLine, Qt.PenStyle.DotLine, Qt.PenStyle.DashLine)
        for row, ((minute, word), style) in enumerate(zip(self._marks(risk), styles, strict=True)):
            is_latest = style == Qt.PenStyle.DashLine
            ink = QColor(inks.bad if is_latest else inks.ink)
            top = 4 + self.row * row
            text = f"{show_clock(minute)} {word}"
            spot, width = scale.x(minute), painter.fontMetrics().horizontalAdvance(text)
            is_far_off = not scale.frame.left() <= spot <= scale.frame.right()
            if is_far_off:  # said, not drawn
                text, spot = (f"{text} →", self.width()) if spot > scale.frame.right() else (f"← {text}", 0)
                width = painter.fontMetrics().horizontalAdvance(text)
            else:
                painter.setPen(QPen(ink, 2.4 if is_latest else 1.6, style))
                painter.drawLine(QPointF(spot, top + 1), QPointF(spot, scale.frame.bottom()))
            left = spot + 5 if spot + 5 + width < self.width() - 2 else spot - 5 - width
            box = QRectF(max(3, left), top, width + 2, self.row - 1)
            painter.fillRect(box, QColor(inks.sheet))
            painter.setPen(ink)
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, text)
        painter.setPen(QColor(inks.ink))
        bottom = QRectF(0, self.height() - self.row, self.width(), self.row - 2)
        words = f"{in_percent(risk.on_time)} in time"
        painter.drawText(bottom, Qt.AlignmentFlag.AlignCenter, words)

    def _marks(self, risk: Risk) -> list[tuple[float, str]]:
        return [
            (self._planned, "planned"),
            (risk.home_80, "in 4 days of 5"),
            (risk.latest, "at the latest"),
        ]


class _Scale:
    """Where a minute lies in the frame."""

    def __init__(self, frame: QRectF, low: float, high: float) -> None:
        self.frame, self.low, self.high = frame, low, high
        self.minute_width = frame.width() / (high - low)

    def x(self, minute: float) -> float:
        """The place of a minute."""
        return self.frame.left() + (minute - self.low) * self.minute_width
