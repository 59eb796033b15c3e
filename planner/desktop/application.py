"""The application around the window: first the picture on the screen, then everything that takes longer."""

import os
import signal
import socket
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import QObject, QSocketNotifier, QTimer
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QApplication

from planner.desktop.look import wear
from planner.desktop.menus import Menus
from planner.desktop.model.preferences import Preferences
from planner.desktop.thinking.ahead import begin_ahead
from planner.desktop.window import Window
from planner.resources import resource

STOPPED = 130
"""What the window ends with when it was stopped from the terminal (128 + SIGINT, as shells have it)."""


def run(paths: list[str]) -> int:
    """Show the window and stay until it is closed."""
    if not _has_screen():
        sys.stderr.write("slackwater: there is no screen to draw on; use the commands, or set DISPLAY\n")
        return 1
    application = QApplication.instance() or QApplication(["slackwater"])
    assert isinstance(application, QApplication)
    application.setApplicationName("slackwater")
    application.setApplicationDisplayName("Slackwater")
    application.setDesktopFileName("slackwater")
    application.setWindowIcon(QIcon(str(resource("icons", "slackwater.svg"))))
    preferences = Preferences()
    ahead = QObject()
    if paths:
        begin_ahead(ahead)
    wear(application, preferences.scheme)
    window = Window(preferences)
    Menus(window)
    window.show()
    application.processEvents()  # draw it now: what follows takes longer

    def on_drawn() -> None:
        from planner.desktop.starting import fill

        fill(window, [Path(path) for path in paths])

    QTimer.singleShot(0, on_drawn)
    with closed_by_interrupt(window):
        code = application.exec()
    return STOPPED if window.is_interrupted else code


@contextmanager
def closed_by_interrupt(window: Window) -> Iterator[None]:
    """Ctrl+C in the terminal that the window was started from closes it; what is not saved is in its safety copies.

    Python hears signals only between its own steps, and Qt waits for hours in one; a pipe wakes it.
    """
    ours, theirs = socket.socketpair()
    for end in (ours, theirs):
        end.setblocking(False)
    notifier = QSocketNotifier(ours.fileno(), QSocketNotifier.Type.Read, window)
    notifier.activated.connect(lambda *_: ours.recv(64))  # by now Python has called the handler
    before = signal.signal(signal.SIGINT, lambda *_: QTimer.singleShot(0, window.interrupt))
    woken = signal.set_wakeup_fd(theirs.fileno(), warn_on_full_buffer=False)
    try:
        yield
    finally:
        signal.set_wakeup_fd(woken)
        signal.signal(signal.SIGINT, before)
        notifier.setEnabled(False)
        ours.close()
        theirs.close()


def _has_screen() -> bool:
    """Whether Qt would find a screen; it ends the process when there is none."""
    if sys.platform != "linux" or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
