"""What has been marked while the day runs: which stages were started, which are done, and when."""

from dataclasses import dataclass

from planner.plan import progress as plan_progress


@dataclass(frozen=True)
class Mark:
    """A stage as it really went; minutes of the day. ``done`` is None while it still runs."""

    job: str
    stage: str
    started: int | None
    done: int | None = None


@dataclass(frozen=True)
class Progress:
    """The marks so far, one for a stage at most, in the order in which they were made.

    ``dropped`` are stages given up for today, as (job, stage).
    """

    marks: tuple[Mark, ...] = ()
    dropped: tuple[tuple[str, str], ...] = ()

    def mark_of(self, job: str, stage: str) -> Mark | None:
        """The mark of a stage, if it has one."""
        return next((m for m in self.marks if (m.job, m.stage) == (job, stage)), None)

    @property
    def now(self) -> int | None:
        """The latest minute that was marked: up to there the day is past. None before the first mark."""
        minutes = [minute for mark in self.marks for minute in (mark.started, mark.done) if minute is not None]
        return max(minutes, default=None)

    def noted(self) -> plan_progress.Progress:
        """As the engine reads it.

        Raises
        ------
        ValueError
            When nothing has been marked yet.
        """
        if self.now is None:
            raise ValueError("nothing has been marked yet")
        notes = tuple(plan_progress.Noted(m.job, m.stage, m.started, m.done) for m in self.marks)
        return plan_progress.Progress(at=self.now, noted=notes, dropped=self.dropped)

    def with_mark(self, mark: Mark) -> "Progress":
        """With a mark added, in place of an earlier one of the same stage."""
        rest = tuple(m for m in self.marks if (m.job, m.stage) != (mark.job, mark.stage))
        return Progress((*rest, mark), self.dropped)

    def without(self, job: str, stage: str) -> "Progress":
        """With a stage given up for today."""
        return Progress(self.marks, (*self.dropped, (job, stage)))


NOTHING_DONE = Progress()
