"""Dates by the clock of the machine."""

import datetime as dt

from PySide6.QtCore import QDate


def today() -> dt.date:
    """This day."""
    date = QDate.currentDate()
    return dt.date(date.year(), date.month(), date.day())


def tomorrow() -> dt.date:
    """The day after this."""
    return today() + dt.timedelta(days=1)
