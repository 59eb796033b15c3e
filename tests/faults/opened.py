"""Counts how often a file is opened by this process and those that it starts, as the kernel tells it (Linux).

Whoever opens the file waits until a watcher, a process of its own, has seen who that is (fanotify): so what else reads
in that folder (a search, a copy for safety) is not counted, and nothing is missed that ends at once. That is allowed to
the administrator only; for others each opening counts, whosesoever it is (inotify).
"""

import ctypes
import os
import select
import struct
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

_LIBRARY = ctypes.CDLL(None, use_errno=True)

_IN_OPEN, _IN_NONBLOCK = 0x20, 0o4000
_EVENT_BYTES = 16

_FAN_CLASS_CONTENT, _FAN_MARK_ADD, _FAN_OPEN_PERM, _FAN_ALLOW = 0x04, 0x01, 0x10000, 0x01
_FAN_EVENT = struct.Struct("=IBBHQii")
_FAN_RESPONSE = struct.Struct("=iI")
_AT_FDCWD = -100

OURS, ANOTHERS = b"o", b"a"


@contextmanager
def openings_of(path: Path) -> Iterator[Callable[[], int]]:
    """Within the block, a function that gives how often the file has been opened so far."""
    events = _asked_first(path)
    with _by_anybody(path) if events is None else _by_us(events) as count:
        yield count


def _asked_first(path: Path) -> int | None:
    """Where to read who is about to open the file, and to let them; None where that is not allowed."""
    events: int = _LIBRARY.fanotify_init(_FAN_CLASS_CONTENT, os.O_RDONLY)
    asked = ctypes.c_uint64(_FAN_OPEN_PERM)
    if events >= 0 and _LIBRARY.fanotify_mark(events, _FAN_MARK_ADD, asked, _AT_FDCWD, os.fsencode(path)) < 0:
        os.close(events)
        return None
    return events if events >= 0 else None


@contextmanager
def _by_us(events: int) -> Iterator[Callable[[], int]]:
    seen = bytearray()
    told, tell = os.pipe()
    os.set_blocking(told, False)
    command = [sys.executable, "-I", __file__, str(events), str(tell), str(os.getpid())]
    watcher = subprocess.Popen(command, stdin=subprocess.PIPE, pass_fds=(events, tell))
    os.close(tell)
    os.close(events)

    def count() -> int:
        assert watcher.poll() is None, "nobody watches"
        with suppress(BlockingIOError):
            seen.extend(os.read(told, 1 << 16))
        return seen.count(OURS)

    try:
        yield count
    finally:
        watcher.communicate()  # its input is closed, by which it ends
        os.close(told)


@contextmanager
def _by_anybody(path: Path) -> Iterator[Callable[[], int]]:
    watch = _LIBRARY.inotify_init1(_IN_NONBLOCK)
    if watch < 0 or _LIBRARY.inotify_add_watch(watch, os.fsencode(path), _IN_OPEN) < 0:
        raise OSError(ctypes.get_errno(), "inotify")
    seen = [0]

    def count() -> int:
        while True:
            try:
                seen[0] += len(os.read(watch, 1 << 16)) // _EVENT_BYTES  # for a file itself no name follows
            except BlockingIOError:
                return seen[0]

    try:
        yield count
    finally:
        os.close(watch)


def _watch(events: int, tell: int, root: int) -> None:
    """See who opens the file, say so, and let them, until the input ends."""
    while True:
        ready, _, _ = select.select([events, sys.stdin], [], [])
        if events in ready:
            data = os.read(events, 1 << 16)
            for at in range(0, len(data), _FAN_EVENT.size):
                *_, file, process = _FAN_EVENT.unpack_from(data, at)
                os.write(tell, OURS if _comes_of(process, root) else ANOTHERS)
                os.write(events, _FAN_RESPONSE.pack(file, _FAN_ALLOW))
                os.close(file)
        if sys.stdin in ready:
            return


def _comes_of(process: int, root: int) -> bool:
    """Whether a process is ``root``, or was started by one that is, or was started by it."""
    while process > 1 and process != root:
        with open(f"/proc/{process}/stat", "rb") as file:
            process = int(file.read().rpartition(b")")[2].split()[1])
    return process == root


if __name__ == "__main__":
    _watch(*map(int, sys.argv[1:]))
