"""Small windows with fields: what is asked scrolls where the screen is low, and the buttons stay in sight."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QScrollArea, QVBoxLayout, QWidget

MOST_OF_THE_SCREEN = 0.9
"""No dialog is larger than this part of the screen."""


class FieldsDialog(QDialog):
    """A column of fields above the buttons; ``done_words`` is what the button says that takes them."""

    def __init__(self, title: str, done_words: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self._fields = QWidget()
        self.column = QVBoxLayout(self._fields)
        self.column.setContentsMargins(12, 12, 12, 12)
        self.column.setSpacing(10)
        self.area = QScrollArea(self)
        self.area.setAccessibleName(title)
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QScrollArea.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setWidget(self._fields)
        standard = QDialogButtonBox.StandardButton
        self.buttons = QDialogButtonBox(standard.Ok | standard.Cancel, self)
        self.done_button = self.buttons.button(standard.Ok)
        self.done_button.setText(done_words or title)
        self.done_button.setProperty("role", "first")
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        around = QVBoxLayout(self)
        around.setContentsMargins(0, 0, 0, 10)
        around.addWidget(self.area, 1)
        row = QVBoxLayout()
        row.setContentsMargins(12, 0, 12, 0)
        row.addWidget(self.buttons)
        around.addLayout(row)

    def sizeHint(self) -> QSize:
        """As large as what is asked, as far as the screen goes."""
        wanted = self._fields.sizeHint() + QSize(24, self.buttons.sizeHint().height() + 32)
        screen = self.screen().availableSize() * MOST_OF_THE_SCREEN
        return wanted.expandedTo(QSize(440, 0)).boundedTo(screen)

    def minimumSizeHint(self) -> QSize:
        """It may be as small as the screen asks for."""
        return QSize(260, 160)

    def showEvent(self, event: QShowEvent) -> None:
        """Never larger than the screen."""
        super().showEvent(event)
        self.resize(self.sizeHint())
