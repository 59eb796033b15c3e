"""Cautions for the tags that stages, kit and jobs carry: reminders, always in the same order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from planner.trade import trade_tables

DEFERS = (
    "These are reminders only. Local law and codes, product labels and safety data sheets, and licensed "
    "practice come first."
)
"""The line that goes with every list of cautions."""


KEPT_DRY = "kept-dry"
"""The tag of kit that may not stand in the wet: what has a motor and is not made for it. A rule of plans sees to it, so
that it needs no caution of its own beside that of electricity."""


@dataclass(frozen=True, slots=True)
class Caution:
    """A reminder, and what calls for it besides its tag.

    Attributes
    ----------
    tag, title, text, source
        What calls for it, a short title, what to mind, and where that comes from.
    bring
        What must be in the van when it is called for.
    always
        Whether every day calls for it.
    from_air, to_air
        Air in C at or above, at or below which the forecast calls for it.
    """

    tag: str
    title: str
    text: str
    source: str
    bring: tuple[str, ...] = ()
    always: bool = False
    from_air: float | None = None
    to_air: float | None = None

    def is_called_for_by_air(self, air_c: float) -> bool:
        """Whether air of so many C calls for it."""
        return (self.from_air is not None and air_c >= self.from_air) or (
            self.to_air is not None and air_c <= self.to_air
        )


def all_cautions() -> tuple[Caution, ...]:
    """Every caution, the gravest first as the table ``cautions`` has them, the user's own last.

    Raises
    ------
    ValueError
        When one of the user's own lacks its title, text or source.
    """
    found = []
    for tag, entry in trade_tables.table("cautions").items():
        place = f"cautions.{tag}"
        if not isinstance(entry, dict):
            raise ValueError(f"{trade_tables.user_file()}: {place} must be a table with title, text and source")
        title, text, source = (trade_tables.text(entry, field, place) for field in ("title", "text", "source"))
        bring = tuple(trade_tables.texts(entry, "bring", place))
        air = (trade_tables.degrees(entry, field, place) for field in ("from_air", "to_air"))
        found.append(Caution(tag, title, text, source, bring, entry.get("always") is True, *air))
    return tuple(found)


def cautions_for(tags: Iterable[str]) -> tuple[Caution, ...]:
    """The cautions that a set of tags calls for, each once, in the order of the table."""
    wanted = set(tags)
    return tuple(caution for caution in all_cautions() if caution.tag in wanted)


def without_caution(tags: Iterable[str]) -> tuple[str, ...]:
    """The tags that no caution knows, sorted: a slip of the pen there would lose a caution in silence."""
    return tuple(sorted(set(tags) - {caution.tag for caution in all_cautions()} - {KEPT_DRY}))
