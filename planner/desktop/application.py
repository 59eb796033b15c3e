"""The application around the window: first the picture on the screen, then everything that takes longer."""

import os
import sys
from pathlib import Path

from PySide6.QtCore import QLibraryInfo, QLocale, QTimer, QTranslator
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QApplication

from planner.desktop.look import wear
from planner.desktop.menus import Menus
from planner.desktop.model.preferences import Preferences
from planner.desktop.window import Window
from planner.resources import resource


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
    _translate(application)
    preferences = Preferences()
    wear(application, preferences.scheme)
    window = Window(preferences)
    Menus(window)
    window.show()
    application.processEvents()  # draw it now: what follows takes longer

    def on_drawn() -> None:
        from planner.desktop.starting import fill

        fill(window, [Path(path) for path in paths])

    QTimer.singleShot(0, on_drawn)
    return application.exec()


def _has_screen() -> bool:
    """Whether Qt would find a screen; it ends the process when there is none."""
    if sys.platform != "linux" or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def _translate(application: QApplication) -> None:
    """Qt's own texts, and ours, in the language of the system where we have them."""
    for name, folder in (
        ("qtbase", QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)),
        ("slackwater", str(Path(__file__).parent / "translations")),
    ):
        translator = QTranslator(application)
        if translator.load(QLocale.system(), name, "_", folder):
            application.installTranslator(translator)
