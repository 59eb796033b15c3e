"""Printed pages under each other, as wide as there is room, to be scrolled through by mouse and keys."""

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QFocusEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from planner.desktop.pages.paper_pages import PaperPages
from planner.desktop.plain import PlainLabel

_SETTLE_MILLISECONDS = 120
GAP = 10


class PagesView(QScrollArea):
    """Shows pages; they are drawn anew once the room for them is settled."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pages: PaperPages | None = None
        self._sheets: list[PlainLabel] = []
        self._drawn_at = 0
        self.setAccessibleName("Pages of the run sheet")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._settle = QTimer(self, singleShot=True, interval=_SETTLE_MILLISECONDS)
        self._settle.timeout.connect(self._draw)
        self._desk = QWidget()
        self._column = QVBoxLayout(self._desk)
        self._column.setContentsMargins(GAP, GAP, GAP, GAP)
        self._column.setSpacing(GAP)
        self.setWidget(self._desk)

    def show_pages(self, pdf: bytes) -> None:
        """Show the pages of a PDF in place of those shown so far."""
        self.clear()
        self._pages = PaperPages(pdf)
        for number in range(len(self._pages)):
            sheet = PlainLabel("", self._desk)
            sheet.setFrameShape(QFrame.Shape.Box)
            sheet.setAccessibleName(f"Side {number + 1} of {len(self._pages)}")
            sheet.setAccessibleDescription(self._pages.text(number))
            self._sheets.append(sheet)
            self._column.addWidget(sheet, 0, Qt.AlignmentFlag.AlignHCenter)
        self.setAccessibleDescription("\n\n".join(sheet.accessibleDescription() for sheet in self._sheets))
        self._draw()

    def clear(self) -> None:
        """Show no pages."""
        for sheet in self._sheets:
            self._column.removeWidget(sheet)
            sheet.deleteLater()
        self._sheets, self._drawn_at = [], 0
        if self._pages is not None:
            self._pages.close()
            self._pages = None

    @property
    def count(self) -> int:
        """How many pages are shown."""
        return len(self._sheets)

    def picture(self, number: int) -> QPixmap:
        """A page as it is shown; the first is 0."""
        return self._sheets[number].pixmap()

    def _draw(self) -> None:
        width = max(200, self.viewport().width() - 2 * GAP - 2)
        if self._pages is None or width == self._drawn_at:
            return
        self._drawn_at, sharpness = width, self.devicePixelRatioF()
        for number, sheet in enumerate(self._sheets):
            pixmap = QPixmap.fromImage(self._pages.picture(number, round(width * sharpness)))
            pixmap.setDevicePixelRatio(sharpness)
            sheet.setPixmap(pixmap)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._settle.start()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def event(self, event: QEvent) -> bool:
        if event.type() is QEvent.Type.DevicePixelRatioChange:
            self._drawn_at = 0
            self._settle.start()
        return super().event(event)
