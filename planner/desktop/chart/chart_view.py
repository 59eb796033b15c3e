"""The threshold chart as a widget: looked at, moved under, walked through by keyboard, and wished on by dragging."""

from typing import cast

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QAccessibleEvent,
    QColor,
    QContextMenuEvent,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPen,
    QWheelEvent,
)
from PySide6.QtWidgets import QApplication, QGestureEvent, QPinchGesture, QToolTip, QWidget

from planner.desktop.chart.chart_drag import StageDrag
from planner.desktop.chart.chart_moved import draw_moved
from planner.desktop.chart.chart_painting import chart_font, screen_measure
from planner.desktop.chart.chart_surface import ChartSurface
from planner.desktop.chart.chart_walk import Way, item_at, step
from planner.desktop.plain import tip
from planner.sheet.chart import About, Item, Theme, describe
from planner.trade.units import show_clock

ZOOM_STEP = 1.25
MOVED_MILLISECONDS = 12_000
"""For how long it is marked what moved."""

KEY_MOVE = 5
"""Minutes by which a stage is wished earlier or later with shift and an arrow key."""

_WALKS: dict[int, Way] = {
    Qt.Key.Key_Right: "next",
    Qt.Key.Key_Left: "previous",
    Qt.Key.Key_Up: "above",
    Qt.Key.Key_Down: "below",
    Qt.Key.Key_Home: "first",
    Qt.Key.Key_End: "last",
}


