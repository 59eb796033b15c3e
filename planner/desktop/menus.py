"""The menus of the window, each entry with its shortcut."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Slot
from PySide6.QtGui import QAction, QActionGroup, QGuiApplication, QKeySequence
from PySide6.QtWidgets import QApplication, QFileDialog, QMenu

from planner.desktop.doors import Doors
from planner.desktop.look import Scheme, wear
from planner.desktop.pages.about import About
from planner.desktop.pages.catalogue import PAGES
from planner.desktop.pages.help import HelpView
from planner.desktop.window import Window

if TYPE_CHECKING:
    from planner.sheet.export import What

Keys = QKeySequence.StandardKey


class Menus(QObject):
    """Builds the menus and answers them."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self.doors = Doors(window)
        self._fill_day()
        self._fill_edit()
        self._fill_plan()
        self._fill_view()
        self._fill_help()

    def _fill_day(self) -> None:
        menu = self._menu("&Day")
        self._add(menu, "&New day", self.on_new, Keys.New)
        self._add(menu, "&Open …", self.on_open, Keys.Open)
        self._recent = menu.addMenu("Open &recent")
        self._recent.aboutToShow.connect(self.on_recent_shown)
        menu.addSeparator()
        self._add(menu, "&Save", self.on_save, Keys.Save)
        self._add(menu, "Save &as …", self.on_save_as, QKeySequence("Ctrl+Shift+S"))
        self._add(menu, "Copy to another &date …", self.doors.on_copy_day, QKeySequence("Ctrl+D"))
        menu.addSeparator()
        self._add(menu, "&Print the run sheet …", self.on_print, Keys.Print)
        documents = menu.addMenu("Save a &document")
        whats: tuple[tuple[What, str, QKeySequence | None], ...] = (
            ("sheet", "&Run sheet …", QKeySequence("Ctrl+Shift+P")),
            ("slip", "&Slips for the customers …", None),
            ("calendar", "&Calendar …", None),
            ("tables", "&Tables …", None),
            ("chart", "&Picture …", None),
        )
        for what, words, keys in whats:
            self._add(documents, words, partial(self.on_document, what), keys)
        menu.addSeparator()
        close = self._add(menu, "&Close this day", self.on_close, None)
        close.setShortcuts([QKeySequence("Ctrl+W"), QKeySequence("Ctrl+F4")])
        self._add(menu, "&Quit", self._window.close, QKeySequence("Ctrl+Q"))

    def _fill_edit(self) -> None:
        menu = self._menu("&Edit")
        group = self._window.undo_group
        undo, redo = group.createUndoAction(self, "&Undo"), group.createRedoAction(self, "&Redo")
        undo.setShortcuts(Keys.Undo)
        redo.setShortcuts([QKeySequence("Ctrl+Shift+Z"), QKeySequence("Ctrl+Y")])
        menu.addActions([undo, redo])
        menu.addSeparator()
        self._add(menu, "Add a &job …", self.on_new_job, QKeySequence("Ctrl+J"))

    def _fill_plan(self) -> None:
        menu = self._menu("&Plan")
        self._add(menu, "Plan &again", self.on_plan, QKeySequence("F5"))
        self._add(menu, "&Stop, keep the best", self.on_stop, QKeySequence("Esc"))
        menu.addSeparator()
        lengths = menu.addMenu("Plan for at &most")
        group = QActionGroup(self)
        for seconds in (5, 10, 20, 60, 180):
            action = QAction(f"{seconds} seconds", self, checkable=True)
            action.setChecked(seconds == self._window.preferences.seconds)
            action.triggered.connect(lambda _=False, seconds=seconds: self.on_seconds(seconds))
            group.addAction(action)
            lengths.addAction(action)

    def _fill_view(self) -> None:
        menu = self._menu("&View")
        pages = [page for page in PAGES if page.key]
        digits = "1234567890"
        for at, page in enumerate(pages):
            keys = QKeySequence(f"Ctrl+{digits[at]}") if at < len(digits) else QKeySequence(f"Alt+{digits[at - 10]}")
            self._add(menu, page.words, self._goer(page.key), keys)
        menu.addSeparator()
        self._add(menu, "&Picture alone", self.on_picture_alone, QKeySequence("F11"))
        self._add(menu, "Stretch &time", partial(self._stretch, 1), Keys.ZoomIn)
        self._add(menu, "Press time &together", partial(self._stretch, -1), Keys.ZoomOut)
        self._add(menu, "&Whole day", partial(self._stretch, 0), QKeySequence("Ctrl+Shift+W"))
        self._add(menu, "&Fold kit, or name it", self.on_fold_kit, QKeySequence("Ctrl+Shift+K"))
        light = menu.addMenu("&Light")
        group = QActionGroup(self)
        for scheme, words in (
            (Scheme.SYSTEM, "As the &system"),
            (Scheme.LIGHT, "&Light"),
            (Scheme.DARK, "&Dark"),
            (Scheme.CONTRAST, "&High contrast"),
        ):
            action = QAction(words, self, checkable=True)
            action.setChecked(self._window.preferences.scheme is scheme)
            action.triggered.connect(lambda _=False, scheme=scheme: self.on_scheme(scheme))
            group.addAction(action)
            light.addAction(action)
        self._hints = QGuiApplication.styleHints()
        self._hints.colorSchemeChanged.connect(self.on_system_scheme)
        self._wishes = self._hints.accessibility()  # it is heard only as long as it is held
        if self._wishes is not None:
            self._wishes.contrastPreferenceChanged.connect(self.on_system_scheme)

    def _fill_help(self) -> None:
        menu = self._menu("&Help")
        self._add(menu, "&Guide", self.on_help, Keys.HelpContents)
        self._add(menu, "Show me &round", self.doors.on_tour, None)
        self._add(menu, "&About Slackwater", self.on_about, None)

    def _menu(self, words: str) -> QMenu:
        return self._window.menuBar().addMenu(words)

    def _add(self, menu: QMenu, words: str, slot: Callable[[], object], keys: QKeySequence | Keys | None) -> QAction:
        action = menu.addAction(words)
        if keys is not None:
            action.setShortcut(keys)
        action.triggered.connect(lambda: slot())
        return action

    def _goer(self, key: str) -> Callable[[], None]:
        def go() -> None:
            if self._window.page is not None:
                self._window.page.go_to(key)

        return go

    @Slot()
    def on_new(self) -> None:
        """A new day is wanted."""
        self.doors.on_new()

    @Slot()
    def on_open(self) -> None:
        """Files are to be opened."""
        names, _ = QFileDialog.getOpenFileNames(self._window, "Open days", str(self._window.folder), "Days (*.toml)")
        for name in names:
            self._window.open(Path(name))

    @Slot()
    def on_recent_shown(self) -> None:
        """The list of recent days is opened."""
        self._recent.clear()
        for path in self._window.preferences.recent:
            action = self._recent.addAction(f"{path.stem}   {path.parent}")
            action.triggered.connect(lambda _=False, path=path: self._window.open(path))
        if self._recent.isEmpty():
            self._recent.addAction("None yet").setEnabled(False)

    @Slot()
    def on_save(self) -> None:
        """The day in front is to be saved."""
        if self._window.page is not None:
            self._window.save(self._window.page)

    @Slot()
    def on_save_as(self) -> None:
        """The day in front is to be saved under another name."""
        if self._window.page is not None:
            self._window.save(self._window.page, ask_name=True)

    @Slot()
    def on_print(self) -> None:
        """The run sheet is to be printed."""
        from planner.desktop.pages.printing import print_run_sheet

        page = self._window.page
        if page is not None and page.open_day.shown is not None:
            print_run_sheet(self._window, page.studying, page.open_day.shown, page.to_be_kept, page.told.emit)
        elif page is not None:
            page.say_no_plan()

    def on_document(self, what: "What") -> None:
        """A document is to be saved."""
        from planner.desktop.pages.printing import save_document

        page = self._window.page
        if page is not None and page.open_day.shown is not None:
            save_document(self._window, page.studying, page.open_day.shown, what, page.to_be_kept)
        elif page is not None:
            page.say_no_plan()

    @Slot()
    def on_close(self) -> None:
        """The day in front is to be closed."""
        if self._window.page is not None:
            self._window.close_page(self._window.page)

    @Slot()
    def on_new_job(self) -> None:
        """Another job is wanted."""
        if self._window.page is not None:
            self._window.page.add_job()

    @Slot()
    def on_plan(self) -> None:
        """The day in front is to be planned again."""
        if self._window.page is not None:
            self._window.page.plan_again()

    @Slot()
    def on_stop(self) -> None:
        """Planning is to stop, and a wish is to be left."""
        if self._window.page is not None:
            self._window.page.stop()

    def on_seconds(self, seconds: int) -> None:
        """Another length of planning was chosen."""
        self._window.preferences.seconds = seconds
        for page in self._window.pages():
            page.planning.seconds = seconds

    @Slot()
    def on_picture_alone(self) -> None:
        """The page beside the picture is to go, or to come back."""
        if self._window.page is not None:
            self._window.page.fold_page()

    def _stretch(self, steps: int) -> None:
        """Time is to be stretched, pressed together, or shown whole."""
        picture = self._window.page.picture_shown if self._window.page is not None else None
        if picture is not None and steps:
            picture.chart.stretch(steps)
        elif picture is not None:
            picture.chart.fit()

    @Slot()
    def on_fold_kit(self) -> None:
        """Kit is to be shown as bare lines, or with its names."""
        if self._window.page is not None and self._window.page.picture_shown is not None:
            self._window.page.picture_shown.tools.kit.toggle()

    def on_scheme(self, scheme: Scheme) -> None:
        """Another light was chosen."""
        self._window.preferences.scheme = scheme
        self._dress()

    @Slot()
    def on_system_scheme(self) -> None:
        """The system went light or dark, or to high contrast."""
        self._dress()

    @Slot()
    def on_help(self) -> None:
        """Help is wanted."""
        self._help = HelpView(self._window)
        self._help.show()

    @Slot()
    def on_about(self) -> None:
        """Who and which version."""
        About(self._window).exec()

    def _dress(self) -> None:
        application = QApplication.instance()
        if isinstance(application, QApplication):
            wear(application, self._window.preferences.scheme)
