"""Saving and reading files so that nothing is lost, whatever goes wrong meanwhile.

A save writes the whole new content beside the file, makes the disk take it, and only then renames it over
the file: whoever looks, at any instant, finds the old file or the new one, whole. What the file held before
is kept beside it as ``NAME.last-good``. That a rename is atomic is promised by POSIX (IEEE Std 1003.1).

Who may write at all is another subject: ``planner.day.holding``.
"""

import errno
import hashlib
import os
import platform
import secrets
import stat
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from planner.day.processes import is_running

READ_LIMIT = 32 * 1024 * 1024
"""The largest file that is read, in bytes. The largest day that is planned needs a hundredth of it."""

LAST_GOOD = ".last-good"
"""What is added to a file's name for the copy of what it held before."""


class FileFault(Exception):  # noqa: N818 - a fault is the project's word for what a person can put right
    """Something is wrong with a file; the text says which, what, and what would be right.

    Attributes
    ----------
    path : Path
        The file.
    problem, remedy : str
        What is wrong, and what would put it right.
    """

    is_told = True
    doing = "there is a fault"

    def __init__(self, path: Path, problem: str, remedy: str) -> None:
        super().__init__(f"{path}: {self.doing}: {problem}; {remedy}")
        self.path, self.problem, self.remedy = path, problem, remedy


class SaveFault(FileFault):
    """A file could not be saved; what was there before is still there."""

    doing = "not saved"


class ReadFault(FileFault):
    """A file could not be read."""

    doing = "cannot be read"


_FULL = ("the disk is full", "make room or save to another disk; the file is as it was before")
_BARRED = (
    "the folder or the file may not be written",
    "save to a folder of your own, or close the program that has it open",
)
_SAVING = {
    errno.ENOSPC: _FULL,
    errno.EDQUOT: ("your share of the disk is used up", _FULL[1]),
    errno.EFBIG: ("the disk takes no file of this size", "save to another disk"),
    errno.EROFS: ("the folder is read-only", "save to a folder of your own"),
    errno.EACCES: _BARRED,
    errno.EPERM: _BARRED,
    errno.ENOENT: ("there is no such folder", "make the folder first, or choose another"),
    errno.ENOTDIR: ("a part of its path is a file, not a folder", "choose another folder"),
    errno.EISDIR: ("it is a folder", "give the name of a file"),
    errno.ENAMETOOLONG: ("the name is too long", "give a shorter name, of at most 200 letters"),
    errno.ELOOP: ("the link leads in a circle", "save under another name"),
    errno.EIO: ("the disk reports a fault", "save to another disk and have this one looked at"),
}
_READING = {
    **_SAVING,
    errno.ENOENT: ("there is no such file", "check its name and folder"),
    errno.EACCES: ("it may not be read by you", "ask its owner to let you read it"),
    errno.EPERM: ("it may not be read by you", "ask its owner to let you read it"),
}


def last_good(path: str | Path) -> Path:
    """Where the copy of what a file held before its last save is kept."""
    target = followed(path)
    return target.with_name(target.name + LAST_GOOD)


def save_text(path: str | Path, text: str, *, is_good: Callable[[bytes], bool] | None = None) -> Path:
    """Save a text as UTF-8, its line ends as they are; else as `save_bytes`.

    Raises
    ------
    SaveFault
        As `save_bytes`, and when the text holds half a character (a lone surrogate).
    """
    try:
        data = text.encode("utf-8")
    except UnicodeEncodeError as fault:
        line = text.count("\n", 0, fault.start) + 1
        raise SaveFault(
            Path(path), f"line {line} of the text holds half a character", "delete it and type it again"
        ) from fault
    return save_bytes(path, data, is_good=is_good)


def save_bytes(path: str | Path, data: bytes, *, is_good: Callable[[bytes], bool] | None = None) -> Path:
    """Save so that at every instant the file is the old one or the new one, whole.

    Parameters
    ----------
    path
        The file. A link is followed and stays a link; a hard link becomes a file of its own.
    data
        The whole new content.
    is_good
        Says whether what the file holds now deserves to be kept as the last good copy; without it anything
        that is not empty does.

    Returns
    -------
    Path
        The file that was written, links followed.

    Raises
    ------
    SaveFault
        When the file cannot be saved; it is then as it was.
    """
    target = followed(path)
    with explained(target):
        permissions = _permissions_to_keep(target)
        _sweep(target)
        fresh = _spare_name(target)
        try:
            _write_through(fresh, data, permissions)
            _keep_last_good(target, data, is_good)
            os.replace(fresh, target)
        finally:
            fresh.unlink(missing_ok=True)
        _write_through_folder(target.parent)
    return target


