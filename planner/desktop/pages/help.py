"""Help in the window: a page that reads from top to bottom."""

from PySide6.QtCore import Qt, QUrl
from PySide6.QtWidgets import QDialog, QTextBrowser, QVBoxLayout, QWidget

from planner.resources import resource


class HelpView(QDialog):
    """Shows the shipped page of help."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(self.tr("How it works"))
        self.setWindowFlag(Qt.WindowType.Window)
        self.resize(640, 620)
        self.text = QTextBrowser(self)
        self.text.setOpenExternalLinks(False)
        self.text.setSource(QUrl.fromLocalFile(str(resource("help", "window.md"))))
        column = QVBoxLayout(self)
        column.addWidget(self.text)
