"""The run sheet as it will be printed."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QPushButton, QWidget

from planner.desktop.flow import Flow
from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.pages_view import PagesView
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.printing import print_run_sheet, save_document, usual_paper
from planner.desktop.thinking.studying import Studying


class SheetPanel(Panel):
    """The pages, with a button to print them and one to keep them as a PDF."""

    plan_wanted = Signal()

    told = Signal(str)

    def __init__(
        self,
        open_day: OpenDay,
        studying: Studying,
        to_be_kept: Callable[[], Path],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(open_day, "Run sheet", parent)
        self._studying, self._to_be_kept = studying, to_be_kept
        self.print_button = QPushButton("Print …", self)
        self.pdf_button = QPushButton("As PDF …", self)
        self.next_button = QPushButton(self)
        self.next_button.hide()
        row = Flow()
        for button in (self.print_button, self.pdf_button, self.next_button):
            row.addWidget(button)
        self.column.addLayout(row)
        self.state = self.add_words("")
        self.view = PagesView(self)
        self.column.addWidget(self.view, 1)
        self.print_button.clicked.connect(self.on_print)
        self.pdf_button.clicked.connect(self.on_pdf)
        self.next_button.clicked.connect(self.on_next)
        studying.failed.connect(self.on_failed)

    def refresh(self) -> None:
        """Set the sheet anew."""
        shown = self.open_day.shown
        for button in (self.print_button, self.pdf_button):
            button.setEnabled(shown is not None)
        if shown is None:
            self.view.clear()
            self._say("There is no plan yet, so there is nothing to print.", "Plan")
        else:
            self._say("Setting the pages …")
            self._studying.ask("sheet", shown, self.on_sheet, usual_paper())

    def _say(self, words: str, next_step: str = "") -> None:
        """Say how it stands, and offer the next step where there is one."""
        self.state.setText(words)
        self.state.setVisible(bool(words))
        self.next_button.setText(next_step)
        self.next_button.setVisible(bool(next_step))

    def on_sheet(self, pdf: bytes) -> None:
        """The pages are set."""
        self.view.show_pages(pdf)
        is_current = self.open_day.is_shown_current
        self._say("" if is_current else "These pages are of the plan before the latest change.")

    @Slot(str, str)
    def on_failed(self, task: str, words: str) -> None:
        """The pages could not be set."""
        if task == "sheet":
            self._say(words, "Try again")

    @Slot()
    def on_next(self) -> None:
        """The next step that was offered is wanted."""
        if self.open_day.shown is None:
            self.plan_wanted.emit()
        else:
            self.refresh()

    @Slot()
    def on_print(self) -> None:
        """Print was pressed."""
        if self.open_day.shown is not None:
            print_run_sheet(self, self._studying, self.open_day.shown, self._to_be_kept, self.told.emit)

    @Slot()
    def on_pdf(self) -> None:
        """PDF was pressed."""
        if self.open_day.shown is not None:
            save_document(self, self._studying, self.open_day.shown, "sheet", self._to_be_kept)
