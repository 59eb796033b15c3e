"""What was told of a day beside its stages, item by item, each with a word for it and the record without it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

from planner.day import Day
from planner.day.names import Names
from planner.plan.pieces import with_pieces
from planner.plan.progress import Progress
from planner.trade.units import show_clock, show_minutes

Value = TypeVar("Value")


@dataclass(frozen=True)
class ToldItem:
    """One thing that was told: the word by which a command takes it back, what it says, and the record without it."""

    word: str
    says: str
    without: Progress


def told_items(day: Day, progress: Progress) -> Iterator[ToldItem]:
    """All that was told of a day but for what became of its stages; each can be taken back."""
    names, p = Names(with_pieces(day, progress)), progress
    for job, minute in p.arrived.items():
        left = replace(p, arrived=_less(p.arrived, job))
        yield ToldItem(f"arrived={job}", f"the van got to {names.job(job)} at {show_clock(minute)}", left)
    for hand, minute in p.gone.items():
        left = replace(p, gone=_less(p.gone, hand))
        yield ToldItem(f"gone={hand}", f"{names.hand(hand)} went home at {show_clock(minute)}", left)
    if p.rain is not None:
        until = "" if p.rain_until is None else f" to {show_clock(p.rain_until)}"
        yield ToldItem("rain", f"rain from {show_clock(p.rain)}{until}", replace(p, rain=None, rain_until=None))
    fetched = {fetch.kit: fetch for fetch in p.fetches}
    for kit, ends in p.lacking.items():
        fetch = fetched.get(kit)
        left = replace(p, lacking=_less(p.lacking, kit), fetches=tuple(x for x in p.fetches if x.kit != kit))
        if fetch is not None:
            left = replace(left, back={h: m for h, m in p.back.items() if (h, m) != (fetch.hand, fetch.back)})
            yield ToldItem(f"fetch={kit}", f"{names.hand(fetch.hand)} fetches {names.kit(kit)}", left)
        else:
            yield ToldItem(f"without={kit}", f"no {names.kit(kit)}{_before(ends)}", left)
    for hand, minute in p.back.items():
        if p.is_fetching(hand):
            continue
        left = replace(p, back=_less(p.back, hand))
        yield ToldItem(f"late={hand}", f"{names.hand(hand)} is there from {show_clock(minute)}", left)
    for x in p.behind:
        left = replace(p, behind=tuple(y for y in p.behind if y != x))
        yield ToldItem(f"stays={x.job}.{x.kit}", f"{names.kit(x.kit)} stays at {names.job(x.job)}", left)
    for material, ends in p.run_out.items():
        left = replace(p, run_out=_less(p.run_out, material))
        yield ToldItem(f"out-of={material}", f"no more {names.material(material)}{_before(ends)}", left)
    for job, ends in p.nobody_in.items():
        left = replace(p, nobody_in=_less(p.nobody_in, job))
        yield ToldItem(f"nobody-in={job}", f"nobody in at {names.job(job)}{_before(ends)}", left)
    for job, supply in p.no_supply:
        left = replace(p, no_supply=tuple(x for x in p.no_supply if x != (job, supply)))
        yield ToldItem(f"no-{supply}={job}", f"no {supply} at {names.job(job)}", left)
    for more in p.more:
        left = replace(p, more=tuple(x for x in p.more if x != more))
        name = names.stage(more.job, more.stage)
        word = f"more={more.job}.{more.stage}"
        yield ToldItem(word, f"{show_minutes(more.minutes)} more of '{name}'", left)


def _less(table: dict[str, Value], key: str) -> dict[str, Value]:
    return {k: value for k, value in table.items() if k != key}


def _before(until: int | None) -> str:
    return "" if until is None else f" before {show_clock(until)}"
