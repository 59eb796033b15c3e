"""What is seldom changed, folded away: one line that says how it stands, and the entries under it once asked for."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QHBoxLayout, QToolButton, QVBoxLayout, QWidget

from planner.desktop.forms.form import Form
from planner.desktop.model.open_day import OpenDay
from planner.desktop.plain import PlainLabel


class Fold(QWidget):
    """A form under a line that opens and closes it; it is built when it is first opened.

    ``standing`` gives the words beside the line: the usual values as they are now.
    """

    def __init__(
        self,
        open_day: OpenDay,
        standing: Callable[[], str],
        build: Callable[[Form], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.open_day, self._standing, self._build = open_day, standing, build
        self.form: Form | None = None
        self.line = QToolButton(self)
        self.line.setCheckable(True)
        self.line.setAutoRaise(True)
        self.line.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.line.setArrowType(Qt.ArrowType.RightArrow)
        self.line.setText("More")
        self._usual = PlainLabel(self)
        self._usual.setProperty("role", "faint")
        self._usual.setWordWrap(True)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(self.line, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._usual, 1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(4)
        self._column.addLayout(row)
        self.line.toggled.connect(self.on_toggled)
        open_day.settled.connect(self.on_settled)
        self.on_settled()

    @Slot(bool)
    def on_toggled(self, is_open: bool) -> None:
        """It is opened or closed."""
        self.line.setArrowType(Qt.ArrowType.DownArrow if is_open else Qt.ArrowType.RightArrow)
        if is_open and self.form is None:
            self.form = Form(self.open_day, self)
            self.form.setContentsMargins(18, 0, 0, 6)
            self._build(self.form)
            self._column.addWidget(self.form)
        if self.form is not None:
            self.form.setVisible(is_open)

    @Slot()
    def on_settled(self) -> None:
        """The day changed."""
        words = self._standing()
        self._usual.setText(words)
        self.line.setAccessibleDescription(words)
