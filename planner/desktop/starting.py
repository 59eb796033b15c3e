"""How the window comes up: which days are in it, and what an earlier window that did not end well left behind."""

import datetime as dt
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from PySide6.QtCore import QDate, QTimeZone
from PySide6.QtWidgets import QMessageBox

from planner.desktop.model.draft import new_text
from planner.desktop.model.filing import Filed
from planner.desktop.model.open_day import OpenDay
from planner.desktop.model.safety_copy import left_behind
from planner.desktop.plain import box
from planner.desktop.window import Window
from planner.trade.own_values import MEANWHILE, what_does_not_hold


def new_day() -> Filed:
    """Tomorrow, with nothing in it yet."""
    tomorrow = QDate.currentDate().addDays(1)
    date = dt.date(tomorrow.year(), tomorrow.month(), tomorrow.day())
    return Filed(OpenDay(new_text(date, time_zone=_time_zone())))


def fill(window: Window, paths: list[Path]) -> None:
    """Open what was asked for, then offer what was left behind; an empty window gets a new day."""
    tell_of_own_values(window)
    for path in paths:
        window.open(path)
    recover(window)
    if not window.pages():
        window.add(new_day())


def tell_of_own_values(window: Window) -> None:
    """Tell of slips in the user's own values of the trade, which keep nobody from working."""
    faults = what_does_not_hold()
    if faults:
        words = window.tr("Your own values of the trade hold a slip; {meanwhile}").format(meanwhile=MEANWHILE)
        box(window, QMessageBox.Icon.Warning, window.tr("Slackwater"), words, "\n".join(faults)).exec()


def recover(window: Window) -> None:
    """Offer the unsaved days of a window that did not end well."""
    found = left_behind()
    if not found:
        return
    names = "\n".join(f"{one.path or window.tr('A new day')}, {one.when}" for one in found)
    words = window.tr("The window did not close well last time. Nothing is lost:")
    asked = box(window, QMessageBox.Icon.Information, window.tr("Not saved last time"), words, names)
    take = asked.addButton(window.tr("Bring them back"), QMessageBox.ButtonRole.AcceptRole)
    asked.addButton(window.tr("Not now"), QMessageBox.ButtonRole.RejectRole)
    forget = asked.addButton(window.tr("Throw away"), QMessageBox.ButtonRole.DestructiveRole)
    asked.setDefaultButton(take)
    asked.exec()
    if asked.clickedButton() is take:
        for one in found:
            open_day = OpenDay(one.text, one.path, recovered=True, progress=one.progress)
            if window.add(Filed(open_day)).safety_copy.is_written:  # else, on a full disk, the old copy is the only one
                one.forget()
    elif asked.clickedButton() is forget:
        for one in found:
            one.forget()


def _time_zone() -> str:
    name = bytes(QTimeZone.systemTimeZoneId().data()).decode("ascii", "replace")
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return "Europe/London"
    return name if "/" in name else "Europe/London"
