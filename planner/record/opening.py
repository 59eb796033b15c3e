"""Opening the record: checked each time, brought up to date, and never lost when it is broken.

A file that is broken is set aside under another name, never deleted, and the copy that the last good opening
made takes its place.
"""

import sqlite3
import time
from datetime import date
from pathlib import Path

from planner.day.holding import FileInUse, Hold, hold
from planner.day.safekeeping import FileFault, SaveFault, last_good, read_bytes, save_bytes
from planner.record import schema
from planner.record.database import LONGEST_VALUE, PATIENCE_MS, Database, RecordFault, explained, is_damage

OLDER = ".version-"
"""What is added to the name, with its version, for the copy made before the record is brought up to date."""


class _Damaged(Exception):  # noqa: N818 - never leaves this module
    """The file is broken; the text says how."""


def open_database(path: Path, today: date) -> tuple[Database, str]:
    """Open the record, making or mending it where needed.

    Parameters
    ----------
    path
        The file; it and its folder need not exist.
    today
        The date that a broken file is set aside under.

    Returns
    -------
    Database, str
        The open record, and what the user must be told: empty when all is well.

    Raises
    ------
    RecordFault
        When it cannot be opened, is from a newer version, or is not a record; the file is then untouched.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise RecordFault(path, "its folder cannot be made", "choose a folder that you may write") from fault
    notice = ""
    try:
        database = _checked(path)
    except _Damaged:
        with _alone(path):
            try:
                database = _checked(path)  # another window may have mended it meanwhile
            except _Damaged as damage:
                database, notice = _mended(path, today, str(damage))
    try:
        keep_copy(database)
    except SaveFault as fault:
        notice = f"{notice} No copy of the record could be made: {fault.problem}; {fault.remedy}.".strip()
    return database, notice


def keep_copy(database: Database) -> None:
    """Keep a copy of the record as it is now beside it, in the place of the one before."""
    save_bytes(last_good(database.path), database.image(), is_good=lambda _: False)


def set_aside_files(path: Path) -> tuple[Path, ...]:
    """The broken files that were set aside, oldest name first."""
    beginning = f"{path.stem}.broken-"
    return tuple(
        sorted(p for p in path.parent.iterdir() if p.name.startswith(beginning) and p.suffix == path.suffix)
    )


def _checked(path: Path) -> Database:
    """The record, if it is whole."""
    if path.exists() and path.stat().st_size == 0 and last_good(path).exists():
        raise _Damaged("it is empty")  # as a crash of the machine may leave it
    with explained(path):
        try:
            connection = sqlite3.connect(path, timeout=PATIENCE_MS / 1000, isolation_level=None)
            try:
                _check(connection, path)
            except BaseException:
                connection.close()
                raise
        except sqlite3.Error as fault:
            if is_damage(fault):
                raise _Damaged(str(fault)) from fault
            raise
    return Database(path, connection)


def _check(connection: sqlite3.Connection, path: Path) -> None:
    connection.row_factory = sqlite3.Row
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, LONGEST_VALUE)
    connection.execute("PRAGMA trusted_schema = OFF")  # what a strange file defines may not call functions
    connection.execute("PRAGMA cell_size_check = ON")
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA secure_delete = ON")  # what is wiped is overwritten
    connection.execute("BEGIN")  # all that is checked is of one moment, though another window may be writing
    found = schema.version_of(connection)
    if found > schema.VERSION:
        newer = f"a newer program wrote it (record version {found}; versions to {schema.VERSION} are known)"
        raise RecordFault(path, newer, "update the program; the record is untouched")
    if not schema.is_new(connection):
        if not schema.is_ours(connection):
            remedy = "give another file; this one is untouched"
            raise RecordFault(path, "it is not a record, or holds what no record holds", remedy)
        flaws = [row[0] for row in connection.execute("PRAGMA integrity_check(3)") if row[0] != "ok"]
        flaws += [f"a row of {row[0]} hangs loose" for row in connection.execute("PRAGMA foreign_key_check")]
        if flaws:
            raise _Damaged("; ".join(flaws))
    connection.execute("COMMIT")
    # Readers do not wait for the writer (WAL), and what is committed survives a power cut (FULL).
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    if 0 < found < schema.VERSION:
        older = path.with_name(f"{path.name}{OLDER}{found}")
        save_bytes(older, connection.serialize(), is_good=lambda _: False)
    schema.bring_up_to_date(connection)


def _alone(path: Path) -> Hold:
    """Wait until no other window mends the file."""
    until = time.monotonic() + PATIENCE_MS / 1000
    while True:
        try:
            return hold(path)
        except FileInUse as fault:
            if time.monotonic() > until:
                raise RecordFault(
                    path, f"it is being mended {fault.problem}", "try again in a moment"
                ) from fault
            time.sleep(0.05)


def _mended(path: Path, today: date, damage: str) -> tuple[Database, str]:
    aside = _set_aside(path, today)
    told = (
        f"The record was damaged ({damage}). It was set aside as {aside.name} and nothing in it was deleted."
    )
    copy = last_good(path)
    try:
        save_bytes(path, read_bytes(copy))
        database = _checked(path)
    except (FileFault, _Damaged):
        path.unlink(missing_ok=True)
        return _checked(path), f"{told} No copy of it could be used: a new, empty record was begun."
    written = date.fromtimestamp(copy.stat().st_mtime)
    return database, f"{told} The copy of {written} took its place: what was noted since then is missing."


def _set_aside(path: Path, today: date) -> Path:
    number = 1
    while (aside := path.with_name(f"{path.stem}.broken-{today}-{number}{path.suffix}")).exists():
        number += 1
    try:
        for end in ("-wal", "-shm", ""):  # the log belongs to the file: what is in it may be saved by hand
            part = path.with_name(path.name + end)
            if part.exists():
                part.rename(aside.with_name(aside.name + end))
    except OSError as fault:
        raise RecordFault(
            path, f"it is damaged and cannot be set aside ({fault.strerror})", "move it away"
        ) from fault
    return aside
