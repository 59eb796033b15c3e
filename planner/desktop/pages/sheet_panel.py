"""The run sheet as it will be printed."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, Slot
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QTextBrowser, QWidget

from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.printing import can_draw_pdf, print_run_sheet, save_document, sheet_html
from planner.desktop.thinking.studying import Studying

if TYPE_CHECKING:
    from PySide6.QtPdf import QPdfDocument


class SheetPanel(Panel):
    """The pages, with a button to print them and one to keep them as a PDF."""

    def __init__(self, open_day: OpenDay, studying: Studying, parent: QWidget | None = None) -> None:
        super().__init__(open_day, "Run sheet", parent)
        self._studying = studying
        self._document: QPdfDocument | None = None
        self._buffer = QBuffer(self)
        self.print_button = QPushButton("Print …", self)
        self.pdf_button = QPushButton("As PDF …", self)
        row = QHBoxLayout()
        row.addWidget(self.print_button)
        row.addWidget(self.pdf_button)
        row.addStretch(1)
        self.column.addLayout(row)
        self._state = self.add_words("")
        self.column.addWidget(self._make_view(), 1)
        self.print_button.clicked.connect(self.on_print)
        self.pdf_button.clicked.connect(self.on_pdf)
        studying.failed.connect(self.on_failed)

    def _make_view(self) -> QWidget:
        """Pages of the PDF where Qt can draw them, else the page as HTML."""
        self.text: QTextBrowser | None = None
        if not can_draw_pdf():
            self.text = QTextBrowser(self)
            return self.text
        from PySide6.QtPdf import QPdfDocument
        from PySide6.QtPdfWidgets import QPdfView

        self._document = QPdfDocument(self)
        view = QPdfView(self)
        view.setDocument(self._document)
        view.setPageMode(QPdfView.PageMode.MultiPage)
        view.setZoomMode(QPdfView.ZoomMode.FitToWidth)
        palette = view.palette()
        palette.setColor(QPalette.ColorRole.Dark, palette.color(QPalette.ColorRole.Midlight))
        view.setPalette(palette)
        view.setAccessibleName("Pages of the run sheet")
        return view

    def refresh(self) -> None:
        """Set the sheet anew."""
        shown = self.open_day.shown
        for button in (self.print_button, self.pdf_button):
            button.setEnabled(shown is not None)
        if shown is None:
            self._state.setText("There is no plan yet.")
        elif self.text is not None:
            self.text.setHtml(sheet_html(shown))
            self._state.setText("")
        else:
            self._state.setText("Setting the pages …")
            self._studying.ask("sheet", shown, self.on_sheet)

    def on_sheet(self, pdf: bytes) -> None:
        """The pages are set."""
        if self._document is None:
            return
        self._state.setText("")
        self._document.close()
        self._buffer.close()
        self._buffer.setData(QByteArray(pdf))
        self._buffer.open(QIODevice.OpenModeFlag.ReadOnly)
        self._document.load(self._buffer)

    @Slot(str, str)
    def on_failed(self, task: str, words: str) -> None:
        """The pages could not be set."""
        if task == "sheet":
            self._state.setText(words)

    @Slot()
    def on_print(self) -> None:
        """Print was pressed."""
        if self.open_day.shown is not None:
            print_run_sheet(self, self._studying, self.open_day.shown)

    @Slot()
    def on_pdf(self) -> None:
        """PDF was pressed."""
        if self.open_day.shown is not None:
            save_document(self, self._studying, self.open_day.shown, "sheet", self.open_day.name)
