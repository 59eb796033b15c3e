"""The page of one open day: the strip, the rail, the picture, and the page chosen beside it."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QStackedWidget, QVBoxLayout, QWidget

from planner.day.layout import day_to_toml
from planner.desktop.forms.asking import Option, choose
from planner.desktop.forms.house_form import HousePage
from planner.desktop.forms.new_work import ExtraWork
from planner.desktop.key_order import order_as_read, stops
from planner.desktop.model.filing import Filed, keep_shown
from planner.desktop.model.safety_copy import SafetyCopy
from planner.desktop.model.what_we_own import what_we_own
from planner.desktop.model.wishes import Wish
from planner.desktop.pages.catalogue import PAGES
from planner.desktop.pages.first_fault import first_at_fault, show_in
from planner.desktop.pages.notice import Notice
from planner.desktop.pages.panel import held
from planner.desktop.pages.rail import Rail, RailEntry
from planner.desktop.pages.verdict_strip import VerdictStrip
from planner.desktop.plain import PlainLabel
from planner.desktop.thinking.day_planning import DayPlanning
from planner.desktop.thinking.missed import Missed
from planner.desktop.thinking.planning_process import PlanningProcess
from planner.desktop.thinking.studying import Studying
from planner.desktop.thinking.wishing import Wishing
from planner.fit.verdict import Verdict
from planner.plan.another_day import left_for_another_day, what_it_takes

if TYPE_CHECKING:
    from planner.desktop.chart.picture import Picture

Processes = Callable[[QWidget], PlanningProcess]

LEAST_BESIDE, SHARE_BESIDE = 400, 0.28
"""How wide the page beside the picture comes up, in pixels and, on a wide screen, as a part of the window."""


class DayPage(QWidget):
    """Everything of one day. The picture and the pages are made when they are first seen."""

    told = Signal(str)
    day_wanted = Signal(str)
    job_copy_wanted = Signal(str)

    def __init__(
        self,
        filed: Filed,
        *,
        seconds: float = 20.0,
        processes: Processes | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        processes = processes or PlanningProcess
        self.filed, self.open_day = filed, filed.open_day
        self.folder_used_last: Callable[[], Path] = Path.home
        self.open_day.setParent(self)
        self.safety_copy = SafetyCopy(self.open_day)
        self.process = processes(self)
        self.side_process = processes(self)
        self.planning = DayPlanning(self.open_day, self.process, seconds=seconds)
        self.wishing = Wishing(self.open_day, self.side_process)
        self.studying = Studying(processes(self))
        self.missed = Missed(self.open_day, self)
        self.strip = VerdictStrip(self)
        self.notice = Notice(self)
        self.rail = Rail([RailEntry(page.words, page.key) for page in PAGES], self)
        self.panels = QStackedWidget(self)
        self._made: dict[str, QWidget] = {}
        self._held: dict[str, QWidget] = {}
        self.picture_shown: Picture | None = None
        self.split = QSplitter(Qt.Orientation.Horizontal, self)
        self.picture = QWidget(self)
        self._picture_box = QVBoxLayout(self.picture)
        self._picture_box.setContentsMargins(0, 0, 0, 0)
        self.stale = PlainLabel("Not planned yet for the latest change", self.picture)
        self.stale.setProperty("role", "faint")
        self.stale.setContentsMargins(12, 4, 12, 4)
        self.stale.hide()
        self._picture_box.addWidget(self.stale)
        self.split.addWidget(self.picture)
        self.split.addWidget(self.panels)
        self.split.setStretchFactor(0, 1)
        self.split.setCollapsible(0, False)
        self.split.setSizes([860, LEAST_BESIDE])
        middle = QHBoxLayout()
        middle.setSpacing(0)
        middle.addWidget(self.rail)
        middle.addWidget(self.split, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.strip)
        column.addWidget(self.notice)
        column.addLayout(middle, 1)
        self._connect()
        QTimer.singleShot(0, self.on_first_seen)

    def _connect(self) -> None:
        self.rail.page_chosen.connect(self.on_page_chosen)
        self.strip.plan_wanted.connect(self.plan_again)
        self.strip.stop_wanted.connect(self.planning.stop)
        self.planning.standing_changed.connect(lambda _: self.strip.show_reach(self.missed.words))
        self.planning.standing_changed.connect(self.strip.show_standing)
        self.planning.busy_changed.connect(self.strip.show_busy)
        self.planning.busy_changed.connect(self.on_busy_changed)
        self.missed.changed.connect(lambda: self.strip.show_reach(self.missed.words))
        self.planning.began.connect(self.strip.gap_line.begin)
        self.planning.better_found.connect(self.strip.gap_line.add)
        self.planning.told.connect(self.told)
        self.planning.urgent.connect(self.notice.show_urgent)
        self.studying.failed.connect(self.on_study_failed)
        self.open_day.plan_changed.connect(self.on_plan_changed)
        self.open_day.refused.connect(self.told)
        what_we_own().kept.connect(self.open_day.read_anew)
        self.wishing.weighed.connect(self.notice.show_weighed)
        self.wishing.refused.connect(self.notice.show_refused)
        self.wishing.thinking.connect(self.notice.show_thinking)
        self.notice.accepted.connect(self.on_accepted)
        self.notice.left.connect(self.wishing.leave)

    def to_be_kept(self) -> Path:
        """Where what is made of the day is kept, as long as nothing else is said: beside it, under its name."""
        path = self.open_day.path
        return self.folder_used_last() / self.open_day.name if path is None else path.with_name(self.open_day.name)

    def page(self, key: str) -> QWidget:
        """A page beside the picture, made when it is first asked for."""
        if key not in self._made:
            from planner.desktop.pages.making import MAKERS

            self._made[key] = MAKERS[key](self)
            self._held[key] = held(self._made[key], next(page.words for page in PAGES if page.key == key))
            self.panels.addWidget(self._held[key])
        return self._made[key]

    def go_to(self, key: str) -> None:
        """Show a page and put the keys there."""
        self.rail.choose(key)
        self._show_page(True)
        self._put_keys_into(key, Qt.FocusReason.ShortcutFocusReason)

    def _put_keys_into(self, key: str, reason: Qt.FocusReason) -> None:
        """Into the first field of a house, else into the first thing of the page that takes them."""
        house = self.page(key).findChild(HousePage)
        if house is not None:
            house.take_focus()
        else:
            next(stops(self._held[key]), self.rail).setFocus(reason)

    def add_job(self) -> None:
        """Ask for one more job, in the short way."""
        self.go_to("house")
        page = self.page("house").findChild(HousePage)
        if page is not None:
            page.begin()

    def add_extra(self, job: str) -> None:
        """Ask for work that nobody foresaw and add it to a job, the day under way kept."""
        dialog = ExtraWork(self.open_day.draft, job, self)
        if dialog.exec() and dialog.changes:
            self.open_day.change("Extra work", dialog.changes)

    def open_what_is_left(self) -> None:
        """Open what is left of a day under way as a day of its own."""
        shown, day = self.open_day.shown, self.open_day.day
        left = None if shown is None or day is None else left_for_another_day(day, shown.plan, self.open_day.record)
        if left is None:
            self.told.emit("Nothing is left for another day.")
        else:
            self.day_wanted.emit(day_to_toml(left))
            takes = what_it_takes(left)
            self.told.emit(f"What is left takes: {', '.join(takes)}." if takes else "What is left takes no kit.")

    def stop(self) -> None:
        """Stop what is being thought about; the best so far stays."""
        if self.notice.isVisible():
            self.notice.on_leave()
        else:
            self.planning.stop()

    def wish(self, wish: Wish) -> None:
        """Weigh a wish: what it costs is said before it is done."""
        self.wishing.weigh(wish)

    def end(self, *, keep_copy: bool = False) -> None:
        """The page is closed for good; its safety copy goes too, unless it is to be offered at the next start."""
        if keep_copy:
            self.safety_copy.leave()
        else:
            self.safety_copy.drop()
        self.planning.end()
        self.process.end()
        self.side_process.end()
        self.studying.end()
        self.filed.let_go()

    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: N802 - Qt's own
        """Tab goes on as it is read: a part that was made or unfolded later is not the last one."""
        shown = self.panels.currentWidget()
        if shown is not None:
            order_as_read(shown)
        return super().focusNextPrevChild(next)

    @Slot()
    def on_first_seen(self) -> None:
        """The window is drawn: now load what takes longer."""
        from planner.desktop.chart.picture import Picture

        room, beside = self.split.width(), int(SHARE_BESIDE * self.width())
        if room > beside > LEAST_BESIDE:
            self.split.setSizes([room - beside, beside])
        self.chart = self.picture_shown = Picture(self.open_day, self.wish, self.picture)
        self._picture_box.addWidget(self.chart, 1)
        self.planning.busy_changed.connect(self.chart.on_busy_changed)
        self.chart.tools.page_folded.connect(self.fold_page)
        if not self._made:
            is_new = not self.open_day.draft.at(("jobs",))
            self.rail.choose("house" if is_new else "order")
            if is_new:
                self._put_keys_into("house", Qt.FocusReason.OtherFocusReason)
        self.planning.start()
        self.on_plan_changed()

    @Slot(str, str)
    def on_study_failed(self, task: str, words: str) -> None:
        """Nothing came of what was asked for; what no page of its own says is said in passing."""
        if task in ("print", "document"):
            self.told.emit(f"Nothing was {'printed' if task == 'print' else 'saved'}: {words}")

    def say_no_plan(self) -> None:
        """Say that there is nothing to put on paper, and offer what comes before."""
        is_right = self.open_day.day is not None
        words = "A sheet is made of a plan." + ("" if is_right else " Something in the day is not right yet.")
        option = Option("plan", "Plan now") if is_right else Option("fault", "Show what is wrong")
        next_step = choose(self, "There is no plan yet", words, [option])
        if next_step == "plan":
            self.planning.plan_now()
        elif next_step == "fault":
            self.go_to_first_fault()

    @Slot()
    def plan_again(self) -> None:
        """Plan the day as it is; where it is not ready, go to the first field that says why."""
        if self.open_day.day is None:
            self.go_to_first_fault()
        else:
            self.planning.plan_now()

    def go_to_first_fault(self) -> None:
        """Show where the first thing is put right, and put the keys there."""
        found = first_at_fault(self.open_day.draft, self.page)
        if found is None:
            self.go_to("house" if not self.open_day.draft.at(("jobs",)) else "jobs")
            return
        key, widget = found
        self.rail.choose(key)
        self._show_page(True)
        show_in(self.page(key), widget)

    @Slot()
    def fold_page(self) -> None:
        """The page beside the picture goes, or comes back."""
        self._show_page(self.panels.isHidden())

    def _show_page(self, is_shown: bool) -> None:
        self.panels.setVisible(is_shown)
        if self.picture_shown is not None:
            self.picture_shown.tools.page.setText("Fold page" if is_shown else "Show page")

    @Slot(str)
    def on_page_chosen(self, key: str) -> None:
        """Another page was chosen on the rail."""
        self.page(key)
        self.panels.setCurrentWidget(self._held[key])
        self._show_page(True)

    @Slot()
    def on_plan_changed(self) -> None:
        """There is another plan, or none for the present state."""
        shown = self.open_day.shown
        self.stale.setVisible(shown is not None and not self.open_day.is_shown_current)
        if shown is not None and shown.verdict is None and self.open_day.is_shown_current:
            self.studying.ask("verdict", shown, self.on_verdict)

    @Slot(bool)
    def on_busy_changed(self, is_busy: bool) -> None:
        """Planning began or ended; once it rests, what was shown is kept, and the side process gets ready."""
        if not is_busy:
            notice = keep_shown(self.filed)
            if notice:
                self.told.emit(notice)
            self.side_process.warm_up()

    @Slot()
    def on_accepted(self) -> None:
        """A wish is done: it was weighed in haste, so it is planned on."""
        before = self.open_day.state
        self.wishing.accept()
        if self.open_day.state != before:
            self.planning.plan_on()

    def on_verdict(self, verdict: Verdict) -> None:
        """The verdict on a plan that came from a file."""
        shown = self.open_day.shown
        if shown is not None and shown.verdict is None and self.open_day.is_shown_current:
            self.open_day.keep_plan(shown.plan, verdict=verdict)
            self.planning.say_standing()
