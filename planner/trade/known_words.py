"""The words that an entry of the trade's tables may have: any other in the user's file is a slip, as in a day file.

Kit, material and methods have the words of a day file and a few of their own, to choose and reckon with.
"""

from collections.abc import Iterator
from typing import Any

from planner.trade import trade_tables
from planner.trade.library import EQUIPMENT_WORDS, METHOD_WORDS, nearest_or_all

KIT = (
    "name", "own", "load", "lift", "mass", "set_up", "pack_down", "rinse_out", "needs", "supply", "may_stay", "wheels",
    "water", "vibration", "noise", "wear", "attachments", "group", "tags", *EQUIPMENT_WORDS,
)  # fmt: skip
MATERIALS = (
    "name", "container", "load", "mass", "empty", "holds_kg", "holds_litres", "shared", "water", "group", "tags",
    *EQUIPMENT_WORDS,
)  # fmt: skip
METHODS = (
    "name", "kit", "hands", "minutes", "rate", "factor", "spread", "trigger", "uses", "expected", "leaves",
    "consumables", "notes", "source", *METHOD_WORDS,
)  # fmt: skip
CAUTIONS = ("title", "text", "source", "bring", "always", "from_air", "to_air")


def unknown_words(own: dict[str, Any]) -> Iterator[str]:
    """What is wrong with the words of kit, material, methods and cautions in the tables of a user's file."""
    entries: list[tuple[str, dict[str, Any], tuple[str, ...]]] = []
    entries += [(f"{table}.{name}", entry, words) for table, words in _FLAT for name, entry in _tables(own, table)]
    for kind, methods in _tables(own, "methods"):
        entries += [(f"methods.{kind}.{name}", entry, METHODS) for name, entry in _tables({kind: methods}, kind)]
    for place, entry, words in entries:
        for word in entry:
            if word not in words:
                right = nearest_or_all(word, words)
                yield f"{trade_tables.user_file()}: {place}.{word} is no word of it; {right}"


_FLAT: tuple[tuple[str, tuple[str, ...]], ...] = (("kit", KIT), ("materials", MATERIALS), ("cautions", CAUTIONS))


def _tables(table: dict[str, Any], name: str) -> list[tuple[str, dict[str, Any]]]:
    """The tables under a name; what is of another kind is told elsewhere."""
    found = table.get(name)
    return [(k, x) for k, x in found.items() if isinstance(x, dict)] if isinstance(found, dict) else []
