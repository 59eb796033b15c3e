"""The record opens, or says plainly why not; nothing that it held is lost."""

import errno
import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest

from planner.record import Quote, QuotedWork, Record, RecordFault, Timing, default_path, versions
from planner.record.timings import note
from planner.trade.rates import Spread
from tests.record.conftest import TODAY

WASH = Timing(date(2026, 3, 9), "Rear patio", "wash-1", "wash", "washer", "green", 40.0, 52.0, 32.0, "m2")
PATIO = Quote(
    "M. Example", "Patio", date(2026, 2, 3), ("sweep",), (QuotedWork("regrout", "patio", {"area": "32 m2"}),)
)

VERSION_1 = """
CREATE TABLE timings (
    id INTEGER PRIMARY KEY AUTOINCREMENT, date TEXT NOT NULL, job TEXT NOT NULL, stage TEXT NOT NULL,
    kind TEXT NOT NULL, method TEXT NOT NULL, condition TEXT NOT NULL, measure REAL, unit TEXT NOT NULL,
    planned_minutes REAL NOT NULL, actual_minutes REAL NOT NULL) STRICT;
CREATE INDEX timings_by_method ON timings (method, condition);
INSERT INTO timings VALUES
    (1, '2026-03-09', 'Rear patio', 'wash-1', 'wash', 'washer', 'green', 32.0, 'm2', 40.0, 52.0);
PRAGMA application_id = 0x534C5752;
PRAGMA user_version = 1;
"""
VERSION_2 = (
    VERSION_1
    + """
CREATE TABLE quotes (
    id INTEGER PRIMARY KEY AUTOINCREMENT, customer TEXT NOT NULL, title TEXT NOT NULL,
    quoted_on TEXT NOT NULL, state TEXT NOT NULL DEFAULT 'open', day TEXT) STRICT;
CREATE TABLE promises (
    quote INTEGER NOT NULL REFERENCES quotes (id) ON DELETE CASCADE, position INTEGER NOT NULL,
    words TEXT NOT NULL, PRIMARY KEY (quote, position)) STRICT;
CREATE TABLE quoted_work (
    quote INTEGER NOT NULL REFERENCES quotes (id) ON DELETE CASCADE, position INTEGER NOT NULL,
    recipe TEXT NOT NULL, surface TEXT NOT NULL, measures TEXT NOT NULL,
    PRIMARY KEY (quote, position)) STRICT;
INSERT INTO quotes VALUES (1, 'M. Example', 'Patio', '2026-02-03', 'open', NULL);
INSERT INTO promises VALUES (1, 0, 'sweep');
INSERT INTO quoted_work VALUES (1, 0, 'regrout', 'patio', '{"area": "32 m2"}');
PRAGMA user_version = 2;
"""
)
OLDER = {1: VERSION_1, 2: VERSION_2}
"""Each older version as it was written then, kept here word for word, with a row in each table."""


def made_by(script: str, path: Path) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(script)
    return path


def files(path: Path) -> set[str]:
    return {file.name for file in path.parent.iterdir() if not file.name.endswith(("-wal", "-shm"))}


# --- versions ----------------------------------------------------------------------------


def test_every_older_version_is_kept_here() -> None:
    assert set(OLDER) == set(range(1, versions.VERSION))


@pytest.mark.parametrize("version", OLDER)
def test_an_older_record_is_brought_up_to_date_with_all_it_holds(path: Path, version: int) -> None:
    made_by(OLDER[version], path)
    before = path.read_bytes()
    with Record.open(path, today=lambda: TODAY) as record:
        assert record.notice == ""
        (timing,) = record.timings()
        assert (timing.date, timing.actual_minutes, timing.pace_used, timing.noted_on) == (
            WASH.date,
            52.0,
            1.0,
            None,
        )
        assert record.own_pace("washer", "green", Spread(34, 40, 58)).jobs_behind == 1
        assert [quote.promises for quote in record.open_quotes()] == [("sweep",)] * (version >= 2)
        assert record.is_learning
        record.note_timing(WASH)
        record.add_quote(PATIO)
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (versions.VERSION,)
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    copy = path.with_name(f"record.sqlite.version-{version}")
    assert copy.read_bytes() == before


