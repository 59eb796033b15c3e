"""Opening the record: checked each time, brought up to date, and never lost when it is broken.

A file that is broken is set aside under another name, never deleted, and the copy that the last good opening
made takes its place.
"""

import sqlite3
import time
from datetime import date
from pathlib import Path

from planner.day.holding import FileInUse, Hold, hold
from planner.day.safekeeping import ReadFault, SaveFault, followed, last_good, read_bytes, save_bytes
from planner.record import versions
from planner.record.database import LONGEST_VALUE, PATIENCE_MS, Database, RecordFault, explained, is_damage

OLDER = ".version-"
"""What is added to the name, with its version, for the copy made before the record is brought up to date."""


BROKEN = ".broken-"
"""What is added to the stem of the name, with the date and a number, for a file that was set aside."""


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
    given, path, notice = path, followed(path, RecordFault), ""
    with _alone(path):
        try:
            database = _checked(path)
        except _Damaged as damage:
            if path.parent != followed(given.parent, RecordFault):  # nothing is renamed in folders that are not ours
                wrong = f"it is a link to {path}, and that file is damaged ({damage})"
                raise RecordFault(given, wrong, "look at that file, or take the link away to begin anew") from None
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
    files = (file for file in path.parent.iterdir() if file.name.startswith(path.stem + BROKEN))
    return tuple(sorted(file for file in files if file.suffix == path.suffix))


def _checked(path: Path) -> Database:
    """The record, if it is whole."""
    if last_good(path).exists() and not (path.exists() and path.stat().st_size):
        raise _Damaged("it was empty or missing")  # as a crash may leave it, and mending that was killed
    if path.exists() and not path.is_file():
        raise RecordFault(path, "it cannot be opened: it is not a plain file", "give another; this one is untouched")
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
    found = versions.version_of(connection)
    if found > versions.VERSION:
        newer = f"a newer program wrote it (record version {found}; versions to {versions.VERSION} are known)"
        raise RecordFault(path, newer, "update the program; the record is untouched")
    if not versions.is_new(connection):
        if not versions.is_ours(connection):
            if last_good(path).exists():  # so it was a record, and is damaged where its shape stands
                raise _Damaged("it holds what no record holds")
            remedy = "give another file; this one is untouched"
            raise RecordFault(path, "it is not a record, or holds what no record holds", remedy)
        flaws = [row[0] for row in connection.execute("PRAGMA integrity_check(3)") if row[0] != "ok"]
        flaws += [f"a row of {row[0]} hangs loose" for row in connection.execute("PRAGMA foreign_key_check")]
        flaws += _texts_that_are_none(connection)
        if flaws:
            raise _Damaged("; ".join(flaws))
    connection.execute("COMMIT")
    if 0 < found < versions.VERSION:
        older = path.with_name(f"{path.name}{OLDER}{found}")
        save_bytes(older, connection.serialize(), is_good=lambda _: False)
    # Readers do not wait for the writer (WAL), and what is committed survives a power cut (FULL).
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    versions.bring_up_to_date(connection)


def _texts_that_are_none(connection: sqlite3.Connection) -> list[str]:
    """Texts that are not UTF-8; the database itself does not look into them."""
    flaws = []
    before, connection.text_factory = connection.text_factory, bytes
    try:
        for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall():
            table = name.decode("ascii")  # one of ours: the shape has been looked at
            for row in connection.execute(f'SELECT * FROM "{table}"'):
                try:
                    for value in tuple(row):
                        if isinstance(value, bytes):
                            value.decode("utf-8")
                except UnicodeDecodeError:
                    flaws.append(f"a text in {table} is no text")
                    break
    finally:
        connection.text_factory = before
    return flaws


def _alone(path: Path) -> Hold:
    """Let one window open the record at a time, so that none mends or makes what another is just opening.

    That takes milliseconds; who is not done after `PATIENCE_MS` died on a machine that we cannot see.
    """
    until = time.monotonic() + PATIENCE_MS / 1000
    while True:
        try:
            return hold(path, take_over=time.monotonic() > until)
        except FileInUse:
            time.sleep(0.02)
        except SaveFault as fault:
            raise RecordFault(path, fault.problem, "let yourself write the folder it is in") from fault


def _mended(path: Path, today: date, damage: str) -> tuple[Database, str]:
    """Set the broken file aside and open its copy, or if that is no better a new record."""
    told = f"The record was damaged ({damage}). {_set_aside(path, path, today)}"
    copy = last_good(path)
    try:
        save_bytes(path, read_bytes(copy))
        database = _checked(path)
    except SaveFault as fault:
        raise RecordFault(
            path, f"{told}{fault.problem}", f"make room and start again: {copy.name} is whole"
        ) from fault
    except (ReadFault, RecordFault, _Damaged):
        told += _set_aside(path, path, today) or _set_aside(copy, path, today)
        copy.unlink(missing_ok=True)  # what it held has just been set aside from where it was put
        return _checked(path), f"{told}No copy of it could be used: a new, empty record was begun."
    written = date.fromtimestamp(copy.stat().st_mtime)
    return database, f"{told}The copy of {written} took its place: what was noted since then is missing."


def _set_aside(file: Path, path: Path, today: date) -> str:
    """Give a broken file another name, with the log that belongs to it; returns what to tell the user."""
    if not file.exists():
        return ""
    number = 1
    while (aside := path.with_name(f"{path.stem}{BROKEN}{today}-{number}{path.suffix}")).exists():
        number += 1
    try:
        for end in ("-wal", "-shm", ""):  # what is in the log may be saved by hand
            part = file.with_name(file.name + end)
            if part.exists():
                part.rename(aside.with_name(aside.name + end))
    except OSError as fault:
        raise RecordFault(
            file, f"it is damaged and cannot be set aside: {fault.strerror}", "move it away"
        ) from fault
    return f"It was set aside as {aside.name}; nothing in it was deleted. "
