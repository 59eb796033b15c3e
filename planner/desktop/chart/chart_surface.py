"""The threshold chart on a surface that can be zoomed and moved, its margin and head staying in sight."""

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QAbstractScrollArea, QFrame, QWidget

from planner.day import Day
from planner.desktop.chart.chart_painting import ChartPainter, screen_measure
from planner.desktop.look import LAMPLIGHT, STARK, inks_of
from planner.plan.plan import Plan
from planner.sheet.chart import THEMES, Chart, Shape, Theme, chart

MOST_ZOOM = 12.0


class ChartSurface(QAbstractScrollArea):
    """Lays a plan out for the window it has, and draws it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._day: Day | None = None
        self._plan: Plan | None = None
        self._compare: Plan | None = None
        self._now: int | None = None
        self._zoom = 1.0
        self._kit_folded: bool | None = None
        self._picture: Chart | None = None
        self._drawn: tuple[object, QPixmap] | None = None
        self.setFrameShape(QFrame.Shape.NoFrame)

    def show_plan(self, day: Day, plan: Plan, *, compare: Plan | None = None) -> None:
        """Show a plan, with another one's times beside it if given; zoom and focus stay."""
        self._day, self._plan, self._compare = day, plan, compare
        self.lay_out()

    def set_now(self, minute: int | None) -> None:
        """Draw the now-line at a minute of the day, or not at all."""
        if minute != self._now:
            self._now = minute
            self.lay_out()

    def fold_kit(self, folded: bool | None) -> None:
        """Show kit as bare lines, or with its names; None goes by the room."""
        self._kit_folded = folded
        self.lay_out()

    @property
    def theme(self) -> Theme:
        """The theme in use, by the inks of the window."""
        inks = inks_of(self)
        return THEMES["contrast" if inks is STARK else "dark" if inks is LAMPLIGHT else "light"]

    @property
    def picture(self) -> Chart | None:
        """What is drawn; None before the first plan."""
        return self._picture

    @property
    def zoom(self) -> float:
        """How many times as wide as the window the picture is."""
        return self._zoom

    def set_zoom(self, zoom: float, at: float | None = None) -> None:
        """Stretch time to so many widths of the window; the minute at ``at`` (a place in the window) stays there."""
        picture = self._picture
        place = self.viewport().width() / 2 if at is None else at
        minute = picture.minute_at(place + self.horizontalScrollBar().value()) if picture else 0
        self._zoom = min(max(zoom, 1.0), MOST_ZOOM)
        self.lay_out()
        if self._picture:
            self.horizontalScrollBar().setValue(round(self._picture.x_of(minute) - place))

    def fit(self) -> None:
        """Show the whole day."""
        self.set_zoom(1.0)
        self.verticalScrollBar().setValue(0)

    def text_scale(self) -> float:
        """Larger text on larger windows, so that a picture read from afar stays in proportion."""
        by_font = max(1.0, self.fontMetrics().height() / 18)
        return min(3.0, max(by_font, self.viewport().width() / 1900))

    def lay_out(self) -> None:
        """Lay the plan out anew for the size that the window has."""
        if self._day is None or self._plan is None:
            return
        size = self.viewport().size()
        self._picture = chart(
            self._day,
            self._plan,
            width=size.width() * self._zoom,
            height=size.height(),
            scale=self.text_scale(),
            now=self._now,
            compare=self._compare,
            measure=screen_measure,
            window=size.width(),
            kit_folded=self._kit_folded,
        )
        for bar, length, page in (
            (self.horizontalScrollBar(), self._picture.width, size.width()),
            (self.verticalScrollBar(), self._picture.height, size.height()),
        ):
            bar.setRange(0, max(0, round(length - page)))
            bar.setPageStep(page)
            bar.setSingleStep(30)
        self.viewport().update()

    def sizeHint(self) -> QSize:
        return QSize(1100, 620)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.lay_out()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self.lay_out()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self.viewport())
        painter.drawPixmap(0, 0, self._sheet())
        if self._picture is not None:
            head = self._picture.head
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setClipRect(QRectF(0, 0, self.viewport().width(), self.viewport().height()))
            painter.translate(-self.horizontalScrollBar().value(), -self.verticalScrollBar().value())
            self.draw_over(painter, self.theme.scaled(self._picture.scale), head)
        painter.end()

    def draw_over(self, painter: QPainter, theme: Theme, head: float) -> None:
        """What is drawn over the picture, in its own measures; here nothing."""

    def _sheet(self) -> QPixmap:
        """What the window shows of the picture, drawn anew only when it is another."""
        size, sharpness = self.viewport().size(), self.devicePixelRatioF()
        moved = (self.horizontalScrollBar().value(), self.verticalScrollBar().value())
        key = (self._picture, self.theme.name, size, sharpness, moved)
        if self._drawn is None or self._drawn[0] != key:
            sheet = QPixmap(size * sharpness)
            sheet.setDevicePixelRatio(sharpness)
            sheet.fill(QColor(self.theme.colour("paper")))
            painter = QPainter(sheet)
            self._draw_window(painter, moved, sharpness)
            painter.end()
            self._drawn = (key, sheet)
        return self._drawn[1]

    def _draw_window(self, painter: QPainter, moved: tuple[int, int], sharpness: float) -> None:
        """Draw the body, then over it margin, legend and head, which do not move sideways or down."""
        picture = self._picture
        if picture is None:
            return
        (right, down), view = moved, QRectF(self.viewport().rect())
        theme = self.theme.scaled(picture.scale)
        drawer, paper = ChartPainter(painter, theme, sharpness), QColor(theme.colour("paper"))
        foot = max(picture.head, picture.foot - down)
        body = QRectF(0, picture.head, view.width(), view.height() - picture.head)
        margin = QRectF(0, picture.head, picture.margin, foot - picture.head)
        legend = QRectF(0, foot, view.width(), max(0.0, view.height() - foot))
        head = QRectF(0, 0, view.width(), picture.head)
        corner = QRectF(0, 0, picture.margin, picture.head)
        left = [shape for shape in picture.shapes if shape.pinned == "left"]
        top = [shape for shape in picture.shapes if shape.pinned == "top"]
        _draw(painter, drawer, body, moved, [shape for shape in picture.shapes if not shape.pinned])
        for area, shapes in ((margin, left), (legend, left)):
            if right:
                painter.fillRect(area, paper)
            _draw(painter, drawer, area, (0, down), shapes)
        painter.fillRect(head, paper)
        _draw(painter, drawer, head, (right, 0), [shape for shape in top if shape.role != "caption"])
        if right:
            painter.fillRect(corner, paper)
        _draw(painter, drawer, corner, (0, 0), [s for s in top if s.role in ("caption", "head edge")])


def _draw(painter: QPainter, drawer: ChartPainter, clip: QRectF, moved: tuple[int, int], shapes: list[Shape]) -> None:
    painter.save()
    painter.setClipRect(clip, Qt.ClipOperation.ReplaceClip)
    painter.translate(-moved[0], -moved[1])
    for shape in shapes:
        drawer.draw(shape)
    painter.restore()
