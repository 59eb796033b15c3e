"""Paper in the window: pages shown, printed and saved are those of the PDF, and what becomes of them is said."""

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QImage, QPageSize
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from planner.desktop.pages import day_page, printing
from planner.desktop.pages.day_page import DayPage
from planner.desktop.pages.paper_pages import PaperPages
from planner.desktop.pages.sheet_panel import SheetPanel
from planner.desktop.starting import new_day
from planner.desktop.window import Window
from planner.sheet.papers.pdf import run_sheet_pdf
from planner.sheet.papers.runsheet import run_sheet
from tests.days import tiny_day
from tests.sheet.plans import tiny_plan


@pytest.fixture(scope="module")
def pdf() -> bytes:
    return run_sheet_pdf(run_sheet(tiny_day(), tiny_plan()))


class Asked:
    """Stands in for the small windows that ask: keeps what they say, and answers by key."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, *answers: str | None) -> None:
        self.said: list[tuple[str, str]] = []
        self.offered: list[list[str]] = []
        self._answers = list(answers)
        monkeypatch.setattr(printing, "choose", self)
        monkeypatch.setattr(day_page, "choose", self)

    def __call__(
        self, parent: object, title: str, words: str, choices: list[printing.Option], *, is_question: bool = True
    ) -> str | None:
        self.said.append((title, words))
        self.offered.append([choice.key for choice in choices])
        return self._answers.pop(0)


def to_file(path: Path) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.ScreenResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    printer.setOutputFileName(str(path))
    return printer


def ink(image: QImage) -> float:
    """How much of a page is dark."""
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8).scaled(120, 170)
    dark = sum(grey.pixelColor(x, y).red() < 200 for x in range(120) for y in range(170))
    return dark / (120 * 170)


def test_a_page_is_drawn_with_its_ink_and_read_as_its_text(pdf: bytes) -> None:
    """Against pypdf, which reads the same file without us."""
    pages, outside = PaperPages(pdf), PdfReader(BytesIO(pdf))
    assert len(pages) == len(outside.pages)
    for number, page in enumerate(outside.pages):
        assert pages.size(number) == pytest.approx((float(page.mediabox.width), float(page.mediabox.height)))
        assert pages.picture(number, 600).width() == 600
        assert 0.005 < ink(pages.picture(number, 600)) < 0.5
        assert set(page.extract_text().split()) <= set(pages.text(number).split())
    pages.close()


def test_what_is_printed_is_the_pages_of_the_pdf(qapp: QApplication, pdf: bytes, tmp_path: Path) -> None:
    path = tmp_path / "printed.pdf"
    assert printing.print_pages(to_file(path), pdf) == ""
    printed, wanted = PaperPages(path.read_bytes()), PaperPages(pdf)
    assert len(printed) == len(wanted)
    for number in range(len(wanted)):
        assert ink(printed.picture(number, 600)) == pytest.approx(ink(wanted.picture(number, 600)), abs=0.03)


def test_a_print_that_fails_says_so_and_offers_a_pdf(
    qtbot: QtBot, page: DayPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = Asked(monkeypatch, "pdf", "done")
    saved = tmp_path / "instead.pdf"

    def choose_printer(dialog: QPrintDialog) -> int:
        dialog.printer().setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        dialog.printer().setOutputFileName(str(tmp_path / "no such folder" / "x.pdf"))
        return 1

    monkeypatch.setattr(QPrintDialog, "exec", choose_printer)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(saved), ""))
    assert page.open_day.shown is not None
    printing.print_run_sheet(page, page.studying, page.open_day.shown, page.to_be_kept, page.told.emit)
    qtbot.waitUntil(lambda: len(asked.said) == 2, timeout=90_000)
    assert asked.said[0][0] == "It is not printed"
    assert asked.offered[0] == ["pdf", "again"]
    assert asked.said[1] == ("Saved", f"instead.pdf in {tmp_path}")
    assert saved.read_bytes().startswith(b"%PDF")


def test_a_document_that_cannot_be_saved_says_so_and_offers_another_place(
    qtbot: QtBot, page: DayPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = Asked(monkeypatch, "again", "done")
    places = [tmp_path / "none" / "day.ics", tmp_path / "day.ics"]
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(places.pop(0)), ""))
    assert page.open_day.shown is not None
    printing.save_document(page, page.studying, page.open_day.shown, "calendar", page.to_be_kept)
    qtbot.waitUntil(lambda: len(asked.said) == 2, timeout=90_000)
    assert asked.said[0][0] == "It is not saved"
    assert "day.ics" in asked.said[0][1]
    assert (tmp_path / "day.ics").exists()


def test_a_document_is_offered_beside_its_day_and_a_new_day_where_one_was_kept_last(
    window: Window, page: DayPage, tiny_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    offered: list[Path] = []

    def refuse(_parent: object, _title: str, start: str, _kinds: str) -> tuple[str, str]:
        offered.append(Path(start))
        return "", ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", refuse)
    entries = {a.text().replace("&", ""): a for a in window.findChildren(QAction)}
    entries["Run sheet …"].trigger()
    entries["Save as …"].trigger()
    assert [path.parent for path in offered] == [tiny_file.parent] * 2
    assert offered[0].name.startswith("tiny ")
    assert offered[0].suffix == ".pdf"
    fresh = window.add(new_day())
    assert not window.save(fresh)
    assert offered[-1].parent == tmp_path, "there is no file of it yet"
    assert fresh.to_be_kept().parent == tmp_path


def test_without_a_plan_printing_says_so_and_offers_to_plan(
    window: Window, tiny_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = Asked(monkeypatch, "plan")
    opened = window.open(tiny_file)
    assert opened is not None
    monkeypatch.setattr(type(opened.open_day), "shown", None)
    wanted: list[bool] = []
    monkeypatch.setattr(opened.planning, "plan_now", lambda: wanted.append(True))
    save = next(a for a in window.findChildren(QAction) if a.text().replace("&", "") == "Run sheet …")
    save.trigger()
    assert asked.said[0][0] == "There is no plan yet"
    assert wanted == [True]


def test_the_page_shows_the_pages_of_the_pdf(qtbot: QtBot, page: DayPage) -> None:
    page.go_to("sheet")
    panel = page.page("sheet")
    assert isinstance(panel, SheetPanel)
    qtbot.waitUntil(lambda: panel.view.count > 0, timeout=90_000)
    qtbot.waitUntil(lambda: not panel.view.picture(0).isNull(), timeout=120_000)
    assert ink(panel.view.picture(0).toImage()) > 0.005
    assert "Order of the day" in panel.view.accessibleDescription()
    assert panel.state.isHidden()
    assert panel.view.focusPolicy() & Qt.FocusPolicy.TabFocus
