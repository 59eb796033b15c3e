"""A plan on a terminal: the verdict, each hand's order, the waits and what fills them, and what is proven."""

from itertools import zip_longest

from rich.cells import cell_len, set_cell_size
from rich.console import Console
from rich.padding import Padding
from rich.text import Text

from planner.cli.saying import harmless
from planner.day import Day
from planner.engine import saving
from planner.fit.verdict import why_not
from planner.plan.measures import latest_finish, measure
from planner.plan.not_needed import not_needed_words
from planner.plan.plan import Plan
from planner.plan.remarks import remarks
from planner.sheet.papers.hand_order import Order, OrderPart, OrderRow, orders
from planner.sheet.papers.waits import WaitRow, stage_notes, wait_rows
from planner.trade.units import show_clock, show_minutes

SIGNS = {
    "drive": "~~",
    "arrive": ">>",
    "leave": "<<",
    "in": "=>",
    "out": "<=",
    "set up": "+ ",
    "pack down": "- ",
    "lay": "[]",
    "lift": "][",
    "stage": "##",
    "break": "zz",
    "free": "  ",
}
"""What marks each kind of row: signs, so that the print can be told apart without colour."""


WAITS = " " * len("  00:00  ")
"""Before each line on a wait but its first, which has a clock there."""


def harmless_text(words: str, style: str = "") -> Text:
    """Words that may hold names from a file, for a console: markup and orders in them do nothing."""
    return Text(harmless(words), style=style)


def print_plan(console: Console, day: Day, plan: Plan) -> None:
    """Print all of a plan."""
    console.print(Text(verdict_line(day, plan), style="bold"))
    console.print(harmless_text(f"{day.title or 'The day'}, {day.date:%A %d %B %Y}"))
    for order in orders(day, plan, stage_notes(day, plan)):
        _print_order(console, order)
    _print_waits(console, wait_rows(day, plan))
    console.print()
    for line in closing_lines(day, plan):
        console.print(Text(line))


def verdict_line(day: Day, plan: Plan) -> str:
    """Fits with so much spare, or does not fit by so much; and what else is to be said of the plan."""
    spare = latest_finish(day) - plan.home
    crossings = measure(day, plan).restricted_crossings
    word = "crossing" if crossings == 1 else "crossings"
    home = f"home at {show_clock(plan.home)}, {crossings} restricted {word}"
    besides = harmless(remarks(day, plan))
    if spare < 0:
        return f"Does not fit by {show_minutes(-spare)}: {home}.{besides}"
    return f"Fits with {show_minutes(spare)} spare: {home}.{besides}"


def _print_order(console: Console, order: Order) -> None:
    console.print()
    console.print(Text(order.name, style="bold underline"))
    for part in order.parts:
        _print_part(console, part)


def _print_part(console: Console, part: OrderPart) -> None:
    console.print(Text(f"  {part.title}", style="bold"))
    clocks = [_clock(row) for row in part.rows]
    longs = [show_minutes(row.end - row.start) if row.end > row.start else "" for row in part.rows]
    wide, long = (max(map(len, column), default=0) for column in (clocks, longs))
    whats, notes = [_what(row) for row in part.rows], [row.note for row in part.rows]
    room = console.width - wide - long - 9  # two before, two of each sign, and two, two and one between
    what_wide, note_wide = _shared(room, *(max(map(cell_len, column), default=0) for column in (whats, notes)))
    lines = []
    for row, clock, minutes, what, note in zip(part.rows, clocks, longs, whats, notes, strict=True):
        style = {"in": "bold", "out": "bold", "free": "dim"}.get(row.kind, "")
        when, after = f"  {clock:{wide}}", f"  {SIGNS[row.kind]}  {minutes:>{long}}  "
        beside = zip_longest(_wrapped(console, what, what_wide), _wrapped(console, note, note_wide), fillvalue="")
        for number, (told, mind) in enumerate(beside):
            if number:
                when, after = " " * len(when), " " * len(after)
            told = set_cell_size(told, what_wide) if mind else told
            lines.append(Text.assemble((when, style), after, (told, style), f"  {mind}" if mind else ""))
    console.print(Text("\n").join(lines), no_wrap=True, overflow="ignore", crop=False)


def _shared(room: int, one: int, other: int) -> tuple[int, int]:
    """The widths of two columns that want so much: where there is no room for both, three parts and two of it."""
    if one + other + 2 <= room or not other:
        return min(one, max(room, 1)), other
    room = max(2, room - 2)
    first = max(1, min(one, max(room * 3 // 5, room - other)))
    return first, room - first


def _wrapped(console: Console, words: str, width: int) -> list[str]:
    """The lines of a text that are no wider than that."""
    if cell_len(words) <= width:
        return [words]
    return [line.plain.rstrip() for line in Text(words).wrap(console, width, overflow="fold")]


def _clock(row: OrderRow) -> str:
    until = f"-{show_clock(row.end)}" if row.end > row.start else ""
    return f"{show_clock(row.start)}{until}"


def _what(row: OrderRow) -> str:
    kit = f" ({row.kit})" if row.kit else ""
    place = f"{row.place}: " if row.place and row.kind not in ("drive", "free", "break") else ""
    return f"{place}{row.what}{kit}"


def _print_waits(console: Console, rows: tuple[WaitRow, ...]) -> None:
    if not rows:
        return
    console.print()
    console.print(Text("Waits", style="bold underline"))
    for row in rows:
        until = "" if row.not_after is None else f", not after {show_clock(row.not_after)}"
        words = f"After '{row.what}': '{row.next_what}' not before {show_clock(row.not_before)}{until}"
        words += f"; planned {show_clock(row.planned)}{f', {row.late}' if row.late else ''}"
        told = _wrapped(console, words, max(1, console.width - len(WAITS)))
        console.print(Text(f"\n{WAITS}".join([f"  {show_clock(row.begins)}  {told[0]}", *told[1:]])))
        for words in filter(None, (row.forecast, _meanwhile(row))):
            console.print(Padding(Text(words, style="dim"), (0, 0, 0, len(WAITS))))


def _meanwhile(row: WaitRow) -> str:
    if row.planned == row.begins:
        return ""
    return f"meanwhile: {'; '.join(row.meanwhile) or 'nothing: this wait is not filled'}"


def closing_lines(day: Day, plan: Plan) -> list[str]:
    """What was proven, what was saved, and what waits are not filled."""
    measures, proof = measure(day, plan), plan.proof
    lines = [f"Unfilled waiting {show_minutes(measures.unfilled)} of {show_minutes(measures.waiting)} waited."]
    lines += [harmless(words) for words in not_needed_words(day, plan)]
    if proof is None:
        return lines
    if proof.is_best:
        lines.append(
            f"Proven best: {proof.value} (minutes home and {day.crossing_price} for each restricted crossing)."
        )
    elif proof.overrun > proof.overrun_bound:
        lines.append(f"Does not fit by {show_minutes(proof.overrun)}{why_not(day, plan)}.")
    else:
        lines.append(
            f"Value {proof.value}, and no plan can be below {proof.bound}:"
            f" at most {proof.gap:.1%} from the best there is."
        )
    saved = saving(plan)
    if saved:
        lines.append(saved)
    return lines
