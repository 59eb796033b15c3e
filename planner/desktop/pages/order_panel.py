"""The order of the day in words: each hand's rows, from leaving to home."""

from PySide6.QtWidgets import QWidget

from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.told_rows import RowsView, ToldRow
from planner.sheet.papers.hand_order import OrderRow, orders
from planner.sheet.papers.waits import stage_notes
from planner.trade.units import show_clock, show_minutes

_STRONG = {"stage", "in", "out"}


class OrderPanel(Panel):
    """A list to read from top to bottom."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(open_day, "Order", parent)
        self.rows = RowsView(self)
        self.rows.setAccessibleName("The order of the day in words")
        self.column.addWidget(self.rows, 1)

    def refresh(self) -> None:
        """Write the rows."""
        shown = self.open_day.shown
        if shown is None:
            self.rows.tell([ToldRow(subheading="There is no plan yet.")])
            return
        told: list[ToldRow] = []
        for order in orders(shown.day, shown.plan, stage_notes(shown.day, shown.plan)):
            told.append(ToldRow(heading=order.name))
            for part in order.parts:
                told.append(ToldRow(subheading=part.title))
                told += [self._told(row) for row in part.rows]
        self.rows.tell(told)

    def _told(self, row: OrderRow) -> ToldRow:
        below = "\n".join(filter(None, (row.kit, row.note)))
        return ToldRow(
            when=show_clock(row.start),
            what=row.what,
            below=below,
            aside=show_minutes(row.end - row.start) if row.end > row.start else "",
            is_strong=row.kind in _STRONG,
            is_bare=row.kind == "free",
        )
