"""Where the first thing is put right that keeps a day from being planned."""

from collections.abc import Callable, Iterator

from PySide6.QtWidgets import QScrollArea, QWidget

from planner.day.faults import Where
from planner.desktop.forms.field import Entry
from planner.desktop.forms.house_form import HousePage
from planner.desktop.forms.jobs_form import JobPicking
from planner.desktop.forms.work_row import WorkRow
from planner.desktop.model.draft import Draft

PAGES_OF = {
    "jobs": ("house", "jobs"),
    "travel": ("house", "day"),
    "hands": ("hands",),
    "kit": ("kit",),
    "materials": ("kit",),
}
"""On which pages each part of a day is asked, the shortest way first; the rest is on the page Day."""


def first_at_fault(draft: Draft, page: Callable[[str], QWidget]) -> tuple[str, QWidget] | None:
    """The page and the thing on it that takes the keys, where the first fault is said; None where none says it."""
    jobs = draft.at(("jobs",), {})
    idle = [key for key in jobs if not draft.uses_in(key) and not jobs[key].get("stages")]
    places: list[Where] = [("jobs", key) for key in idle] + [fault.place for fault in draft.faults]
    for place in places or [("jobs",)]:
        for key in PAGES_OF.get(str(place[0]) if place else "", ("day",)):
            shown = page(key)
            _bring_up(shown, place)
            found = next(_at_fault(shown), None)
            if found is None and len(place) == 2 and place[1] in idle:
                found = next((row.box for row in shown.findChildren(WorkRow)), None)
            if found is not None:
                return key, found
    return None


def show_in(page: QWidget, widget: QWidget) -> None:
    """Scroll a page to a thing on it and give it the keys."""
    if isinstance(page, QScrollArea):
        page.ensureWidgetVisible(widget)
    widget.setFocus()


def _bring_up(page: QWidget, place: Where) -> None:
    """Show the job that a fault is of."""
    if len(place) < 2 or place[0] != "jobs":
        return
    house, picking = page.findChild(HousePage), page.findChild(JobPicking)
    if house is not None:
        house.show_house(str(place[1]))
    if picking is not None:
        picking.pick((place[1],))


def _at_fault(page: QWidget) -> Iterator[QWidget]:
    for widget in page.findChildren(QWidget):
        if isinstance(widget, WorkRow) and widget.wrong:
            yield widget.measure.line
        elif isinstance(widget, Entry) and widget.message and widget.isVisibleTo(page) and widget.worked is not None:
            yield widget.worked
