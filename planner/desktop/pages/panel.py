"""What every page beside the picture has in common: it shows one open day, and only while it is seen."""

from PySide6.QtCore import QSize, Qt, Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from planner.desktop.look import headline
from planner.desktop.model.open_day import OpenDay, Shown
from planner.desktop.pages.told_rows import RowsView, ToldRow
from planner.desktop.plain import PlainLabel


class Panel(QWidget):
    """A titled page. Its `refresh` is called when the plan changes while it is seen, or when it comes to be seen."""

    def __init__(self, open_day: OpenDay, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.open_day = open_day
        self._is_stale = True
        heading = PlainLabel(title, self)
        heading.setFont(headline(15, bold=True))
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(16, 12, 12, 10)
        self.column.setSpacing(8)
        self.column.addWidget(heading)
        open_day.plan_changed.connect(self.on_plan_changed)

    def refresh(self) -> None:
        """Show the day as it is now."""
        raise NotImplementedError

    def add_words(self, words: str, *, role: str = "faint") -> PlainLabel:
        """A line of words that wraps."""
        label = PlainLabel(words, self)
        label.setWordWrap(True)
        label.setProperty("role", role)
        self.column.addWidget(label)
        return label

    @Slot()
    def on_plan_changed(self) -> None:
        """There is another plan, or none."""
        self._is_stale = True
        if self.isVisible():
            self._freshen()

    def showEvent(self, event: QShowEvent) -> None:
        """The page comes to be seen."""
        super().showEvent(event)
        if self._is_stale:
            self._freshen()

    def _freshen(self) -> None:
        self._is_stale = False
        self.refresh()


class Scrolled(QScrollArea):
    """As wide as what is in it needs, so that nothing is cut at its side."""

    def minimumSizeHint(self) -> QSize:
        """As narrow as the widest thing in it."""
        inner, bar = self.widget(), self.verticalScrollBar().sizeHint().width()
        width = 0 if inner is None else inner.minimumSizeHint().width() + bar
        return QSize(width, super().minimumSizeHint().height())


class TellingPanel(Panel):
    """A page of rows to read, told anew by `told` for each plan."""

    def __init__(
        self, open_day: OpenDay, title: str, about: str, parent: QWidget | None = None, *, words: str = ""
    ) -> None:
        super().__init__(open_day, title, parent)
        if words:
            self.add_words(words)
        self.rows = RowsView(self)
        self.rows.setAccessibleName(about)
        self.column.addWidget(self.rows, 1)

    def refresh(self) -> None:
        """Tell the plan, or that there is none."""
        shown = self.open_day.shown
        self.rows.tell([ToldRow(subheading="There is no plan yet.")] if shown is None else self.told(shown))

    def told(self, shown: Shown) -> list[ToldRow]:
        """What there is to read of a plan."""
        raise NotImplementedError


def scrolled(widget: QWidget, name: str = "") -> QScrollArea:
    """A widget that may be taller than its page; the name says of what, to a screen reader."""
    widget.setContentsMargins(16, 6, 14, 14)
    return _in_an_area(widget, name)


def held(page: QWidget, name: str) -> QWidget:
    """A page as it is put beside the picture: one that does not scroll itself does where the screen is too low."""
    return page if isinstance(page, QScrollArea) else _in_an_area(page, name)


def _in_an_area(widget: QWidget, name: str) -> QScrollArea:
    area = Scrolled()
    area.setAccessibleName(name)
    area.setWidgetResizable(True)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # what is in it takes the keys, and is scrolled into sight
    area.setFrameShape(QScrollArea.Shape.NoFrame)
    area.setWidget(widget)
    return area
