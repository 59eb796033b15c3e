"""The run sheet as plain data: everything that is on the page that goes in the van, before it is laid out."""

import datetime as dt
import re
from dataclasses import dataclass, replace

from planner.day import Day
from planner.day.names import Names, plain
from planner.plan.exposed import working_hands
from planner.plan.not_needed import not_needed_from
from planner.plan.plan import Plan
from planner.sheet.papers.agenda import Agenda, agenda
from planner.sheet.papers.cautions import CautionNote, cautions_today, exposure_words
from planner.sheet.papers.customers import CustomerNotes, customer_notes
from planner.sheet.papers.hand_order import orders
from planner.sheet.papers.loading import LoadGroup, load_groups, quantities_by_job
from planner.sheet.papers.waits import WaitRow, stage_notes, wait_rows
from planner.sheet.wording import long_date, moment

DEFERRING = ("Follow the product's label", "Local law sets", "Local rules for", "Local rules come", "The local law ")
"""How a sentence begins that says no more than that law, rules and labels come first."""


@dataclass(frozen=True, slots=True)
class Head:
    """What one looks for first; times are in words."""

    title: str
    date: str
    verdict: str
    leaves: str
    home: str
    crossings: str
    hands: str


@dataclass(frozen=True, slots=True)
class Mixing:
    """What is to be mixed for a stage, and when it is needed."""

    job: str
    what: str
    mix: str
    needed: int


@dataclass(frozen=True, slots=True)
class QuotedItem:
    """An item in the customer's words, with the stages that do it and when each is done.

    ``missing`` is set when the plan holds none of its stages, so that nobody forgets it.
    """

    item: str
    stages: tuple[str, ...]
    missing: bool


@dataclass(frozen=True, slots=True)
class JobSheet:
    """What is on the sheet for one job, beside the order of the day."""

    job: str
    title: str
    customer: str
    quoted: tuple[QuotedItem, ...]
    quantities: tuple[str, ...]
    notes: CustomerNotes


@dataclass(frozen=True, slots=True)
class RunSheet:
    """The whole run sheet; every time in it is a minute of the day ``date``."""

    date: dt.date
    head: Head
    orders: tuple[Agenda, ...]
    waits: tuple[WaitRow, ...]
    mixing: tuple[Mixing, ...]
    jobs: tuple[JobSheet, ...]
    cautions: tuple[CautionNote, ...]
    exposure: tuple[str, ...]
    load: tuple[LoadGroup, ...]


def run_sheet(day: Day, plan: Plan, *, verdict: str = "") -> RunSheet:
    """The run sheet of a day and its checked plan, with a sentence on whether the day fits, if there is one."""
    jobs = dict.fromkeys(visit.job for visit in sorted(plan.visits, key=lambda v: v.arrive))
    return RunSheet(
        date=day.date,
        head=_head(day, plan, verdict),
        orders=tuple(agenda(order) for order in orders(day, plan, stage_notes(day, plan, ahead=False))),
        waits=wait_rows(day, plan),
        mixing=_mixing(day, plan),
        jobs=tuple(_job(day, plan, key) for key in jobs),
        cautions=tuple(_condensed(note) for note in cautions_today(day, plan)),
        exposure=tuple(exposure_words(day, plan, hand) for hand in working_hands(day, plan)),
        load=load_groups(day, plan),
    )


def _condensed(note: CautionNote) -> CautionNote:
    """A caution without the sentences that only say what `DEFERS` says under all of them."""
    kept = [said for said in re.split(r"(?<=[.]) ", note.text) if not said.startswith(DEFERRING)]
    return replace(note, text=" ".join(kept))


def _head(day: Day, plan: Plan, verdict: str) -> Head:
    names = Names(day)
    restricted = [c for c in plan.crossings if day.jobs[c.job].grounds[c.ground].way_in.restricted]
    ways = {names.way(c.job, c.ground) for c in restricted}
    word = "crossing" if len(restricted) == 1 else "crossings"
    return Head(
        title=plain(day.title) or "Run sheet",
        date=long_date(day.date),
        verdict=plain(verdict),
        leaves=moment(day.date, plan.leaves),
        home=moment(day.date, plan.home),
        crossings=f"{len(restricted)} {word} {ways.pop()}"
        if len(ways) == 1
        else f"{len(restricted)} restricted {word}",
        hands=", ".join(_hand(day, plan, key) for key in day.hands),
    )


def _hand(day: Day, plan: Plan, key: str) -> str:
    """A hand's name, and from when they are not needed any more."""
    free = not_needed_from(day, plan).get(key)
    name = Names(day).hand(key)
    if free is None:
        return name
    return f"{name} (not needed)" if free == plan.leaves else f"{name} (free from {moment(day.date, free)})"


def _mixing(day: Day, plan: Plan) -> tuple[Mixing, ...]:
    names = Names(day)
    return tuple(
        Mixing(names.job(work.job), names.stage(work.job, work.stage), plain(mix), work.start)
        for work in sorted(plan.works, key=lambda w: w.start)
        if (mix := day.jobs[work.job].stages[work.stage].mixing)
    )


def _job(day: Day, plan: Plan, key: str) -> JobSheet:
    names = Names(day)
    return JobSheet(
        job=key,
        title=names.job(key),
        customer=names.customer(key),
        quoted=tuple(_quoted(day, plan, key, item, stages) for item, stages in day.jobs[key].quoted.items()),
        quantities=quantities_by_job(day, plan, key),
        notes=customer_notes(day, plan, key),
    )


def _quoted(day: Day, plan: Plan, job: str, item: str, stages: tuple[str, ...]) -> QuotedItem:
    works = [work for stage in stages if (work := plan.work(job, stage))]
    done: dict[str, list[str]] = {}
    for work in sorted(works, key=lambda w: w.start):
        done.setdefault(_as_whole(day, job, work.stage), []).append(moment(day.date, work.start))
    told = tuple(f"{what} {', '.join(times)}" for what, times in done.items())
    return QuotedItem(plain(item), told, missing=not works)


def _as_whole(day: Day, job: str, stage: str) -> str:
    """A stage's name; of a section, that of the stage as a whole."""
    name, part = Names(day).stage(job, stage), day.jobs[job].stages[stage].part
    whole = name.rpartition(", section ")[0]
    return f"{whole}, in {part.count} sections" if part is not None and whole else name