def read_bytes(path: str | Path, limit: int = READ_LIMIT) -> bytes:
    """The content of a file of at most ``limit`` bytes.

    Raises
    ------
    ReadFault
        When it is missing, barred, not a plain file, or too large.
    """
    target = followed(path, ReadFault)
    with explained(target, ReadFault):
        if not stat.S_ISREG(target.stat().st_mode):
            raise ReadFault(target, "it is not a plain file", "give the name of a file")
        with target.open("rb") as file:
            data = file.read(limit + 1)  # the size that the folder tells may be another by now
            size = max(os.fstat(file.fileno()).st_size, len(data)) / 2**20
    if len(data) > limit:
        remedy = f"at most {limit / 2**20:g} MB are read: is it the right file?"
        raise ReadFault(target, f"it is {size:.1f} MB large", remedy)
    return data


def read_text(path: str | Path, limit: int = READ_LIMIT) -> str:
    """The text of a UTF-8 file, line ends as they are, without a byte-order mark.

    Raises
    ------
    ReadFault
        As `read_bytes`, and when a byte is not UTF-8; the text names the byte and its line.
    """
    data = read_bytes(path, limit)
    remedy = "save it as UTF-8 in your editor"
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise ReadFault(Path(path), "its text is UTF-16", remedy)
    try:
        return data.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        column = fault.start - data.rfind(b"\n", 0, fault.start)
        raise ReadFault(
            Path(path),
            f"line {line}, byte {column} of the line (offset {fault.start}): "
            f"0x{data[fault.start]:02x} is not UTF-8 text",
            remedy,
        ) from fault


def followed(path: str | Path, kind: type[FileFault] = SaveFault) -> Path:
    """The file itself, links followed.

    Raises
    ------
    FileFault
        Of the given kind, for a name that no file can have.
    """
    try:
        return Path(os.path.realpath(path))
    except ValueError as fault:  # a NUL in the name
        raise kind(Path(path), "no file name may hold a zero byte", "give another name") from fault


@contextmanager
def explained(path: Path, kind: type[FileFault] = SaveFault) -> Iterator[None]:
    """Turn what the system says into what a person can act on.

    Raises
    ------
    FileFault
        Of the given kind, in place of an `OSError`.
    """
    try:
        yield
    except OSError as fault:
        known = _READING if issubclass(kind, ReadFault) else _SAVING
        problem, remedy = known.get(fault.errno or 0, (fault.strerror or str(fault), "try another folder"))
        raise kind(path, problem, remedy) from fault


def _permissions_to_keep(target: Path) -> int | None:
    """The permissions of the file that is there; None if none is. A rename would not ask, so we ask here."""
    try:
        mode = target.stat().st_mode
    except FileNotFoundError:
        return None
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, "a folder")
    if not stat.S_ISREG(mode):
        raise SaveFault(target, "it is not a plain file", "save under another name")
    if not mode & 0o222:
        raise SaveFault(target, "the file is marked read-only", "save under another name or clear the mark")
    return stat.S_IMODE(mode)


def _spare_prefix(target: Path) -> str:
    """Tells the spare files of this file and machine; short, so that a long name does not get too long."""
    return f".{hashlib.sha256(f'{platform.node()}/{target.name}'.encode(errors='replace')).hexdigest()[:16]}-"


def _spare_name(target: Path) -> Path:
    return target.with_name(f"{_spare_prefix(target)}{os.getpid()}-{secrets.token_hex(4)}.saving")


def _sweep(target: Path) -> None:
    """Remove the spare files of saves that were killed; those of a living process are left alone."""
    for spare in target.parent.glob(f"{_spare_prefix(target)}*.saving"):
        pid = spare.name.split("-")[1]
        if pid.isdecimal() and not is_running(int(pid)):
            spare.unlink(missing_ok=True)


def _write_through(path: Path, data: bytes, permissions: int | None) -> None:
    """Write a new file and have the disk take it."""
    flags = os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0)
    descriptor = os.open(path, flags, 0o666 if permissions is None else 0o600)
    try:
        left = memoryview(data)
        while left:
            left = left[os.write(descriptor, left) :]
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
    if permissions is not None:
        path.chmod(permissions)


def _write_through_folder(folder: Path) -> None:
    """Have the disk take the new name as well, where a folder can be synced (on Windows it cannot)."""
    with suppress(OSError):  # the file itself is safe by now; at worst a power cut brings the old one back
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def _keep_last_good(target: Path, data: bytes, is_good: Callable[[bytes], bool] | None) -> None:
    """Keep what the file holds now, unless that is nothing, no good, or the same again."""
    try:
        before = target.read_bytes()
    except FileNotFoundError:
        return
    if not before or before == data or (is_good is not None and not is_good(before)):
        return
    spare = _spare_name(target)
    try:
        try:
            os.link(target, spare)
        except OSError:  # a disk without hard links
            _write_through(spare, before, stat.S_IMODE(target.stat().st_mode))
        os.replace(spare, target.with_name(target.name + LAST_GOOD))
    finally:
        spare.unlink(missing_ok=True)  # renaming one link of a file over another leaves both (POSIX)
