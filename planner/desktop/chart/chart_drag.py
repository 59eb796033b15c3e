"""A stage on its way to another time."""

from PySide6.QtCore import QRectF

from planner.sheet.chart import Chart, Item

FINE_PIXELS = 4.0
"""From so many pixels a minute on, a stage is dragged by single minutes, else by five."""


class StageDrag:
    """Follows the mouse, and says at which minute the stage would start."""

    def __init__(self, picture: Chart, item: Item, x: float) -> None:
        self.item, self.minute, self.is_moving = item, item.minute, False
        self._picture, self._from = picture, x

    def move(self, x: float, least: int) -> None:
        """The mouse is at ``x`` now; it counts once it has moved ``least`` pixels."""
        self.is_moving = self.is_moving or abs(x - self._from) >= least
        if self.is_moving:
            minute = self._picture.minute_at(self.item.x + x - self._from)
            pixels = self._picture.x_of(1) - self._picture.x_of(0)
            self.minute = minute if pixels >= FINE_PIXELS else 5 * round(minute / 5)

    def box(self) -> QRectF:
        """Where the stage's bar would lie on the page."""
        return QRectF(self._picture.x_of(self.minute), self.item.y, self.item.width, self.item.height)
