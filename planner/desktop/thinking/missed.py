"""What is out of reach of an open day, sought piece by piece while nobody types."""

from collections.abc import Iterator

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from planner.desktop.model.open_day import OpenDay
from planner.fit.within_reach import Reach, within_reach

SETTLE_MILLISECONDS = 600
"""How long the day must be left alone before it is looked through again."""

WORTH_SAYING = 15
"""Minutes that must be saved before the strip speaks of it unasked."""


class Missed(QObject):
    """Methods that fall out, for the day as it is settled; `changed` says that other ones are known.

    Each piece is the work of reading the day once, a few hundredths of a second, so it is done between two events.
    """

    changed = Signal()

    def __init__(self, open_day: OpenDay, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.open_day = open_day
        self.found: tuple[Reach, ...] = ()
        self._coming: list[Reach] = []
        self._text = ""
        self._search: Iterator[Reach] = iter(())
        self._rest = QTimer(self, singleShot=True, interval=SETTLE_MILLISECONDS)
        self._rest.timeout.connect(self.begin)
        self._step = QTimer(self, interval=0)
        self._step.timeout.connect(self.on_step)
        open_day.settled.connect(self.on_settled)
        self.on_settled()

    @property
    def words(self) -> str:
        """The one that saves most, where it is worth saying unasked; a second hand is a question of its own.

        Once the day is under way what it lacks is known, and told of there.
        """
        if self.open_day.state.progress.is_under_way:
            return ""
        worth = [one for one in self.found if one.lacking != "hand" and (not one.gains or one.saved >= WORTH_SAYING)]
        return max(worth, key=lambda one: (not one.gains, one.saved)).words if worth else ""

    @Slot()
    def on_settled(self) -> None:
        """The day changed: what was found may not hold any more."""
        if self.open_day.draft.text != self._text:
            self._step.stop()
            self._rest.start()

    @Slot()
    def begin(self) -> None:
        """Look through the day."""
        draft = self.open_day.draft
        self._text, self._coming = draft.text, []
        self._search = within_reach(draft.text, draft.path)
        self._step.start()

    @Slot()
    def on_step(self) -> None:
        """One piece more."""
        one = next(self._search, None)
        if one is not None:
            self._coming.append(one)
            return
        self._step.stop()
        if tuple(self._coming) != self.found:
            self.found = tuple(self._coming)
            self.changed.emit()
