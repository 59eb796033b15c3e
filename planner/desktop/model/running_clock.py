"""The clock of the machine, as a minute of the day."""

from PySide6.QtCore import QTime


def clock_now() -> int:
    """The minute of the day."""
    now = QTime.currentTime()
    return now.hour() * 60 + now.minute()
