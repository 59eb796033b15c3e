"""The picture of the day in its page: shows the plan, and turns what is done in it with hand or keys into wishes."""

import datetime as dt
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QPoint, Qt, QTimer, Slot
from PySide6.QtWidgets import QInputDialog, QLineEdit, QMenu, QStackedLayout, QVBoxLayout, QWidget

from planner.day.jobs import Part
from planner.desktop.chart.chart_view import ChartView
from planner.desktop.chart.picture_tools import PictureTools
from planner.desktop.look import headline
from planner.desktop.model import wishes
from planner.desktop.model.differences import MOVED_FROM, moved_briefly, moved_words
from planner.desktop.model.open_day import OpenDay, Shown
from planner.desktop.model.running_clock import clock_now
from planner.desktop.model.wishes import Wish
from planner.desktop.plain import PlainLabel
from planner.plan.plan import Plan
from planner.trade import units
from planner.trade.units import show_clock

_TICK_MILLISECONDS = 15_000

About = tuple[str | int, ...]


class Picture(QWidget):
    """The chart of what is shown, or a word of welcome while there is nothing to show."""

    def __init__(self, open_day: OpenDay, wish: Callable[[Wish], None], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.open_day, self._wish = open_day, wish
        self._kept: Shown | None = None
        self._rested: Shown | None = None
        self._is_busy = False
        self.chart = ChartView(self)
        self._empty = PlainLabel(self)
        self._empty.setFont(headline(15))
        self._empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._empty.setWordWrap(True)
        self._empty.setProperty("role", "faint")
        self.tools = PictureTools(self)
        self.tools.stretched.connect(self.chart.stretch)
        self.tools.day_fitted.connect(self.chart.fit)
        self.tools.kit_folded.connect(self.chart.fold_kit)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self._stack = QStackedLayout()
        column.addLayout(self._stack, 1)
        column.addWidget(self.tools)
        self._stack.addWidget(self._empty)
        self._stack.addWidget(self.chart)
        open_day.plan_changed.connect(self.on_plan_changed)
        self.chart.stage_dragged.connect(self.on_stage_dragged)
        self.chart.menu_wanted.connect(self.on_menu_wanted)
        self._timer = QTimer(self, interval=_TICK_MILLISECONDS)
        self._timer.timeout.connect(self.on_tick)
        self._timer.start()
        self.on_plan_changed()

    @Slot()
    def on_plan_changed(self) -> None:
        """There is another plan, or none."""
        shown = self.open_day.shown
        if shown is None:
            has_jobs = bool(self.open_day.draft.at(("jobs",)))
            self._empty.setText(
                "The picture of the day appears here once it is planned."
                if has_jobs
                else "Nothing to plan yet.\nSay on the right whose the house is, and tick the work."
            )
            self._stack.setCurrentWidget(self._empty)
        else:
            kept = self._kept
            is_comparable = kept is not None and kept.day.stages() == shown.day.stages()
            self.chart.show_plan(shown.day, shown.plan, compare=kept.plan if kept and is_comparable else None)
            self.on_tick()
            self._stack.setCurrentWidget(self.chart)
        self.tools.setVisible(shown is not None)
        self._say_moved()

    @Slot(bool)
    def on_busy_changed(self, is_busy: bool) -> None:
        """Planning began or rests: what moved is said once it rests, not with each better plan."""
        self._is_busy = is_busy
        self._say_moved()

    def _say_moved(self) -> None:
        """Mark and say what is at another time than when the plan last rested."""
        shown, before = self.open_day.shown, self._rested
        if self._is_busy or shown is None or not self.open_day.is_shown_current:
            return
        if before is not None and before.plan is not shown.plan:
            self.tools.say(moved_words(before, shown), moved_briefly(before, shown))
            self.chart.mark_moved(_moved(before.plan, shown.plan))
        self._rested = shown

    @Slot()
    def on_tick(self) -> None:
        """The clock went on: on the day itself the line of now goes with it."""
        shown = self.open_day.shown
        is_today = shown is not None and shown.day.date == dt.date.today()
        self.chart.set_now(clock_now() if is_today else self.open_day.state.progress.now)

    @Slot(object)
    def on_kept_changed(self, kept: Shown | None) -> None:
        """A plan is kept to compare with: where it had other times is marked in the picture."""
        self._kept = kept
        self.on_plan_changed()

    @Slot(str, str, int)
    def on_stage_dragged(self, job: str, stage: str, minute: int) -> None:
        """A stage was drawn to another time; of one in sections, only the first can be wished to a time."""
        part = self._part(job, stage)
        if part is None or part.number == 1:
            self._wish(wishes.stage_at(self.open_day.draft, job, part.of if part else stage, minute))
        else:
            self.tools.say("A later section goes by the first: draw that one to another time.")

    def _part(self, job: str, stage: str) -> Part | None:
        """Which section of a stage this is, if it is one."""
        shown = self.open_day.shown
        known = shown.day.jobs[job].stages.get(stage) if shown and job in shown.day.jobs else None
        return known.part if known else None

    @Slot(object, QPoint)
    def on_menu_wanted(self, about: About, spot: QPoint) -> None:
        """The menu of a thing in the picture is wanted, at a spot of the screen."""
        menu = self.menu_of(about)
        if menu is not None:
            menu.exec(spot)

    def menu_of(self, about: About) -> QMenu | None:
        """What can be wished of a thing in the picture; None for what nothing can be wished of."""
        if about[:1] == ("work",) and len(about) == 3:
            job, stage = str(about[1]), str(about[2])
            part = self._part(job, stage)
            return self._stage_menu(job, part.of if part else stage)
        if about[:1] == ("wait",) and len(about) == 4:
            return self._wait_menu(str(about[1]), str(about[2]), str(about[3]) or None)
        return None

    def _stage_menu(self, job: str, stage: str) -> QMenu | None:
        draft = self.open_day.draft
        table = draft.at(("jobs", job, "stages", stage))
        if not isinstance(table, dict):
            return None
        menu = QMenu(wishes.stage_words(draft, job, stage), self)
        menu.addAction("Start at …", lambda: self._ask_time(job, stage))
        if "starts_at" in table:
            menu.addAction("Let go of {time}".format(time=table["starts_at"])).triggered.connect(
                lambda: self._wish(wishes.stage_free(draft, job, stage))
            )
        before = menu.addMenu("Before")
        others = [other for other in draft.at(("jobs", job, "stages"), {}) if other != stage]
        for other in others:
            before.addAction(wishes.stage_words(draft, job, other)).triggered.connect(
                lambda _=False, other=other: self._wish(wishes.stage_before(draft, job, stage, other))
            )
        after = menu.addMenu("After")
        for other in others:
            after.addAction(wishes.stage_words(draft, job, other)).triggered.connect(
                lambda _=False, other=other: self._wish(wishes.stage_before(draft, job, other, stage))
            )
        methods = table.get("methods", {})
        if len(methods) > 1:
            menu.addSeparator()
            for method in methods:
                menu.addAction(f"Not with “{method}”").triggered.connect(
                    lambda _=False, method=method: self._wish(wishes.without_method(draft, job, stage, method))
                )
        return menu

    def _wait_menu(self, job: str, after: str, before: str | None) -> QMenu:
        draft = self.open_day.draft
        waits = draft.at(("jobs", job, "waits"), [])
        wait: dict[str, Any] = next((w for w in waits if (w.get("after"), w.get("before")) == (after, before)), {})
        menu = QMenu("Wait", self)
        clear = not wait.get("keep_clear", False)
        words = (
            "Do nothing else on the job meanwhile" if clear else "Other work may be done meanwhile"
        )
        menu.addAction(words).triggered.connect(
            lambda: self._wish(wishes.wait_kept_clear(draft, job, after, before, clear=clear))
        )
        return menu

    def _ask_time(self, job: str, stage: str) -> None:
        shown = self.open_day.shown
        work = shown.plan.work(job, stage) if shown else None
        title = wishes.stage_words(self.open_day.draft, job, stage)
        now = show_clock(work.start) if work else "09:00"
        text, is_given = QInputDialog.getText(
            self, title, "Start at (for example 09:30)", QLineEdit.EchoMode.Normal, now
        )
        if is_given:
            try:
                minute = units.clock(text)
            except ValueError:
                return
            self._wish(wishes.stage_at(self.open_day.draft, job, stage, minute))


def _moved(before: Plan, after: Plan) -> dict[About, tuple[int, int]]:
    """From when to when each stage was that starts at another time now."""
    moved: dict[About, tuple[int, int]] = {}
    for work in after.works:
        old = before.work(work.job, work.stage)
        if old is not None and abs(old.start - work.start) >= MOVED_FROM:
            moved["work", work.job, work.stage] = (old.start, old.end)
    return moved
