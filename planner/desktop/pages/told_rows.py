"""Rows to read: a time, what, and under it the rest in small; used wherever a day is told in words."""

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen, QResizeEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from planner.desktop.look import headline, inks_of

_ROW = Qt.ItemDataRole.UserRole
_PAD = 7
_LEFT = 10

LEAST_LETTERS = 20
"""Where there is less room beside a time than for so many letters, what is told stands below it."""


@dataclass(frozen=True)
class ToldRow:
    """One row. A heading or subheading stands alone; ``is_bare`` is time with nothing in it."""

    when: str = ""
    what: str = ""
    below: str = ""
    aside: str = ""
    heading: str = ""
    subheading: str = ""
    is_strong: bool = True
    is_bare: bool = False

    def as_text(self) -> str:
        """All of it in one line, for a screen reader."""
        parts = (self.heading, self.subheading, self.when, self.what, self.aside, self.below.replace("\n", "; "))
        return ", ".join(filter(None, parts))


class RowsView(QListView):
    """A list of told rows; keyboard and screen reader go through every one."""

    def __init__(self, parent: QWidget | None = None, *, least_height: int = 0) -> None:
        super().__init__(parent)
        self.has_times = self.has_asides = True
        self.longest_time = ""
        self.least_height = least_height
        self.setModel(QStandardItemModel(self))
        self.setItemDelegate(_RowPainter(self))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setEditTriggers(QListView.EditTrigger.NoEditTriggers)

    def tell(self, rows: list[ToldRow]) -> None:
        """Show other rows, staying where the reader was."""
        at, chosen = self.verticalScrollBar().value(), self.currentIndex().row()
        model = self.model()
        assert isinstance(model, QStandardItemModel)
        model.clear()
        self.has_times, self.has_asides = any(row.when for row in rows), any(row.aside for row in rows)
        self.longest_time = max((row.when for row in rows), key=len, default="")
        for row in rows:
            item = QStandardItem(row.as_text())
            item.setData(row, _ROW)
            item.setSelectable(not (row.heading or row.subheading))
            model.appendRow(item)
        if 0 <= chosen < model.rowCount():
            self.setCurrentIndex(model.index(chosen, 0))
        self.verticalScrollBar().setValue(at)

    def told(self) -> list[ToldRow]:
        """The rows shown."""
        model = self.model()
        return [model.index(at, 0).data(_ROW) for at in range(model.rowCount())]

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lines wrap anew."""
        super().resizeEvent(event)
        self.scheduleDelayedItemsLayout()


Index = QModelIndex | QPersistentModelIndex


class _RowPainter(QStyledItemDelegate):
    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        row: ToldRow = index.data(_ROW)
        view = self.parent()
        width = view.viewport().width() if isinstance(view, QListView) else option.rect.width()
        if row.heading:
            return QSize(width, QFontMetrics(headline(13, bold=True)).height() + 2 * _PAD + 4)
        if row.subheading:
            return QSize(width, _small(option.font).lineSpacing() + _PAD + 8)
        left, right = self._columns(option.font, width, view)
        height = self._over(option.font, row, left, right, width)
        if height:
            left, right = _LEFT, width - _LEFT
        height += _wrapped(_bold(option.font, strong=row.is_strong), row.what, right - left)
        if row.below:
            height += 1 + _wrapped(_smaller(option.font), row.below, width - _LEFT - left)
        least = view.least_height if isinstance(view, RowsView) else 0
        return QSize(width, max(least, height + 2 * _PAD))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row: ToldRow = index.data(_ROW)
        view = self.parent()
        inks = inks_of(view) if isinstance(view, QWidget) else inks_of(QWidget())
        rect = option.rect
        painter.save()
        is_chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if is_chosen:
            painter.fillRect(rect, QColor(inks.shade))
            painter.fillRect(QRect(rect.left(), rect.top(), 3, rect.height()), QColor(inks.water))
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QPen(QColor(inks.water), 2))
            painter.drawRect(rect.adjusted(1, 1, -2, -2))
        if row.heading or row.subheading:
            self._paint_heading(painter, rect, row, QColor(inks.ink if row.heading else inks.faint), option.font)
            painter.restore()
            return
        left, right = self._columns(option.font, rect.width(), view)
        top = rect.top() + _PAD
        painter.setPen(QColor(inks.ink if row.is_strong else inks.faint))
        painter.setFont(_digits(option.font, strong=row.is_strong))
        over = self._over(option.font, row, left, right, rect.width())
        when = QRect(rect.left() + _LEFT, top, (right if over else left) - _LEFT, rect.height())
        painter.drawText(when, Qt.AlignmentFlag.AlignTop, row.when)
        painter.setFont(_smaller(option.font))
        painter.setPen(QColor(inks.faint))
        aside = QRect(rect.left() + right, top + 1, rect.width() - right - _LEFT, rect.height())
        painter.drawText(aside, _RIGHT, row.aside)
        if over:
            top, left, right = top + over, _LEFT, rect.width() - _LEFT
        font = _bold(option.font, strong=row.is_strong)
        painter.setFont(font)
        body = QRect(rect.left() + left, top, right - left, rect.height())
        painter.setPen(QColor(inks.faint if row.is_bare else inks.ink))
        painter.drawText(body, _WRAP, row.what)
        painter.setFont(_smaller(option.font))
        painter.setPen(QColor(inks.faint))
        if row.below:
            body.setTop(top + 1 + _wrapped(font, row.what, right - left))
            body.setRight(rect.left() + rect.width() - _LEFT - 1)
            painter.drawText(body, _WRAP, row.below)
        pen = QPen(QColor(inks.line))
        if row.is_bare:
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.drawLine(rect.left() + _LEFT, rect.bottom(), rect.right() - _LEFT, rect.bottom())
        painter.restore()

    @staticmethod
    def _paint_heading(painter: QPainter, rect: QRect, row: ToldRow, ink: QColor, font: QFont) -> None:
        painter.setPen(ink)
        painter.setFont(headline(13, bold=True) if row.heading else _smaller(font))
        box = rect.adjusted(_LEFT, 0, -_LEFT, -3)
        painter.drawText(box, Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft, row.heading or row.subheading)

    @staticmethod
    def _columns(font: QFont, width: int, view: QObject | None) -> tuple[int, int]:
        """Where what is told begins and ends, between the time and the length; all of it where there are none."""
        if isinstance(view, RowsView) and not view.has_times:
            return _LEFT, width - _LEFT
        digits, aside = QFontMetrics(_digits(font, strong=True)), QFontMetrics(_smaller(font))
        has_asides, longest = (view.has_asides, view.longest_time) if isinstance(view, RowsView) else (True, "")
        left = max(digits.horizontalAdvance("00:00 +1"), digits.horizontalAdvance(f"{longest} "))
        right = aside.horizontalAdvance("1 h 00 min ") if has_asides else 0
        return _LEFT + left, width - _LEFT - right

    @staticmethod
    def _over(font: QFont, row: ToldRow, left: int, right: int, width: int) -> int:
        """The height of a time that stands over what is told, where there is no room for it beside; else nothing."""
        least = LEAST_LETTERS * QFontMetrics(font).averageCharWidth()
        is_wide = right - left >= min(least, width // 2)
        if is_wide or not (row.when or row.aside):
            return 0
        return QFontMetrics(_digits(font, strong=True)).height()


_WRAP = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop


def _digits(font: QFont, *, strong: bool) -> QFont:
    """The face of times: a little larger than what is told, and not larger still where letters are large already."""
    made = headline(font.pointSizeF() + 0.5, bold=strong)
    made.setPointSizeF(font.pointSizeF() + 0.5)
    return made


def _bold(font: QFont, *, strong: bool) -> QFont:
    made = QFont(font)
    made.setWeight(QFont.Weight.DemiBold if strong else QFont.Weight.Normal)
    return made


def _smaller(font: QFont) -> QFont:
    made = QFont(font)
    made.setPointSizeF(font.pointSizeF() * 0.9)
    return made


def _small(font: QFont) -> QFontMetrics:
    return QFontMetrics(_smaller(font))


def _wrapped(font: QFont, text: str, width: int) -> int:
    flags: Any = int(Qt.TextFlag.TextWordWrap)
    return QFontMetrics(font).boundingRect(QRect(0, 0, max(40, width), 10000), flags, text).height()