class ChartView(ChartSurface):
    """Shows a plan; says what is pointed at, activated and dragged, and leaves planning to others."""

    item_focused = Signal(object)
    """About what the keyboard is now."""
    item_activated = Signal(object)
    """What was double-clicked, or entered with the return key."""
    stage_dragged = Signal(str, str, int)
    """A stage of a job is wished to start at this minute."""
    menu_wanted = Signal(object, QPoint)
    """A menu is wanted for something, at a point of the screen."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._focused: About | None = None
        self._drag: StageDrag | None = None
        self._pan: QPoint | None = None
        self._moved: dict[About, tuple[int, int]] = {}
        self._moved_over = QTimer(self, singleShot=True, interval=MOVED_MILLISECONDS)
        self._moved_over.timeout.connect(lambda: self.mark_moved({}))
        self.viewport().grabGesture(Qt.GestureType.PinchGesture)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.viewport().setMouseTracking(True)
        self.setAccessibleName("Picture of the day")
        self.setWhatsThis(
            "Arrow keys and Tab go from thing to thing; Return opens it, Shift+F10 says what can be wished of it. "
            "Drag a stage, or press Shift and an arrow, to wish it earlier or later. "
            "Plus and minus, Ctrl and the wheel, or two fingers stretch time; 0 or F shows the whole day."
        )

    def lay_out(self) -> None:
        super().lay_out()
        if self.focused_item() is None:
            self._focused = None
        self._tell()

    def mark_moved(self, moved: dict[About, tuple[int, int]]) -> None:
        """Mark for a moment what is at another time than it was: from when to when each was."""
        self._moved = moved
        if moved:
            self._moved_over.start()
        self.viewport().update()

    def stretch(self, steps: int) -> None:
        """Stretch time by so many steps, or press it together."""
        self.set_zoom(self._zoom * ZOOM_STEP**steps)

    def draw_over(self, painter: QPainter, theme: Theme, head: float) -> None:
        if self._picture is not None:
            draw_moved(painter, theme, self._picture, self._moved)
        self._draw_focus(painter, theme)
        self._draw_drag(painter, theme)

    def _draw_focus(self, painter: QPainter, theme: Theme) -> None:
        """A ring around what the keyboard is on: dark on light on dark, so that it stands out on anything."""
        item = self.focused_item()
        if item is None or not self.hasFocus():
            return
        box = QRectF(item.x, item.y, item.width, item.height).adjusted(-4, -4, 4, 4)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for colour, width in (("paper", 5.0), ("ink", 2.5)):
            painter.setPen(QPen(QColor(theme.colour(colour)), width * theme.scale))
            painter.drawRoundedRect(box, 4, 4)

    def _draw_drag(self, painter: QPainter, theme: Theme) -> None:
        """A hollow bar where the stage would go, with its time."""
        if self._drag is None or not self._drag.is_moving:
            return
        box = self._drag.box()
        painter.setPen(QPen(QColor(theme.colour("heavy")), 2 * theme.scale, Qt.PenStyle.DashLine))
        painter.setBrush(QColor(theme.colour("paper")))
        painter.drawRoundedRect(box, 3, 3)
        text, size = show_clock(self._drag.minute), 12 * theme.scale
        tag = QRectF(box.left(), box.top() - 1.6 * size, screen_measure(text, size, True) + size, 1.5 * size)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.colour("heavy")))
        painter.drawRoundedRect(tag, 3, 3)
        painter.setPen(QColor(theme.colour("paper")))
        painter.setFont(chart_font(size, bold=True))
        painter.drawText(tag, Qt.AlignmentFlag.AlignCenter, text)

    # --- keyboard and screen readers -------------------------------------------------------------------------

    def focused_item(self) -> Item | None:
        """What the keyboard is on."""
        return self._picture.item(self._focused) if self._picture and self._focused else None

    def focus_item(self, about: About) -> None:
        """Put the keyboard on a thing of the picture, and move it into sight."""
        item = self._picture.item(about) if self._picture else None
        if item is None:
            return
        self._focused = about
        self._bring_into_sight(item)
        self._tell()
        self.viewport().update()
        self.item_focused.emit(about)

    def walk(self, way: Way) -> bool:
        """Go to the next thing that way; False when there is none."""
        item = step(self._picture, self._focused, way) if self._picture else None
        if item is not None:
            self.focus_item(item.about)
        return item is not None

    def _bring_into_sight(self, item: Item) -> None:
        if self._picture is None:
            return
        size, near = self.viewport().size(), 12
        for bar, start, length, blocked, page in (
            (self.horizontalScrollBar(), item.x, item.width, self._picture.margin, size.width()),
            (self.verticalScrollBar(), item.y, item.height, self._picture.head, size.height()),
        ):
            if start - near < bar.value() + blocked:
                bar.setValue(round(start - near - blocked))
            elif start + min(length, page - blocked - 2 * near) + near > bar.value() + page:
                bar.setValue(round(start + min(length, page - blocked - 2 * near) + near - page))

    def _tell(self) -> None:
        """Tell screen readers what the keyboard is on, or else the whole picture in words."""
        item = self.focused_item()
        whole = "\n".join(describe(self._picture)) if self._picture else ""
        self.setAccessibleDescription(item.words if item else whole)
        if QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.DescriptionChanged))
            if item is not None and self.hasFocus():
                QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, item.words))

    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: N802 - Qt's own
        return self.walk("next" if next else "previous") or super().focusNextPrevChild(next)

    def focusInEvent(self, event: QFocusEvent) -> None:
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.walk("last" if event.reason() == Qt.FocusReason.BacktabFocusReason else "first")
        super().focusInEvent(event)
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.viewport().update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, item = event.key(), self.focused_item()
        is_shifted = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.stretch(1)
        elif key == Qt.Key.Key_Minus:
            self.stretch(-1)
        elif key in (Qt.Key.Key_0, Qt.Key.Key_F):
            self.fit()
        elif key == Qt.Key.Key_Escape and self._drag:
            self._end_drag()
        elif is_shifted and item and item.about[0] == "work" and key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            later = KEY_MOVE if key == Qt.Key.Key_Right else -KEY_MOVE
            self.stage_dragged.emit(str(item.about[1]), str(item.about[2]), item.minute + later)
        elif key in _WALKS:
            self.walk(_WALKS[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and item:
            self.item_activated.emit(item.about)
        else:
            super().keyPressEvent(event)

    # --- mouse -----------------------------------------------------------------------------------------------

    def item_under(self, place: QPointF) -> Item | None:
        """What lies under a place in the window."""
        if self._picture is None:
            return None
        right = 0 if place.x() < self._picture.margin else self.horizontalScrollBar().value()
        down = 0 if place.y() < self._picture.head else self.verticalScrollBar().value()
        return item_at(self._picture, place.x() + right, place.y() + down)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        item = self.item_under(event.position())
        if event.button() == Qt.MouseButton.LeftButton and item is not None:
            self.focus_item(item.about)
            if item.about[0] == "work" and self._picture is not None:
                self._drag = StageDrag(self._picture, item, event.position().x())
        elif event.button() in (Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton):
            self._pan = event.position().toPoint()
            self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        place = event.position()
        if self._drag is not None:
            self._drag.move(place.x(), QApplication.startDragDistance())
            self.viewport().update()
        elif self._pan is not None:
            moved = place.toPoint() - self._pan
            self._pan = place.toPoint()
            self.horizontalScrollBar().setValue(self.horizontalScrollBar().value() - moved.x())
            self.verticalScrollBar().setValue(self.verticalScrollBar().value() - moved.y())
        else:
            item = self.item_under(place)
            is_stage = item is not None and item.about[0] == "work"
            self.viewport().setCursor(Qt.CursorShape.SizeHorCursor if is_stage else Qt.CursorShape.ArrowCursor)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        drag, self._pan = self._drag, None
        self._end_drag()
        if drag is not None and drag.is_moving and drag.minute != drag.item.minute:
            self.stage_dragged.emit(str(drag.item.about[1]), str(drag.item.about[2]), drag.minute)

    def _end_drag(self) -> None:
        self._drag = None
        self.viewport().setCursor(Qt.CursorShape.ArrowCursor)
        self.viewport().update()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        item = self.item_under(event.position())
        if item is not None:
            self.item_activated.emit(item.about)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        item = self.focused_item() if by_key else self.item_under(QPointF(event.pos()))
        if item is None:
            return
        self.focus_item(item.about)
        right, down = self.horizontalScrollBar().value(), self.verticalScrollBar().value()
        middle = QPoint(round(item.x + item.width / 2 - right), round(item.y + item.height / 2 - down))
        self.menu_wanted.emit(item.about, self.viewport().mapToGlobal(middle) if by_key else event.globalPos())

    def wheelEvent(self, event: QWheelEvent) -> None:
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.set_zoom(self._zoom * ZOOM_STEP ** (event.angleDelta().y() / 120), event.position().x())
            event.accept()
        else:
            super().wheelEvent(event)

    def viewportEvent(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip:
            help_event = cast(QHelpEvent, event)
            item = self.item_under(QPointF(help_event.pos()))
            if item is not None:
                QToolTip.showText(help_event.globalPos(), tip(item.words), self.viewport())
            else:
                QToolTip.hideText()
            return True
        if event.type() == QEvent.Type.Gesture:
            pinch = cast(QGestureEvent, event).gesture(Qt.GestureType.PinchGesture)
            if isinstance(pinch, QPinchGesture):
                self.set_zoom(self._zoom * pinch.scaleFactor(), self.viewport().mapFromGlobal(pinch.hotSpot()).x())
                return True
        if event.type() == QEvent.Type.NativeGesture:
            touch = cast(QNativeGestureEvent, event)
            if touch.gestureType() is Qt.NativeGestureType.ZoomNativeGesture:
                self.set_zoom(self._zoom * (1 + touch.value()), touch.position().x())
                return True
        return super().viewportEvent(event)
