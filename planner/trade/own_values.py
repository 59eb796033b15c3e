"""The user's own values of the trade, looked at as a whole: where they do not hold, all that is wrong is said.

A slip in that one file must keep nobody from planning tomorrow: while anything in it is wrong, the shipped values are
used, and that is said.
"""

import re
import tempfile
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

from planner.trade import trade_tables
from planner.trade.cautions import all_cautions
from planner.trade.chemicals import chemicals
from planner.trade.known_words import unknown_words
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
    checks: tuple[Callable[[], object], ...] = (library, all_cautions, chemicals, _all_limits, _ours, _known)
    said: list[str] = []
    for check in checks:
        try:
            check()
        except ValueError as fault:
            said += str(fault).splitlines()
        except (KeyError, TypeError, AttributeError) as fault:
            said.append(f"{path}: a part of it is not written as in the shipped tables ({fault})")
    if said:
        trade_tables.leave_out(state)
    return tuple(dict.fromkeys(_with_line(words, path) for words in said))


def what_would_not_hold(text: str) -> tuple[str, ...]:
    """All that would be wrong with a text in place of what the user's file holds."""
    path = trade_tables.user_file()
    with tempfile.TemporaryDirectory() as folder:
        tried = Path(folder) / path.name
        tried.write_text(text, encoding="utf-8")
        with trade_tables.looking_at(tried):
            return tuple(words.replace(str(tried), str(path)) for words in what_does_not_hold())


def _ours() -> None:
    ours_in(trade_tables.own_tables())


def _known() -> None:
    if faults := list(unknown_words(trade_tables.own_tables())):
        raise ValueError("\n".join(faults))


def _all_limits() -> None:
    for country in trade_tables.table("limits"):
        limits(country)


def _with_line(words: str, path: str) -> str:
    """A fault with the line that it names, or on which the place that it names stands."""
    told = words.removeprefix(f"{path}: ")
    by_reader = re.search(r" \(at line (\d+), column \d+\)$", told)
    if by_reader:
        return f"{path}:{by_reader[1]}: {told[: by_reader.start()]}"
    try:
        line = line_of(told.split(" ")[0].strip("[]"), trade_tables.text_of_user_file())
    except ValueError:
        line = 0
    return f"{path}:{line}: {told}" if line else f"{path}: {told}"


def line_of(place: str, text: str) -> int:
    """The line of a dotted place in a TOML text, or of the nearest thing around it; 0 where there is none."""
    wanted, header = place.split("."), list[str]()
    best, found = 0, 0
    for number, row in enumerate(text.splitlines(), start=1):
        row = row.strip()
        if row.startswith("["):
            header = _names(row.strip("[] "))
            here = header
        elif "=" in row and not row.startswith("#"):
            here = [*header, *_names(row.partition("=")[0])]
        else:
            continue
        same = here[: len(wanted)] == wanted[: len(here)]  # a table may be named by what stands within it alone
        if same and min(len(here), len(wanted)) > best:
            best, found = min(len(here), len(wanted)), number
    return found


def _names(dotted: str) -> list[str]:
    return [name.strip().strip("\"'") for name in dotted.split(".")]
