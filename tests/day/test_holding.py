"""One file is written by one window at a time."""

import errno
import json
import os
import platform
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from planner.day import holding
from planner.day.holding import FileInUse, hold
from planner.day.processes import is_running
from planner.day.safekeeping import SaveFault

HOLDS_AND_WAITS = """
import sys
from planner.day.holding import hold
hold(sys.argv[1])
print("held", flush=True)
sys.stdin.read()
"""


def another_window(path: Path) -> "subprocess.Popen[str]":
    """A real process that holds the file until its input ends."""
    process = subprocess.Popen(
        [sys.executable, "-c", HOLDS_AND_WAITS, str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "held\n"
    return process


def end(process: "subprocess.Popen[str]", *, kill: bool = False) -> None:
    if kill:
        process.send_signal(signal.SIGKILL if hasattr(signal, "SIGKILL") else signal.SIGTERM)
    process.communicate()


def test_two_windows_of_one_process(tmp_path: Path) -> None:
    path = tmp_path / "monday.toml"
    with hold(path) as ours:
        assert ours.is_ours
        with pytest.raises(FileInUse) as caught:
            hold(path)
        assert caught.value.holder == ours.holder
    assert os.listdir(tmp_path) == []
    hold(path).let_go()


def test_the_fault_says_who_and_what_can_be_done(tmp_path: Path) -> None:
    path = tmp_path / "monday.toml"
    other = another_window(path)
    try:
        with pytest.raises(FileInUse) as caught:
            hold(path)
    finally:
        end(other)
    said = str(caught.value)
    for part in (
        str(path),
        f"process {other.pid}",
        platform.node(),
        "read only",
        "another name",
        "take it over",
    ):
        assert part in said


def test_what_a_killed_process_held_is_simply_taken(tmp_path: Path) -> None:
    path = tmp_path / "monday.toml"
    other = another_window(path)
    end(other, kill=True)
    assert (tmp_path / "monday.toml.in-use").exists()
    with hold(path) as ours:
        assert ours.holder.pid == os.getpid()
    assert os.listdir(tmp_path) == []


@pytest.mark.skipif(sys.platform == "win32", reason="a mark that is open cannot be replaced there")
def test_taken_over_from_the_living_only_when_asked_and_they_find_out(tmp_path: Path) -> None:
    path = tmp_path / "monday.toml"
    first = hold(path)
    second = hold(path, take_over=True)
    assert second.is_ours
    assert not first.is_ours
    first.let_go()  # must not let go of what is no longer theirs
    assert second.is_ours
    with pytest.raises(FileInUse):
        hold(path)
    second.let_go()
    second.let_go()
    assert os.listdir(tmp_path) == []


def mark_of(host: str, pid: int) -> str:
    return json.dumps({"pid": pid, "host": host, "user": "sam", "since": "2026-03-02 07:10", "token": "t"})


def test_someone_on_another_machine_may_live(tmp_path: Path) -> None:
    """A folder shared or synced between machines: their lock does not reach us, their mark does."""
    path = tmp_path / "monday.toml"
    (tmp_path / "monday.toml.in-use").write_text(mark_of("van-laptop", 4711))
    with pytest.raises(FileInUse, match=r"sam on van-laptop since 2026-03-02 07:10 \(process 4711\)"):
        hold(path)
    with hold(path, take_over=True) as ours:
        assert ours.is_ours


@pytest.mark.skipif(sys.platform == "win32", reason="POSIX locks")
def test_a_disk_without_locks_goes_by_the_process_number(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import fcntl

    def no_locks(*_: object) -> None:
        raise OSError(errno.ENOLCK, "no locks")

    monkeypatch.setattr(fcntl, "flock", no_locks)
    path, mark = tmp_path / "monday.toml", tmp_path / "monday.toml.in-use"
    mark.write_text(mark_of(platform.node(), os.getppid()))
    with pytest.raises(FileInUse):
        hold(path)
    dead = subprocess.Popen([sys.executable, "-c", ""])
    dead.wait()
    mark.write_text(mark_of(platform.node(), dead.pid))
    with hold(path) as ours:
        with pytest.raises(FileInUse):
            hold(path)
        assert ours.is_ours


@pytest.mark.parametrize(
    "nonsense",
    [b"", b"{", b"[1]", b'{"pid": {}}', b"\xff\x00", b"[" * 4000, b'{"pid": "x", "host": 1}', b"9" * 9000],
)
def test_a_mark_that_makes_no_sense_harms_nothing(tmp_path: Path, nonsense: bytes) -> None:
    (tmp_path / "monday.toml.in-use").write_bytes(nonsense)
    with hold(tmp_path / "monday.toml") as ours:
        assert ours.is_ours


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights on Windows")
def test_a_link_laid_in_the_place_of_the_mark_empties_no_other_file(tmp_path: Path) -> None:
    other = tmp_path / "other.txt"
    other.write_text("keep me")
    (tmp_path / "monday.toml.in-use").symlink_to(other)
    with pytest.raises(SaveFault):
        hold(tmp_path / "monday.toml")
    assert other.read_text() == "keep me"


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights on Windows")
def test_two_links_to_one_file_are_one(tmp_path: Path) -> None:
    (tmp_path / "today.toml").symlink_to(tmp_path / "monday.toml")
    with hold(tmp_path / "today.toml"), pytest.raises(FileInUse):
        hold(tmp_path / "monday.toml")


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(SaveFault, match="no such folder"):
        hold(tmp_path / "none" / "monday.toml")


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
def test_of_many_who_reach_for_it_at_once_one_gets_it(tmp_path: Path) -> None:
    """Each that gets the file adds one to a number in it, unguarded otherwise: no addition may be lost."""
    path = tmp_path / "count"
    path.write_text("0")
    children = []
    for _ in range(6):
        pid = os.fork()
        if pid == 0:
            code = 1
            try:
                done = 0
                while done < 40:
                    try:
                        with hold(path):
                            path.write_text(str(int(path.read_text()) + 1))
                            done += 1
                    except FileInUse:
                        os.sched_yield()
                code = 0
            finally:
                os._exit(code)
        children.append(pid)
    assert [os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]) for pid in children] == [0] * 6
    assert path.read_text() == "240"


def test_a_full_disk_is_held_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> int:
        raise OSError(errno.ENOSPC, "full")

    path = tmp_path / "monday.toml"
    monkeypatch.setattr(os, "write", full)
    with hold(path) as ours:
        assert ours.is_ours
        with pytest.raises(FileInUse, match="by another window"):
            hold(path)
        assert ours.is_ours
    assert not ours.is_ours
    assert os.listdir(tmp_path) == []


def test_whether_a_process_runs() -> None:
    assert is_running(os.getpid())
    assert is_running(os.getppid())
    assert not is_running(0)
    assert not is_running(-1)
    assert not is_running(2**70)
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    assert not is_running(ended.pid)


def test_the_mark_is_small_enough_to_be_read_whole(tmp_path: Path) -> None:
    with hold(tmp_path / "monday.toml"):
        assert (tmp_path / "monday.toml.in-use").stat().st_size < holding._MOST_BYTES
