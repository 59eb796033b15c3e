"""A virtual screen on which the built program is driven by its keys, as a person would (``xvfb``, ``xdotool``)."""

import os
import shutil
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TypeVar

Found = TypeVar("Found")


def can_be_driven() -> bool:
    """Whether this system has what a virtual screen needs."""
    return bool(shutil.which("Xvfb") and shutil.which("xdotool"))


@contextmanager
def virtual_screen() -> Iterator["Screen"]:
    """A screen of its own for as long as it is needed."""
    reading, writing = os.pipe()
    command = ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1366x768x24", "-nolisten", "tcp"]
    with subprocess.Popen(command, pass_fds=[writing], stderr=subprocess.DEVNULL) as server:
        os.close(writing)
        with os.fdopen(reading) as told:
            name = f":{told.readline().strip()}"
        try:
            yield Screen(name)
        finally:
            server.terminate()


class Screen:
    """Finds windows on a screen and types into them.

    No window manager runs there that would give the keys to a window that comes up, so each is given them first.
    """

    def __init__(self, name: str) -> None:
        self.name = name

    def window(self, title: str) -> str | None:
        """The window that is seen and whose title holds these words."""
        return self._told("search", "--onlyvisible", "--name", title).partition("\n")[0] or None

    def press(self, window: str, keys: str) -> None:
        """Give a window the keys, and press some."""
        self._told("windowfocus", "--sync", window)
        self._told("key", "--clearmodifiers", keys)

    def type(self, window: str, text: str) -> None:
        """Write a text over what a field holds, and confirm it."""
        self.press(window, "ctrl+a")
        self._told("type", "--delay", "20", text)
        self._told("key", "Return")

    def _told(self, *words: str) -> str:
        surroundings = os.environ | {"DISPLAY": self.name}
        done = subprocess.run(["xdotool", *words], env=surroundings, capture_output=True, text=True, check=False)
        return done.stdout.strip()


def until(asked: Callable[[], Found | None], seconds: float = 120.0, pause: float = 0.5) -> Found | None:
    """What is found as soon as it is; None when the time is over."""
    end = time.monotonic() + seconds
    while not (found := asked()) and time.monotonic() < end:
        time.sleep(pause)
    return found or None
