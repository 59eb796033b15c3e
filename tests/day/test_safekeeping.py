"""A file that is saved is the old one or the new one, whatever happens meanwhile.

The check values are contents written by the test itself; the faults are real ones of the system (SIGKILL, a
full tmpfs, a read-only mount, a file-size limit) where they can be had, and errno values of POSIX where they
cannot.
"""

import errno
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from planner.day import safekeeping
from planner.day.safekeeping import (
    ReadFault,
    SaveFault,
    last_good,
    read_bytes,
    read_text,
    save_bytes,
    save_text,
)

OLD = b"old: " + b"a" * 150_000
NEW = b"new: " + b"b" * 230_000

forks = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and SIGKILL")


def spares(folder: Path) -> list[str]:
    """What a save leaves behind that it should not."""
    return [p.name for p in folder.iterdir() if p.name.endswith(".saving")]


# --- plain saving -----------------------------------------------------------------------


def test_a_new_file_holds_what_was_saved_and_keeps_no_earlier_copy(tmp_path: Path) -> None:
    path = tmp_path / "monday.toml"
    assert save_bytes(path, NEW) == path
    assert path.read_bytes() == NEW
    assert os.listdir(tmp_path) == ["monday.toml"]


def test_the_content_before_is_kept_beside(tmp_path: Path) -> None:
    path = tmp_path / "monday.toml"
    for content in (b"one", b"two", b"three"):
        save_bytes(path, content)
    assert path.read_bytes() == b"three"
    assert (tmp_path / "monday.toml.last-good").read_bytes() == b"two"
    assert last_good(path) == tmp_path / "monday.toml.last-good"
    assert sorted(os.listdir(tmp_path)) == ["monday.toml", "monday.toml.last-good"]


def test_saving_the_same_again_does_not_push_out_the_copy(tmp_path: Path) -> None:
    path = tmp_path / "monday.toml"
    for content in (b"one", b"two", b"two", b"two"):
        save_bytes(path, content)
    assert last_good(path).read_bytes() == b"one"


def test_what_is_no_good_or_empty_never_becomes_the_good_copy(tmp_path: Path) -> None:
    path = tmp_path / "monday.toml"
    save_bytes(path, b"good 1")
    save_bytes(path, b"good 2")
    for broken in (b"", b"damaged by hand"):
        path.write_bytes(broken)
        save_bytes(path, b"good 3", is_good=lambda data: data.startswith(b"good"))
        assert last_good(path).read_bytes() == b"good 1"
        path.write_bytes(b"good 2")


