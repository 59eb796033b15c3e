"""Holding a file, so that two windows or two people do not both write it.

Who works on a file leaves ``NAME.in-use`` beside it, which says who they are, and holds a lock on it that
the system lets go of when they end, however they end. So a mark that a crash leaves behind is simply taken
over. On a disk that knows no such locks the process number and the machine's name must do.
"""

import errno
import getpass
import json
import os
import platform
import secrets
import stat
import sys
from contextlib import suppress
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from planner.day.processes import is_running
from planner.day.safekeeping import FileFault, SaveFault, explained, followed

IN_USE = ".in-use"
"""What is added to a file's name for the file that says who works on it."""

_MOST_BYTES = 4096
_OPENING = os.O_RDWR | os.O_CREAT | getattr(os, "O_NONBLOCK", 0)
_OPENING |= getattr(os, "O_NOFOLLOW", 0)  # a link laid there would empty another file
_NO_LOCKS_HERE = {errno.ENOLCK, errno.ENOSYS, errno.EOPNOTSUPP, errno.EINVAL}


@dataclass(frozen=True)
class Holder:
    """Who works on a file: a process, its machine and its user, and since when by their clock."""

    pid: int
    host: str
    user: str
    since: str
    token: str

    def __str__(self) -> str:
        return f"{self.user} on {self.host} since {self.since} (process {self.pid})"

    @property
    def is_here(self) -> bool:
        """Whether it is a process of this machine, so that we can tell if it lives."""
        return self.host == platform.node()


class FileInUse(FileFault):
    """Someone else works on the file.

    Attributes
    ----------
    holder : Holder or None
        Who; None when they left no readable name.
    """

    doing = "is in use"

    def __init__(self, path: Path, holder: Holder | None) -> None:
        super().__init__(
            path,
            f"by {holder or 'another window'}",
            "open it to read only, save under another name, or take it over if you know that they are gone",
        )
        self.holder = holder


class Hold:
    """A file held by this process until `let_go`, or to the end of a ``with`` block."""

    def __init__(self, path: Path, mark: Path, descriptor: int, holder: Holder) -> None:
        self.path, self.holder = path, holder
        self._mark, self._descriptor = mark, descriptor

    @property
    def is_ours(self) -> bool:
        """Whether nobody has taken the file over since: ask before each save."""
        found = _read_holder(self._mark)
        if found is None:  # there was no room to write in it
            return _is_in_place(self._mark, self._descriptor)
        return found.token == self.holder.token

    def let_go(self) -> None:
        """Let others work on the file; a second time does nothing."""
        if self._descriptor < 0:
            return
        was_ours = self.is_ours
        if was_ours and sys.platform != "win32":
            self._mark.unlink(missing_ok=True)  # before unlocking, else we might remove the next one's
        os.close(self._descriptor)
        self._descriptor = -1
        if was_ours and sys.platform == "win32":
            with suppress(OSError):  # it cannot be removed while it is open, by us or by the next one
                self._mark.unlink()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.let_go()


def hold(path: str | Path, *, take_over: bool = False) -> Hold:
    """Hold a file for writing; it need not exist yet.

    Parameters
    ----------
    path
        The file. Links are followed, so that two links to one file are one.
    take_over
        Take it even from someone who may still live: only when a person said so. The other one finds out by
        `Hold.is_ours`.

    Raises
    ------
    FileInUse
        When someone else holds it.
    SaveFault
        When nothing may be written beside it.
    """
    target = followed(path)
    mark = target.with_name(target.name + IN_USE)
    with explained(target):
        while True:
            descriptor = os.open(mark, _OPENING, 0o666)
            try:
                if not stat.S_ISREG(os.fstat(descriptor).st_mode):  # to read a pipe would be to wait for ever
                    raise SaveFault(mark, "it is not a plain file", "take it away: it should tell who works here")
                if _takes(target, mark, descriptor, take_over=take_over):
                    return Hold(target, mark, descriptor, _write_holder(descriptor))
            except BaseException:
                os.close(descriptor)
                raise
            os.close(descriptor)  # what we opened is no longer the mark: look again


def _takes(target: Path, mark: Path, descriptor: int, *, take_over: bool) -> bool:
    """Whether the open mark is ours now; raises `FileInUse` when it is another's and must stay so."""
    is_locked = _lock(descriptor)
    holder = _read_holder(mark)
    if is_locked is None:  # no locks on this disk: believe what the mark says
        may_live = holder is not None and (not holder.is_here or is_running(holder.pid))
    else:  # a lock let go of means that its holder ended, unless they lock on another machine
        may_live = not is_locked or (holder is not None and not holder.is_here)
    if may_live and not take_over:
        raise FileInUse(target, holder)
    if is_locked is False:
        mark.unlink(missing_ok=True)  # make a new mark, which the old one's lock does not bind
        return False
    return _is_in_place(mark, descriptor)


def _is_in_place(mark: Path, descriptor: int) -> bool:
    """Whether the open mark is still the one that others find."""
    try:
        return os.path.samestat(os.fstat(descriptor), mark.stat())
    except OSError:  # removed, or let go of
        return False


def _lock(descriptor: int) -> bool | None:
    """Lock the open mark: True if we have it, False if another does, None if the disk knows no locks."""
    try:
        if sys.platform == "win32":
            import msvcrt

            os.lseek(descriptor, 2 * _MOST_BYTES, os.SEEK_SET)  # past the text, which others read
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as fault:
        if fault.errno in _NO_LOCKS_HERE:
            return None
        if fault.errno in (errno.EAGAIN, errno.EACCES, errno.EDEADLK):
            return False
        raise
    return True


def _read_holder(mark: Path) -> Holder | None:
    """Who the mark says; None if it is gone, empty or makes no sense: anyone may have written it."""
    try:
        with mark.open("rb") as file:
            said = json.loads(file.read(_MOST_BYTES))
        texts = (str(said[name])[:100] for name in ("host", "user", "since", "token"))
        return Holder(int(said["pid"]), *texts)
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None


def _write_holder(descriptor: int) -> Holder:
    try:
        user = getpass.getuser()
    except (OSError, KeyError):  # a user without a name
        user = "someone"
    now = datetime.now().astimezone().isoformat(sep=" ", timespec="minutes")
    holder = Holder(os.getpid(), platform.node(), user, now, secrets.token_hex(8))
    os.ftruncate(descriptor, 0)
    os.lseek(descriptor, 0, os.SEEK_SET)
    try:
        os.write(descriptor, json.dumps(asdict(holder)).encode())
    except OSError as fault:
        if fault.errno not in (errno.ENOSPC, errno.EDQUOT):
            raise
        # On a full disk the lock holds all the same; only who we are stays unsaid.
    return holder
