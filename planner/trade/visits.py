"""Usual values: what a visit takes beside the work, and the meal of a long day, as the table ``visits`` has them.

Arriving, leaving and the meal are written into a job or a day when it is made; a day file that says nothing of them
takes no time for them. How long kit is rinsed out counts where a day that needs it does not say, and room to begin
wherever sections are counted. Where the user's own file cannot be read, what is shipped is taken: recipes say what is
wrong with it.
"""

from collections.abc import Callable
from typing import Any

from planner.trade import trade_tables, units


def usual_coming_and_going() -> dict[str, str]:
    """The usual times for arriving and leaving, in the words of a job."""
    return {word: _minutes(word, "minutes") for word in ("arriving", "leaving")}


def usual_meal() -> dict[str, str]:
    """The usual meal, in the words of a day."""
    times = {word: _minutes("meal", word) for word in ("length", "once_over")}
    return times | {word: _clock("meal", word) for word in ("earliest", "latest")}


def usual_rinsing() -> int:
    """How long kit is usually rinsed out between two chemicals, in minutes."""
    return round(units.minutes(_minutes("rinsing_out", "minutes")))


def usual_room_to_begin() -> int:
    """Minutes that sections leave for a stage to begin in, within the bounds of the wait before it."""
    return round(units.minutes(_minutes("room_to_begin", "minutes")))


def _minutes(entry: str, word: str) -> str:
    return _said(entry, word, units.minutes)


def _clock(entry: str, word: str) -> str:
    return _said(entry, word, units.clock)


def _said(entry: str, word: str, read: Callable[[str], float]) -> str:
    """The user's value where it is one, else the shipped."""
    shipped = trade_tables.shipped("visits")
    for table in (_own, lambda: shipped):
        try:
            said = str(table()[entry][word])
            read(said)
        except (ValueError, KeyError, TypeError):
            continue
        return said
    raise KeyError(f"visits.{entry}.{word}")  # the shipped table lacks it


def _own() -> dict[str, Any]:
    return trade_tables.table("visits")
