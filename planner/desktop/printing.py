"""The run sheet on paper, and as a PDF."""

from importlib.util import find_spec
from pathlib import Path
from typing import Any

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from planner.day.safekeeping import FileFault, save_bytes
from planner.desktop.open_day import Shown
from planner.desktop.questions import Question

_DOTS_AT_MOST = 300


def page_reader() -> Any:
    """Where Qt's reader of PDF pages lies; None where it is not installed."""
    return find_spec("PySide6.QtPdfWidgets")


def sheet_pdf(shown: Shown) -> bytes:
    """The run sheet as a PDF."""
    import threading

    from planner.desktop import studies

    return studies.sheet_pdf(Question(0, "sheet", shown.day, shown.plan), threading.Event())


def sheet_html(shown: Shown) -> str:
    """The run sheet as a page."""
    from planner.fit.verdict import verdict
    from planner.sheet.html import run_sheet_html
    from planner.sheet.runsheet import run_sheet

    return run_sheet_html(run_sheet(shown.day, shown.plan, verdict=verdict(shown.day, shown.plan).sentence))


def save_run_sheet(parent: QWidget, shown: Shown, name: str) -> None:
    """Ask where, and keep the run sheet there as a PDF."""
    start = str(Path.home() / f"{name} {shown.day.date.isoformat()}.pdf")
    chosen, _ = QFileDialog.getSaveFileName(parent, parent.tr("Run sheet as PDF"), start, parent.tr("PDF (*.pdf)"))
    if chosen:
        path = Path(chosen)
        try:
            save_bytes(path if path.suffix else path.with_suffix(".pdf"), sheet_pdf(shown))
        except FileFault as fault:
            QMessageBox.warning(parent, parent.tr("Run sheet"), f"{fault.path.name}: {fault.problem}; {fault.remedy}")


def print_run_sheet(parent: QWidget, shown: Shown) -> None:
    """Ask for the printer and print."""
    from PySide6.QtPrintSupport import QPrintDialog, QPrinter

    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    printer.setDocName(parent.tr("Run sheet {date}").format(date=shown.day.date.isoformat()))
    dialog = QPrintDialog(printer, parent)
    if dialog.exec():
        print_to(printer, shown)


def print_to(printer: Any, shown: Shown) -> None:
    """Print the run sheet's pages on a printer that is set up."""
    if page_reader() is None:
        from PySide6.QtGui import QTextDocument

        document = QTextDocument()
        document.setHtml(sheet_html(shown))
        document.print_(printer)
        return
    from PySide6.QtPdf import QPdfDocument

    buffer = QBuffer()
    buffer.setData(QByteArray(sheet_pdf(shown)))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    pages = QPdfDocument()
    pages.load(buffer)
    printer.setFullPage(True)
    printer.setPageOrientation(QPageLayout.Orientation.Portrait)
    painter = QPainter(printer)
    scale = min(1.0, _DOTS_AT_MOST / printer.resolution())
    for number in range(pages.pageCount()):
        if number:
            printer.newPage()
        target = painter.viewport()
        size = QSize(int(target.width() * scale), int(target.height() * scale))
        painter.drawImage(target, pages.render(number, size))
    painter.end()
