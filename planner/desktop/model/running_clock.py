"""The clock of the machine, as a minute of the day."""

import datetime as dt

from PySide6.QtCore import QTime


def clock_now() -> int:
    """The minute of the day."""
    now = QTime.currentTime()
    return now.hour() * 60 + now.minute()


def now_on(date: dt.date, now: int) -> int | None:
    """The minute that it is on a day, by the clock; None on any other day than today, of which all may be told."""
    return now if date == dt.date.today() else None