def test_a_step_that_fails_leaves_the_older_record(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made_by(VERSION_1, path)
    broken = (*versions.STEPS[:2], ("CREATE TABLE settings (name TEXT) STRICT", "CREATE NONSENSE"))
    monkeypatch.setattr(versions, "STEPS", broken)
    with pytest.raises(RecordFault):
        Record.open(path)
    monkeypatch.undo()
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (1,)
        assert connection.execute("SELECT name FROM sqlite_schema WHERE name = 'quotes'").fetchall() == []
    with Record.open(path) as record:
        assert len(record.timings()) == 1


def test_a_record_from_a_newer_program_is_refused_and_left_alone(path: Path) -> None:
    Record.open(path).close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA user_version = 99")
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    before = path.read_bytes()
    with pytest.raises(RecordFault, match=r"newer program wrote it \(record version 99.*update the program"):
        Record.open(path)
    assert path.read_bytes() == before
    assert not [name for name in files(path) if "broken" in name]


# --- damage ------------------------------------------------------------------------------


def test_the_pragmas_hold(record: Record) -> None:
    def pragma(name: str) -> object:
        return record._database.rows(f"PRAGMA {name}")[0][0]

    assert [pragma(name) for name in ("journal_mode", "foreign_keys", "busy_timeout", "synchronous")] == [
        "wal",
        1,
        5000,
        2,
    ]
    assert [pragma(name) for name in ("trusted_schema", "secure_delete", "application_id")] == [
        0,
        1,
        0x534C5752,
    ]


def filled(path: Path, timings: int = 400) -> None:
    """A record of several pages, opened once more so that its copy holds all of it."""
    with Record.open(path) as record:
        for _ in range(timings):
            note(record._database, WASH, TODAY)
        record.add_quote(PATIO)
    Record.open(path).close()


def no_database(data: bytes) -> bytes:
    return b"once upon a time " * 2000


def emptied(data: bytes) -> bytes:
    return b""


def cut_short(data: bytes) -> bytes:
    return data[: len(data) // 2]


def pages_of_noise(data: bytes) -> bytes:
    chance = random.Random(5)
    return data[:4096] + bytes(chance.randrange(256) for _ in range(len(data) - 4096))


def bit_turned_in_its_shape(data: bytes) -> bytes:
    """In the words that made a table: an o is an n."""
    assert b"job TEXT" in data
    return data.replace(b"job TEXT", b"jnb TEXT")


@pytest.mark.parametrize("damage", [no_database, emptied, cut_short, pages_of_noise, bit_turned_in_its_shape])
def test_a_damaged_file_is_set_aside_and_its_copy_used(path: Path, damage: Callable[[bytes], bytes]) -> None:
    filled(path)
    damaged = damage(path.read_bytes())
    path.write_bytes(damaged)
    with Record.open(path, today=lambda: TODAY) as record:
        assert "set aside as record.broken-2026-03-10-1.sqlite" in record.notice
        assert "copy of" in record.notice
        assert len(record.timings()) == 400
        assert [quote.title for quote in record.open_quotes()] == ["Patio"]
        record.note_timing(WASH)
    assert (path.parent / "record.broken-2026-03-10-1.sqlite").read_bytes() == damaged
    with Record.open(path) as record:
        assert record.notice == ""
        assert len(record.timings()) == 401


def test_a_rotten_row_is_damage_too(path: Path) -> None:
    """Not the pages but what they say: a date that is none, in a row that our program cannot have written."""
    filled(path, timings=3)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        connection.execute("UPDATE timings SET date = 'someday' WHERE id = 2")
        connection.commit()
    with Record.open(path) as record:
        assert "CHECK constraint failed" in record.notice
        assert len(record.timings()) == 3


def test_a_mending_that_was_killed_half_way_is_done_next_time(path: Path) -> None:
    """The damaged file is set aside already, its copy is not yet in its place."""
    filled(path, timings=3)
    path.unlink()
    with Record.open(path) as record:
        assert "was empty or missing" in record.notice
        assert len(record.timings()) == 3


def test_no_room_for_the_copy_is_no_reason_to_give_it_up(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    filled(path, timings=3)
    path.write_bytes(no_database(b""))
    real = os.write

    def full(descriptor: int, data: bytes) -> int:
        if len(data) > 4000:
            raise OSError(errno.ENOSPC, "full")
        return real(descriptor, data)

    monkeypatch.setattr(os, "write", full)
    with pytest.raises(
        RecordFault, match=r"the disk is full; make room .*record\.sqlite\.last-good is whole"
    ):
        Record.open(path)
    monkeypatch.undo()
    with Record.open(path) as record:
        assert len(record.timings()) == 3


def test_damaged_without_a_copy_a_new_record_is_begun_and_nothing_deleted(path: Path) -> None:
    filled(path)
    for file in (path, path.with_name("record.sqlite.last-good")):
        file.write_bytes(no_database(b""))
    with Record.open(path, today=lambda: TODAY) as record:
        assert "a new, empty record was begun" in record.notice
        assert record.timings() == []
        record.note_timing(WASH)
    path.write_bytes(b"again " * 1000)
    Record.open(path, today=lambda: TODAY).close()
    aside = [path.parent / f"record.broken-2026-03-10-{number}.sqlite" for number in (1, 2, 3)]
    assert [file.read_bytes() for file in aside] == [no_database(b""), no_database(b""), b"again " * 1000]
    with Record.open(path) as record:
        assert record.wipe() == tuple(aside), "what only the user may delete is told"
    assert all(file.exists() for file in aside)


def test_damage_found_while_it_is_open_is_told(path: Path) -> None:
    filled(path, timings=3000)
    with Record.open(path) as record, path.open("r+b") as file:
        file.seek(8192)
        file.write(b"\xff" * (path.stat().st_size - 8192))
        file.flush()
        record._database._connection.execute("PRAGMA shrink_memory")  # so that it reads the file anew
        with pytest.raises(RecordFault, match="the file is damaged; start again: it is then set aside"):
            record.timings()


# --- strangers ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    "guest",
    [
        "CREATE TRIGGER evil AFTER INSERT ON timings BEGIN DELETE FROM quotes; END",
        "CREATE VIEW evil AS SELECT 1",
        "CREATE TABLE evil (x)",
        "CREATE INDEX evil ON timings (abs(measure))",
        "ALTER TABLE timings ADD COLUMN evil TEXT",
        "ALTER TABLE timings ADD COLUMN evil TEXT AS (upper(job))",
        "DROP TABLE quoted_work",
        "PRAGMA application_id = 7",
    ],
)
def test_a_file_that_brings_statements_of_its_own_is_set_aside_and_the_copy_used(path: Path, guest: str) -> None:
    """Without a copy, as where it came from elsewhere, it is left alone, and none of them is run."""
    Record.open(path).close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(guest)
        connection.commit()
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    before, copy = path.read_bytes(), path.with_name("record.sqlite.last-good")
    whole = copy.read_bytes()
    copy.unlink()
    with pytest.raises(RecordFault, match="not a record, or holds what no record holds"):
        Record.open(path)
    assert path.read_bytes() == before
    copy.write_bytes(whole)
    with Record.open(path, today=lambda: TODAY) as record:
        assert "holds what no record holds" in record.notice
        assert record.quotes() == []
    assert (path.parent / "record.broken-2026-03-10-1.sqlite").read_bytes() == before


def test_another_programs_database_is_refused_and_left_alone(path: Path) -> None:
    made_by("CREATE TABLE songs (title TEXT); INSERT INTO songs VALUES ('x')", path)
    before = path.read_bytes()
    with pytest.raises(RecordFault, match="not a record"):
        Record.open(path)
    assert path.read_bytes() == before
    assert files(path) == {"record.sqlite"}


@pytest.mark.parametrize(
    ("table", "column", "value"),
    [
        ("quoted_work", "measures", "[" * 100_000),
        ("quoted_work", "measures", "[1, 2]"),
        ("quoted_work", "measures", '{"area": {"__reduce__": "os.system"}}'),
        ("quoted_work", "measures", "__import__('os').abort()"),
        ("quotes", "customer", "x" * 3000),
    ],
)
def test_rows_that_a_stranger_wrote_are_told_and_do_nothing(
    path: Path, table: str, column: str, value: str
) -> None:
    filled(path, timings=1)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(f"UPDATE {table} SET {column} = ?", (value,))
        connection.commit()
    with Record.open(path) as record:
        with pytest.raises(RecordFault, match="row 1 of the quotes: "):
            record.open_quotes()
        assert len(record.timings()) == 1


def test_a_text_of_many_megabytes_is_not_loaded(path: Path) -> None:
    filled(path, timings=1)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE timings SET job = ?", ("x" * 6_000_000,))
        connection.commit()
    with pytest.raises(RecordFault, match="at most 4 MB are kept"), Record.open(path) as record:
        record.timings()


# --- places ------------------------------------------------------------------------------


def test_the_default_is_the_users_data_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """XDG Base Directory Specification: $XDG_DATA_HOME on Linux."""
    if sys.platform != "linux":
        pytest.skip("XDG is for Linux")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert default_path() == tmp_path / "slackwater" / "record.sqlite"
    with Record.open() as record:
        assert record.path == default_path()


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(RecordFault, match="folder cannot be made"):
        Record.open(tmp_path / "file" / "record.sqlite")


def test_a_folder_in_the_place_of_the_record_is_told(tmp_path: Path) -> None:
    with pytest.raises(RecordFault, match="cannot be opened"):
        Record.open(tmp_path)


def mount(folder: Path, options: str) -> None:
    if sys.platform != "linux" or os.geteuid() != 0:
        pytest.skip("only root on Linux may mount a tmpfs")
    folder.mkdir(exist_ok=True)
    if subprocess.run(
        ["mount", "-t", "tmpfs", "-o", options, "tmpfs", folder], check=False, capture_output=True
    ).returncode:
        pytest.skip("may not mount a tmpfs here")


def test_a_really_full_disk_loses_nothing(tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    mount(disk, "size=600k")
    try:
        path, noted = disk / "record.sqlite", 0
        with Record.open(path) as record:
            try:
                while noted < 100_000:
                    record.note_timing(WASH)
                    noted += 1
            except RecordFault as fault:
                assert "the disk is full; make room" in str(fault)  # noqa: PT017 - we count up to it
            assert noted < 100_000, "the disk never got full"
            assert len(record.timings()) == noted
        with Record.open(path) as record:
            assert len(record.timings()) == noted
            assert "No copy of the record could be made: the disk is full" in record.notice
    finally:
        subprocess.run(["umount", disk], check=True)


def test_a_really_read_only_disk_is_told(tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    mount(disk, "size=2m")
    try:
        filled(disk / "record.sqlite", timings=3)
        subprocess.run(["mount", "-o", "remount,ro", disk], check=True)
        with pytest.raises(RecordFault, match=r"read-only|may not be written"):
            Record.open(disk / "record.sqlite")
    finally:
        subprocess.run(["umount", disk], check=True)


# --- several at once, and killed ---------------------------------------------------------


def test_two_windows_see_each_others_notes(record: Record, path: Path) -> None:
    with Record.open(path) as other:
        record.note_timing(WASH)
        other.note_timing(WASH)
        assert len(record.timings()) == len(other.timings()) == 2


def test_a_window_that_writes_without_end_is_told_of(record: Record, path: Path) -> None:
    record._database._connection.execute("PRAGMA busy_timeout = 50")
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        assert record.timings() == [], "reading does not wait"
        with pytest.raises(RecordFault, match="another window is writing to it; try again"):
            record.note_timing(WASH)
        other.execute("ROLLBACK")
    assert record.note_timing(WASH) == 1


forks = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and SIGKILL")


def fork(child: Callable[[], None]) -> int:
    pid = os.fork()
    if pid == 0:
        code = 1
        try:
            child()
            code = 0
        finally:
            os._exit(code)
    return pid


@forks
@pytest.mark.parametrize("begin", ["nothing", "version 1", "damaged"])
def test_many_windows_open_at_once(path: Path, begin: str) -> None:
    """Making, bringing up to date and mending are each done once, and every window's note is there."""
    held = 0
    if begin == "version 1":
        made_by(VERSION_1, path)
        held = 1
    if begin == "damaged":
        filled(path, timings=20)
        path.write_bytes(no_database(b""))
        held = 20

    def window() -> None:
        with Record.open(path) as record:
            record.note_timing(WASH)

    children = [fork(window) for _ in range(8)]
    assert [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children] == [0] * 8
    with Record.open(path) as record:
        assert len(record.timings()) == held + 8
    assert len([name for name in files(path) if "broken" in name]) == (begin == "damaged")


@forks
def test_killed_while_writing_the_record_is_whole_and_holds_all_that_was_noted(path: Path) -> None:
    """60 real SIGKILLs. What the child has said is noted must be there; of a quote, all or nothing."""
    chance, kills, noted = random.Random(7), 60, 0
    for _ in range(kills):
        ears, mouth = os.pipe()

        def writes_for_ever(mouth: int = mouth) -> None:
            with Record.open(path) as record:
                while True:
                    number = record.note_timing(WASH)
                    quote = record.add_quote(PATIO)
                    record.bring_into_day(quote.id, date(2026, 3, 16))
                    os.write(mouth, f"{number}\n".encode())

        pid = fork(writes_for_ever)
        os.read(ears, 1)
        time.sleep(chance.uniform(0, 0.02))
        os.kill(pid, signal.SIGKILL)
        assert os.WIFSIGNALED(os.waitpid(pid, 0)[1])
        os.close(mouth)
        with os.fdopen(ears) as heard:
            said = [line for line in heard.read().split("\n")[:-1] if line]
        with Record.open(path) as record:
            assert record.notice == ""
            timings, quotes = record.timings(), record.quotes()
        if said:
            assert timings[-1].id >= int(said[-1])
        assert [timing.id for timing in timings] == list(range(1, len(timings) + 1))
        assert 0 <= len(timings) - len(quotes) <= kills
        assert all(quote.promises == ("sweep",) and len(quote.work) == 1 for quote in quotes)
        assert len(timings) > noted
        noted = len(timings)


@forks
def test_killed_while_bringing_it_up_to_date(tmp_path: Path) -> None:
    """40 SIGKILLs from the start of opening on: the record is the older or the newer, with what it held."""
    chance, seen = random.Random(9), set()
    original = made_by(VERSION_2, tmp_path / "original.sqlite")
    for number in range(40):
        path = tmp_path / str(number) / "record.sqlite"
        path.parent.mkdir()
        shutil.copy(original, path)
        pid = fork(lambda path=path: Record.open(path).close())  # type: ignore[misc]
        time.sleep(chance.uniform(0, 0.02))
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        with closing(sqlite3.connect(path)) as connection:
            seen.add(connection.execute("PRAGMA user_version").fetchone()[0])
        with Record.open(path) as record:
            assert record.notice == ""
            assert len(record.timings()) == len(record.quotes()) == 1
    assert seen <= {2, 3}
    assert seen, "no kill"
