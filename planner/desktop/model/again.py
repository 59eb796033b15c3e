"""A day copied to another date."""

import datetime as dt

from planner.desktop.model.draft import Change, Draft

FORECAST = ("weather", "weather_file")
"""What belongs to one date alone."""


def day_again(draft: Draft, date: dt.date) -> Draft:
    """The same day on another date; its forecast was another date's, and stays behind."""
    changes: list[Change] = [Change((word,), None) for word in FORECAST if draft.written_at((word,)) is not None]
    return Draft(draft.changed([*changes, Change(("date",), date)]).text)
