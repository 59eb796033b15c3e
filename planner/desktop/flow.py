"""Things side by side where there is room, below each other where there is not: on small screens, in large print."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget

Row = list[QLayoutItem]


class Flow(QLayout):
    """A row that breaks where it must; with ``shares`` its things share the width, else each is as wide as it likes.

    Things that share a row and say how high their ``head`` is at a width are level below it, however many lines it has.
    ``most`` is how many stand in a row at the most.
    """

    def __init__(
        self, parent: QWidget | None = None, *, shares: bool = False, gap: int = 8, most: int | None = None
    ) -> None:
        super().__init__(parent)
        self._items: Row = []
        self._shares, self._gap, self._most = shares, gap, most
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        """Qt's own name: put one more at the end."""
        self._items.append(item)

    def count(self) -> int:
        """How many there are."""
        return len(self._items)

    def itemAt(self, at: int) -> QLayoutItem | None:
        """One of them; None past the end."""
        return self._items[at] if 0 <= at < len(self._items) else None

    def takeAt(self, at: int) -> QLayoutItem | None:
        """Take one out."""
        return self._items.pop(at) if 0 <= at < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """It takes no more room than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """How high it is at a width."""
        return self._laid(QRect(0, 0, width, 0), moves=False)

    def sizeHint(self) -> QSize:
        """All side by side."""
        shown = self._shown()
        width = sum(_wish(item) for item in shown) + self._gap * max(0, len(shown) - 1)
        return QSize(width, max((item.sizeHint().height() for item in shown), default=0))

    def minimumSize(self) -> QSize:
        """As wide as the widest alone."""
        shown = self._shown()
        width = max((item.minimumSize().width() for item in shown), default=0)
        return QSize(width, max((item.minimumSize().height() for item in shown), default=0))

    def setGeometry(self, rect: QRect) -> None:
        """Put each in its place."""
        super().setGeometry(rect)
        self._laid(rect, moves=True)

    def _shown(self) -> Row:
        return [item for item in self._items if not item.isEmpty()]

    def _rows(self, width: int) -> list[Row]:
        rows: list[Row] = []
        used = 0
        for item in self._shown():
            needs = _least(item) if self._shares else _wish(item)
            fits = bool(rows) and used + self._gap + needs <= width and len(rows[-1]) != self._most
            if fits and not (self._shares and self._would_squeeze(rows[-1], item, width)):
                rows[-1].append(item)
                used += self._gap + needs
            else:
                rows.append([item])
                used = needs
        return rows

    def _would_squeeze(self, row: Row, item: QLayoutItem, width: int) -> bool:
        """Whether equal shares of the width would be too narrow for one of them."""
        count = len(row) + 1
        share = (width - self._gap * (count - 1)) // count
        return any(_least(one) > share for one in (*row, item))

    def _laid(self, rect: QRect, *, moves: bool) -> int:
        """Lay all out within a rectangle; how high that is."""
        top = rect.top()
        for row in self._rows(rect.width()):
            share = (rect.width() - self._gap * (len(row) - 1)) // len(row)
            widths = [share if self._shares else min(_wish(item), rect.width()) for item in row]
            heights = [_height(item, width) for item, width in zip(row, widths, strict=True)]
            heads = [_head(item, width) for item, width in zip(row, widths, strict=True)]
            down = [max(heads) - head for head in heads] if self._shares else [0] * len(row)
            left = rect.left()
            for item, width, height, lower in zip(row, widths, heights, down, strict=True):
                if moves:
                    item.setGeometry(QRect(QPoint(left, top + lower), QSize(width, height)))
                left += width + self._gap
            top += max(map(sum, zip(heights, down, strict=True))) + self._gap
        return max(0, top - rect.top() - self._gap)


def _wish(item: QLayoutItem) -> int:
    return item.sizeHint().width()


def _least(item: QLayoutItem) -> int:
    return item.minimumSize().width()


def _head(item: QLayoutItem, width: int) -> int:
    """How high that is by which things of a row are held level: the label over a field, where it has one."""
    head = getattr(item.widget(), "head", None)
    return int(head(width)) if callable(head) else 0


def _height(item: QLayoutItem, width: int) -> int:
    if item.hasHeightForWidth():
        return max(item.heightForWidth(width), item.minimumSize().height())
    return item.sizeHint().height()
