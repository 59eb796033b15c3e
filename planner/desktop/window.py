"""The window: days on tabs, and what is asked before anything could be lost."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QMimeData, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QUndoGroup
from PySide6.QtWidgets import (
    QApplication,
    QFileDialog,
    QMainWindow,
    QMessageBox,
    QStackedWidget,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from planner.desktop.forms.asking import Option, ask_to_save, choose
from planner.desktop.model.folders import folder_to_save_in
from planner.desktop.model.preferences import Preferences
from planner.desktop.pages.welcome import Welcome
from planner.desktop.plain import box

if TYPE_CHECKING:
    from planner.day.safekeeping import FileFault
    from planner.desktop.model.filing import Filed
    from planner.desktop.pages.day_page import DayPage
    from planner.desktop.thinking.planning_process import PlanningProcess

TOLD_MILLISECONDS = 12_000


class Window(QMainWindow):
    """Several days open, one of them in front.

    It is drawn before anything of a day is loaded, so what it needs of one is imported where it is used. ``processes``
    makes the processes that think for a page; our own when it is not given. `job_copy_wanted` tells which job of the
    day in front is to be copied to another date.
    """

    job_copy_wanted = Signal(str)

    def __init__(
        self, preferences: Preferences, *, processes: "Callable[[QWidget], PlanningProcess] | None" = None
    ) -> None:
        super().__init__()
        self.preferences, self._processes = preferences, processes
        self._pages: list[DayPage] = []
        self.is_interrupted = False
        self.undo_group = QUndoGroup(self)
        self.tabs = QTabWidget(self)
        self.tabs.setDocumentMode(True)
        self.tabs.setTabsClosable(True)
        self.tabs.setMovable(True)
        self.tabs.setTabBarAutoHide(True)
        self.tabs.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # else Tab ends at a tab bar that is hidden
        self.tabs.tabBar().setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.tabs.currentChanged.connect(self.on_tab_changed)
        self.tabs.tabCloseRequested.connect(self.on_tab_close)
        self.welcome = Welcome(preferences, self)
        self._stack = QStackedWidget(self)
        self._stack.addWidget(self.welcome)
        self._stack.addWidget(self.tabs)
        middle = QWidget(self)
        self._column = QVBoxLayout(middle)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addWidget(self._stack, 1)
        self.setCentralWidget(middle)
        self.setAcceptDrops(True)
        self.statusBar().setSizeGripEnabled(True)
        self.setMinimumSize(640, 400)
        if not self.restoreGeometry(preferences.geometry):
            self.resize(1366, 740)
        self._retitle()

    @property
    def page(self) -> "DayPage | None":
        """The day in front."""
        return next((page for page in self.pages() if page is self.tabs.currentWidget()), None)

    @property
    def folder(self) -> Path:
        """Where a file is looked for first: beside the day in front, else where one was opened or saved last."""
        return self._folder_used_last() if self.page is None else self.page.to_be_kept().parent

    def _folder_used_last(self) -> Path:
        return folder_to_save_in(self.tell, self.preferences.folder)

    def pages(self) -> "list[DayPage]":
        """Every open day, in the order of the tabs."""
        return sorted(self._pages, key=self.tabs.indexOf)

    def add(self, filed: "Filed") -> "DayPage":
        """Put a day on a tab, in front."""
        from planner.desktop.pages.day_page import DayPage

        page = DayPage(filed, seconds=self.preferences.seconds, processes=self._processes, parent=self)
        page.folder_used_last = self._folder_used_last
        self._pages.append(page)
        page.told.connect(self.tell)
        page.day_wanted.connect(self.on_day_wanted)
        page.job_copy_wanted.connect(self.job_copy_wanted)
        page.safety_copy.failed.connect(self.tell)
        open_day = filed.open_day
        open_day.clean_changed.connect(self.on_state)
        open_day.file_changed.connect(self.on_state)
        open_day.settled.connect(self.on_state)
        self.undo_group.addStack(open_day.undo_stack)
        self.tabs.setCurrentIndex(self.tabs.addTab(page, open_day.name))
        self._stack.setCurrentWidget(self.tabs)
        self.on_state()
        if filed.notice:
            self.tell(filed.notice)
        return page

    def open(self, path: Path) -> "DayPage | None":
        """Open a file, or bring it to the front if it is open."""
        for page in self.pages():
            if page.open_day.path is not None and page.open_day.path == Path(os.path.realpath(path)):
                self.tabs.setCurrentWidget(page)
                return page
        from planner.day.safekeeping import FileFault

        try:
            filed = self._filed(path)
        except FileFault as fault:
            self._say_fault(fault)
            return None
        if filed is None:
            return None
        if filed.open_day.path is not None:
            self.preferences.used(filed.open_day.path)
        return self.add(filed)

    @Slot(str)
    def on_day_wanted(self, text: str) -> None:
        """A day that is in no file yet is to be opened."""
        from planner.desktop.model.filing import in_no_file

        self.add(in_no_file(text))

    def save(self, page: "DayPage", *, ask_name: bool = False) -> bool:
        """Save a day; asks for a name where there is none. Whether it is saved."""
        from planner.day.safekeeping import FileFault
        from planner.desktop.model.filing import save_file

        path = page.open_day.path
        if path is None or ask_name or page.open_day.is_read_only:
            path = self._ask_name(page)
            if path is None:
                return False
        try:
            save_file(page.filed, path)
        except FileFault as fault:
            self._say_fault(fault)
            return False
        self.preferences.used(path)
        self.tell(page.filed.notice or f"Saved as {path}")
        return True

    def close_page(self, page: "DayPage") -> bool:
        """Close a day, after asking about what is not saved. Whether it is closed."""
        if not page.open_day.is_clean:
            self.tabs.setCurrentWidget(page)
            title = f"“{page.open_day.name}” is not saved"
            answer = ask_to_save(self, title, "Save it before it is closed?")
            if answer is QMessageBox.StandardButton.Cancel:
                return False
            if answer is QMessageBox.StandardButton.Save and not self.save(page):
                return False
        self._pages.remove(page)
        self.undo_group.removeStack(page.open_day.undo_stack)
        self.tabs.removeTab(self.tabs.indexOf(page))
        page.end()
        page.deleteLater()
        if not self._pages:
            self._stack.setCurrentWidget(self.welcome)
        return True

    def put_below(self, widget: QWidget) -> None:
        """Put something under the days."""
        self._column.addWidget(widget)

    @Slot(str)
    def tell(self, words: str) -> None:
        """Say something in passing."""
        self.statusBar().showMessage(words, TOLD_MILLISECONDS)

    @Slot()
    def on_tab_changed(self) -> None:
        """Another day is in front."""
        if self.page is not None:
            self.undo_group.setActiveStack(self.page.open_day.undo_stack)
        self._retitle()

    @Slot(int)
    def on_tab_close(self, at: int) -> None:
        """A tab's cross was pressed."""
        self.close_page(self.pages()[at])

    @Slot()
    def on_state(self) -> None:
        """A day changed, was saved, or has another name."""
        for at, page in enumerate(self.pages()):
            mark = "" if page.open_day.is_clean else " •"
            self.tabs.setTabText(at, page.open_day.name + mark)
        several = Qt.FocusPolicy.TabFocus if self.tabs.count() > 1 else Qt.FocusPolicy.NoFocus
        self.tabs.tabBar().setFocusPolicy(several)
        self._retitle()

    @Slot()
    def interrupt(self) -> None:
        """Stop at once, asking nothing: what is not saved goes into the safety copies, and is offered next time."""
        self.is_interrupted = True
        for page in self.pages():
            page.safety_copy.write()
            page.end(keep_copy=True)
        QApplication.exit(0)

    def closeEvent(self, event: QCloseEvent) -> None:
        """The window is closed: first what is not saved."""
        for page in self.pages():
            if not self.close_page(page):
                event.ignore()
                return
        self.preferences.geometry = self.saveGeometry()
        event.accept()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """A file is dragged over the window."""
        if _day_files(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Files were dropped: open each."""
        paths = _day_files(event.mimeData())
        event.acceptProposedAction()
        QTimer.singleShot(0, lambda: [self.open(path) for path in paths])

    def _filed(self, path: Path) -> "Filed | None":
        """The day of a file; when another window has it, as the person chooses."""
        from planner.day.holding import FileInUse
        from planner.desktop.model.filing import open_file

        try:
            return open_file(path)
        except FileInUse as fault:
            choice = choose(
                self,
                f"“{path.name}” is in use",
                "Another window works on it: {who}.".format(who=fault.holder or "unknown"),
                [
                    Option("read", "Open to read only"),
                    Option("copy", "Open a copy"),
                    Option("take", "Take it over"),
                ],
            )
            if choice is None:
                return None
            if choice == "take":
                return open_file(path, take_over=True)
            filed = open_file(path, read_only=True)
            if choice == "copy":
                filed.open_day.become_copy()
            return filed

    def _ask_name(self, page: "DayPage") -> Path | None:
        open_day = page.open_day
        start = open_day.path or self._folder_used_last() / f"{open_day.name}.toml"
        name, _ = QFileDialog.getSaveFileName(self, "Save the day", str(start), "Days (*.toml)")
        if not name:
            return None
        path = Path(name)
        return path if path.suffix else path.with_suffix(".toml")

    def _say_fault(self, fault: "FileFault") -> None:
        words = f"{fault.path.name}: {fault.problem}"
        box(self, QMessageBox.Icon.Warning, "Slackwater", words, fault.remedy).exec()

    def _retitle(self) -> None:
        page = self.page
        if page is None:
            self.setWindowTitle("Slackwater")
            return
        name, open_day = page.open_day.name, page.open_day
        read_only = " (read only)" if open_day.is_read_only else ""
        self.setWindowTitle(f"{name}{read_only}[*] – {'Slackwater'}")
        self.setWindowModified(not open_day.is_clean)


def _day_files(data: QMimeData) -> list[Path]:
    return [Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile() and url.toLocalFile().endswith(".toml")]
