"""The trade-off between being home and crossing a restricted way in: points to pick one from."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QPushButton, QWidget

from planner.desktop.flow import Flow
from planner.desktop.look import headline
from planner.desktop.model.day_standing import crossing_words
from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.told_rows import RowsView, ToldRow
from planner.desktop.pages.trade_off_chart import TradeOffChart
from planner.desktop.thinking.studying import Studying
from planner.fit.trade_off import TradeOffs
from planner.plan.measures import measure
from planner.plan.plan import Plan, TradeOff
from planner.trade.units import show_clock, show_minutes


class TradeOffPanel(Panel):
    """Pick a point and the plan follows.

    The points that planning came by are there at once; all of them are worked out when that is asked for. `plan_wanted`
    asks for the plan of a picked point to be planned on.
    """

    plan_wanted = Signal()

    def __init__(self, open_day: OpenDay, studying: Studying, parent: QWidget | None = None) -> None:
        super().__init__(open_day, "Trade-off", parent)
        self._studying = studying
        self._found: TradeOffs | None = None
        self._found_for: object = None
        self._words = self.add_words("")
        self.find_button = QPushButton("Work out every point", self)
        self.stop_button = QPushButton("Stop", self)
        self.stop_button.hide()
        row = Flow()
        row.addWidget(self.find_button)
        row.addWidget(self.stop_button)
        self.column.addLayout(row)
        self.chart = TradeOffChart(self)
        self.column.addWidget(self.chart)
        self._point = self.add_words("", role="")
        self._point.setFont(headline(12.5))
        self.pick_button = QPushButton("Plan it so", self)
        self.pick_button.setProperty("role", "first")
        self.free_button = QPushButton("Back to the price of a crossing", self)
        self.column.addWidget(self.pick_button)
        self.column.addWidget(self.free_button)
        self.rows = RowsView(self)
        self.rows.setAccessibleName("What fewer trips cost")
        self.column.addWidget(self.rows, 1)
        self.column.addStretch(0)
        self.chart.point_changed.connect(self.on_point)
        self.chart.point_picked.connect(self.on_pick)
        self.pick_button.clicked.connect(self.on_pick)
        self.free_button.clicked.connect(self.on_free)
        self.find_button.clicked.connect(self.on_find)
        self.stop_button.clicked.connect(self.on_stop)
        studying.progressed.connect(self.on_progressed)
        studying.failed.connect(self.on_failed)
        studying.busy_changed.connect(self.on_busy)

    def points(self) -> list[TradeOff]:
        """The points that are known: all of them when they were worked out for this day, else what planning found."""
        shown = self.open_day.shown
        if shown is None:
            return []
        if self._found is not None and self._found_for == shown.day:
            return [TradeOff(p.crossings, p.minutes, p.bound) for p in self._found.points]
        return sorted_points(shown.plan.proof.trade_off) if shown.plan.proof else []

    def refresh(self) -> None:
        """Show the points that are known."""
        shown, points = self.open_day.shown, self.points()
        is_restricted = shown is not None and any(
            ground.way_in.restricted for job in shown.day.jobs.values() for ground in job.grounds.values()
        )
        can_trade = is_restricted and not self.open_day.is_under_way
        self.free_button.setVisible(self.open_day.state.most_crossings is not None and not self.open_day.is_under_way)
        self.find_button.setEnabled(can_trade)
        for widget in (self.chart, self._point, self.pick_button):
            widget.setVisible(bool(points) and can_trade)
        self.rows.setVisible(len(points) > 1 and can_trade)
        if shown is None:
            self._words.setText("There is no plan yet.")
            return
        if self.open_day.is_under_way:
            self._words.setText("The day is under way: trips are weighed against time before it begins.")
            return
        if not is_restricted:
            self._words.setText("There is nothing to trade: no way in is restricted.")
            return
        words = "Each point is the soonest to be home with so many trips. A hollow one is not proven yet."
        if self._found is not None and self._found_for == shown.day:
            words = f"{self._found.sentence[:1].upper()}{self._found.sentence[1:]} {words}"
        elif not points:
            words = "Fewer trips or sooner home? Each point is planned for itself, so it takes a minute."
        self._words.setText(words)
        self.chart.show_points(points, shown.day.start, measure(shown.day, shown.plan).restricted_crossings)
        self.rows.tell(
            [
                ToldRow(
                    when=show_minutes(less.minutes - more.minutes),
                    what=f"for {(fewer := more.crossings - less.crossings)} fewer {crossing_words(shown.day, fewer)}",
                    below=f"{more.crossings} to {less.crossings}; home {show_clock(shown.day.start + less.minutes)} "
                    f"in place of {show_clock(shown.day.start + more.minutes)}",
                )
                for less, more in pairwise(points)
            ]
        )
        self.on_point()

    @Slot()
    def on_find(self) -> None:
        """All points are to be worked out."""
        shown = self.open_day.shown
        if shown is not None:
            self._words.setText("Planning each point for itself …")

            def on_found(found: TradeOffs) -> None:
                self._found, self._found_for = found, shown.day
                self.refresh()

            self._studying.ask("trade-off", shown, on_found)

    @Slot()
    def on_stop(self) -> None:
        """Stop working them out; what is found so far is shown."""
        self._studying.stop("trade-off")

    @Slot(str, int, int, str)
    def on_progressed(self, task: str, done: int, of: int, words: str) -> None:
        """One more point was planned."""
        if task == "trade-off":
            self._words.setText(f"{done} of {of} planned: {words}")

    @Slot(str, str)
    def on_failed(self, task: str, words: str) -> None:
        """Nothing came of it."""
        if task == "trade-off":
            self._words.setText(words)

    @Slot(str)
    def on_busy(self, task: str) -> None:
        """Another study runs, or none."""
        self.find_button.setVisible(task != "trade-off")
        self.stop_button.setVisible(task == "trade-off")

    @Slot()
    def on_point(self) -> None:
        """Another point is looked at."""
        point, shown = self.chart.point, self.open_day.shown
        if point is None or shown is None:
            return
        home = show_clock(shown.day.start + point.minutes)
        words = f"{point.crossings} {crossing_words(shown.day, point.crossings)}, home {home}"
        if not point.is_proven:
            bound = show_clock(shown.day.start + point.bound)
            words += f"; not proven, no plan before {bound}"
        self._point.setText(words)
        now = measure(shown.day, shown.plan)
        is_now = (point.crossings, point.minutes) == (now.restricted_crossings, now.minutes_home)
        self.pick_button.setEnabled(not is_now and not self.open_day.is_read_only)

    @Slot()
    def on_pick(self) -> None:
        """The point is to be planned: its plan is shown at once, if there is one, and planned on."""
        point, shown = self.chart.point, self.open_day.shown
        if point is None or shown is None or not self.pick_button.isEnabled():
            return
        after = replace(self.open_day.state, most_crossings=point.crossings)
        plan = self._plan_of(point)
        if plan is not None:
            self.open_day.keep_plan(plan, after)
        self.open_day.settle(f"At most {point.crossings} restricted trips", after)
        if plan is not None:
            self.plan_wanted.emit()

    @Slot()
    def on_free(self) -> None:
        """No bound on the trips any more."""
        self.open_day.settle("Trips by their price", replace(self.open_day.state, most_crossings=None))

    def _plan_of(self, point: TradeOff) -> Plan | None:
        """The plan of a point that was worked out; its proof was for a day with other prices, so it is left out."""
        if self._found is None:
            return None
        pair = (point.crossings, point.minutes)
        plans = [p.plan for p in self._found.points if (p.crossings, p.minutes) == pair]
        return replace(plans[0], proof=None) if plans else None


def sorted_points(points: Sequence[TradeOff]) -> list[TradeOff]:
    """The points from the fewest crossings on, those left out that are no better at anything."""
    best: list[TradeOff] = []
    for point in sorted(points, key=lambda p: (p.crossings, p.minutes)):
        if not best or point.minutes < best[-1].minutes:
            best.append(point)
    return best
