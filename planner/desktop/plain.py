"""Labels, tips and boxes that show words as they are: the one place where the window makes them.

Qt takes a text that looks like HTML for HTML, and then opens the files and addresses that its pictures name. Names come
from files that anybody may have written.
"""

import html

from PySide6.QtGui import Qt
from PySide6.QtWidgets import QLabel, QMessageBox, QWidget

MOST_LINES = 8
"""So many lines of a box are read at once; all of them stand in a part of it that scrolls."""


class PlainLabel(QLabel):
    """A label of plain words; a widget given in their place is its parent."""

    def __init__(self, words: str | QWidget | None = "", parent: QWidget | None = None) -> None:
        super().__init__(parent if isinstance(words, str) else words)
        self.setTextFormat(Qt.TextFormat.PlainText)
        if isinstance(words, str):
            self.setText(words)


def box(parent: QWidget, icon: QMessageBox.Icon, title: str, words: str, more: str = "") -> QMessageBox:
    """A box that tells or asks something: words in bold, and more below them."""
    made = QMessageBox(parent)
    made.setIcon(icon)
    made.setWindowTitle(title)
    made.setTextFormat(Qt.TextFormat.PlainText)
    lines = more.split("\n")
    made.setText(words)
    made.setInformativeText("\n".join(lines[:MOST_LINES]))
    if len(lines) > MOST_LINES:
        made.setDetailedText(more)  # which scrolls: the box stays on the screen
    for label in made.findChildren(QLabel):  # the format that can be said is only that of the first
        label.setTextFormat(Qt.TextFormat.PlainText)
    return made


def tip(words: str) -> str:
    """Words for a tip or another text whose format cannot be said: marked up so that they are shown as they are."""
    if not Qt.mightBeRichText(words):
        return words
    return f"<qt>{html.escape(words).replace(chr(10), '<br>')}</qt>"
