"""Quoted work: what was promised to a customer, kept until it is done."""

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal, get_args

from planner.record.database import Database, RecordFault

State = Literal["open", "planned", "done"]
"""Quoted and in no day yet; brought into a day; done."""

Measure = str | float | bool
"""A measure as the quote said it ("32 m2"), a plain number, or yes or no."""

MOST_PARTS = 200
"""Promises, pieces of work and measures in one quote."""

LONGEST_TEXT = 2000
"""Characters in one text of a quote."""


_WAY_ON = {
    "open": "bring it into a day first",
    "planned": "put it back among the open quotes first",
    "done": "add a new quote for new work",
}


class QuoteFault(RecordFault):
    """A quote cannot do what was asked of it."""

    doing = "the quote stays as it is"


@dataclass(frozen=True)
class QuotedWork:
    """One surface to be done by one recipe, with the measures that the recipe asks for."""

    recipe: str
    surface: str
    measures: Mapping[str, Measure] = field(default_factory=dict)

    def __post_init__(self) -> None:
        _check_texts(recipe=self.recipe, surface=self.surface)
        if len(self.measures) > MOST_PARTS:
            raise ValueError(
                f"'{self.surface}' has {len(self.measures)} measures; at most {MOST_PARTS} are kept"
            )
        for name, value in self.measures.items():
            if not isinstance(name, str) or not isinstance(value, str | int | float):
                raise ValueError(f"measure {name!r} is {value!r}; a text, a number, or yes or no is needed")
            if isinstance(value, float) and not math.isfinite(value):
                raise ValueError(f"measure '{name}' is {value}; a finite number is needed")
            _check_texts(measure=name, value=str(value))


@dataclass(frozen=True)
class Quote:
    """A job that was quoted.

    Attributes
    ----------
    customer, title
        Whose job it is, and what it is called.
    quoted_on
        The day of the quote.
    promises
        What was promised, item by item, in the customer's words.
    work
        What is to be done, so that the job can be brought into a day whole.
    state, day
        Where it stands, and the day it was brought into or done on; None while it is open.
    id
        Its number in the record; 0 until it is added.
    """

    customer: str
    title: str
    quoted_on: date
    promises: tuple[str, ...] = ()
    work: tuple[QuotedWork, ...] = ()
    state: State = "open"
    day: date | None = None
    id: int = 0

    def __post_init__(self) -> None:
        _check_texts(customer=self.customer, title=self.title)
        for words in self.promises:
            _check_texts(promise=words)
        if max(len(self.promises), len(self.work)) > MOST_PARTS:
            raise ValueError(f"'{self.title}' has too many parts; at most {MOST_PARTS} of each are kept")
        if self.state not in get_args(State):
            raise ValueError(f"state is '{self.state}'; one of {', '.join(get_args(State))} is needed")
        if (self.state == "open") != (self.day is None):
            raise ValueError(
                f"'{self.title}' is {self.state} with day {self.day}; only an open quote has no day"
            )


def add(database: Database, quote: Quote) -> Quote:
    """Add a quote with all that belongs to it; returns it with its number."""
    with database.writing() as connection:
        added = connection.execute(
            "INSERT INTO quotes (customer, title, quoted_on, state, day) VALUES (?, ?, ?, ?, ?)",
            (quote.customer, quote.title, quote.quoted_on.isoformat(), quote.state, _text(quote.day)),
        )
        number = int(added.lastrowid or 0)
        connection.executemany(
            "INSERT INTO promises VALUES (?, ?, ?)",
            [(number, place, words) for place, words in enumerate(quote.promises)],
        )
        connection.executemany(
            "INSERT INTO quoted_work VALUES (?, ?, ?, ?, ?)",
            [
                (
                    number,
                    place,
                    work.recipe,
                    work.surface,
                    json.dumps(dict(work.measures), ensure_ascii=False),
                )
                for place, work in enumerate(quote.work)
            ],
        )
    return one(database, number)


def one(database: Database, number: int) -> Quote:
    """The quote with a number. Raises `QuoteFault` when there is none."""
    found = _read(database, "id = ?", number)
    if not found:
        raise QuoteFault(
            database.path, f"there is no quote number {number}", "choose one from the list of quotes"
        )
    return found[0]


def in_state(database: Database, state: State) -> list[Quote]:
    """All quotes that stand there, the longest quoted first."""
    return _read(database, "state = ?", state)


def everything(database: Database) -> list[Quote]:
    """All quotes, the longest quoted first."""
    return _read(database, "?", 1)


def change_state(
    database: Database, number: int, state: State, day: date | None, *, only_from: tuple[State, ...]
) -> Quote:
    """Move a quote on or back, if it stands where ``only_from`` says; a done quote keeps its day.

    Raises `QuoteFault` when it stands elsewhere, perhaps because another window was quicker.
    """
    with database.writing() as connection:
        changed = connection.execute(
            "UPDATE quotes SET state = ?1, day = CASE ?1 WHEN 'done' THEN coalesce(day, ?2) ELSE ?2 END"
            " WHERE id = ?3 AND instr(?4, state) > 0",
            (state, _text(day), number, " ".join(only_from)),
        ).rowcount
    quote = one(database, number)
    if not changed:
        where = f"'{quote.title}' is {quote.state}" + (f" for {quote.day}" if quote.day else "")
        raise QuoteFault(database.path, where, _WAY_ON[quote.state])
    return quote


def _read(database: Database, condition: str, value: object) -> list[Quote]:
    """Quotes whole. ``condition`` is one of the fixed texts above, its value is passed apart."""
    rows = database.rows(f"SELECT * FROM quotes WHERE {condition} ORDER BY quoted_on, id", (value,))
    quotes = []
    for row in rows:
        number = (row["id"],)
        promises = database.rows("SELECT words FROM promises WHERE quote = ? ORDER BY position", number)
        work = database.rows(
            "SELECT recipe, surface, measures FROM quoted_work WHERE quote = ? ORDER BY position", number
        )
        try:
            quotes.append(
                Quote(
                    customer=row["customer"],
                    title=row["title"],
                    quoted_on=date.fromisoformat(row["quoted_on"]),
                    promises=tuple(promise["words"] for promise in promises),
                    work=tuple(QuotedWork(w["recipe"], w["surface"], _measures(w["measures"])) for w in work),
                    state=row["state"],
                    day=None if row["day"] is None else date.fromisoformat(row["day"]),
                    id=row["id"],
                )
            )
        except (TypeError, ValueError, RecursionError) as fault:
            raise RecordFault(
                database.path,
                f"row {row['id']} of the quotes: {fault}",
                "set the file aside and use its copy",
            ) from fault
    return quotes


def _measures(text: str) -> dict[str, Measure]:
    """Measures from their JSON, which is data and nothing else."""
    measures = json.loads(text)
    if not isinstance(measures, dict):
        raise ValueError("measures are no JSON object")
    return measures


def _text(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _check_texts(**texts: str) -> None:
    for name, text in texts.items():
        if not isinstance(text, str) or len(text) > LONGEST_TEXT:
            raise ValueError(f"{name} must be a text of at most {LONGEST_TEXT} characters")
