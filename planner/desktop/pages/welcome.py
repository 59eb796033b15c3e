"""What stands in the window while no day is open: three doors into a day, a tour, and the days opened last."""

from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QMenu, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from planner.desktop.look import headline
from planner.desktop.model.preferences import Preferences
from planner.desktop.plain import PlainLabel
from planner.resources import sample_days

_MOST_OFFERED = 8


class Door(QPushButton):
    """A large button: what it leads to, and in a line what one finds there."""

    def __init__(self, title: str, words: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(title)
        self._title, self._words = PlainLabel(title, self), PlainLabel(self)
        self._title.setFont(headline(15, bold=True))
        self._words.setProperty("role", "faint")
        column = QVBoxLayout(self)
        column.setContentsMargins(18, 14, 18, 14)
        column.setSpacing(6)
        for label in (self._title, self._words):
            label.setWordWrap(True)
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
            column.addWidget(label)
        column.addStretch(1)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.say(words)

    @property
    def title(self) -> str:
        """What it leads to."""
        return self._title.text()

    @property
    def words(self) -> str:
        """What one finds there."""
        return self._words.text()

    def say(self, words: str) -> None:
        """Say what one finds there."""
        self._words.setText(words)
        self.setAccessibleDescription(words)
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """Room for its words, which are wrapped."""
        layout = self.layout()
        width = max(self.width(), 200)
        return QSize(240, max(130, layout.heightForWidth(width) if layout is not None else 0))

    def minimumSizeHint(self) -> QSize:
        """It is never cut."""
        return QSize(180, self.sizeHint().height())


class Welcome(QWidget):
    """Three doors. What each leads to is told by a signal, so that it knows nothing of days."""

    new_wanted = Signal()
    sample_wanted = Signal(Path)
    again_wanted = Signal(Path)
    tour_wanted = Signal()
    recent_wanted = Signal(Path)

    def __init__(self, preferences: Preferences, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.preferences = preferences
        heading = PlainLabel("Plan a day", self)
        heading.setFont(headline(25, bold=True))
        below = PlainLabel(
            "Say what is to be done and how one gets there. You get an order of work that holds, and a sheet for the "
            "van.",
            self,
        )
        below.setProperty("role", "faint")
        below.setWordWrap(True)
        self.new_door = Door("A day of my own", "Tomorrow, one house: whose, the way in, and the work, ticked.", self)
        self.sample_door = Door("A sample day", "A day that came with the program, planned as you watch.", self)
        self.again_door = Door("Yesterday’s day again", "", self)
        self.tour_button = QPushButton("Show me round in six steps", self)
        self._recent = QVBoxLayout()
        self._recent.setSpacing(2)
        doors = QHBoxLayout()
        doors.setSpacing(14)
        for door in (self.new_door, self.sample_door, self.again_door):
            doors.addWidget(door, 1)
        inner = QVBoxLayout()
        inner.setSpacing(12)
        inner.addStretch(1)
        for part in (heading, below):
            inner.addWidget(part)
        inner.addLayout(doors)
        inner.addWidget(self.tour_button, 0, Qt.AlignmentFlag.AlignLeft)
        inner.addLayout(self._recent)
        inner.addStretch(2)
        row = QHBoxLayout(self)
        row.setContentsMargins(36, 30, 36, 18)
        row.addStretch(1)
        row.addLayout(inner, 12)
        row.addStretch(1)
        self.new_door.clicked.connect(self.new_wanted)
        self.tour_button.clicked.connect(self.tour_wanted)
        self.sample_door.clicked.connect(self.on_samples)
        self.again_door.clicked.connect(self.on_again)
        self.refresh()

    def showEvent(self, event: QShowEvent) -> None:
        """It comes to be seen: the days opened last may be others."""
        super().showEvent(event)
        self.refresh()
        self.new_door.setFocus(Qt.FocusReason.OtherFocusReason)

    def refresh(self) -> None:
        """Offer the days opened last."""
        recent = self.preferences.recent[:_MOST_OFFERED]
        self.again_door.setEnabled(bool(recent))
        self.again_door.say(
            f"“{recent[0].stem}”, or another, copied to tomorrow." if recent else "There is none yet: save a day first."
        )
        self.sample_door.setEnabled(bool(sample_days()))
        while (item := self._recent.takeAt(0)) is not None:
            old = item.widget()
            if old is not None:
                old.deleteLater()
        if recent:
            label = PlainLabel("Opened last", self)
            label.setProperty("role", "faint")
            self._recent.addWidget(label)
        for path in recent:
            button = QPushButton(f"{path.stem}   {path.parent}".replace("&", "&&"), self)
            button.setFlat(True)
            button.clicked.connect(lambda _=False, path=path: self.recent_wanted.emit(path))
            self._recent.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)

    @Slot()
    def on_samples(self) -> None:
        """A sample day is wanted: which one."""
        menu = self._menu_of([(path, title_of(path)) for path in sample_days()], self.sample_wanted)
        menu.popup(self.sample_door.mapToGlobal(self.sample_door.rect().bottomLeft()))

    @Slot()
    def on_again(self) -> None:
        """An earlier day is wanted again: which one, where there are several."""
        recent = self.preferences.recent[:_MOST_OFFERED]
        if len(recent) == 1:
            self.again_wanted.emit(recent[0])
            return
        menu = self._menu_of([(path, path.stem) for path in recent], self.again_wanted)
        menu.popup(self.again_door.mapToGlobal(self.again_door.rect().bottomLeft()))

    def _menu_of(self, offered: list[tuple[Path, str]], wanted: object) -> QMenu:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for path, words in offered:
            action = menu.addAction(words.replace("&", "&&"))
            action.triggered.connect(lambda _=False, path=path: wanted.emit(path))  # type: ignore[attr-defined]
        if menu.actions():
            menu.setActiveAction(menu.actions()[0])
        return menu


def title_of(path: Path) -> str:
    """The title of a sample day, as its file says it; else the file's name."""
    for line in path.read_text("utf-8").splitlines():
        word, _, said = line.partition("=")
        if word.strip() == "title":
            return said.strip().strip('"') or path.stem
    return path.stem
