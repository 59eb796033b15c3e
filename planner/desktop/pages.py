"""Which pages there are beside the picture, in which order, and who makes each."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QT_TRANSLATE_NOOP
from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from planner.desktop.day_page import DayPage

Maker = Callable[["DayPage"], QWidget]


@dataclass(frozen=True)
class Page:
    """A page, or the heading of a group when it has no key. ``make`` loads what it needs only when it is seen."""

    words: str
    key: str = ""
    make: Callable[[], Maker] = lambda: lambda page: QWidget(page)


def _day() -> Maker:
    from planner.desktop.forms.day_form import DayForm
    from planner.desktop.panels.panel import scrolled

    return lambda page: scrolled(DayForm(page.open_day))


def _hands() -> Maker:
    from planner.desktop.forms.hands_form import HandsForm
    from planner.desktop.panels.panel import scrolled

    return lambda page: scrolled(HandsForm(page.open_day))


def _kit() -> Maker:
    from planner.desktop.forms.kit_form import KitForm
    from planner.desktop.panels.panel import scrolled

    return lambda page: scrolled(KitForm(page.open_day))


def _jobs() -> Maker:
    from planner.desktop.forms.jobs_form import JobsForm
    from planner.desktop.panels.panel import scrolled

    return lambda page: scrolled(JobsForm(page.open_day, page.add_job))


def _order() -> Maker:
    from planner.desktop.panels.order_panel import OrderPanel

    return lambda page: OrderPanel(page.open_day)


PAGES: tuple[Page, ...] = (
    Page(QT_TRANSLATE_NOOP("DayPage", "Settle")),
    Page(QT_TRANSLATE_NOOP("DayPage", "Day"), "day", _day),
    Page(QT_TRANSLATE_NOOP("DayPage", "Hands"), "hands", _hands),
    Page(QT_TRANSLATE_NOOP("DayPage", "Kit"), "kit", _kit),
    Page(QT_TRANSLATE_NOOP("DayPage", "Jobs"), "jobs", _jobs),
    Page(QT_TRANSLATE_NOOP("DayPage", "Read")),
    Page(QT_TRANSLATE_NOOP("DayPage", "Order"), "order", _order),
)