def test_the_copy_is_made_even_on_a_disk_without_hard_links(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_links(*_: object) -> None:
        raise OSError(errno.EPERM, "no hard links here")

    monkeypatch.setattr(os, "link", no_links)
    path = tmp_path / "monday.toml"
    save_bytes(path, OLD)
    path.chmod(0o640)
    save_bytes(path, NEW)
    assert (path.read_bytes(), last_good(path).read_bytes()) == (NEW, OLD)
    assert last_good(path).stat().st_mode & 0o777 == 0o640


def test_text_is_saved_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "notes.toml"
    text = "weiß\r\nžluť\n雨\t🌧\n"
    save_text(path, text)
    assert path.read_bytes() == text.encode()
    assert read_text(path) == text


@pytest.mark.skipif(sys.platform == "win32", reason="POSIX permissions")
def test_permissions_stay(tmp_path: Path) -> None:
    path = tmp_path / "monday.toml"
    save_bytes(path, OLD)
    for mode in (0o600, 0o664):
        path.chmod(mode)
        save_bytes(path, NEW if mode == 0o600 else OLD)
        assert path.stat().st_mode & 0o777 == mode


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights on Windows")
def test_a_link_stays_a_link_and_its_target_is_saved(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    target, link = tmp_path / "real" / "day.toml", tmp_path / "today.toml"
    target.write_bytes(OLD)
    link.symlink_to(target)
    assert save_bytes(link, NEW) == target
    assert link.is_symlink()
    assert target.read_bytes() == NEW
    assert last_good(link).read_bytes() == OLD
    assert last_good(link).parent == target.parent
    assert spares(tmp_path) == spares(tmp_path / "real") == []


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights on Windows")
def test_a_link_in_a_circle_is_told(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(SaveFault, match="circle"):
        save_bytes(tmp_path / "a", NEW)


def test_synced_before_it_is_renamed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A power cut cannot be had in a test; the order that guards against one can."""
    path = tmp_path / "monday.toml"
    save_bytes(path, OLD)
    calls: list[str] = []
    for name in ("write", "fsync", "replace"):
        real = getattr(os, name)
        monkeypatch.setattr(os, name, lambda *a, _n=name, _r=real: (calls.append(_n), _r(*a))[1])
    save_bytes(path, NEW)
    first_rename, last_rename = calls.index("replace"), len(calls) - 1 - calls[::-1].index("replace")
    assert calls[first_rename - 1] == "fsync"
    assert "write" in calls[: first_rename - 1]
    assert "write" not in calls[first_rename:]
    assert calls[last_rename + 1 :] == ["fsync"]


# --- killed -----------------------------------------------------------------------------


def fork(child: Callable[[], None]) -> int:
    """Run ``child`` in a process of its own; return its number."""
    pid = os.fork()
    if pid == 0:
        try:
            child()
        finally:
            os._exit(0)
    return pid


@forks
def test_killed_at_any_instant_the_file_is_the_old_or_the_new(tmp_path: Path) -> None:
    """250 real SIGKILLs at random instants of a process that does nothing but save."""
    path = tmp_path / "monday.toml"
    chance = random.Random(11)
    kills, seen, orphans = 250, set(), 0
    save_bytes(path, NEW)
    save_bytes(path, OLD)  # so that there is a copy to look at, however early the first kill falls
    for _ in range(kills):
        ready, tell = os.pipe()

        def saves_for_ever(tell: int = tell) -> None:
            save_bytes(path, OLD)
            os.write(tell, b".")
            while True:
                save_bytes(path, NEW)
                save_bytes(path, OLD)

        pid = fork(saves_for_ever)
        os.read(ready, 1)
        time.sleep(chance.uniform(0, 0.006))
        os.kill(pid, signal.SIGKILL)
        _, status = os.waitpid(pid, 0)
        os.close(ready)
        os.close(tell)
        assert os.WIFSIGNALED(status), "the child ended by itself"
        content = path.read_bytes()
        assert content in (OLD, NEW)
        assert last_good(path).read_bytes() in (OLD, NEW)
        seen.add(content)
        orphans += bool(spares(tmp_path))
        assert len(spares(tmp_path)) <= 2, "what the killed left was not swept by the next"
    assert seen == {OLD, NEW}, "the kills did not fall into saving"
    assert orphans > 0, "no kill fell between writing and renaming"
    save_bytes(path, b"after all that")
    assert path.read_bytes() == b"after all that"
    assert spares(tmp_path) == []


@forks
def test_killed_before_each_single_call_to_the_system(tmp_path: Path) -> None:
    """Every point of a save at which a kill can make a difference, one by one."""
    names = ("open", "write", "fsync", "close", "chmod", "link", "replace", "unlink")

    def dies_before_call(number: int) -> None:
        left = number

        def counting(real: Callable[..., object]) -> Callable[..., object]:
            def call(*args: object, **more: object) -> object:
                nonlocal left
                if left == 0:
                    os.kill(os.getpid(), signal.SIGKILL)
                left -= 1
                return real(*args, **more)

            return call

        for name in names:
            setattr(os, name, counting(getattr(os, name)))
        save_bytes(path, NEW)

    path = tmp_path / "monday.toml"
    outcomes = []
    for number in range(100):
        save_bytes(path, b"before")
        save_bytes(path, OLD)
        _, status = os.waitpid(fork(lambda n=number: dies_before_call(n)), 0)  # type: ignore[misc]
        outcomes.append(path.read_bytes())
        assert outcomes[-1] in (OLD, NEW), number
        assert last_good(path).read_bytes() in (b"before", OLD), number
        save_bytes(path, b"and on it goes")
        assert path.read_bytes() == b"and on it goes"
        assert last_good(path).read_bytes() == outcomes[-1], number
        assert spares(tmp_path) == [], number
        if os.WIFEXITED(status):
            break
    assert os.WIFEXITED(status), "never got to the end of a save"
    assert len(outcomes) > 8
    assert outcomes == sorted(outcomes, reverse=True), "once new, it stays new"  # b"old" > b"new"


@forks
def test_the_spare_file_of_a_living_process_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "monday.toml"
    ours = safekeeping._spare_name(path)
    ours.write_bytes(b"being written by another thread")
    dead = fork(lambda: None)
    os.waitpid(dead, 0)
    theirs = ours.with_name(ours.name.replace(f"-{os.getpid()}-", f"-{dead}-"))
    theirs.write_bytes(b"left by a crash")
    save_bytes(path, NEW)
    assert ours.exists()
    assert not theirs.exists()


# --- the disk is against us -------------------------------------------------------------


@pytest.mark.parametrize("call", ["write", "fsync"])
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EDQUOT, errno.EIO])
def test_a_disk_that_fails_loses_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str, code: int
) -> None:
    path = tmp_path / "monday.toml"
    save_bytes(path, b"before")
    save_bytes(path, OLD)

    def fails(*_: object) -> int:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(os, call, fails)
    with pytest.raises(SaveFault) as caught:
        save_bytes(path, NEW)
    monkeypatch.undo()
    said = {errno.ENOSPC: "disk is full", errno.EDQUOT: "share of the disk", errno.EIO: "reports a fault"}[
        code
    ]
    assert said in str(caught.value)
    assert str(path) in str(caught.value)
    assert (path.read_bytes(), last_good(path).read_bytes()) == (OLD, b"before")
    assert spares(tmp_path) == []


def test_a_write_that_takes_only_a_part_is_gone_on_with(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """POSIX lets write() take fewer bytes than it was given."""
    real = os.write
    monkeypatch.setattr(os, "write", lambda descriptor, data: real(descriptor, data[:10_007]))
    save_bytes(tmp_path / "monday.toml", NEW)
    assert (tmp_path / "monday.toml").read_bytes() == NEW


@contextmanager
def mounted(folder: Path, options: str) -> Iterator[None]:
    """A tmpfs on the folder; skips where we may not mount one."""
    folder.mkdir(exist_ok=True)
    if sys.platform != "linux" or os.geteuid() != 0:
        pytest.skip("only root on Linux may mount a tmpfs")
    command = ["mount", "-t", "tmpfs", "-o", options, "tmpfs", str(folder)]
    if subprocess.run(command, capture_output=True, check=False).returncode != 0:
        pytest.skip("may not mount a tmpfs here")
    try:
        yield
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def test_a_really_full_disk(tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    with mounted(disk, "size=256k"):
        path = disk / "monday.toml"
        save_bytes(path, OLD)
        with pytest.raises(SaveFault, match="disk is full"):
            save_bytes(path, NEW)
        assert path.read_bytes() == OLD
        assert os.listdir(disk) == ["monday.toml"]
        save_bytes(path, b"small enough")
        assert path.read_bytes() == b"small enough"


def test_a_really_read_only_disk(tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    with mounted(disk, "size=256k"):
        (disk / "monday.toml").write_bytes(OLD)
        subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
        with pytest.raises(SaveFault, match="folder is read-only"):
            save_bytes(disk / "monday.toml", NEW)
        assert read_bytes(disk / "monday.toml") == OLD
        assert os.listdir(disk) == ["monday.toml"]


@forks
def test_a_real_limit_on_the_size_of_files(tmp_path: Path) -> None:
    resource = pytest.importorskip("resource")
    path = tmp_path / "monday.toml"
    save_bytes(path, OLD)

    def child() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))
        try:
            save_bytes(path, NEW)
        except SaveFault as fault:
            os._exit(7 if "no file of this size" in str(fault) else 8)

    _, status = os.waitpid(fork(child), 0)
    assert os.waitstatus_to_exitcode(status) == 7
    assert path.read_bytes() == OLD
    assert spares(tmp_path) == []


@forks
@pytest.mark.skipif(sys.platform == "win32", reason="POSIX permissions")
def test_a_folder_that_others_may_not_write() -> None:
    """Root may write everywhere, so as root the child first becomes nobody (user 65534 on Linux)."""
    folder = Path(tempfile.mkdtemp())
    path = folder / "monday.toml"
    try:
        path.write_bytes(OLD)
        path.chmod(0o666)
        folder.chmod(0o555)

        def child() -> None:
            if os.geteuid() == 0:
                os.setuid(65534)
            assert path.read_bytes() == OLD, "the folder can be reached"
            try:
                save_bytes(path, NEW)
            except SaveFault as fault:
                os._exit(7 if "may not be written" in str(fault) else 8)

        _, status = os.waitpid(fork(child), 0)
        assert os.waitstatus_to_exitcode(status) == 7
        assert path.read_bytes() == OLD
    finally:
        folder.chmod(0o755)
        path.unlink()
        folder.rmdir()


@pytest.mark.parametrize("code", [errno.EROFS, errno.EACCES, errno.EPERM])
def test_a_barred_folder_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int) -> None:
    path = tmp_path / "monday.toml"
    save_bytes(path, OLD)
    real = os.open

    def barred(name: object, flags: int, *more: object) -> int:
        if flags & os.O_CREAT:
            raise OSError(code, os.strerror(code))
        return real(name, flags, *more)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "open", barred)
    with pytest.raises(SaveFault, match=r"read-only|may not be written"):
        save_bytes(path, NEW)
    assert path.read_bytes() == OLD


@pytest.mark.skipif(sys.platform == "win32", reason="POSIX permissions")
def test_a_file_marked_read_only_is_not_replaced(tmp_path: Path) -> None:
    """A rename would succeed, even for root's own eyes; the mark is the user's wish."""
    path = tmp_path / "monday.toml"
    path.write_bytes(OLD)
    path.chmod(0o444)
    with pytest.raises(SaveFault, match="marked read-only"):
        save_bytes(path, NEW)
    assert path.read_bytes() == OLD


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("no/such/folder/monday.toml", "no such folder"),
        ("file/monday.toml", "not a folder"),
        ("x" * 256, "name is too long"),  # NAME_MAX is 255 bytes on the common file systems
        ("ü" * 130, "name is too long"),  # 260 bytes in UTF-8
        (".", "it is a folder"),
        ("mon\0day.toml", "zero byte"),
    ],
)
def test_a_place_that_cannot_be_is_told(tmp_path: Path, name: str, said: str) -> None:
    (tmp_path / "file").write_bytes(OLD)
    with pytest.raises(SaveFault, match=said) as caught:
        save_bytes(tmp_path / name, NEW)
    assert str(caught.value).startswith(str(tmp_path))
    assert os.listdir(tmp_path) == ["file"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs a pipe in the folder")
def test_a_pipe_is_neither_waited_for_nor_replaced(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(SaveFault, match="not a plain file"):
        save_bytes(tmp_path / "pipe", NEW)
    with pytest.raises(ReadFault, match="not a plain file"):
        read_bytes(tmp_path / "pipe")


def test_half_a_character_is_told_with_its_line(tmp_path: Path) -> None:
    with pytest.raises(SaveFault, match="line 3 of the text holds half a character"):
        save_text(tmp_path / "monday.toml", "one\ntwo\nthr\ud800ee\n")
    assert os.listdir(tmp_path) == []


# --- reading ----------------------------------------------------------------------------


def test_ten_megabytes_are_read_and_too_many_are_not(tmp_path: Path) -> None:
    path = tmp_path / "large.toml"
    content = b"0123456789abcde\n" * (10 * 2**20 // 16)
    save_bytes(path, content)
    assert read_bytes(path) == content
    with path.open("r+b") as file:
        file.truncate(32 * 2**20)
    assert len(read_bytes(path)) == 32 * 2**20
    with path.open("r+b") as file:
        file.truncate(41 * 2**20)
    with pytest.raises(ReadFault, match=r"it is 41\.0 MB large; at most 32 MB are read"):
        read_bytes(path)


@pytest.mark.skipif(not Path("/proc/self/maps").exists(), reason="needs a file that hides its size")
def test_a_file_that_says_it_is_empty_is_still_not_read_without_end() -> None:
    assert Path("/proc/self/maps").stat().st_size == 0
    with pytest.raises(ReadFault, match="at most"):
        read_bytes("/proc/self/maps", limit=100)


@pytest.mark.parametrize(
    ("data", "place"),
    [
        (b"ok\nstill ok\nno\xff", r"line 3, byte 3 of the line \(offset 14\): 0xff"),
        (b"\xe9t\xe9", r"line 1, byte 1 of the line \(offset 0\): 0xe9"),  # Latin-1
        (b"ab\n\xe2\x82", r"line 2, byte 1 of the line \(offset 3\): 0xe2"),  # cut off within a sign
        ("monday".encode("utf-16"), "UTF-16"),
    ],
)
def test_bytes_that_are_no_text_are_told_with_their_place(tmp_path: Path, data: bytes, place: str) -> None:
    path = tmp_path / "monday.toml"
    path.write_bytes(data)
    with pytest.raises(ReadFault, match=place) as caught:
        read_text(path)
    assert "save it as UTF-8" in str(caught.value)


def test_a_byte_order_mark_is_no_part_of_the_text(tmp_path: Path) -> None:
    path = tmp_path / "monday.toml"
    path.write_bytes(b"\xef\xbb\xbftitle = 'x'\r\n")
    assert read_text(path) == "title = 'x'\r\n"


@pytest.mark.parametrize(
    ("name", "said"), [("none.toml", "no such file"), (".", "not a plain file"), ("a\0b", "zero")]
)
def test_what_cannot_be_read_is_told(tmp_path: Path, name: str, said: str) -> None:
    with pytest.raises(ReadFault, match=said):
        read_bytes(tmp_path / name)
