"""What this is, the versions it runs on, and whose work is in it."""

import platform
import re
from importlib.metadata import PackageNotFoundError, metadata, requires, version

from PySide6.QtCore import QSize, qVersion
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QTextBrowser, QVBoxLayout, QWidget

from planner import __version__
from planner.desktop.forms.dialog import MOST_OF_THE_SCREEN
from planner.desktop.plain import PlainLabel
from planner.resources import resource


def versions() -> list[tuple[str, str]]:
    """Everything that matters, with its version."""
    return [
        ("Slackwater", __version__),
        ("Python", platform.python_version()),
        ("Qt", qVersion()),
        *((name, _version(name)) for name in ("PySide6-Essentials", "ortools", "pydantic", "tomlkit", "reportlab")),
        (platform.system(), platform.release()),
    ]


def licences() -> str:
    """Whose work is in this program, in Markdown: the list that its build made, else what it was installed with."""
    try:
        return resource("licences.md").read_text("utf-8")
    except FileNotFoundError:
        lines = ["# What this program is run with, and its licences", ""]
        wanted = [text for text in requires("slackwater") or () if "extra ==" not in text]
        names = [name.group() for text in wanted if (name := re.match(r"[\w.-]+", text))]
        return "\n".join(lines + [f"* {name} {_version(name)}: {_licence(name)}" for name in names])


class About(QDialog):
    """The program, its versions, and the licences of all that is in it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("About Slackwater")
        self.resize(QSize(620, 560).boundedTo(self.screen().availableSize() * MOST_OF_THE_SCREEN))
        what = PlainLabel("Slackwater plans a working day around its waits and its ways in.", self)
        what.setWordWrap(True)
        self.told = QTextBrowser(self)
        self.told.setAccessibleName("Versions and licences")
        self.told.setOpenLinks(False)
        listed = "\n".join(f"* {name} {number}" for name, number in versions())
        self.told.setMarkdown(f"{listed}\n\n{licences()}")
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close, self)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        for widget in (what, self.told, buttons):
            column.addWidget(widget)


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "–"


def _licence(name: str) -> str:
    try:
        about = metadata(name)
    except PackageNotFoundError:
        return "–"
    fields = about.json
    said = str(fields.get("license_expression") or fields.get("license") or "").partition("\n")[0]
    listed = [str(c).rsplit(" :: ", 1)[-1] for c in fields.get("classifier", ()) if str(c).startswith("License")]
    return said if 0 < len(said) < 80 else ", ".join(listed) or "see the package"
