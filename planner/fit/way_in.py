"""The price of the way in: what it costs a job in minutes and money against the same job with a free side access."""

import threading
from dataclasses import dataclass

from planner.day import Day
from planner.day.names import called
from planner.fit.changes import with_free_ways
from planner.fit.errands import Errand
from planner.fit.side_by_side import SideBySide, planned
from planner.plan.measures import measure
from planner.plan.plan import Plan
from planner.trade.units import show_minutes


@dataclass(frozen=True)
class Fetching:
    """Minutes of hands' work that a plan spends at a job on other things than its stages.

    ``walking`` are the ways in of crossings; ``setting_up`` is setting up and packing down (on an open way in its walk
    is part of that); ``protecting`` is laying and lifting floor protection.
    """

    walking: int
    setting_up: int
    protecting: int

    @property
    def minutes(self) -> int:
        """All of it."""
        return self.walking + self.setting_up + self.protecting


@dataclass(frozen=True)
class PriceOfWayIn:
    """A job's way in as it is, against a free one.

    ``minutes`` is how much later the van is home; ``money`` is that time of all hands who ride in it by their hourly
    figures, and the booked time of others is left out. ``is_proven`` says that both plans are proven best. ``here`` and
    ``free`` are what each plan spends on fetching at the job; ``work`` the same on its stages. Plans are None when none
    was found.
    """

    title: str
    minutes: int
    money: float
    crossings: int
    is_proven: bool
    plan: Plan | None = None
    free_plan: Plan | None = None
    here: Fetching = Fetching(0, 0, 0)
    free: Fetching = Fetching(0, 0, 0)
    work: int = 0
    free_work: int = 0

    @property
    def sentence(self) -> str:
        """What the way in costs."""
        if self.plan is None or self.free_plan is None:
            return f"What the way in to {self.title} costs is not known: no plan was found in the time given."
        if self.minutes <= 0:
            word = "crossing" if self.crossings == 1 else "crossings"
            return f"The way in to {self.title} costs no time, and {self.crossings} restricted {word}."
        money = f" and {self.money:.2f} in wages" if self.money else ""
        proof = "" if self.is_proven else ", as far as the plans are proven"
        return f"The way in to {self.title} costs {show_minutes(self.minutes)}{money}{proof}."

    def rows(self) -> list[tuple[str, str, str]]:
        """What is spent at the job on each sort of duty: what, as it is, with a free side access."""
        return [
            ("hands-on work", show_minutes(self.work), show_minutes(self.free_work)),
            ("walking in and out", show_minutes(self.here.walking), show_minutes(self.free.walking)),
            ("setting up and packing down", show_minutes(self.here.setting_up), show_minutes(self.free.setting_up)),
            ("floor protection", show_minutes(self.here.protecting), show_minutes(self.free.protecting)),
            ("restricted crossings", str(self.crossings), "0"),
        ]


def price_of_way_in(
    day: Day, job: str, *, seconds: float = 30.0, count: int | None = None, stop: threading.Event | None = None
) -> PriceOfWayIn:
    """Plan a day as it is and with free side access to one of its jobs, side by side.

    Raises
    ------
    KeyError
        When the day has no such job.
    """
    free_day, title = with_free_ways(day, job), called(day.jobs[job], job)
    days = {"as it is": day, "by a side access": free_day}
    with SideBySide(count, stop) as processes:
        each = seconds * min(1.0, processes.count / len(days))
        tasks = [Errand(name, planned, (changed, each)) for name, changed in days.items()]
        plan, free_plan = (done.value for done in processes.run(tasks, seconds=each))
    if plan is None or free_plan is None:
        return PriceOfWayIn(title, 0, 0.0, 0, False, plan, free_plan)
    minutes = plan.home - free_plan.home
    per_hour = sum(hand.cost_per_hour for hand in day.hands.values() if not hand.own_transport)
    return PriceOfWayIn(
        title,
        minutes,
        max(0, minutes) / 60 * per_hour,
        measure(day, plan).restricted_crossings - measure(free_day, free_plan).restricted_crossings,
        all(p.proof is not None and p.proof.is_best for p in (plan, free_plan)),
        plan,
        free_plan,
        fetching(day, plan, job),
        fetching(free_day, free_plan, job),
        _work(plan, job),
        _work(free_plan, job),
    )


def fetching(day: Day, plan: Plan, job: str) -> Fetching:
    """What a plan spends at a job on fetching, setting up, packing down and protecting; minutes of hands' work."""
    grounds = day.jobs[job].grounds
    walking = sum(2 * grounds[c.ground].way_in.minutes for c in plan.crossings if c.job == job)
    chores = {True: 0, False: 0}
    for c in plan.chores:
        if c.job == job:
            chores[c.what in ("lay", "lift")] += (c.end - c.start) * len(c.hands)
    return Fetching(walking, chores[False], chores[True])


def _work(plan: Plan, job: str) -> int:
    return sum((w.end - w.start) * len(w.hands) for w in plan.works if w.job == job)
