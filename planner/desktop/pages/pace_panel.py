"""Own pace: what the user's own record knows beside the shipped rates, and this day's times to be noted in it."""

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QPushButton, QWidget

from planner.desktop.model.open_day import OpenDay
from planner.desktop.pages.panel import Panel
from planner.desktop.pages.told_rows import RowsView, ToldRow
from planner.plan.pieces import with_pieces
from planner.plan.progress import Progress
from planner.record import Record, RecordFault, default_path
from planner.record.applied import learned, timings_of


class PacePanel(Panel):
    """Shipped and own rate of each method that was timed; a button notes the stages that were marked today."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(open_day, "Own pace", parent)
        self.add_words("What stages really took is kept on this machine only.")
        self.note_button = QPushButton("Note the times of this day", self)
        self.note_button.setProperty("role", "first")
        self.column.addWidget(self.note_button)
        self._words = self.add_words("", role="")
        self.rows = RowsView(self)
        self.rows.setAccessibleName("Own pace beside the shipped rates")
        self.column.addWidget(self.rows, 1)
        self.column.addStretch(0)
        self.note_button.clicked.connect(self.on_note)

    @property
    def words(self) -> str:
        """What is said now."""
        return self._words.text()

    def refresh(self) -> None:
        """Tell what the record knows."""
        timed = took(self.open_day.state.progress)
        self.note_button.setEnabled(bool(timed) and self.open_day.shown is not None)
        self._words.setText(
            f"{len(timed)} stages of this day are marked from start to end."
            if timed
            else "Mark stages as started and done on the day; then their times can be noted here."
        )
        self._tell()

    @Slot()
    def on_note(self) -> None:
        """The times of this day are to be noted; what was noted of the same stages before gives way."""
        shown, day, stages = self.open_day.shown, self.open_day.day, took(self.open_day.state.progress)
        if shown is None or day is None or not stages:
            return
        with self._told_faults(), opened_record() as record:
            if not record.is_learning:
                self._words.setText("Own pace is off, so nothing is noted.")
                return
            timings = timings_of(with_pieces(day, self.open_day.state.progress), shown.plan, stages=stages)
            record.note_in_place(timings)
            self._words.setText(f"Noted: {len(timings)} stages.")
        self._tell()

    def _tell(self) -> None:
        told: list[ToldRow] = []
        if default_path().exists():
            with self._told_faults(), opened_record() as record:
                for row in learned(record):
                    condition = "" if row.pace.condition == "usual" else f", {row.pace.condition}"
                    below = f"own {row.own}, shipped {row.shipped}; from {row.pace.jobs_behind} jobs"
                    told.append(ToldRow(what=f"{row.pace.method}{condition}", below=below))
        self.rows.tell(told)
        self.rows.setVisible(bool(told))

    @contextmanager
    def _told_faults(self) -> Iterator[None]:
        """A record at fault is told, and keeps nobody back."""
        try:
            yield
        except (RecordFault, ValueError, OSError) as fault:
            self._words.setText(str(fault))


def took(progress: Progress) -> dict[tuple[str, str], float]:
    """The minutes of each stage that was marked as started and as done."""
    return {
        (note.job, note.stage): float(note.end - note.start)
        for note in progress.noted
        if note.start is not None and note.end is not None and note.end > note.start and note.part is None
    }


def opened_record() -> "Record":
    """The user's own record."""
    return Record.open()
