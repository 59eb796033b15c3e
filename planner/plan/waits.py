"""The waits of a plan: from when to when each runs, and between which minutes what ends it may begin."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.day import Day, Wait
from planner.day.names import Names
from planner.day.waiting import Opening
from planner.plan.plan import Plan, Work
from planner.trade.units import show_minutes


@dataclass(frozen=True, slots=True)
class PlannedWait:
    """A wait between two planned stages, or after the last (a cure); ``again`` is the re-wet that restarts its most.

    Its bounds are those that the day says, also where it cannot be kept on a day under way.
    """

    job: str
    wait: Wait
    first: Work
    second: Work | None
    again: Work | None

    @property
    def begins(self) -> int:
        """The minute at which it begins."""
        return self.first.end

    @property
    def ends(self) -> int:
        """The minute at which the second stage starts, or at which the cure is over."""
        return self.not_before if self.second is None else self.second.start

    @property
    def bounds(self) -> tuple[int, int | None]:
        """Its least and most minutes, as they are for the minute at which it begins; wetted again, by the label."""
        least, most = self.wait.bounds(self.begins)
        label = None if self.again is None else self.wait.label
        return least, most if label is None else label.most

    @property
    def patches(self) -> tuple[int, int]:
        """The shortest and the longest that a patch of the surface waits; without a second stage as long as a cure."""
        first = self.first.start, self.first.end
        if self.second is None:
            return self.ends - first[1], self.ends - first[0]
        shortest, longest = self.wait.patch_waits(first, (self.second.start, self.second.end))
        return max(0, shortest), longest

    @property
    def of_patches(self) -> str:
        """The same in words, of what each patch has for itself: a dwell, a set, a time in which it can be worked."""
        has_most = self.bounds[1] is not None
        if self.second is None or not (self.wait.kind in ("dwell", "set") or (self.wait.kind == "order" and has_most)):
            return ""
        shortest, longest = self.patches
        return f"a patch waits {show_minutes(shortest)} to {show_minutes(longest)}"

    @property
    def not_before(self) -> int:
        """The minute before which the second stage may not start."""
        return self._window.soonest

    @property
    def not_after(self) -> int | None:
        """The minute after which the second stage may not start: the most is counted anew from a re-wet."""
        return self._window.latest

    @property
    def late(self) -> int:
        """By how many minutes the second stage begins later than it may: 0 but on a day under way."""
        return 0 if self.second is None or self.not_after is None else max(0, self.second.start - self.not_after)

    @property
    def late_words(self) -> str:
        """The same in words; empty where it is in time."""
        return f"{show_minutes(self.late)} too late" if self.late else ""

    @property
    def _window(self) -> Opening:
        took = 0 if self.second is None else self.second.end - self.second.start
        again = None if self.again is None else (self.again.start, self.again.end)
        return self.wait.begin_between(self.first.start, self.first.end, took, again)


def planned_waits(day: Day, plan: Plan) -> Iterator[PlannedWait]:
    """Every wait of a day that runs in a plan: its first stage is planned, and its second if it has one."""
    for key, job in day.jobs.items():
        for wait in (wait.as_meant for wait in job.waits):
            first = plan.work(key, wait.after)
            second = plan.work(key, wait.before) if wait.before else None
            if first is not None and (second is not None or wait.before is None):
                again = plan.work(key, wait.extended_by) if wait.extended_by else None
                yield PlannedWait(key, wait, first, second, again)


def in_the_last_minute(day: Day, plan: Plan) -> str:
    """That stages begin in the last minute that a wait before them permits: a sentence after a space, or nothing."""
    late = [
        f"'{Names(day).stage(wait.job, wait.second.stage)}'"
        for wait in planned_waits(day, plan)
        if wait.second is not None and wait.second.start == wait.not_after and wait.not_before < wait.not_after
    ]
    if not late:
        return ""
    begin = "begins in its last permitted minute" if len(late) == 1 else "begin in their last permitted minutes"
    return f" {' and '.join(dict.fromkeys(late))} {begin}."
