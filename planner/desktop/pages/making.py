"""Who makes each page beside the picture. Loaded when the first page is seen, after the window is drawn."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import SignalInstance
from PySide6.QtWidgets import QWidget

from planner.desktop.chart.picture import Picture
from planner.desktop.forms.day_form import DayForm
from planner.desktop.forms.hands_form import HandsForm
from planner.desktop.forms.house_form import HousePage
from planner.desktop.forms.jobs_form import JobsForm
from planner.desktop.forms.kit_form import KitForm
from planner.desktop.model.open_day import OpenDay
from planner.desktop.model.wishes import Wish
from planner.desktop.pages.care_panel import CarePanel
from planner.desktop.pages.compare_panel import ComparePanel
from planner.desktop.pages.load_panel import LoadPanel
from planner.desktop.pages.order_panel import OrderPanel
from planner.desktop.pages.own_panel import OwnPanel
from planner.desktop.pages.pace_panel import PacePanel
from planner.desktop.pages.panel import scrolled
from planner.desktop.pages.questions_panel import QuestionsPanel
from planner.desktop.pages.quotes_panel import QuotesPanel
from planner.desktop.pages.remedies_panel import RemediesPanel
from planner.desktop.pages.risk_panel import RiskPanel
from planner.desktop.pages.running_panel import RunningPanel
from planner.desktop.pages.sheet_panel import SheetPanel
from planner.desktop.pages.trade_off_panel import TradeOffPanel
from planner.desktop.thinking.day_planning import DayPlanning
from planner.desktop.thinking.missed import Missed
from planner.desktop.thinking.studying import Studying


class Around(Protocol):
    """The page of a day, as far as the pages beside the picture know it."""

    open_day: OpenDay
    planning: DayPlanning
    studying: Studying
    missed: Missed
    chart: Picture

    @property
    def job_copy_wanted(self) -> SignalInstance:
        """That a job is to be copied to another date."""

    @property
    def told(self) -> SignalInstance:
        """That something is to be said in passing."""

    def to_be_kept(self) -> Path:
        """Where what is made of the day is kept first."""

    def wish(self, wish: Wish) -> None:
        """Weigh a wish."""

    def add_job(self) -> None:
        """Ask for a new job and add it."""

    def add_extra(self, job: str) -> None:
        """Ask for work that nobody foresaw and add it to a job."""

    def open_what_is_left(self) -> None:
        """Open what is left of a day under way as a day of its own."""


def _house(page: Around) -> QWidget:
    house = HousePage(page.open_day, missed=page.missed)
    house.copy_wanted.connect(page.job_copy_wanted)
    return scrolled(house, "House")


def _sheet(page: Around) -> SheetPanel:
    panel = SheetPanel(page.open_day, page.studying, page.to_be_kept)
    panel.told.connect(page.told)
    panel.plan_wanted.connect(page.planning.plan_now)
    return panel


def _remedies(page: Around) -> QWidget:
    panel = RemediesPanel(page.open_day, page.studying, page.missed)
    panel.taken.connect(page.planning.plan_on)
    return panel


def _trade_off(page: Around) -> QWidget:
    panel = TradeOffPanel(page.open_day, page.studying)
    panel.plan_wanted.connect(page.planning.plan_on)
    return panel


def _compare(page: Around) -> QWidget:
    panel = ComparePanel(page.open_day, page.wish)
    panel.kept_changed.connect(page.chart.on_kept_changed)
    return panel


def _running(page: Around) -> QWidget:
    panel = RunningPanel(page.open_day, studying=page.studying)
    panel.extra_wanted.connect(page.add_extra)
    panel.left_wanted.connect(page.open_what_is_left)
    return panel


MAKERS: dict[str, Callable[[Around], QWidget]] = {
    "house": _house,
    "day": lambda page: scrolled(DayForm(page.open_day), "Day"),
    "hands": lambda page: scrolled(HandsForm(page.open_day), "Hands"),
    "kit": lambda page: scrolled(KitForm(page.open_day), "Kit"),
    "jobs": lambda page: scrolled(JobsForm(page.open_day, page.add_job), "Jobs"),
    "order": lambda page: OrderPanel(page.open_day),
    "load": lambda page: LoadPanel(page.open_day),
    "care": lambda page: CarePanel(page.open_day),
    "sheet": _sheet,
    "remedies": _remedies,
    "trade-off": _trade_off,
    "risk": lambda page: RiskPanel(page.open_day, page.studying),
    "what-if": lambda page: QuestionsPanel(page.open_day, page.studying),
    "compare": _compare,
    "running": _running,
    "own": lambda page: scrolled(OwnPanel(page.open_day), "What we own"),
    "pace": lambda page: PacePanel(page.open_day),
    "quotes": lambda page: QuotesPanel(page.open_day),
}
