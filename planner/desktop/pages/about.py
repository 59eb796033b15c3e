"""What this is, and the versions it runs on: what one is asked for when something goes wrong."""

import platform
from importlib.metadata import PackageNotFoundError, version

from PySide6.QtCore import qVersion
from PySide6.QtWidgets import QMessageBox, QWidget

from planner import __version__


def versions() -> list[tuple[str, str]]:
    """Everything that matters, with its version."""
    return [
        ("Slackwater", __version__),
        ("Python", platform.python_version()),
        ("Qt", qVersion()),
        *((name, _version(name)) for name in ("PySide6-Essentials", "ortools", "pydantic", "tomlkit", "reportlab")),
        (platform.system(), platform.release()),
    ]


def show_about(parent: QWidget) -> None:
    """Show it."""
    box = QMessageBox(parent)
    box.setWindowTitle(parent.tr("About Slackwater"))
    box.setText(parent.tr("Slackwater plans a working day around its waits and its ways in."))
    box.setInformativeText("\n".join(f"{name} {number}" for name, number in versions()))
    box.exec()


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "–"
