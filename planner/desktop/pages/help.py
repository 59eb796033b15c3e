"""The guide in the window: its pages in a list, the page chosen, and a field to search them all."""

from PySide6.QtCore import QSize, Qt, QUrl, Slot
from PySide6.QtGui import QImage, QTextCharFormat, QTextCursor, QTextDocument
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QTextBrowser,
    QTextEdit,
    QVBoxLayout,
    QWidget,
)

from planner.desktop.forms.dialog import MOST_OF_THE_SCREEN
from planner.desktop.model.guide import GuidePage, guide_pages

MARGIN = 40
"""Pixels left of a line of text, its scroll bar included."""


class PageView(QTextBrowser):
    """Shows one page; its pictures are never wider than the page."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setOpenLinks(False)
        self.setAccessibleName("Page of the guide")

    def show_page(self, page: GuidePage, sought: str = "") -> None:
        """Show a page, with what is sought marked, the first place in sight."""
        self.setSearchPaths([str(page.path.parent)])
        self.setMarkdown(page.text)
        marks = [mark for word in sought.split() for mark in self._marks(word)]
        self.setExtraSelections(marks)
        if marks:
            self.setTextCursor(QTextCursor(marks[0].cursor.document().findBlock(marks[0].cursor.selectionStart())))
            self.ensureCursorVisible()

    def _marks(self, word: str) -> list[QTextEdit.ExtraSelection]:
        found, marked = self.document().find(word), QTextCharFormat()
        marked.setBackground(self.palette().highlight())
        marked.setForeground(self.palette().highlightedText())
        marks = []
        while not found.isNull():
            mark = QTextEdit.ExtraSelection()
            mark.cursor, mark.format = found, marked
            marks.append(mark)
            found = self.document().find(word, found)
        return marks

    def loadResource(self, kind: int, name: QUrl | str) -> object:  # noqa: N802 - Qt's own name
        """Pictures come scaled to the width of the page; nothing is loaded from elsewhere than beside it."""
        name = QUrl(name)
        if name.scheme() not in ("", "file") or ".." in name.path():
            return None
        loaded = super().loadResource(kind, name)
        if kind != QTextDocument.ResourceType.ImageResource.value or not loaded:
            return loaded
        picture = loaded if isinstance(loaded, QImage) else QImage.fromData(loaded)
        room = max(200, self.viewport().width() - MARGIN)
        if picture.width() > room:
            picture = picture.scaledToWidth(room, Qt.TransformationMode.SmoothTransformation)
        return picture


class HelpView(QDialog):
    """The guide: every page by its title, one shown, all searched."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Guide")
        self.setWindowFlag(Qt.WindowType.Window)
        self.resize(QSize(980, 680).boundedTo(self.screen().availableSize() * MOST_OF_THE_SCREEN))
        self.pages = guide_pages()
        self.search = QLineEdit(self, placeholderText="Search the guide", clearButtonEnabled=True)
        self.search.setAccessibleName("Search the guide")
        self.titles = QListWidget(self)
        self.titles.setAccessibleName("Pages of the guide")
        self.titles.setWordWrap(True)
        self.titles.addItems([page.title for page in self.pages])
        self.view = PageView(self)
        side = QVBoxLayout()
        side.addWidget(self.search)
        side.addWidget(self.titles, 1)
        row = QHBoxLayout(self)
        row.addLayout(side, 1)
        row.addWidget(self.view, 3)
        self.search.textChanged.connect(self.on_sought)
        self.titles.currentRowChanged.connect(self.on_chosen)
        self.view.anchorClicked.connect(self.on_link)
        self.titles.setCurrentRow(0)
        self.search.setFocus()

    def go_to(self, name: str) -> bool:
        """Show the page of that file name; whether there is one."""
        for row, page in enumerate(self.pages):
            if page.path.name == name:
                self.titles.setCurrentRow(row)
                return True
        return False

    @Slot(str)
    def on_sought(self, sought: str) -> None:
        """List the pages that speak of it, and show the first of them."""
        hits = [row for row, page in enumerate(self.pages) if page.speaks_of(sought)]
        for row in range(len(self.pages)):
            self.titles.item(row).setHidden(row not in hits)
        if hits and self.titles.currentRow() not in hits:
            self.titles.setCurrentRow(hits[0])
        elif self.titles.currentRow() >= 0:
            self.on_chosen(self.titles.currentRow())

    @Slot(int)
    def on_chosen(self, row: int) -> None:
        """Show the page chosen."""
        if 0 <= row < len(self.pages):
            self.view.show_page(self.pages[row], self.search.text())

    @Slot(QUrl)
    def on_link(self, link: QUrl) -> None:
        """Follow a link to another page of the guide; nothing else is opened."""
        self.go_to(link.fileName())
