"""The rail of page names beside the picture."""

from dataclasses import dataclass

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QResizeEvent
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from planner.desktop.look import inks_of

_PAGE = Qt.ItemDataRole.UserRole
_CHOSEN = QFont.Weight.DemiBold


@dataclass(frozen=True)
class RailEntry:
    """A page on the rail, or the heading of a group when it has no key."""

    words: str
    key: str = ""


class Rail(QListWidget):
    """Names of pages in groups; choosing one tells its key."""

    page_chosen = Signal(str)

    def __init__(self, entries: list[RailEntry], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Pages")
        self.setFrameShape(QListWidget.Shape.NoFrame)
        self.setStyleSheet("QListWidget { background: transparent; border: none; }")
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setItemDelegate(_EntryPainter(self))
        for entry in entries:
            item = QListWidgetItem(entry.words, self)
            item.setData(_PAGE, entry.key)
            if not entry.key:
                item.setFlags(Qt.ItemFlag.NoItemFlags)
        chosen = QFont(self.font())
        chosen.setWeight(_CHOSEN)
        widest = max(QFontMetrics(chosen).horizontalAdvance(entry.words) for entry in entries)
        self.setFixedWidth(widest + 38)
        self.currentItemChanged.connect(self.on_current)

    def choose(self, key: str) -> None:
        """Go to a page."""
        for row in range(self.count()):
            if self.item(row).data(_PAGE) == key:
                self.setCurrentRow(row)

    @property
    def chosen(self) -> str:
        """The page that is shown."""
        item = self.currentItem()
        return str(item.data(_PAGE)) if item else ""

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The page that is shown stays in sight where the strip above takes more of the room."""
        super().resizeEvent(event)
        self.scrollTo(self.currentIndex())

    @Slot()
    def on_current(self) -> None:
        """Another entry is current."""
        if self.chosen:
            self.page_chosen.emit(self.chosen)


class _EntryPainter(QStyledItemDelegate):
    def sizeHint(self, option: QStyleOptionViewItem, index: object) -> QSize:
        key = index.data(_PAGE)  # type: ignore[attr-defined]
        return QSize(60, option.fontMetrics.height() + (12 if key else 16))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: object) -> None:
        view = self.parent()
        assert isinstance(view, QWidget)
        inks, rect = inks_of(view), option.rect
        key, words = index.data(_PAGE), index.data()  # type: ignore[attr-defined]
        is_chosen = bool(option.state & QStyle.StateFlag.State_Selected) and bool(key)
        painter.save()
        font = QFont(option.font)
        if not key:
            font.setPointSizeF(font.pointSizeF() * 0.82)
            font.setCapitalization(QFont.Capitalization.AllUppercase)
            font.setLetterSpacing(QFont.SpacingType.AbsoluteSpacing, 1.0)
        font.setWeight(_CHOSEN if is_chosen else QFont.Weight.Normal)
        if is_chosen:
            painter.fillRect(rect.adjusted(8, 0, 0, 0), QColor(inks.sheet))
            painter.fillRect(rect.left() + 8, rect.top(), 4, rect.height(), QColor(inks.water))
        painter.setFont(font)
        painter.setPen(QColor(inks.ink if key else inks.faint))
        flags = Qt.AlignmentFlag.AlignLeft | (Qt.AlignmentFlag.AlignVCenter if key else Qt.AlignmentFlag.AlignBottom)
        painter.drawText(rect.adjusted(20, 0, -4, 0 if key else -3), flags, words)
        if option.state & QStyle.StateFlag.State_HasFocus and key:
            painter.setPen(QColor(inks.water))
            painter.drawRect(rect.adjusted(8, 0, -1, -1))
        painter.restore()
