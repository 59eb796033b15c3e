"""What the doors of the welcome lead to, and the tour: the ways into a day that the window itself knows nothing of."""

from pathlib import Path

from PySide6.QtCore import QObject, Slot

from planner.desktop.pages.tour import Tour
from planner.desktop.window import Window
from planner.resources import sample_days

TOUR_DAY = "by_recipe"
"""The sample day that the tour goes through: its work is ticked, so that every page has something to show."""


class Doors(QObject):
    """Answers the welcome and the tour of a window."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self.tour = Tour(window)
        window.put_below(self.tour)
        welcome = window.welcome
        welcome.new_wanted.connect(self.on_new)
        welcome.sample_wanted.connect(self.on_sample)
        welcome.again_wanted.connect(self.on_again)
        welcome.recent_wanted.connect(window.open)
        welcome.tour_wanted.connect(self.on_tour)
        window.job_copy_wanted.connect(self.on_copy_job)
        self.tour.page_wanted.connect(self.on_page)
        self.tour.sheet_wanted.connect(self.on_sheet)
        self.tour.own_wanted.connect(self.on_new)

    @Slot()
    def on_new(self) -> None:
        """A day of one's own is wanted."""
        from planner.desktop.starting import new_day

        self._window.add(new_day())

    @Slot(Path)
    def on_sample(self, path: Path) -> None:
        """A sample day is wanted: a copy of it, which can be changed and is saved under a name of its own."""
        from planner.desktop.starting import copy_of

        filed = copy_of(self._window, path)
        if filed is not None:
            self._window.add(filed)

    @Slot(Path)
    def on_again(self, path: Path) -> None:
        """An earlier day is wanted for tomorrow."""
        from planner.desktop.starting import copy_of, tomorrow

        filed = copy_of(self._window, path, tomorrow())
        if filed is not None:
            self._window.add(filed)

    @Slot()
    def on_copy_day(self) -> None:
        """The day in front is wanted on another date too, as a day of its own."""
        from planner.desktop.starting import copy_day

        copy_day(self._window)

    @Slot(str)
    def on_copy_job(self, job: str) -> None:
        """A job of the day in front is wanted on another date."""
        from planner.desktop.starting import copy_job

        copy_job(self._window, job)

    @Slot()
    def on_tour(self) -> None:
        """The tour is wanted: through a sample day."""
        path = next((path for path in sample_days() if path.stem == TOUR_DAY), None)
        if path is None:
            self._window.tell("The sample days are not there; begin with a day of your own.")
            return
        self.on_sample(path)
        self.tour.begin()

    @Slot(str)
    def on_page(self, key: str) -> None:
        """A step of the tour speaks of a page."""
        page = self._window.page
        if page is not None:
            page.rail.choose(key)
            page.on_page_chosen(key)

    @Slot()
    def on_sheet(self) -> None:
        """The tour ends with the run sheet in a file."""
        from planner.desktop.pages.printing import save_document

        page = self._window.page
        if page is None or page.open_day.shown is None:
            self._window.tell("The day is still being planned; try again in a moment.")
            return
        shown = page.open_day.shown
        save_document(self._window, page.studying, shown, "sheet", page.to_be_kept, then=self._on_saved)

    def _on_saved(self, paths: tuple[Path, ...]) -> None:
        if paths:
            self.tour.say_saved(f"Saved as {paths[0]}.")
