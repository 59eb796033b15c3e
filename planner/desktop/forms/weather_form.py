"""The forecast of a day: taken from a file by a button, so that it is part of the day and needs no file any more."""

from pathlib import Path

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QFileDialog, QPushButton, QVBoxLayout, QWidget

from planner.day.layout import weather_tables
from planner.day.reading import read_forecast
from planner.day.safekeeping import FileFault
from planner.desktop.flow import Flow
from planner.desktop.model.again import FORECAST
from planner.desktop.model.draft import Change
from planner.desktop.model.open_day import OpenDay
from planner.desktop.plain import PlainLabel
from planner.trade.units import show_clock


class WeatherForm(QWidget):
    """What is known of the weather, and two buttons."""

    def __init__(self, open_day: OpenDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.open_day = open_day
        self._known, self._wrong = PlainLabel("", self), PlainLabel("", self)
        self._known.setProperty("role", "faint")
        self._wrong.setProperty("role", "wrong")
        for label in (self._known, self._wrong):
            label.setWordWrap(True)
        self.take_button = QPushButton("Take a forecast from a file …", self)
        self.leave_button = QPushButton("Without a forecast", self)
        row = Flow()
        row.addWidget(self.take_button)
        row.addWidget(self.leave_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._known)
        column.addWidget(self._wrong)
        column.addLayout(row)
        self.take_button.clicked.connect(self.on_take)
        self.leave_button.clicked.connect(self.on_leave)
        open_day.settled.connect(self.on_settled)
        self.on_settled()

    @property
    def words(self) -> str:
        """What is known of the weather."""
        return self._known.text()

    @property
    def wrong(self) -> str:
        """Why a file could not be taken."""
        return self._wrong.text()

    @Slot()
    def on_take(self) -> None:
        """A file is to be chosen."""
        names = "Forecasts (*.csv *.json);;All files (*)"
        name, _ = QFileDialog.getOpenFileName(self, "Take a forecast", self._folder(), names)
        if name:
            self.take(Path(name))

    def _folder(self) -> str:
        """Beside the day; where it is in no file yet, wherever files were looked for last."""
        return "" if self.open_day.path is None else str(self.open_day.path.parent)

    def take(self, path: Path) -> None:
        """Take the hours of a forecast into the day; what is wrong with the file is said below."""
        self._say("")
        date = self.open_day.draft.at(("date",))
        try:
            hours = read_forecast(path, date)
        except FileFault as fault:
            self._say(f"{path.name}: {fault.problem}; {fault.remedy}")
        except (ValueError, RecursionError, OverflowError) as fault:
            self._say(f"{path.name}: {fault}")
        else:
            if not hours:
                self._say(f"{path.name}: it has no hours of {date:%d %B %Y}; take the forecast of that date")
                return
            said = [Change((word,), None) for word in FORECAST if self.open_day.draft.written_at((word,)) is not None]
            self.open_day.change("Take a forecast", [*said, Change(("weather",), weather_tables(hours))])

    @Slot()
    def on_leave(self) -> None:
        """Nothing is to be known of the weather."""
        said = [Change((word,), None) for word in FORECAST if self.open_day.draft.written_at((word,)) is not None]
        self.open_day.change("Without a forecast", said)

    @Slot()
    def on_settled(self) -> None:
        """The day changed."""
        draft, day = self.open_day.draft, self.open_day.day
        file, rows = draft.written_at(("weather_file",)), draft.written_at(("weather",))
        words = "No forecast: waits take the minutes of their recipes, and no hour is closed by rain."
        if isinstance(file, str):
            words = f"From the file {file}, beside this day."
        elif rows and day is not None and day.weather:
            first, last = day.weather[0].minute, day.weather[-1].minute
            words = f"Known from {show_clock(first)} to {show_clock(last + 60)}."
        elif rows:
            words = f"{len(rows)} hours are known."
        self._known.setText(words)
        self.leave_button.setVisible(bool(file or rows))
        for button in (self.take_button, self.leave_button):
            button.setEnabled(not self.open_day.is_read_only)

    def _say(self, words: str) -> None:
        self._wrong.setText(words)
        self._wrong.setVisible(bool(words))
