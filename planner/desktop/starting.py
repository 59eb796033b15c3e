"""How the window comes up: which days are in it, and what an earlier window that did not end well left behind."""

import datetime as dt
from dataclasses import replace
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from PySide6.QtCore import QTimeZone
from PySide6.QtWidgets import QMessageBox

from planner.day.faults import DayFaults
from planner.day.own_values import MEANWHILE, what_does_not_hold
from planner.day.reading import DAY_LIMIT
from planner.day.safekeeping import FileFault, read_text
from planner.desktop.forms.asking import Option, choose
from planner.desktop.forms.other_date import OtherDate
from planner.desktop.model.again import day_again
from planner.desktop.model.dates import tomorrow as tomorrow
from planner.desktop.model.draft import Draft, new_text
from planner.desktop.model.filing import Filed, in_no_file
from planner.desktop.model.open_day import OpenDay
from planner.desktop.model.safety_copy import LeftBehind, left_behind
from planner.desktop.plain import box
from planner.desktop.window import Window
from planner.record.kept_sites import into_day, site_in


def new_day(date: dt.date | None = None) -> Filed:
    """Tomorrow, or another date, with nothing in it yet."""
    return Filed(OpenDay(new_text(date or tomorrow(), time_zone=_time_zone())))


def copy_of(window: Window, path: Path, date: dt.date | None = None) -> Filed | None:
    """A day of its own with what a file holds, perhaps on another date; None where it cannot be read, which is said."""
    try:
        draft = Draft(read_text(path, DAY_LIMIT), path)
        if date is not None:
            draft = day_again(draft, date)
    except (FileFault, DayFaults) as fault:
        box(window, QMessageBox.Icon.Warning, "Slackwater", f"{path.name} cannot be taken", str(fault)).exec()
        return None
    return Filed(OpenDay(draft.text))


def copy_day(window: Window) -> None:
    """Open the day in front once more, on another date, which is asked."""
    page = window.page
    date = None if page is None else _other_date(window, "The day as it is now, without its forecast and marks.")
    if page is not None and date is not None:
        window.add(in_no_file(day_again(page.open_day.draft, date).text))


def copy_job(window: Window, job: str) -> None:
    """Copy a job of the day in front to another date: into the day that is open for it, else into a new one."""
    page = window.page
    words = "The job as it is now, into the day that is open for that date, or into a new one."
    date = None if page is None else _other_date(window, words)
    if page is None or date is None:
        return
    site = site_in(page.open_day.draft.tables, job, date)
    others = [other for other in window.pages() if other.open_day.draft.at(("date",)) == date]
    there = others[0] if others else window.add(new_day(date))
    window.tabs.setCurrentWidget(there)
    there.open_day.change("Copy a job here", into_day(site, there.open_day.draft.tables))
    window.tell(f"Copied to {date:%A %d %B}.")


def _other_date(window: Window, words: str) -> dt.date | None:
    dialog = OtherDate(words, tomorrow(), window)
    return dialog.date if dialog.exec() else None


def fill(window: Window, paths: list[Path]) -> None:
    """Open what was asked for, then offer what was left behind; an empty window keeps its welcome."""
    tell_of_own_values(window)
    for path in paths:
        window.open(path)
    recover(window)


def tell_of_own_values(window: Window) -> None:
    """Tell of slips in the user's own values of the trade, which keep nobody from working."""
    faults = what_does_not_hold()
    if faults:
        words = f"Your own values of the trade hold a slip; {MEANWHILE}"
        box(window, QMessageBox.Icon.Warning, "Slackwater", words, "\n".join(faults)).exec()


def recover(window: Window) -> None:
    """Offer the unsaved days of a window that did not end well."""
    found = left_behind()
    if not found:
        return
    names = "\n".join(f"{one.path or 'A new day'}, {one.when}" for one in found)
    words = "The window did not close well last time. Nothing is lost:"
    asked = box(window, QMessageBox.Icon.Information, "Not saved last time", words, names)
    take = asked.addButton("Bring them back", QMessageBox.ButtonRole.AcceptRole)
    asked.addButton("Not now", QMessageBox.ButtonRole.RejectRole)
    forget = asked.addButton("Throw away", QMessageBox.ButtonRole.DestructiveRole)
    asked.setDefaultButton(take)
    asked.exec()
    if asked.clickedButton() is take:
        for one in found:
            if bring_back(window, one):
                one.forget()
    elif asked.clickedButton() is forget:
        for one in found:
            one.forget()


def bring_back(window: Window, one: LeftBehind) -> bool:
    """Put what was left behind into the window; whether its copy is not needed any more.

    Work on a file goes back into that file's own tab, as one step that can be undone, and can be saved from there. Was
    the file changed since, the person chooses; nothing of it is lost either way.
    """
    page = window.open(one.path) if one.path is not None and one.path.is_file() else None
    if page is None or page.open_day.is_read_only:
        return _as_new(window, one, one.path)
    if one.is_newer_on_disk(page.open_day.draft.text):
        choice = choose(
            window,
            f"“{page.open_day.name}” has been changed since",
            f"Your unsaved work is of {one.when}; the file was written by somebody after that.",
            [
                Option("both", "Look at both"),
                Option("mine", "Keep mine"),
                Option("file", "Keep the file's"),
            ],
        )
        if choice is None:
            return False
        if choice == "file":
            return True
        if choice == "both":
            return _as_new(window, one, None)
    state = replace(page.open_day.state, draft=Draft(one.text, page.open_day.draft.path), progress=one.progress)
    page.open_day.settle("Bring back what was not saved", state)
    page.safety_copy.write()
    return page.open_day.is_clean or page.safety_copy.is_written  # else, on a full disk, the old copy is the only one


def _as_new(window: Window, one: LeftBehind, path: Path | None) -> bool:
    open_day = OpenDay(one.text, path, recovered=True, progress=one.progress)
    return window.add(Filed(open_day)).safety_copy.is_written


def _time_zone() -> str:
    name = bytes(QTimeZone.systemTimeZoneId().data()).decode("ascii", "replace")
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return "Europe/London"
    return name if "/" in name else "Europe/London"
