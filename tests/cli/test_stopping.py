"""Ctrl+C: one is enough, and the exit code says so (128 + SIGINT, as shells have it)."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from shutil import copyfile

import pytest

from planner import cli
from tests.cli.commands import ROOT, SAMPLES

LONG = ("--seconds", "600", "--study-seconds", "600", "--study", "all")


@pytest.mark.parametrize(
    ("words", "seen"),
    [
        (("plan", "DAY", "--seconds", "600"), 1.5),
        (("fit", "DAY", *LONG), 2.0),
        (("fit", "DAY", *LONG), 6.0),
        (("fit", ".", "--seconds", "600"), 3.0),
        (("sheet", "DAY", "--seconds", "600", "-o", "x.html"), 1.5),
        (("plan", "DAY", "--seconds", "600"), 0.3),
    ],
)
def test_one_interrupt_ends_it(tmp_path: Path, words: tuple[str, ...], seen: float) -> None:
    """The day is one that is not proven best in so short a time; the whole group is told, as a terminal does it."""
    copyfile(SAMPLES / "too_much.toml", tmp_path / "day.toml")
    command = [sys.executable, "-m", "planner", *("day.toml" if word == "DAY" else word for word in words)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    running = subprocess.Popen(
        command, cwd=tmp_path, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True
    )
    time.sleep(seen)
    if running.poll() is not None:
        pytest.skip("it was done before it could be stopped")
    os.killpg(running.pid, signal.SIGINT)
    out, err = running.communicate(timeout=120)
    assert running.returncode in (cli.STOPPED, -signal.SIGINT), err
    assert b"Traceback" not in out + err
    assert not (tmp_path / "x.html").exists()
