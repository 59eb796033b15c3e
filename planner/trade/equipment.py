"""The kit and material at hand on a day: the library's, with the day's own figures laid over them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from copy import deepcopy
from dataclasses import dataclass

from planner.trade.library import EQUIPMENT_WORDS
from planner.trade.library_parts import Library
from planner.trade.trade_tables import Table, table_in, texts_in


@dataclass(frozen=True)
class Equipment:
    """What there is to work with.

    Attributes
    ----------
    kit, materials
        Tables by key.
    missing
        Kit that is left at home or not owned.
    hands
        How many hands there are.
    """

    kit: dict[str, Table]
    materials: dict[str, Table]
    missing: frozenset[str]
    hands: int

    @classmethod
    def of_day(cls, tables: Table, shipped: Library, left_at_home: Iterable[str]) -> Equipment:
        """The library's equipment as a day file's tables have it."""
        kit = _laid_over(shipped.kit, table_in(tables, "kit"))
        not_owned = [key for key, piece in kit.items() if piece.get("own", 1) == 0]
        materials = _laid_over(shipped.materials, table_in(tables, "materials"))
        hands = max(1, len(table_in(tables, "hands")))
        return cls(kit, materials, frozenset([*left_at_home, *not_owned]), hands)

    def closure(self, keys: Iterable[str]) -> list[str]:
        """The kit and all that it needs, each once."""
        found: list[str] = []
        waiting = list(keys)
        while waiting:
            key = waiting.pop(0)
            if key not in found:
                found.append(key)
                waiting += texts_in(self.kit.get(key, {}), "needs")
        return found

    def away(self, keys: Iterable[str]) -> list[str]:
        """Which of the kit, or of what it needs, is left at home or not owned."""
        return [key for key in self.closure(keys) if key in self.missing]

    def supplies_for(self, keys: Iterable[str]) -> Counter[str]:
        """What the kit takes from its ground, and how much of each."""
        pieces = (self.kit.get(key, {}) for key in self.closure(keys))
        return Counter(supply for piece in pieces for supply in texts_in(piece, "supply"))

    def lacking(self, keys: Iterable[str], supplies: Table) -> list[str]:
        """The supplies of which the kit takes more than a ground has."""
        return [name for name, count in self.supplies_for(keys).items() if not has_supply(supplies, name, count)]

    def too_heavy(self, keys: Iterable[str], load_limit: float) -> list[str]:
        """The kit that is too much to carry for the hands there are, at so many armfuls each."""
        found = []
        for key in self.closure(keys):
            load, lift = (_number(self.kit.get(key, {}).get(word), 1.0) for word in ("load", "lift"))
            if lift > self.hands or load > lift * load_limit:
                found.append(key)
        return found

    def describe(self, tables: Table, shipped: Library, kit: Iterable[str], materials: Iterable[str]) -> None:
        """Write into a day's tables what they use and do not describe, or describe in part."""
        wanted = (
            ("kit", shipped.kit, self.kit, self.closure(kit)),
            ("materials", shipped.materials, self.materials, list(materials)),
        )
        for word, known, full, used in wanted:
            own = tables.get(word, {})
            if not isinstance(own, dict):
                continue  # the validation says what is wrong with it
            for key in dict.fromkeys([*used, *own]):
                if key in known and isinstance(own.get(key, {}), dict):
                    said = {name: value for name, value in full[key].items() if name not in EQUIPMENT_WORDS}
                    own[key] = deepcopy(said)
            if own:
                tables[word] = own


def has_supply(supplies: Table, name: str, count: int = 1) -> bool:
    """Whether a ground has so much of a supply."""
    value = supplies.get(name, 0)
    return isinstance(value, int) and value >= count


def _number(value: object, otherwise: float) -> float:
    return float(value) if isinstance(value, int | float) else otherwise


TAKES = ("needs", "supply")
"""What a piece takes is said as a whole: a day that says a part of it has said all of it."""


def _laid_over(shipped: dict[str, Table], own: Table) -> dict[str, Table]:
    """Every table, with the day's own values in place of the shipped ones; only tables count."""
    laid = {}
    for key, table in own.items():
        if isinstance(table, dict):
            told = any(word in table for word in TAKES)
            below = {name: x for name, x in shipped.get(key, {}).items() if not (told and name in TAKES)}
            laid[key] = {**below, **table}
    return {**shipped, **laid}
