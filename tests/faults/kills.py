"""Ends a command at each instant at which it is about to touch the disk, and looks at what it leaves.

The command runs in a fork of a process that has loaded all it needs. Before each call that makes, fills, renames or
removes a file, and before each statement that the record is given, the fork may be ended as by SIGKILL: no tidying up.
"""

import io
import os
import signal
import sqlite3
import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

CALLS = ("open", "write", "fsync", "replace", "rename", "link", "unlink", "remove", "ftruncate", "chmod", "mkdir")
"""Functions of ``os`` through which Python changes a disk; `pathlib` and `shutil` use them too."""


class _Counter:
    """Counts instants; at the one that is asked for it ends the process."""

    def __init__(self, last: int | None, told: int) -> None:
        self.count, self.last, self.told = 0, last, told

    def instant(self) -> None:
        self.count += 1
        if self.count == self.last:
            os.kill(os.getpid(), signal.SIGKILL)


def ended_at(action: Callable[[], object], instant: int | None) -> int | None:
    """Run an action in a fork and end it at its n-th instant; None where that came, else how many instants it had.

    Raises
    ------
    AssertionError
        When the action itself went wrong.
    """
    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(ours)
        code = 1
        try:
            counter = _Counter(instant, theirs)
            _watch(counter)
            sys.stdout = sys.stderr = io.StringIO()
            action()
            counter.last = None
            os.write(theirs, str(counter.count).encode())
            code = 0
        except BaseException:
            counter.last = None
            os.write(theirs, traceback.format_exc()[-4000:].encode())
        finally:
            os._exit(code)
    os.close(theirs)
    told = os.read(ours, 5000)
    os.close(ours)
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL:
        return None
    assert status == 0, f"the command itself went wrong: {told.decode()}"
    return int(told)


def _watch(counter: _Counter) -> None:
    for name in CALLS:
        setattr(os, name, _watched(counter, getattr(os, name), name))
    connect = sqlite3.connect

    def watched_connect(*args: Any, **words: Any) -> sqlite3.Connection:
        connection = connect(*args, **words)
        if args[0] != ":memory:":
            connection.set_trace_callback(lambda statement: None if _only_reads(statement) else counter.instant())
        return connection

    sqlite3.connect = watched_connect


def _only_reads(statement: str) -> bool:
    return statement.lstrip().upper().startswith(("SELECT", "PRAGMA"))


def _watched(counter: _Counter, call: Callable[..., Any], name: str) -> Callable[..., Any]:
    def watched(*args: Any, **words: Any) -> Any:
        changes = name != "open" or (len(args) > 1 and args[1] & (os.O_CREAT | os.O_WRONLY | os.O_RDWR))
        if changes and not (name == "write" and args[0] == counter.told):
            counter.instant()
        return call(*args, **words)

    return watched


def each_instant(
    folder: Path, action: Callable[[Path], object], prepared: Callable[[Path], None], every: int
) -> list[Path]:
    """Run an action in a folder of its own for each of its instants and end it there; the folders as they were left."""
    left: list[Path] = []
    instant = 1
    while True:
        own = folder / str(instant)
        own.mkdir(parents=True)
        prepared(own)
        left.append(own)
        if ended_at(lambda own=own: action(own), instant) is not None:  # type: ignore[misc]
            return left
        instant += every
