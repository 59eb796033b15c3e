"""What runs at a minute of the day: the waits whose first stage is over and whose second has not begun.

They go by what was told of the stages. Where nothing was told of one and its time by the plan has come, they go by the
plan, and say so.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.day import Day, Wait
from planner.day.names import Names
from planner.plan.plan import Plan, Work
from planner.plan.progress import Progress
from planner.trade.units import show_clock, show_minutes

NOT_TOLD = "by the plan, not told"
"""What is said of a clock that nobody told to run."""


@dataclass(frozen=True, slots=True)
class RunningWait:
    """A wait under way: what it is called, since when, and from and until when the stage after it may begin.

    ``until`` is None where there is no most. ``is_told`` is whether it was told that the first stage is done; ``due``
    is when the second should have begun by the plan, None where that is still to come.
    """

    called: str
    then: str
    since: int
    not_before: int
    until: int | None
    is_told: bool = True
    due: int | None = None

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
        if self.due is not None:
            said += f"; begun at {show_clock(self.due)} {NOT_TOLD}"
        since = f"since {show_clock(self.since)}{'' if self.is_told else f' ({NOT_TOLD})'}"
        return f"{self.called} {since}: {self.then} {said}"


def running_waits(day: Day, plan: Plan, progress: Progress, now: int) -> tuple[RunningWait, ...]:
    """The waits between two planned stages that run at the minute ``now``, those that are over first before others.

    A wait with a most whose first stage was told to be done runs until its second is told to have begun: what is on is
    not off because a plan says so.

    Parameters
    ----------
    day, plan
        A day, as it went where it is under way, and its plan.
    progress
        What was told of it, perhaps since that plan was made.
    now
        The minute of the day.

    Returns
    -------
    tuple
        Each wait that runs, all times in minutes of the day.
    """
    names, found = Names(day), list[RunningWait]()
    for key, job in day.jobs.items():
        for wait in (wait.as_meant for wait in job.waits):
            first = plan.work(key, wait.after)
            second = plan.work(key, wait.before) if wait.before else None
            if wait.kind == "order" or first is None or second is None:
                continue
            found += _running(names, plan, progress, now, key, wait, first, second)
    return tuple(sorted(found, key=lambda w: (w.until is None, w.until or w.not_before)))


def _running(
    names: Names, plan: Plan, progress: Progress, now: int, job: str, wait: Wait, first: Work, second: Work
) -> Iterator[RunningWait]:
    """The clock of a wait, if it runs."""
    done = _ended(first, progress, now)
    if done is None or progress.of(second) is not None:
        return
    start, end, is_told = done
    is_due = second.start <= now and not _is_told_to_come(second, progress)
    if is_due and not (is_told and wait.bounds_while(start, end)[1] is not None):
        return
    again = plan.work(job, wait.extended_by) if wait.extended_by else None
    wetted = None if again is None else _ended(again, progress, now)
    may = wait.begin_between(start, end, second.end - second.start, None if wetted is None else wetted[:2])
    called = f"{names.stage(job, wait.after)}: {wait.kind}"
    then = names.stage(job, second.stage)
    yield RunningWait(called, then, end, may.soonest, may.latest, is_told, second.start if is_due else None)


def _ended(work: Work, progress: Progress, now: int) -> tuple[int, int, bool] | None:
    """When a stage began and ended, and whether that was told; None where it is not over."""
    note = progress.of(work)
    if note is None:
        is_over = work.end <= now and not _is_told_to_come(work, progress)
        return (work.start, work.end, False) if is_over else None
    if note.end is None or note.end > now:
        return None
    if note.start is not None:
        return min(note.start, note.end), note.end, True
    took = work.end - work.start  # at the least: one that ended late is taken to have begun as planned
    return min(work.start, note.end - took), note.end, True


def _is_told_to_come(work: Work, progress: Progress) -> bool:
    """Whether a stage was told not to have begun, later than the plan says that it has, or to be given up."""
    here = (work.job, work.stage)
    is_not_yet = any((said.job, said.stage) == here and work.start < said.by for said in progress.not_yet)
    return is_not_yet or here in progress.dropped
