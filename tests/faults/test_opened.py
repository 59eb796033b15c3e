"""Openings of a file are counted exactly: ours and those of what we start, and nobody else's (kernel: fanotify(7))."""

import os
import subprocess
from pathlib import Path

import pytest

from tests.faults.opened import _asked_first, openings_of


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "canary"
    path.write_text("x")
    return path


def test_ours_and_those_of_what_we_start_are_counted(file: Path) -> None:
    with openings_of(file) as count:
        assert count() == 0
        file.read_text()
        assert count() == 1
        subprocess.run(["sh", "-c", 'cat "$0"; cat "$0"', file], check=True, capture_output=True)
        assert count() == 3
        file.stat()
        assert count() == 3


def test_anothers_are_not(file: Path) -> None:
    events = _asked_first(file)
    if events is None:
        pytest.skip("may not be told who opens a file here")
    os.close(events)
    orphan = '( until [ "$(ps -o ppid= -p $BASHPID)" -ne $$ ]; do :; done; cat "$0"; mv "$0" "$0.read" ) &'
    with openings_of(file) as count:
        subprocess.run(["bash", "-c", orphan, file], check=True, capture_output=True)
        assert file.with_name("canary.read").exists()  # its output is waited for, so it has ended
        assert count() == 0
