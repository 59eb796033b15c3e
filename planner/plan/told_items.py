"""What was told of a day beside its stages, item by item, each with a word for it and the record without it.

What was given up for an item, as that kept it from being done, is not given up any more in the record without it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

from planner.day import Day
from planner.day.names import Names, listed
from planner.plan.hindered import cannot_be_done, needs_it_just_before
from planner.plan.pieces import with_pieces
from planner.plan.progress import GivenUpFor, Progress
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
    names = Names(with_pieces(day, progress))
    for item in _items(names, progress):
        back = _back_with(progress, item.word)
        left = replace(item.without, given_up_for=tuple(x for x in progress.given_up_for if x.word != item.word))
        left = replace(left, dropped=tuple(x for x in left.dropped if x not in back))
        with_it = listed([f"'{names.stage(*stage)}'" for stage in back])
        yield ToldItem(item.word, f"{item.says} (given up for it: {with_it})" if back else item.says, left)


def with_causes(day: Day, before: Progress, after: Progress) -> Progress:
    """A record that says of what was given up since another what it was given up for, by what was told.

    That is what keeps it from being done at all; with it goes what must come just after it, and what it takes off.

    Parameters
    ----------
    day
        The day as its file says.
    before, after
        The record as it was, and as it is.
    """
    whole = with_pieces(day, after)
    known = {(j, s) for j, s, _ in whole.stages()}
    new = [(j, s) for j, s in after.dropped if (j, s) not in before.dropped and (j, s) in known]
    causes: dict[tuple[str, str], set[str]] = {}
    for word in [item.word for item in told_items(day, after)] if new else ():
        alone = _alone(day, after, word)
        kept = {(j, s) for j, s in new if cannot_be_done(whole, alone, j, s)}
        for job, stage in new:
            gone = [s for j, s in kept if j == job]
            waits = [w.after for w in whole.jobs[job].waits if w.before in gone and w.kind == "dwell"]
            if stage in (*gone, *waits, *(x for s in gone for x in needs_it_just_before(whole.jobs[job], s))):
                causes.setdefault((job, stage), set()).add(word)
    found = tuple(GivenUpFor(*stage, word) for stage, words in causes.items() for word in sorted(words))
    return replace(after, given_up_for=tuple(dict.fromkeys((*after.given_up_for, *found))))


def _alone(day: Day, progress: Progress, word: str) -> Progress:
    """The record in which of all that was told beside stages only one item is left."""
    while others := [item for item in told_items(day, progress) if item.word != word]:
        progress = others[0].without
    return progress


def _back_with(progress: Progress, word: str) -> list[tuple[str, str]]:
    """What is given up for one thing that was told, and for nothing else; what was told to be off stays off."""
    causes: dict[tuple[str, str], set[str]] = {}
    for x in progress.given_up_for:
        causes.setdefault((x.job, x.stage), set()).add(x.word)
    back = [stage for stage in progress.dropped if causes.get(stage) == {word}]
    return [stage for stage in back if (note := progress.of_stage(*stage)) is None or note.end is None]


def _items(names: Names, p: Progress) -> Iterator[ToldItem]:
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
