"""A planned day on paper and in files: the run sheet printed, and every document under a name that is asked for.

Each of them says what became of it, and offers the next step.
"""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QLocale, QRect, QSize, QUrl
from PySide6.QtGui import QDesktopServices, QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QFileDialog, QWidget

from planner.desktop.forms.asking import Option, choose
from planner.desktop.model.open_day import Shown
from planner.desktop.pages.paper_pages import PaperPages
from planner.desktop.thinking.studies import ToWrite, Written
from planner.desktop.thinking.studying import Studying
from planner.sheet.export import SUFFIXES, What
from planner.sheet.papers.paper import Paper

DOTS_AT_MOST = 300
"""Pages are drawn with so many dots to an inch, or with the printer's own where it has fewer."""


def save_document(
    parent: QWidget,
    studying: Studying,
    shown: Shown,
    what: What,
    to_be_kept: Callable[[], Path],
    *,
    then: Callable[[tuple[Path, ...]], None] | None = None,
) -> None:
    """Ask where, and write a document there; what became of it is said, with the next step, or ``then`` is told.

    ``to_be_kept`` gives the folder that is offered, with the day's name in it.
    """
    title, kinds = "Save as", SUFFIXES[what]
    beside = to_be_kept()
    start = beside.with_name(f"{beside.name} {shown.day.date.isoformat()} {what}{kinds[0] if kinds else ''}")
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
            again = choose(parent, "It is not saved", written.fault, [Option("again", "Save somewhere else …")])
            if again is not None:
                save_document(parent, studying, shown, what, to_be_kept, then=then)
            return
        if then is not None:
            then(written.paths)
        else:
            say_saved(parent, written.paths)

    studying.ask("document", shown, on_written, ToWrite(path, what, usual_paper()))


def say_saved(parent: QWidget, paths: tuple[Path, ...]) -> None:
    """Say what was saved where, and offer to show it in its folder."""
    folder = paths[0].parent
    names = ", ".join(path.name for path in paths)
    options = [Option("done", "Done"), Option("show", "Show folder")]
    next_step = choose(parent, "Saved", f"{names} in {folder}", options, is_question=False)
    if next_step == "show":
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(folder)))


def print_run_sheet(
    parent: QWidget, studying: Studying, shown: Shown, to_be_kept: Callable[[], Path], told: Callable[[str], object]
) -> None:
    """Ask for the printer and print the pages of the PDF; what became of it is said, ``told`` in passing."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setPageOrientation(QPageLayout.Orientation.Portrait)
    printer.setDocName(f"Run sheet {shown.day.date.isoformat()}")
    if not QPrintDialog(printer, parent).exec():
        return

    def on_set(pdf: bytes) -> None:
        fault = print_pages(printer, pdf)
        if not fault:
            told(f"The run sheet is printed: {printer.printerName() or printer.outputFileName()}")
            return
        options = [Option("pdf", "Save as PDF instead …"), Option("again", "Another printer …")]
        next_step = choose(parent, "It is not printed", fault, options)
        if next_step == "pdf":
            save_document(parent, studying, shown, "sheet", to_be_kept)
        elif next_step == "again":
            print_run_sheet(parent, studying, shown, to_be_kept, told)

    studying.ask("print", shown, on_set, paper_of(printer))


def usual_paper() -> Paper:
    """The paper that is usual where the person lives: letter size in the United States, else A4."""
    return "Letter" if QLocale().measurementSystem() is QLocale.MeasurementSystem.ImperialUSSystem else "A4"


def paper_of(printer: QPrinter) -> Paper:
    """The paper for which the sheet is set: letter size where the printer has that, else A4."""
    return "Letter" if printer.pageLayout().pageSize().id() == QPageSize.PageSizeId.Letter else "A4"


def print_pages(printer: QPrinter, pdf: bytes) -> str:
    """Print every page of a PDF, edge to edge; why it could not be, or nothing."""
    pages = PaperPages(pdf)
    try:
        printer.setFullPage(True)
        painter = QPainter()
        if not painter.begin(printer):
            return f"The printer “{printer.printerName() or printer.outputFileName()}” takes no pages."
        scale = min(1.0, DOTS_AT_MOST / printer.resolution())
        for number in range(len(pages)):
            if number and not printer.newPage():
                painter.end()
                return f"The printer stopped after side {number} of {len(pages)}."
            area = _within(painter.viewport(), pages.size(number))
            painter.drawImage(area, pages.picture(number, round(area.width() * scale)))
        ended = painter.end() and printer.printerState() is not QPrinter.PrinterState.Error
        return "" if ended else "The printer reports a fault."
    finally:
        pages.close()


def _within(area: QRect, size: tuple[float, float]) -> QRect:
    """The largest place for a page in an area, in the middle and not distorted."""
    width = min(area.width(), round(area.height() * size[0] / size[1]))
    box = QRect(area.topLeft(), QSize(width, round(width * size[1] / size[0])))
    box.moveCenter(area.center())
    return box
