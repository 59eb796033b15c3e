"""The one file the record is kept in: reading, writing, and saying plainly what went wrong."""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from planner.day.safekeeping import FileFault

PATIENCE_MS = 5000
"""How long to wait for another window that is writing, in milliseconds."""

LONGEST_VALUE = 4 * 1024 * 1024
"""No text in the record is longer, in bytes; a file that holds one was not written by us."""


class RecordFault(FileFault):
    """Something is wrong with the record; nothing that it held is lost."""

    doing = "the record cannot be used"


_KNOWN = {
    sqlite3.SQLITE_FULL: ("the disk is full", "make room; what was noted before is still there"),
    sqlite3.SQLITE_READONLY: ("it may not be written", "let yourself write the file and its folder"),
    sqlite3.SQLITE_PERM: ("it may not be written", "let yourself write the file and its folder"),
    sqlite3.SQLITE_CANTOPEN: ("it cannot be opened", "see that its folder is there and may be written"),
    sqlite3.SQLITE_BUSY: ("another window is writing to it", "try again in a moment"),
    sqlite3.SQLITE_LOCKED: ("another window is writing to it", "try again in a moment"),
    sqlite3.SQLITE_IOERR: ("the disk reports a fault", "copy the file to another disk"),
    sqlite3.SQLITE_TOOBIG: ("a text is too long", f"at most {LONGEST_VALUE // 2**20} MB are kept"),
    sqlite3.SQLITE_CORRUPT: ("the file is damaged", "start again: it is then set aside and its copy used"),
    sqlite3.SQLITE_NOTADB: ("the file is damaged", "start again: it is then set aside and its copy used"),
}


def is_damage(fault: sqlite3.Error) -> bool:
    """Whether the file itself is broken, not only busy, barred or full."""
    code = getattr(fault, "sqlite_errorcode", 0) & 0xFF  # the low byte is the primary code
    return code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


@contextmanager
def explained(path: Path) -> Iterator[None]:
    """Turn what the database says into what a person can act on."""
    try:
        yield
    except sqlite3.Error as fault:
        code = getattr(fault, "sqlite_errorcode", 0) & 0xFF
        problem, remedy = _KNOWN.get(code, (str(fault), "copy the file and report this"))
        raise RecordFault(path, problem, remedy) from fault
    except UnicodeDecodeError as fault:
        raise RecordFault(path, *_KNOWN[sqlite3.SQLITE_CORRUPT]) from fault


class Database:
    """An open record file. Every statement is fixed text with its values passed apart.

    One connection serves one thread; a second window or thread opens its own.
    """

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self.path, self._connection = path, connection

    def rows(self, statement: str, values: Sequence[Any] = ()) -> list[sqlite3.Row]:
        """All rows that a statement gives. Raises `RecordFault` when the file cannot be read."""
        with explained(self.path):
            return self._connection.execute(statement, values).fetchall()

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """Statements that take effect together at the end of the block, or not at all.

        Within another such block they take effect with that one.

        Raises `RecordFault` when they cannot be written; none of them has then taken effect.
        """
        with explained(self.path):
            if self._connection.in_transaction:
                yield self._connection
                return
            with transaction(self._connection):
                yield self._connection

    def image(self) -> bytes:
        """The whole database as the bytes of a file."""
        with explained(self.path):
            return self._connection.serialize()

    def forget_deleted(self) -> None:
        """Empty the write-ahead log, which still holds what was deleted."""
        with explained(self.path):
            self._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    def close(self) -> None:
        """Close the file; a second time does nothing."""
        self._connection.close()


@contextmanager
def transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """All or nothing. Takes the right to write at once, so that two windows cannot wait for each other."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:  # a full disk has rolled it back already
            connection.execute("ROLLBACK")
        raise
