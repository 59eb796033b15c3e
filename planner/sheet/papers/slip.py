"""The customer's slip: half a page on what to do before we come, what we do and when, and what to mind after."""

import datetime as dt
from dataclasses import dataclass

from planner.day import Day
from planner.day.names import Names, plain
from planner.plan.plan import Plan
from planner.sheet.papers.customers import CustomerNotes, customer_notes
from planner.sheet.wording import moment
from planner.trade.units import show_minutes

PLANNED = "Times are what we plan; weather, or what we find, may move them. We will tell you."
TOLD_TO = 15
"""When we come and go is told to so many minutes."""


@dataclass(frozen=True, slots=True)
class Slip:
    """What one customer is told; ``visits`` and ``work`` are in words, ``price`` is "" unless it was asked for."""

    date: dt.date
    job: str
    title: str
    customer: str
    visits: tuple[str, ...]
    work: tuple[str, ...]
    notes: CustomerNotes
    price: str

    @property
    def name(self) -> str:
        """Customer and job, the job only where it says something else."""
        return self.customer if self.customer == self.title else f"{self.customer}: {self.title}"


def slips(day: Day, plan: Plan, *, with_price: bool = False) -> tuple[Slip, ...]:
    """A slip for each customer whom the plan visits, in that order; the job's price is told ``with_price`` only."""
    jobs = dict.fromkeys(visit.job for visit in sorted(plan.visits, key=lambda v: v.arrive))
    return tuple(_slip(day, plan, job, with_price=with_price) for job in jobs)


def _slip(day: Day, plan: Plan, key: str, *, with_price: bool) -> Slip:
    names, price = Names(day), day.jobs[key].price
    return Slip(
        date=day.date,
        job=key,
        title=names.job(key),
        customer=names.customer(key),
        visits=_visits(day, plan, key),
        work=_work(day, plan, key),
        notes=customer_notes(day, plan, key),
        price=f"{price:.2f}" if with_price and price is not None else "",
    )


def _visits(day: Day, plan: Plan, job: str) -> tuple[str, ...]:
    """When we come and go, told to the quarter of an hour, and how long that is."""
    words = []
    for visit in sorted(plan.visits, key=lambda v: v.arrive):
        if visit.job == job:
            words.append(f"{_about(day, visit.arrive, visit.depart)} ({show_minutes(visit.depart - visit.arrive)})")
    return tuple(words)


def _work(day: Day, plan: Plan, key: str) -> tuple[str, ...]:
    """What we do in the order in which it begins: the quoted items, or the stages where nothing was quoted."""
    job, names = day.jobs[key], Names(day)
    works = sorted((w for w in plan.works if w.job == key), key=lambda w: w.start)
    items = [(plain(item), set(stages)) for item, stages in job.quoted.items()]
    items = items or [(names.stage(key, work.stage), {work.stage}) for work in works]
    rows = []
    for item, stages in items:
        own = [work for work in works if work.stage in stages]
        if own:
            start, end = own[0].start, max(work.end for work in own)
            rows.append((start, f"{_about(day, start, end)}: {item}"))
    return tuple(words for _, words in sorted(rows))


def _about(day: Day, start: int, end: int) -> str:
    """From when to when, told to the quarter of an hour around it."""
    first, last = start // TOLD_TO * TOLD_TO, -(-end // TOLD_TO) * TOLD_TO
    return f"about {moment(day.date, first)} to {moment(day.date, last)}"
