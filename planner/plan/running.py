"""What runs at a minute of the day: the waits whose first stage is over and whose second has not begun."""

from dataclasses import dataclass

from planner.day import Day
from planner.day.names import Names
from planner.plan.plan import Plan
from planner.trade.units import show_clock, show_minutes


@dataclass(frozen=True, slots=True)
class RunningWait:
    """A wait under way: what it is called, since when, and from and until when the stage after it may begin.

    ``until`` is None where there is no most.
    """

    called: str
    then: str
    since: int
    not_before: int
    until: int | None

    def words(self, now: int) -> str:
        """The clock of it for a person: what may begin when, and how long is left."""
        if now < self.not_before:
            said = f"not before {show_clock(self.not_before)}, in {show_minutes(self.not_before - now)}"
        else:
            said = f"may begin since {show_clock(self.not_before)}"
        if self.until is not None:
            left = self.until - now
            over = f"{show_minutes(left)} left" if left >= 0 else f"{show_minutes(-left)} OVER"
            said += f"; not after {show_clock(self.until)}, {over}"
        return f"{self.called} since {show_clock(self.since)}: {self.then} {said}"


def running_waits(day: Day, plan: Plan, now: int) -> tuple[RunningWait, ...]:
    """The waits between two planned stages that run at the minute ``now``, those that are over first before others."""
    names, found = Names(day), []
    for key, job in day.jobs.items():
        for wait in job.waits:
            first = plan.work(key, wait.after)
            second = plan.work(key, wait.before) if wait.before else None
            if wait.kind == "order" or first is None or second is None or not first.end <= now < second.start:
                continue
            again = plan.work(key, wait.extended_by) if wait.extended_by else None
            wetted = None if again is None or again.end > now else (again.start, again.end)
            may = wait.begin_between(first.start, first.end, second.end - second.start, wetted)
            called = f"{names.stage(key, wait.after)}: {wait.kind}"
            found.append(RunningWait(called, names.stage(key, second.stage), first.end, may.soonest, may.latest))
    return tuple(sorted(found, key=lambda w: (w.until is None, w.until or w.not_before)))
