"""What has been marked while the day runs: which stages were started, which are done, and what else became of the day.

The same is kept beside the day as `planner.plan.progress` writes it.
"""

from dataclasses import dataclass, replace

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

    ``dropped`` are stages given up for today, as (job, stage); ``arrived`` when the van got to a job, ``gone`` when a
    hand went home, as pairs with the minute; ``rain`` the minute from which it rains; ``said`` when any of the last
    three was said last.
    """

    marks: tuple[Mark, ...] = ()
    dropped: tuple[tuple[str, str], ...] = ()
    arrived: tuple[tuple[str, int], ...] = ()
    gone: tuple[tuple[str, int], ...] = ()
    rain: int | None = None
    said: int | None = None

    def mark_of(self, job: str, stage: str) -> Mark | None:
        """The mark of a stage, if it has one."""
        return next((m for m in self.marks if (m.job, m.stage) == (job, stage)), None)

    @property
    def now(self) -> int | None:
        """The latest minute that was marked: up to there the day is past. None before the first mark."""
        minutes = [minute for mark in self.marks for minute in (mark.started, mark.done)]
        return max((minute for minute in (*minutes, self.said) if minute is not None), default=None)

    def noted(self, settled: int = 0) -> plan_progress.Progress:
        """As the engine reads it; up to minute ``settled`` the plan it goes by is itself the record.

        Raises
        ------
        ValueError
            When nothing has been marked yet.
        """
        if self.now is None:
            raise ValueError("nothing has been marked yet")
        notes = tuple(plan_progress.Noted(m.job, m.stage, m.started, m.done) for m in self.marks)
        return plan_progress.Progress(
            at=self.now,
            noted=notes,
            dropped=self.dropped,
            arrived=dict(self.arrived),
            gone=dict(self.gone),
            rain=self.rain,
            settled=settled if settled <= self.now else 0,
        )

    def with_mark(self, mark: Mark) -> "Progress":
        """With a mark added, in place of an earlier one of the same stage."""
        rest = tuple(m for m in self.marks if (m.job, m.stage) != (mark.job, mark.stage))
        return replace(self, marks=(*rest, mark))

    def without(self, job: str, stage: str) -> "Progress":
        """With a stage given up for today."""
        return replace(self, dropped=(*self.dropped, (job, stage)))

    def taken_back(self, job: str, stage: str) -> "Progress":
        """With nothing said of a stage any more: neither marked nor given up."""
        return replace(
            self,
            marks=tuple(m for m in self.marks if (m.job, m.stage) != (job, stage)),
            dropped=tuple(x for x in self.dropped if x != (job, stage)),
        )

    def with_arrival(self, job: str, minute: int, *, said: int) -> "Progress":
        """With the van at a job since, or from, a minute; said at another."""
        rest = tuple(pair for pair in self.arrived if pair[0] != job)
        return replace(self, arrived=(*rest, (job, minute)), said=self._later(said))

    def with_gone(self, hand: str, minute: int, *, said: int) -> "Progress":
        """With a hand gone home."""
        rest = tuple(pair for pair in self.gone if pair[0] != hand)
        return replace(self, gone=(*rest, (hand, minute)), said=self._later(said))

    def with_rain(self, minute: int, *, said: int) -> "Progress":
        """With rain from a minute on."""
        return replace(self, rain=minute, said=self._later(said))

    def _later(self, said: int) -> int:
        return said if self.said is None else max(said, self.said)


NOTHING_DONE = Progress()


def progress_of(noted: plan_progress.Progress) -> Progress:
    """What was noted, as the window holds it."""
    progress = Progress(
        marks=tuple(Mark(n.job, n.stage, n.start, n.end) for n in noted.noted),
        dropped=noted.dropped,
        arrived=tuple(noted.arrived.items()),
        gone=tuple(noted.gone.items()),
        rain=noted.rain,
    )
    return progress if progress.now == noted.at else replace(progress, said=noted.at)


def progress_to_text(progress: Progress) -> str | None:
    """To keep in a safety copy; None before the first mark."""
    return None if progress.now is None else plan_progress.progress_to_json(progress.noted(), "")


def progress_from_text(text: str) -> Progress:
    """What was kept in a safety copy.

    Raises
    ------
    ValueError
        When it cannot be read, with the place that is wrong.
    """
    noted = plan_progress.progress_from_json(text, "")
    return NOTHING_DONE if noted is None else progress_of(noted)
