"""A hand's order as it is printed: one entry for what is done in one go, and nothing told twice in a row.

The order has a row for each duty. On paper, a turn at the van (pack down, out, in, set up) is one entry, a drive heads
the visit that it leads to, and kit and place are named where they change.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from planner.sheet.papers.hand_order import FREE_FROM, Order, OrderPart, OrderRow
from planner.sheet.wording import told_in_a_row

EntryKind = Literal["visit", "crossing", "chore", "stage", "rest"]

TURN = ("in", "out", "set up", "pack down", "lay", "lift")
CHORES = ("set up", "pack down")
REST = ("break", "free")
STRONG = ("stage", "in", "out")


@dataclass(frozen=True, slots=True)
class Phrase:
    """One duty of an entry: when it begins where that is not when the entry does, what is done, and with what."""

    what: str
    kit: str = ""
    start: int | None = None
    is_strong: bool = False


@dataclass(frozen=True, slots=True)
class AgendaEntry:
    """What is done in one go, ``start`` and ``end`` in minutes of the day; None where a visit begins without a drive.

    An entry of kind "crossing" holds at least one leg of a crossing, one of kind "visit" heads a visit or is the drive
    home. What is ``to_do`` gets a tick box.
    """

    kind: EntryKind
    start: int | None
    end: int | None
    phrases: tuple[Phrase, ...]
    note: str = ""
    to_do: bool = True


@dataclass(frozen=True, slots=True)
class Agenda:
    """One hand's day in entries."""

    hand: str
    name: str
    entries: tuple[AgendaEntry, ...]


def agenda(order: Order) -> Agenda:
    """An order folded for paper."""
    entries = [entry for part in order.parts for entry in _entries(part)]
    return Agenda(order.hand, order.name, tuple(entries))


def _entries(part: OrderPart) -> Iterable[AgendaEntry]:
    """The head of a visit, then its duties."""
    rows = _brief(part.rows)
    if part.rows and part.rows[0].kind == "drive":
        yield _head(rows[0], part.title)
        rows = rows[1:]
    elif part.title:
        yield AgendaEntry("visit", None, None, (Phrase(part.title, is_strong=True),), to_do=False)
    for group in _groups(rows):
        yield _entry(group)


def _head(drive: OrderRow, title: str) -> AgendaEntry:
    return AgendaEntry("visit", drive.start, drive.end, (Phrase(drive.what), Phrase(title, is_strong=True)), drive.note)


def _brief(rows: Sequence[OrderRow]) -> list[OrderRow]:
    """The rows without what the one before or after has just named: kit, place, and the way in."""
    brief, place, named, crossed = [], "", "", ""
    for row, following in pairwise((*rows, None)):
        assert row is not None
        kit = row.kit
        if row.kind == "pack down" and following and (following.kind, following.kit) == ("out", kit):
            kit = ""  # it is named as it comes out
        elif row.kind in ("set up", "stage") and kit == named:
            kit = ""
        named = row.kit or named
        moved = row.place and row.place != place and row.kind not in ("drive", *REST)
        what = f"{row.place}: {row.what}" if moved and row.place not in row.what else row.what
        if row.kind in ("in", "out"):
            what, crossed = row.short if crossed == row.place else what, row.place
        place = "" if row.kind == "out" else row.place or place
        brief.append(replace(row, what=what, kit=kit))
    return brief


def _groups(rows: Sequence[OrderRow]) -> list[list[OrderRow]]:
    """Rows that are done in one go: a turn at the van, a stage with the setting up before it, and free time after."""
    groups: list[list[OrderRow]] = []
    for place, row in enumerate(rows):
        last = groups[-1][-1] if groups else None
        if last and row.start - last.end < FREE_FROM and _goes_with(groups[-1], row, rows[place:]):
            groups[-1].append(row)
        else:
            groups.append([row])
    return groups


def _goes_with(group: Sequence[OrderRow], row: OrderRow, rest: Sequence[OrderRow]) -> bool:
    """Whether a row belongs to the group before it; ``rest`` begins with the row."""
    kinds = {other.kind for other in group}
    if "drive" in kinds or "free" in kinds:
        return False
    if row.kind == "free":
        return True
    if row.kind == "stage":
        return kinds <= set(CHORES)
    if "stage" in kinds:  # what is packed down after a stage goes with it, unless it is the start of a turn at the van
        after = next((other.kind for other in rest if other.kind not in CHORES), "free")
        return row.kind == "pack down" and after in ("free", "break", "drive")
    return kinds <= set(TURN) and row.kind in TURN


def _entry(rows: list[OrderRow]) -> AgendaEntry:
    first = rows[0]
    phrases = tuple(_phrase(row, first) for row in rows)
    notes = told_in_a_row(row.note for row in rows)
    return AgendaEntry(_kind(rows), first.start, rows[-1].end, phrases, notes, any(row.to_do for row in rows))


def _phrase(row: OrderRow, first: OrderRow) -> Phrase:
    what = "free" if row.kind == "free" and row is not first else row.what
    start = None if row.start == first.start else row.start
    return Phrase(what, row.kit, start, row.kind in STRONG)


def _kind(rows: list[OrderRow]) -> EntryKind:
    kinds = {row.kind for row in rows}
    if kinds & {"in", "out"}:
        return "crossing"
    if kinds <= set(REST):
        return "rest"
    return "stage" if "stage" in kinds else "visit" if "drive" in kinds else "chore"
