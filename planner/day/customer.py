"""Whom a job is for."""

from planner.day.words import Key, Title, Words


class Customer(Words):
    """Whom we work for, what is said to them, and what was promised.

    ``at_home`` says whether somebody is in while we work; ``keeps`` are the materials of which they keep the rest.
    """

    name: Title = ""
    phone: Title = ""
    at_home: bool | None = None
    before: tuple[Title, ...] = ()
    handover: tuple[Title, ...] = ()
    after: tuple[Title, ...] = ()
    not_promised: tuple[Title, ...] = ()
    keeps: tuple[Key, ...] = ()
