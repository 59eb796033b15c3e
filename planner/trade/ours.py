"""Whom and what a new day begins with: hands, yard, the van's tank and the hours, as the user's own file says them.

They stand in that file beside the tables of the trade, in the words of a day file: ``[hands.NAME]``, ``[yard]``,
``[van]``, ``[travel]`` and ``[usual]``. A day takes a copy when it is made, so any day may differ.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from copy import deepcopy
from typing import Any

from planner.trade import trade_tables, units

Table = dict[str, Any]

USUAL: dict[str, Table] = {
    "hands": {"hand-1": {"name": "Hand 1"}},
    "yard": {"name": "Our yard"},
    "van": {},
    "travel": {"speed": "35 km/h"},
    "usual": {"start": "07:30", "finish": "17:30", "crossing_price": "6 min"},
}
"""What is taken where the user's file says nothing."""

MOST_HANDS = 6
"""As many hands as a day may have."""


def ours() -> dict[str, Table]:
    """All of it; where the user's own file does not hold, what is usual."""
    _, state = trade_tables.own_state()
    if state is None:
        return deepcopy(USUAL)
    try:
        return ours_in(trade_tables.own_tables())
    except ValueError:  # told where the user's own values are looked at as a whole
        return deepcopy(USUAL)


def ours_in(own: Table) -> dict[str, Table]:
    """What the tables of a user's file say of it; of hands that are given no others are added.

    Raises
    ------
    ValueError
        With all that is wrong.
    """
    faults = list(faults_in(own))
    if faults:
        raise ValueError("\n".join(faults))
    made = deepcopy(USUAL)
    for section in trade_tables.OURS:
        if section == "hands":
            made[section] = deepcopy(own.get(section, {})) or made[section]
        else:
            made[section] |= deepcopy(own.get(section, {}))
    return made


def faults_in(own: Table) -> Iterator[str]:
    """All that is wrong with what a user's file says of hands, yard, van and hours."""
    hands = own.get("hands", {})
    for section in trade_tables.OURS:
        if not isinstance(own.get(section, {}), dict):
            yield f"{trade_tables.user_file()}: {section} must be a table [{section}]"
            return
    if len(hands) > MOST_HANDS:
        yield f"{trade_tables.user_file()}: hands holds {len(hands)}; a day takes {MOST_HANDS} at most"
    for name, hand in hands.items():
        if not isinstance(hand, dict):
            yield f"{trade_tables.user_file()}: hands.{name} must be a table [hands.{name}]"
            continue
        yield from _wrong(f"hands.{name}", hand, _OF_A_HAND)
    for section, words in (("yard", _OF_THE_YARD), ("van", _OF_THE_VAN), ("travel", _OF_TRAVEL), ("usual", _OF_A_DAY)):
        yield from _wrong(section, own.get(section, {}), words)


Read = Callable[[Any], object]


def _wrong(place: str, table: Table, words: dict[str, tuple[Read, str]]) -> Iterator[str]:
    for word, value in table.items():
        if word not in words:
            yield f"{trade_tables.user_file()}: {place}.{word} is no word of it; there are {', '.join(words)}"
            continue
        read, right = words[word]
        try:
            read(value)
        except (ValueError, TypeError, AttributeError):
            yield f"{trade_tables.user_file()}: {place}.{word} is {value!r}; write for example {right}"


def _text(value: Any) -> None:
    if not isinstance(value, str) or len(value) > 400:
        raise ValueError


def _number(value: Any) -> None:
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value < 1e6:
        raise ValueError


def _tick(value: Any) -> None:
    if not isinstance(value, bool):
        raise ValueError


def _span(value: Any) -> None:
    if not isinstance(value, list) or len(value) != 2 or not units.clock(value[0]) < units.clock(value[1]):
        raise ValueError


def _kilograms(value: Any) -> None:
    if not 0 < units.measure(value, "kg") <= 100:
        raise ValueError


def _break(value: Any) -> None:
    units.minutes(value["length"])


_OF_A_HAND: dict[str, tuple[Read, str]] = {
    "name": (_text, '"Robin"'),
    "cost_per_hour": (_number, "24"),
    "hours": (_span, '["07:30", "17:00"]'),
    "lifts": (_kilograms, '"25 kg"'),
    "own_transport": (_tick, "true"),
    "rest": (_break, '{ length = "30 min" }'),
}
_OF_THE_YARD: dict[str, tuple[Read, str]] = {"name": (_text, '"Our yard"')}
_OF_THE_VAN: dict[str, tuple[Read, str]] = {"tank": (lambda value: units.measure(value, "L"), '"300 L"')}
_OF_TRAVEL: dict[str, tuple[Read, str]] = {"speed": (lambda value: units.measure(value, "km/h"), '"35 km/h"')}
_OF_A_DAY: dict[str, tuple[Read, str]] = {
    "start": (units.clock, '"07:30"'),
    "finish": (units.clock, '"17:30"'),
    "crossing_price": (units.minutes, '"6 min"'),
}
