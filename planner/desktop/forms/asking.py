"""Small windows that ask the person one thing."""

from dataclasses import dataclass

from PySide6.QtWidgets import QMessageBox, QPushButton, QWidget

from planner.desktop.plain import box


@dataclass(frozen=True)
class Option:
    """One answer: its key and its words."""

    key: str
    words: str


def ask_to_save(parent: QWidget, title: str, words: str) -> QMessageBox.StandardButton:
    """Save, discard or cancel."""
    button = QMessageBox.StandardButton
    asked = box(parent, QMessageBox.Icon.Question, title, title, words)
    asked.setStandardButtons(button.Save | button.Discard | button.Cancel)
    asked.setDefaultButton(button.Save)
    return QMessageBox.StandardButton(asked.exec())


def choose(
    parent: QWidget, title: str, words: str, choices: list[Option], *, is_question: bool = True
) -> str | None:
    """One of a few answers, the first of which is the safe one; None when the window is closed.

    What is no question is told, with what may be done next; there is nothing in it to leave undone.
    """
    icon = QMessageBox.Icon.Question if is_question else QMessageBox.Icon.Information
    asked = box(parent, icon, title, title, words)
    buttons: dict[QPushButton, str] = {}
    for choice in choices:
        buttons[asked.addButton(choice.words, QMessageBox.ButtonRole.AcceptRole)] = choice.key
    first = next(iter(buttons))
    asked.setDefaultButton(first)
    if is_question:
        asked.addButton(QMessageBox.StandardButton.Cancel)
    else:
        asked.setEscapeButton(first)
    asked.exec()
    pressed = asked.clickedButton()
    return next((key for button, key in buttons.items() if button is pressed), None)
