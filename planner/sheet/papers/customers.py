"""What is said to a customer before the work, at handover and after, with times taken from the plan."""

from dataclasses import dataclass

from planner.day import Day
from planner.day.names import plain
from planner.plan.plan import Plan
from planner.sheet.papers.waits import KeepOff, keep_off
from planner.sheet.wording import moment


@dataclass(frozen=True, slots=True)
class CustomerNotes:
    """The customer's notes in four lists; ``after`` begins with what to keep off and until when."""

    before: tuple[str, ...]
    handover: tuple[str, ...]
    after: tuple[str, ...]
    not_promised: tuple[str, ...]
    keep_off: tuple[KeepOff, ...]


def customer_notes(day: Day, plan: Plan, job: str) -> CustomerNotes:
    """The notes for a job's customer."""
    customer = day.jobs[job].customer
    closed = keep_off(day, plan, job)
    return CustomerNotes(
        before=(*_plain(customer.before), *_protection(day, plan, job)),
        handover=_plain(customer.handover),
        after=(*(keep_off_words(day, one) for one in closed), *_plain(customer.after)),
        not_promised=_plain(customer.not_promised),
        keep_off=closed,
    )


def keep_off_words(day: Day, closed: KeepOff) -> str:
    """One closed surface in a sentence: "Keep off: Patio, until Wed 17 June 12:00 (it cures)"."""
    return f"Keep off: {closed.name}, until {moment(day.date, closed.until)}"


def _protection(day: Day, plan: Plan, job: str) -> tuple[str, ...]:
    """Asks the customer to lay the floor protection that the day counts on."""
    used = dict.fromkeys(c.ground for c in plan.crossings if c.job == job)
    grounds = [day.jobs[job].grounds[key] for key in used]
    return tuple(
        f"Lay floor protection on the way through {plain(ground.way_in.through) or plain(ground.name)}"
        for ground in grounds
        if ground.way_in.protection == "customer"
    )


def _plain(texts: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(text for raw in texts if (text := plain(raw)))
