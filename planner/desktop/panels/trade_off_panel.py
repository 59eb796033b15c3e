"""The trade-off between being home and crossing a restricted way in: points to pick one from."""

from dataclasses import replace
from itertools import pairwise

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QPushButton, QWidget

from planner.desktop.look import headline
from planner.desktop.open_day import OpenDay
from planner.desktop.panels.panel import Panel
from planner.desktop.panels.rows import RowsView, Told
from planner.desktop.panels.trade_off_chart import TradeOffChart
from planner.desktop.standing import crossing_words
from planner.plan.measures import measure
from planner.plan.plan import TradeOff
from planner.trade.units import show_clock, show_minutes


class TradeOffPanel(Panel):
    """Pick a point and the plan follows."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(open_day, self.tr("Trade-off"), parent)
        self._words = self.add_words("")
        self.chart = TradeOffChart(self)
        self.column.addWidget(self.chart)
        self._point = self.add_words("", role="")
        self._point.setFont(headline(12.5))
        self.pick_button = QPushButton(self.tr("Plan it so"), self)
        self.pick_button.setProperty("role", "first")
        self.free_button = QPushButton(self.tr("Back to the price of a crossing"), self)
        self.column.addWidget(self.pick_button)
        self.column.addWidget(self.free_button)
        self.rows = RowsView(self)
        self.rows.setAccessibleName(self.tr("What fewer trips cost"))
        self.column.addWidget(self.rows, 1)
        self.column.addStretch(0)
        self.chart.point_changed.connect(self.on_point)
        self.chart.point_picked.connect(self.on_pick)
        self.pick_button.clicked.connect(self.on_pick)
        self.free_button.clicked.connect(self.on_free)

    def refresh(self) -> None:
        """Show the points that planning found."""
        shown = self.open_day.shown
        points = sorted_points(shown.plan.proof.trade_off) if shown and shown.plan.proof else []
        self.free_button.setVisible(self.open_day.state.most_crossings is not None)
        for widget in (self.chart, self._point, self.pick_button, self.rows):
            widget.setVisible(bool(points))
        if shown is None or not points:
            self._words.setText(
                self.tr("There is nothing to trade: no way in is restricted, or the day is not planned to its end yet.")
            )
            return
        self._words.setText(
            self.tr("Each point is the soonest to be home with so many trips. A hollow one is not proven yet.")
        )
        now = measure(shown.day, shown.plan).restricted_crossings
        self.chart.show_points(points, shown.day.start, now)
        self.rows.tell(
            [
                Told(
                    when=show_minutes(less.minutes - more.minutes),
                    what=self.tr("for {count} fewer {trips}").format(
                        count=more.crossings - less.crossings,
                        trips=crossing_words(shown.day, more.crossings - less.crossings),
                    ),
                    below=self.tr("{most} to {least}; home {later} in place of {sooner}").format(
                        most=more.crossings,
                        least=less.crossings,
                        later=show_clock(shown.day.start + less.minutes),
                        sooner=show_clock(shown.day.start + more.minutes),
                    ),
                )
                for less, more in pairwise(points)
            ]
        )
        self.on_point()

    @Slot()
    def on_point(self) -> None:
        """Another point is looked at."""
        point, shown = self.chart.point, self.open_day.shown
        if point is None or shown is None:
            return
        words = self.tr("{count} {trips}, home {time}")
        self._point.setText(
            words.format(
                count=point.crossings,
                trips=crossing_words(shown.day, point.crossings),
                time=show_clock(shown.day.start + point.minutes),
            )
        )
        now = measure(shown.day, shown.plan).restricted_crossings
        self.pick_button.setEnabled(point.crossings != now and not self.open_day.is_read_only)

    @Slot()
    def on_pick(self) -> None:
        """The point is to be planned."""
        point = self.chart.point
        if point is not None and self.pick_button.isEnabled():
            words = self.tr("At most {count} restricted trips").format(count=point.crossings)
            self.open_day.settle(words, replace(self.open_day.state, most_crossings=point.crossings))

    @Slot()
    def on_free(self) -> None:
        """No bound on the trips any more."""
        self.open_day.settle(self.tr("Trips by their price"), replace(self.open_day.state, most_crossings=None))


def sorted_points(points: tuple[TradeOff, ...]) -> list[TradeOff]:
    """The points from the fewest crossings on, those left out that are no better at anything."""
    best: list[TradeOff] = []
    for point in sorted(points, key=lambda p: (p.crossings, p.minutes)):
        if not best or point.minutes < best[-1].minutes:
            best.append(point)
    return best
