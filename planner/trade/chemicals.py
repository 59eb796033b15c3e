"""Chemicals that must never meet, on a surface or in a container, without a thorough rinse between.

The table ``chemicals`` names classes ("acid", "hypochlorite"), the names they go by, and the pairs that must
stay apart. It is a reminder: a product's label and safety data sheet come first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from planner.trade import trade_tables


@dataclass(frozen=True, slots=True)
class Clash:
    """Two classes that must never meet, what comes of it, and why."""

    classes: frozenset[str]
    gives: str
    why: str
    source: str

    def __str__(self) -> str:
        one, other = sorted(self.classes)
        return f"{one} with {other} gives {self.gives}: {self.why}"


def listed(classes: tuple[str, ...]) -> str:
    """Two or more classes as one says them."""
    return f"{', '.join(classes[:-1])} or {classes[-1]}"


@dataclass(frozen=True, slots=True)
class Chemicals:
    """The table: every name with its class, the clashes between classes, and names that may be of several classes.

    ``corrosive`` are the classes for which rinse water is kept at hand; ``burns`` those that burn skin and eyes in the
    mix that is put on, so that nobody is below while it runs down and drips.
    """

    names: Mapping[str, str]
    clashes: tuple[Clash, ...]
    unclear: Mapping[str, tuple[str, ...]]
    corrosive: frozenset[str]
    burns: frozenset[str]

    def class_of(self, chemical: str) -> str:
        """The class that a chemical belongs to, by class or by any name it goes by.

        Raises `ValueError` for a name that is not in the table, or that products of several classes go by: what is not
        known must not pass as harmless.
        """
        found = self.names.get(_plain(chemical))
        if found is None and (may_be := self.unclear.get(_plain(chemical))):
            right = "give its class from its label or safety data sheet"
            raise ValueError(f"'{chemical}' may be {listed(may_be)}; {right}")
        if found is None:
            known = ", ".join(sorted(set(self.names.values())))
            raise ValueError(
                f"'{chemical}' is not in the table of chemicals; give its class ({known}) from its safety data sheet"
            )
        return found

    def is_unclear(self, chemical: str) -> bool:
        """Whether products of several classes go by this name."""
        return _plain(chemical) in self.unclear and _plain(chemical) not in self.names

    def may_be(self, chemical: str) -> tuple[str, ...]:
        """The classes of the products that go by such a name; none where it is clear."""
        return self.unclear[_plain(chemical)] if self.is_unclear(chemical) else ()

    def clash(self, one: str, other: str) -> Clash | None:
        """What stands against two chemicals meeting; None when nothing in the table does."""
        both = frozenset((self.class_of(one), self.class_of(other)))
        return next((clash for clash in self.clashes if clash.classes == both), None)

    def may_meet(self, one: str, other: str) -> bool:
        """Whether nothing in the table stands against two chemicals meeting; the order does not matter."""
        return self.clash(one, other) is None


def chemicals() -> Chemicals:
    """Read the table, with the user's own additions.

    Raises
    ------
    ValueError
        When an addition is incomplete, or names a class that does not exist.
    """
    return _read(*trade_tables.own_state())


@lru_cache(maxsize=8)
def _read(_file: Path, _state: trade_tables.State) -> Chemicals:
    """The table while the user's file is in that state; checking a plan asks for it at every other stage."""
    table = trade_tables.table("chemicals")
    names: dict[str, str] = {}
    for key, entry in table["classes"].items():
        place = f"chemicals.classes.{key}"
        _require_table(entry, place)
        for name in (key, trade_tables.text(entry, "name", place), *_texts(entry.get("also", []), f"{place}.also")):
            if names.setdefault(_plain(name), key) != key:
                where = f"{trade_tables.user_file()}: {place}"
                raise ValueError(f"{where}: '{name}' already belongs to {names[_plain(name)]}")
    unclear = {_plain(name): _classes(name, may_be, table["classes"]) for name, may_be in _unclear(table)}
    return Chemicals(
        names,
        tuple(_clash(k, e, table["classes"]) for k, e in table["pairs"].items()),
        unclear,
        *(
            frozenset(key for key, entry in table["classes"].items() if entry.get(word) is True)
            for word in ("corrosive", "burns")
        ),
    )


def _unclear(table: dict[str, Any]) -> list[tuple[str, Any]]:
    entry = table.get("unclear", {})
    _require_table(entry, "chemicals.unclear")
    return list(entry.items())


def _classes(name: str, may_be: Any, classes: dict[str, Any]) -> tuple[str, ...]:
    place = f'chemicals.unclear."{name}"'
    for one in _texts(may_be, place):
        if one not in classes:
            right = trade_tables.nearest_or_all(one, classes)
            raise ValueError(f"{trade_tables.user_file()}: {place} names the unknown class '{one}'; {right}")
    return tuple(may_be)


def _clash(key: str, entry: Any, classes: dict[str, Any]) -> Clash:
    place = f"chemicals.pairs.{key}"
    _require_table(entry, place)
    # The pair is its key, so that no value of the user's own file can take a shipped pair out.
    pair = frozenset(key.split("-"))
    if len(pair) != 2 or not pair <= classes.keys():
        must = f"{place} must be named for two classes, as acid-alkali, of {', '.join(classes)}"
        raise ValueError(f"{trade_tables.user_file()}: {must}")
    gives, why = (trade_tables.text(entry, field, place) for field in ("gives", "why"))
    return Clash(pair, gives, why, trade_tables.text(entry, "source", place))


def _require_table(entry: Any, place: str) -> None:
    if not isinstance(entry, dict):
        raise ValueError(f"{trade_tables.user_file()}: {place} must be a table")


def _texts(values: Any, place: str) -> list[str]:
    if not isinstance(values, list) or not all(isinstance(value, str) for value in values):
        raise ValueError(f"{trade_tables.user_file()}: {place} must be a list of texts")
    return values


def _plain(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split())
