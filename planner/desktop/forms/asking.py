"""Small windows that ask the person one thing."""

from dataclasses import dataclass

from PySide6.QtWidgets import QMessageBox, QPushButton, QWidget


@dataclass(frozen=True)
class Choice:
    """One answer: its key and its words."""

    key: str
    words: str


def ask_to_save(parent: QWidget, title: str, words: str) -> QMessageBox.StandardButton:
    """Save, discard or cancel."""
    button = QMessageBox.StandardButton
    box = QMessageBox(QMessageBox.Icon.Question, title, title, button.Save | button.Discard | button.Cancel, parent)
    box.setInformativeText(words)
    box.setDefaultButton(button.Save)
    return QMessageBox.StandardButton(box.exec())


def choose(parent: QWidget, title: str, words: str, choices: list[Choice]) -> str | None:
    """One of a few answers, the first of which is the safe one; None when the window is closed."""
    box = QMessageBox(QMessageBox.Icon.Question, title, title, parent=parent)
    box.setInformativeText(words)
    buttons: dict[QPushButton, str] = {}
    for choice in choices:
        buttons[box.addButton(choice.words, QMessageBox.ButtonRole.AcceptRole)] = choice.key
    box.setDefaultButton(next(iter(buttons)))
    box.addButton(QMessageBox.StandardButton.Cancel)
    box.exec()
    pressed = box.clickedButton()
    return next((key for button, key in buttons.items() if button is pressed), None)
