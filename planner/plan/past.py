"""The past that a record makes: what has happened of a plan, with real times, and what is under way.

Noted times are kept. What was not noted happened in the order of the plan: later where something before it took
longer, sooner where a note says that what follows was done by then.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from planner.day import Day
from planner.plan.happening import NOT_YET, Happening
from planner.plan.past_gathering import Gathering
from planner.plan.past_links import Linking
from planner.plan.past_times import give_times, last_drives_away
from planner.plan.plan import Chore, Plan, Visit, Work
from planner.plan.progress import Progress, check_progress

__all__ = ["NOT_YET", "Past", "past_of"]


@dataclass(frozen=True)
class Past:
    """The part of a plan that has happened, with its real times, and the stages taken as done that nobody said were.

    ``left`` are the jobs that the van has left for the last time, each with when, though only the clock says so.
    ``lying`` are the stages whose covers should have been taken up by now, had what they cover for been done, and of
    which nobody said that they lie. ``due`` are stages that have not happened, as their hands did otherwise than
    planned, but would be over by now had they gone on by the plan since.

    Works, crossings, stays, visits and attendances under way end `NOT_YET`; chores, breaks, drives and walks under way
    end a little after now.
    """

    plan: Plan
    assumed: tuple[tuple[str, str], ...]
    lying: tuple[tuple[str, str], ...] = ()
    left: tuple[tuple[str, int], ...] = ()
    due: tuple[Work, ...] = ()

    def is_begun(self, job: str, stage: str) -> bool:
        """Whether a stage is over or under way."""
        return self.plan.work(job, stage) is not None

    @property
    def is_homeward(self) -> bool:
        """Whether the van is on its way home, or there."""
        return len(self.plan.drives) > len(self.plan.visits)

    def is_left(self, job: str) -> bool:
        """Whether the van has left a job, and is not there again."""
        return all(visit.depart < NOT_YET for visit in self.visits_to(job)) and bool(self.visits_to(job))

    def visits_to(self, job: str) -> list[Visit]:
        """The visits to a job that have begun."""
        return [visit for visit in self.plan.visits if visit.job == job]

    def is_done(self, job: str, stage: str) -> bool:
        """Whether a stage is over."""
        work = self.plan.work(job, stage)
        return work is not None and work.end < NOT_YET


def past_of(day: Day, plan: Plan, progress: Progress, skipped: Collection[Work] = ()) -> Past:
    """What has happened of a plan by ``progress.at``; ``skipped`` is what was not done in its turn.

    Raises `ProgressError` when the record does not go with the day and the plan.
    """
    check_progress(day, plan, progress)
    duties = Linking(day, plan, progress, skipped).duties
    due = give_times(duties, day, plan, progress)
    works = [(d, d.item) for d in duties if d.happened and isinstance(d.item, Work)]
    assumed = tuple((work.job, work.stage) for d, work in works if _is_assumed(d, progress))
    held = [(d.item, d.covers_still) for d in duties if d.is_held_back]
    chores = [(item, stages) for item, stages in held if isinstance(item, Chore)]
    by_now = progress.at - 1  # perhaps sooner than planned
    lying = tuple(
        (c.job, stage)
        for c, stages in chores
        for stage in stages
        if not progress.is_not_up(c.job, stage, min(c.start, by_now))
    )
    happened = Gathering(day, plan, duties, progress, skipped).plan()
    return Past(happened, assumed, lying, tuple(_left_by_clock(duties, plan)), due)


def _left_by_clock(duties: list[Happening], plan: Plan) -> Iterator[tuple[str, int]]:
    away = last_drives_away(duties, plan)
    return ((job, drive.start) for job, drive in away.items() if drive.by_clock)


def _is_assumed(duty: Happening, progress: Progress) -> bool:
    """Whether something is taken as over that neither a note says nor the plan's own record.

    So is what that record has and what was told since leaves no minute for.
    """
    if duty.end == NOT_YET or duty.is_given_up or (duty.note is not None and duty.note.end is not None):
        return False
    return duty.note is not None or not duty.settled or duty.item.end > progress.settled or duty.minutes <= 0
