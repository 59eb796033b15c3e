"""What the record holds, and how each older version of it becomes the newest.

The version is kept in the file's ``user_version``; step ``n`` of `STEPS` (from 0) leads from version ``n`` to
``n + 1``. A step that has been released is never changed; a new need is a new step.
"""

import sqlite3

from planner.record.database import transaction

MARK = 0x534C5752
"""The file's ``application_id`` ("SLWR"): tells a record from any other database."""

STEPS: tuple[tuple[str, ...], ...] = (
    (
        # What stages took.
        """CREATE TABLE timings (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            date TEXT NOT NULL CHECK (date IS date(date)),
            job TEXT NOT NULL,
            stage TEXT NOT NULL,
            kind TEXT NOT NULL,
            method TEXT NOT NULL,
            condition TEXT NOT NULL,
            measure REAL CHECK (measure > 0),
            unit TEXT NOT NULL,
            planned_minutes REAL NOT NULL CHECK (planned_minutes > 0),
            actual_minutes REAL NOT NULL CHECK (actual_minutes > 0)
        ) STRICT""",
        "CREATE INDEX timings_by_method ON timings (method, condition)",
    ),
    (
        # Quoted work: what was promised, to be done how, and the day it was brought into.
        """CREATE TABLE quotes (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            customer TEXT NOT NULL,
            title TEXT NOT NULL,
            quoted_on TEXT NOT NULL CHECK (quoted_on IS date(quoted_on)),
            state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'planned', 'done')),
            day TEXT CHECK (day IS date(day)),
            CHECK ((state = 'open') = (day IS NULL))
        ) STRICT""",
        """CREATE TABLE promises (
            quote INTEGER NOT NULL REFERENCES quotes (id) ON DELETE CASCADE,
            position INTEGER NOT NULL,
            words TEXT NOT NULL,
            PRIMARY KEY (quote, position)
        ) STRICT""",
        """CREATE TABLE quoted_work (
            quote INTEGER NOT NULL REFERENCES quotes (id) ON DELETE CASCADE,
            position INTEGER NOT NULL,
            recipe TEXT NOT NULL,
            surface TEXT NOT NULL,
            measures TEXT NOT NULL,
            PRIMARY KEY (quote, position)
        ) STRICT""",
    ),
    (
        # Learning can be turned off, and learns from plans that own pace has already changed.
        "CREATE TABLE settings (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT",
        "ALTER TABLE timings ADD COLUMN pace_used REAL NOT NULL DEFAULT 1.0 CHECK (pace_used > 0)",
        "ALTER TABLE timings ADD COLUMN noted_on TEXT CHECK (noted_on IS date(noted_on))",
    ),
)

VERSION = len(STEPS)
"""The version that this program writes."""


def version_of(connection: sqlite3.Connection) -> int:
    """The version of the record in a file; 0 for a new one."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def is_new(connection: sqlite3.Connection) -> bool:
    """Whether the file holds nothing yet."""
    return not _shape(connection) and version_of(connection) == 0


def bring_up_to_date(connection: sqlite3.Connection, version: int = VERSION) -> None:
    """Take the steps from the file's version to ``version``, all or none.

    The version is asked for again once we have the right to write: another window may have been quicker.
    """
    with transaction(connection):
        for step in STEPS[version_of(connection) : version]:
            for statement in step:
                connection.execute(statement)
        if version_of(connection) < version:
            connection.execute(f"PRAGMA application_id = {MARK:d}")  # a pragma takes no passed values
            connection.execute(f"PRAGMA user_version = {version:d}")


def is_ours(connection: sqlite3.Connection) -> bool:
    """Whether a file holds just the tables that our steps make for its version.

    No triggers, no views, no guests: a file from a stranger cannot bring statements of its own.
    """
    if connection.execute("PRAGMA application_id").fetchone()[0] != MARK:
        return False
    model = sqlite3.connect(":memory:", isolation_level=None)
    try:
        bring_up_to_date(model, version_of(connection))
        return _shape(connection) == _shape(model)
    finally:
        model.close()


def _shape(connection: sqlite3.Connection) -> set[tuple[object, ...]]:
    """Everything in the file by kind, name and columns; versions of SQLite may word its text differently."""
    parts = connection.execute("SELECT type, name, tbl_name, sql LIKE 'CREATE TABLE %' FROM sqlite_schema")
    shape: set[tuple[object, ...]] = {tuple(part) for part in parts}
    for (name,) in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall():
        columns = connection.execute(
            'SELECT name, type, "notnull", hidden FROM pragma_table_xinfo(?)', (name,)
        )
        shape |= {(name, *column) for column in columns}
    return shape
