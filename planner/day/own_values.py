"""The user's own values of the trade, looked at as a whole: where they do not hold, all that is wrong is said.

A slip in that one file must keep nobody from planning tomorrow: while anything in it is wrong, the shipped values are
used, and that is said.
"""

import re
import tempfile
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

from pydantic import ValidationError

from planner.day.faults import Where
from planner.day.lines import line_of, lines_of
from planner.day.plain_words import faults_of
from planner.day.trade_words import TABLES, trade
from planner.day.words import FILE
from planner.trade import trade_tables
from planner.trade.cautions import all_cautions
from planner.trade.chemicals import chemicals
from planner.trade.library import library
from planner.trade.limits import limits
from planner.trade.ours import ours_in

MEANWHILE = "the shipped values are used meanwhile"
"""What is said after the faults."""


def what_does_not_hold() -> tuple[str, ...]:
    """All faults of the user's file, with their lines; none when there is no such file.

    As long as there are any and the file is not changed, every table of the trade is the shipped one.
    """
    state = trade_tables.state_of_user_file()
    return () if state is None else _faults(str(trade_tables.user_file()), state)


@lru_cache(maxsize=8)
def _faults(path: str, state: trade_tables.State) -> tuple[str, ...]:
    trade_tables.take_in(state)
    said: list[str] = []
    places: set[str] = set()
    checks: tuple[Callable[[], object], ...] = (_words, library, all_cautions, chemicals, _all_limits, _ours)
    for check in checks:
        try:
            check()
        except ValueError as fault:
            found = [words.removeprefix(f"{path}: ") for words in str(fault).splitlines()]
            said += [words for words in found if _place(words) not in places]
            if check is _words:  # what is of another kind is no name that could be found either
                places = {_place(words) for words in found}
        except (KeyError, TypeError, AttributeError) as fault:
            if not said:  # else it comes of what is told
                said.append(f"a part of it is not written as in the shipped tables ({fault})")
    if not said:
        return ()
    trade_tables.leave_out(state)
    lines = _lines()
    rows = sorted(((_line(words, lines), words) for words in dict.fromkeys(said)), key=lambda row: row[0])
    return tuple(f"{path}:{line}: {_BY_READER.sub('', words)}" if line else f"{path}: {words}" for line, words in rows)


def what_would_not_hold(text: str) -> tuple[str, ...]:
    """All that would be wrong with a text in place of what the user's file holds."""
    path = trade_tables.user_file()
    with tempfile.TemporaryDirectory() as folder:
        tried = Path(folder) / path.name
        tried.write_text(text, encoding="utf-8")
        with trade_tables.looking_at(tried):
            return tuple(words.replace(str(tried), str(path)) for words in what_does_not_hold())


def _words() -> None:
    """Every entry that the user's file touches has the words of its table alone, each with its kind of value."""
    own = {name: table for name, table in trade_tables.own_tables().items() if name in TABLES}
    said = []
    for name in own:
        try:
            trade_tables.table(name)
        except ValueError as fault:
            said += str(fault).splitlines()
    tables = {name: table for name, table in own.items() if isinstance(table, dict)}
    laid = {name: trade_tables.laid_over(name, table) for name, table in tables.items()}
    touched = {name: {entry: laid[name][entry] for entry in table} for name, table in tables.items()}
    model = trade(touched)
    try:
        model.model_validate(touched, context=FILE)
    except ValidationError as error:
        said += [f"{trade_tables.user_file()}: {fault}" for fault in faults_of(error, model)]
    if said:
        raise ValueError("\n".join(said))


def _ours() -> None:
    ours_in(trade_tables.own_tables())


def _all_limits() -> None:
    for country in trade_tables.table("limits"):
        limits(country)


def _lines() -> dict[Where, int]:
    """Of every place in the user's file; none where it is no TOML, which may be nested as deep as it likes."""
    try:
        trade_tables.own_tables()
        return lines_of(trade_tables.text_of_user_file())
    except ValueError:
        return {}


_BY_READER = re.compile(r" \(at line (\d+), column \d+\)$")

_PLACE = re.compile(r"""\[?((?:"[^"]*"|[^\s:."\[\]]+)(?:\.(?:"[^"]*"|[^\s:."\[\]]+)|\[\d+\])*)""")
"""A place as faults begin with it: ``sites."by the pavement".hazards[0]``."""


def _place(told: str) -> str:
    found = _PLACE.match(told)
    return found[1] if found else ""


def _line(told: str, lines: dict[Where, int]) -> int:
    """The line that a fault names, or on which the place that it names stands; 0 where neither is so."""
    if by_reader := _BY_READER.search(told):
        return int(by_reader[1])
    parts = re.findall(r'"[^"]*"|\[\d+\]|[^."\[\]]+', _place(told))
    place = tuple(int(part[1:-1]) if part[0] == "[" else part.strip('"') for part in parts)
    return line_of(place, lines) or 0
