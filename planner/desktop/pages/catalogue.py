"""Which pages there are beside the picture, in which order, and who makes each."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QT_TRANSLATE_NOOP
from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from planner.desktop.pages.day_page import DayPage

Maker = Callable[["DayPage"], QWidget]


@dataclass(frozen=True)
class Page:
    """A page, or the heading of a group when it has no key. ``make`` loads what it needs only when it is seen."""

    words: str
    key: str
    make: Callable[[], Maker]


def _day() -> Maker:
    from planner.desktop.forms.day_form import DayForm
    from planner.desktop.pages.panel import scrolled

    return lambda page: scrolled(DayForm(page.open_day))


def _hands() -> Maker:
    from planner.desktop.forms.hands_form import HandsForm
    from planner.desktop.pages.panel import scrolled

    return lambda page: scrolled(HandsForm(page.open_day))


def _kit() -> Maker:
    from planner.desktop.forms.kit_form import KitForm
    from planner.desktop.pages.panel import scrolled

    return lambda page: scrolled(KitForm(page.open_day))


def _jobs() -> Maker:
    from planner.desktop.forms.jobs_form import JobsForm
    from planner.desktop.pages.panel import scrolled

    return lambda page: scrolled(JobsForm(page.open_day, page.add_job))


def _order() -> Maker:
    from planner.desktop.pages.order_panel import OrderPanel

    return lambda page: OrderPanel(page.open_day)


def _load() -> Maker:
    from planner.desktop.pages.load_panel import LoadPanel

    return lambda page: LoadPanel(page.open_day)


def _care() -> Maker:
    from planner.desktop.pages.care_panel import CarePanel

    return lambda page: CarePanel(page.open_day)


def _sheet() -> Maker:
    from planner.desktop.pages.sheet_panel import SheetPanel

    return lambda page: SheetPanel(page.open_day, page.studying)


def _trade_off() -> Maker:
    from planner.desktop.pages.trade_off_panel import TradeOffPanel

    def make(page: "DayPage") -> QWidget:
        panel = TradeOffPanel(page.open_day, page.studying)
        panel.plan_wanted.connect(page.planning.plan_on)
        return panel

    return make


def _remedies() -> Maker:
    from planner.desktop.pages.remedies_panel import RemediesPanel

    def make(page: "DayPage") -> QWidget:
        panel = RemediesPanel(page.open_day, page.studying)
        panel.taken.connect(page.planning.plan_on)
        return panel

    return make


def _questions() -> Maker:
    from planner.desktop.pages.questions_panel import QuestionsPanel

    return lambda page: QuestionsPanel(page.open_day, page.studying)


def _risk() -> Maker:
    from planner.desktop.pages.risk_panel import RiskPanel

    return lambda page: RiskPanel(page.open_day, page.studying)


def _compare() -> Maker:
    from planner.desktop.pages.compare_panel import ComparePanel

    def make(page: "DayPage") -> QWidget:
        panel = ComparePanel(page.open_day, page.wish)
        panel.kept_changed.connect(page.chart.on_kept_changed)
        return panel

    return make


def _running() -> Maker:
    from planner.desktop.pages.running_panel import RunningPanel

    def make(page: "DayPage") -> QWidget:
        panel = RunningPanel(page.open_day)
        panel.extra_wanted.connect(page.add_extra)
        return panel

    return make


def _page(words: object, key: str = "", make: Callable[[], Maker] = lambda: QWidget) -> Page:
    return Page(str(words), key, make)


def _pace() -> Maker:
    from planner.desktop.pages.pace_panel import PacePanel

    return lambda page: PacePanel(page.open_day)


def _quotes() -> Maker:
    from planner.desktop.pages.quotes_panel import QuotesPanel

    return lambda page: QuotesPanel(page.open_day)


PAGES: tuple[Page, ...] = (
    _page(QT_TRANSLATE_NOOP("DayPage", "Settle")),
    _page(QT_TRANSLATE_NOOP("DayPage", "Day"), "day", _day),
    _page(QT_TRANSLATE_NOOP("DayPage", "Hands"), "hands", _hands),
    _page(QT_TRANSLATE_NOOP("DayPage", "Kit"), "kit", _kit),
    _page(QT_TRANSLATE_NOOP("DayPage", "Jobs"), "jobs", _jobs),
    _page(QT_TRANSLATE_NOOP("DayPage", "Read")),
    _page(QT_TRANSLATE_NOOP("DayPage", "Order"), "order", _order),
    _page(QT_TRANSLATE_NOOP("DayPage", "Load"), "load", _load),
    _page(QT_TRANSLATE_NOOP("DayPage", "Care"), "care", _care),
    _page(QT_TRANSLATE_NOOP("DayPage", "Run sheet"), "sheet", _sheet),
    _page(QT_TRANSLATE_NOOP("DayPage", "Weigh")),
    _page(QT_TRANSLATE_NOOP("DayPage", "Remedies"), "remedies", _remedies),
    _page(QT_TRANSLATE_NOOP("DayPage", "Trade-off"), "trade-off", _trade_off),
    _page(QT_TRANSLATE_NOOP("DayPage", "Risk"), "risk", _risk),
    _page(QT_TRANSLATE_NOOP("DayPage", "What if"), "what-if", _questions),
    _page(QT_TRANSLATE_NOOP("DayPage", "Compare"), "compare", _compare),
    _page(QT_TRANSLATE_NOOP("DayPage", "Work")),
    _page(QT_TRANSLATE_NOOP("DayPage", "On the day"), "running", _running),
    _page(QT_TRANSLATE_NOOP("DayPage", "Own pace"), "pace", _pace),
    _page(QT_TRANSLATE_NOOP("DayPage", "Quotes"), "quotes", _quotes),
)
