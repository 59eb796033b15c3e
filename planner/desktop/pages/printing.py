"""A planned day on paper and in files: the run sheet printed, and every document under a name that is asked for."""

from collections.abc import Callable
from importlib.util import find_spec
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize
from PySide6.QtGui import QPageLayout, QPageSize, QPainter, QTextDocument
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from planner.desktop.model.open_day import Shown
from planner.desktop.plain import box
from planner.desktop.thinking.studies import ToWrite, Written
from planner.desktop.thinking.studying import Studying
from planner.fit.verdict import verdict
from planner.sheet.export import SUFFIXES, What
from planner.sheet.papers.html import run_sheet_html
from planner.sheet.papers.runsheet import run_sheet

_DOTS_AT_MOST = 300


def can_draw_pdf() -> bool:
    """Whether Qt's reader of PDF pages is installed; the sheet is drawn as HTML without it."""
    return find_spec("PySide6.QtPdfWidgets") is not None


def sheet_html(shown: Shown) -> str:
    """The run sheet as a page for a viewer that knows little HTML."""
    return run_sheet_html(run_sheet(shown.day, shown.plan, verdict=verdict(shown.day, shown.plan).sentence))


def save_document(
    parent: QWidget,
    studying: Studying,
    shown: Shown,
    what: What,
    name: str,
    *,
    then: Callable[[tuple[Path, ...]], None] | None = None,
) -> None:
    """Ask where, and write a document there; what goes wrong is said, and ``then`` is told of the files written."""
    title, kinds = "Save as", SUFFIXES[what]
    start = Path.home() / f"{name} {shown.day.date.isoformat()} {what}{kinds[0] if kinds else ''}"
    if kinds:
        kinds_words = f"{what} ({' '.join(f'*{kind}' for kind in kinds)})"
        chosen, _ = QFileDialog.getSaveFileName(parent, title, str(start), kinds_words)
    else:
        chosen = QFileDialog.getExistingDirectory(parent, title, str(start.parent))
    if not chosen:
        return
    path = Path(chosen)
    if kinds and path.suffix.lower() not in kinds:
        path = path.with_name(path.name + kinds[0])

    def on_written(written: Written) -> None:
        if written.fault:
            box(parent, QMessageBox.Icon.Warning, title, written.fault).exec()
        elif then is not None:
            then(written.paths)

    studying.ask("document", shown, on_written, ToWrite(path, what))


def print_run_sheet(parent: QWidget, studying: Studying, shown: Shown) -> None:
    """Ask for the printer and print."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    printer.setPageOrientation(QPageLayout.Orientation.Portrait)
    printer.setDocName(f"Run sheet {shown.day.date.isoformat()}")
    if not QPrintDialog(printer, parent).exec():
        return
    if can_draw_pdf():
        studying.ask("sheet", shown, lambda pdf: print_pages(printer, pdf))
    else:
        page = QTextDocument()
        page.setHtml(sheet_html(shown))
        page.print_(printer)


def print_pages(printer: QPrinter, pdf: bytes) -> None:
    """Print every page of a PDF, edge to edge."""
    from PySide6.QtPdf import QPdfDocument

    buffer = QBuffer()
    buffer.setData(QByteArray(pdf))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    pages = QPdfDocument()
    pages.load(buffer)
    printer.setFullPage(True)
    painter = QPainter(printer)
    scale = min(1.0, _DOTS_AT_MOST / printer.resolution())
    for number in range(pages.pageCount()):
        if number:
            printer.newPage()
        area = painter.viewport()
        size = QSize(int(area.width() * scale), int(area.height() * scale))
        painter.drawImage(area, pages.render(number, size))
    painter.end()
    pages.close()
