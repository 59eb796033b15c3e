"""The order of the day in words: each hand's rows, from leaving to home."""

from PySide6.QtWidgets import QWidget

from planner.desktop.model.open_day import OpenDay, Shown
from planner.desktop.pages.panel import TellingPanel
from planner.desktop.pages.told_rows import ToldRow
from planner.sheet.papers.hand_order import OrderRow, orders
from planner.sheet.papers.waits import stage_notes
from planner.trade.units import show_clock, show_minutes

_STRONG = {"stage", "in", "out"}


class OrderPanel(TellingPanel):
    """A list to read from top to bottom."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(open_day, "Order", "The order of the day in words", parent)

    def told(self, shown: Shown) -> list[ToldRow]:
        """Hand by hand, part by part."""
        told: list[ToldRow] = []
        for order in orders(shown.day, shown.plan, stage_notes(shown.day, shown.plan)):
            told.append(ToldRow(heading=order.name))
            for part in order.parts:
                told.append(ToldRow(subheading=part.title))
                told += [self._row(row) for row in part.rows]
        return told

    def _row(self, row: OrderRow) -> ToldRow:
        below = "\n".join(filter(None, (row.kit, row.note)))
        return ToldRow(
            when=show_clock(row.start),
            what=row.what,
            below=below,
            aside=show_minutes(row.end - row.start) if row.end > row.start else "",
            is_strong=row.kind in _STRONG,
            is_bare=row.kind == "free",
        )
