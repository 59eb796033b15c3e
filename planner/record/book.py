"""The record as the rest of the program sees it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Self

from platformdirs import user_data_dir

from planner.day.safekeeping import last_good
from planner.fit.chance import USUAL, Shared
from planner.record import bringing, opening, pace, quotes, taking_out, timings
from planner.record.database import Database, RecordFault
from planner.record.pace import Pace
from planner.record.quotes import Quote
from planner.record.shared import shared_in
from planner.record.timings import Timing
from planner.trade.rates import Spread

if TYPE_CHECKING:
    from types import TracebackType



def default_path() -> Path:
    """Where the record is kept: in the user's own data folder."""
    return Path(user_data_dir("slackwater", appauthor=False)) / "record.sqlite"


class Record:
    """What was planned and what it took, and what was quoted; kept on this machine only.

    Opened by `Record.open`, closed by `close` or at the end of a ``with`` block. Every method may raise
    `RecordFault`, whose text a user can act on. One record serves one thread.

    Attributes
    ----------
    notice : str
        What the user must be told about the opening; empty when all was well.
    """

    def __init__(self, database: Database, today: Callable[[], date], notice: str = "") -> None:
        self._database, self._today, self.notice = database, today, notice

    @classmethod
    def open(cls, path: Path | None = None, *, today: Callable[[], date] = date.today) -> Self:
        """Open the record, or the one in the user's data folder, made, brought up to date or mended where needed.

        Raises `RecordFault` when it cannot be opened, comes from a newer version, or is not a record.
        """
        database, notice = opening.open_database(path or default_path(), today())
        with suppress(RecordFault):  # a record that cannot be written now is repaired when it can
            notice = f"{notice} {bringing.repair(database)}".strip()
        return cls(database, today, notice)

    @property
    def path(self) -> Path:
        """The file."""
        return self._database.path

    def close(self) -> None:
        """Close the file; a second time does nothing."""
        self._database.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @contextmanager
    def as_one(self) -> Iterator[None]:
        """All that is written within the block takes effect together at its end, or none of it."""
        with self._database.writing():
            yield

    # Own pace

    @property
    def is_learning(self) -> bool:
        """Whether timings are noted and own pace is used; yes until turned off."""
        found = self._database.rows("SELECT value FROM settings WHERE name = 'learning'")
        return not found or found[0]["value"] == "on"

    @is_learning.setter
    def is_learning(self, is_on: bool) -> None:
        with self._database.writing() as connection:
            connection.execute(
                "INSERT INTO settings VALUES ('learning', ?1) ON CONFLICT (name) DO UPDATE SET value = ?1",
                ("on" if is_on else "off",),
            )

    def note_timing(self, timing: Timing) -> int | None:
        """Note what a stage took; returns its number, or None when learning is off and nothing was noted.

        A date later than the clock's is noted as it is, beside the date on which it was noted.
        """
        return timings.note(self._database, timing, self._today()) if self.is_learning else None

    def note_in_place(self, noted: Iterable[Timing]) -> None:
        """Note what stages took, all or none; what was noted before of the same stage of that day gives way."""
        with self.as_one():
            before = {(t.date, t.job, t.stage): t.id for t in self.timings()}
            for timing in noted:
                known = before.get((timing.date, timing.job, timing.stage))
                if known is not None:
                    self.forget_timing(known)
                self.note_timing(timing)

    def forget_timing(self, number: int) -> None:
        """Take out one timing, for example one whose stop was forgotten."""
        with self._database.writing() as connection:
            connection.execute("DELETE FROM timings WHERE id = ?", (number,))

    def timings(self, *, method: str | None = None, condition: str | None = None) -> list[Timing]:
        """The timings in the order in which they were noted; all unless narrowed down."""
        return timings.read(self._database, method=method, condition=condition)

    def own_pace(self, method: str, condition: str, shipped: Spread) -> Pace:
        """Own pace for a method in a condition, beside the shipped one; equal to it while learning is off."""
        known = self.timings(method=method, condition=condition) if self.is_learning else []
        return pace.learn(timings.job_ratios(known), shipped, method, condition)

    def shared(self) -> Shared:
        """What the stages of a day share by this crew's own days; the usual parts while learning is off."""
        return shared_in(self.timings()) if self.is_learning else USUAL

    # Quoted work

    def add_quote(self, quote: Quote) -> Quote:
        """Keep a quote; returns it with its number."""
        return quotes.add(self._database, quote)

    def quote(self, number: int) -> Quote:
        """The quote with a number."""
        return quotes.one(self._database, number)

    def quotes(self) -> list[Quote]:
        """All quotes, the longest quoted first."""
        return quotes.everything(self._database)

    def open_quotes(self) -> list[Quote]:
        """Quotes that are in no day yet, the longest quoted first."""
        return quotes.in_state(self._database, "open")

    def bring_into_day(self, number: int, day: date, *, file: Path | None = None, job: str = "") -> Quote:
        """Bring an open quote into a day.

        Parameters
        ----------
        number, day
            The quote and the date of the day.
        file, job
            The day file, not saved yet, and the key of the job in it: should neither get there, the quote is open again
            at the next opening of the record. Say `is_in_day` once it is saved.

        Raises
        ------
        QuoteFault
            When it is in a day already, or done.
        """
        with self.as_one():
            quote = quotes.change_state(self._database, number, "planned", day, only_from=("open",))
            if file is not None:
                bringing.note(self._database, number, file, job)
            return quote

    def is_in_day(self, number: int) -> None:
        """The file that a quote was brought into is saved."""
        bringing.is_there(self._database, number)

    def put_back(self, number: int) -> Quote:
        """Put a planned quote back among the open ones, when its day falls through."""
        with self.as_one():
            bringing.is_there(self._database, number)
            return quotes.change_state(self._database, number, "open", None, only_from=("planned",))

    def mark_done(self, number: int) -> Quote:
        """Mark a quote done, on the day it was brought into, or else today."""
        return quotes.change_state(
            self._database, number, "done", self._today(), only_from=("open", "planned")
        )

    # Out of the program's hands

    def export(self, path: Path) -> tuple[Path, ...]:
        """Write everything to a ``.json`` or ``.csv`` file; returns the files written."""
        return taking_out.export(self._database, path)

    def wipe(self, *, with_quotes: bool = False) -> tuple[Path, ...]:
        """Delete all timings, and all copies of them; with ``with_quotes`` all quotes too.

        Gives the broken files that were once set aside, and still hold what they held: the user may delete those.
        """
        with self._database.writing() as connection:
            connection.execute("DELETE FROM timings")
            if with_quotes:
                connection.execute("DELETE FROM quotes")  # and by the foreign keys all that belongs to them
        self._database.forget_deleted()
        for copy in self.path.parent.iterdir():
            if copy.name.startswith(self.path.name + opening.OLDER):
                with suppress(FileNotFoundError):
                    copy.unlink()
        last_good(self.path).unlink(missing_ok=True)
        opening.keep_copy(self._database)
        return opening.set_aside_files(self.path)
