"""A strip of time that shows when the van is likely home: the plan, the middle, four days of five, and the latest."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from planner.desktop.look import inks_of
from planner.fit.risk import Risk
from planner.trade.units import show_clock


class HomeStrip(QWidget):
    """Each mark has its word and its time; the band is the mean and one deviation to each side."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._risk: Risk | None = None
        self._planned = 0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_risk(self, risk: Risk, planned: int) -> None:
        """Show what came of the plays; ``planned`` is the minute at which the plan is home."""
        self._risk, self._planned = risk, planned
        words = "; ".join(f"{word} {show_clock(minute)}" for minute, word in self._marks())
        self.setAccessibleName(self.tr("Time home: {marks}").format(marks=words))
        self.update()

    def sizeHint(self) -> QSize:
        """Wide enough for a panel."""
        return QSize(360, 150)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The band, the marks on it, their words above and below in turn."""
        if self._risk is None:
            return
        inks, risk = inks_of(self), self._risk
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(inks.sheet))
        small = QFont(self.font())
        small.setPointSizeF(small.pointSizeF() * 0.9)
        painter.setFont(small)
        middle = self.height() / 2
        marks = self._marks()
        low = min(risk.home_mean - 2 * risk.home_deviation, *(minute for minute, _ in marks)) - 10
        high = max(risk.home_mean + 2 * risk.home_deviation, *(minute for minute, _ in marks)) + 10

        def x(minute: float) -> float:
            return 44 + (self.width() - 88) * (minute - low) / max(1.0, high - low)

        painter.setPen(QPen(QColor(inks.line), 1))
        painter.drawLine(QPointF(8, middle), QPointF(self.width() - 8, middle))
        band = QColor(inks.water)
        band.setAlpha(60)
        left, right = x(risk.home_mean - risk.home_deviation), x(risk.home_mean + risk.home_deviation)
        painter.fillRect(QRectF(left, middle - 9, right - left, 18), band)
        for at, (minute, word) in enumerate(sorted(marks)):
            spot = x(minute)
            is_above = at % 2 == 0
            is_latest = minute == risk.latest
            pen = QPen(QColor(inks.bad if is_latest else inks.ink), 2.5 if is_latest else 1.6)
            if is_latest:
                pen.setStyle(Qt.PenStyle.DashLine)
            painter.setPen(pen)
            painter.drawLine(QPointF(spot, middle - 16), QPointF(spot, middle + 16))
            painter.setPen(QColor(inks.ink))
            top = middle - 54 if is_above else middle + 20
            text = f"{show_clock(minute)}\n{word}"
            area = QRectF(min(max(spot - 50, 2), self.width() - 102), top, 100, 36)
            painter.drawText(area, Qt.AlignmentFlag.AlignCenter, text)
        painter.end()

    def _marks(self) -> list[tuple[float, str]]:
        if self._risk is None:
            return []
        return [
            (self._planned, self.tr("planned")),
            (self._risk.home_median, self.tr("half the days")),
            (self._risk.home_80, self.tr("4 days of 5")),
            (self._risk.latest, self.tr("at the latest")),
        ]
