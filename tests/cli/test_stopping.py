"""Ctrl+C: one is enough, and the exit code says so (128 + SIGINT, as shells have it)."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import copyfile
from types import ModuleType

import pytest

from planner import cli, desktop
from planner.__main__ import main as begun
from tests.cli.commands import ROOT, SAMPLES

LONG = ("--seconds", "600", "--study-seconds", "600", "--study", "all")


@pytest.mark.parametrize(
    ("words", "seen"),
    [
        (("plan", "DAY", "--seconds", "600"), 1.0),
        (("fit", "DAY", *LONG), 4.0),
        (("fit", ".", "--seconds", "600"), 2.0),
        (("sheet", "DAY", "--seconds", "600", "-o", "x.html"), 1.0),
        (("plan", "DAY", "--seconds", "600"), 0.3),
    ],
)
def test_one_interrupt_ends_it(tmp_path: Path, words: tuple[str, ...], seen: float) -> None:
    """The day is one that is not proven best in so short a time; the whole group is told, as a terminal does it.

    Interrupts are heard, also where whoever runs the tests ignores them, as what a shell has in the background does.
    """
    copyfile(SAMPLES / "too_much.toml", tmp_path / "day.toml")
    command = [sys.executable, "-m", "planner", *("day.toml" if word == "DAY" else word for word in words)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    running = subprocess.Popen(
        command,
        cwd=tmp_path,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )
    time.sleep(seen)
    if running.poll() is not None:
        pytest.skip("it was done before it could be stopped")
    os.killpg(running.pid, signal.SIGINT)
    out, err = running.communicate(timeout=120)
    assert running.returncode in (cli.STOPPED, -signal.SIGINT), err
    assert b"Traceback" not in out + err
    assert not (tmp_path / "x.html").exists()


class _Loaded(ModuleType):
    """A module that notes how Ctrl+C is taken while something is being loaded from it."""

    def __init__(self, name: str, wanted: str, found: Callable[..., int]) -> None:
        super().__init__(name)
        self.wanted, self.found, self.seen = wanted, found, list[object]()

    def __getattr__(self, name: str) -> object:
        if name != self.wanted:
            raise AttributeError(name)
        self.seen.append(signal.getsignal(signal.SIGINT))
        return self.found


@pytest.fixture
def as_before() -> Iterator[None]:
    """Ctrl+C is taken as before when the test is over."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("as_before")
def test_while_the_command_is_loaded_an_interrupt_ends_it_without_a_word(monkeypatch: pytest.MonkeyPatch) -> None:
    heard: list[object] = []

    def command() -> int:
        heard.append(signal.getsignal(signal.SIGINT))
        return 7

    loaded = _Loaded("planner.cli", "main", command)
    monkeypatch.setitem(sys.modules, "planner.cli", loaded)
    assert begun() == 7
    assert loaded.seen == [signal.SIG_DFL]
    assert heard == [signal.default_int_handler]


@pytest.mark.usefixtures("as_before")
def test_while_the_window_is_loaded_an_interrupt_ends_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Raised while Qt is being loaded, it was lost, and the window stayed; or all was aborted."""
    loaded = _Loaded("planner.desktop.application", "run", lambda _: 7)
    monkeypatch.setitem(sys.modules, "planner.desktop.application", loaded)
    assert desktop.main([]) == 7
    assert loaded.seen == [signal.SIG_DFL]


@pytest.mark.usefixtures("as_before")
def test_who_has_us_ignore_interrupts_is_obeyed(monkeypatch: pytest.MonkeyPatch) -> None:
    """As a shell has it of what it starts in the background."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    monkeypatch.setitem(sys.modules, "planner.cli", _Loaded("planner.cli", "main", lambda: 0))
    assert begun() == 0
    assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN


@pytest.mark.usefixtures("as_before")
def test_while_what_a_command_needs_is_loaded_an_interrupt_ends_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Raised in the midst of it, it was lost where a library written in another language calls ours back."""
    seen: list[object] = []

    def load(name: str) -> ModuleType:
        seen.append(signal.getsignal(signal.SIGINT))
        return ModuleType(name)

    monkeypatch.setattr(cli, "import_module", load)
    cli._module("schema")
    assert seen == [signal.SIG_DFL]
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
