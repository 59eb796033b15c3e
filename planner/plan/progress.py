"""What has really happened of a plan by some minute of the day: the record a person gives, in any order.

Nobody notes every walk and set-up: what a hand did before the last stage that was noted for them is taken to have
happened in the order of the plan; what comes after it has not, but for the time that has passed. A hand for whom
nothing is noted is taken to be where the plan had them. Which *stages* that means is asked (``planner.plan.doubts``),
never taken for granted. ``planner.plan.past`` makes the past of the record, ``planner.plan.progress_file`` writes it.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass, field, replace
from typing import Annotated

from pydantic import Field

from planner.day import Day
from planner.plan.plan import Plan, Work
from planner.trade.units import MINUTES_IN_A_DAY, show_clock

Minute = Annotated[int, Field(strict=True, ge=0, le=2 * MINUTES_IN_A_DAY)]
"""A minute of the day, as a record says it."""

EARLY = 120
"""So many minutes before the start of the day work may have begun; what is noted before that is a slip."""

Stretch = Annotated[int, Field(strict=True, ge=0, le=MINUTES_IN_A_DAY)]
"""So many minutes."""

Part = Annotated[float, Field(strict=True, gt=0, lt=1)]
"""A part of a stage."""


@dataclass(frozen=True, slots=True)
class Noted:
    """A stage that was begun, and perhaps done; minutes of the day, None where they were not noted.

    One that was left half done says in ``part`` how much of it is done, from 0 to 1, and perhaps how many minutes the
    rest takes (``rest``; else in proportion); ``end`` is then when it was left. ``hands`` are who did it where those
    of the plan did not, none where nobody said so.
    """

    job: str
    stage: str
    start: Minute | None = None
    end: Minute | None = None
    part: Part | None = None
    rest: Stretch | None = None
    hands: tuple[str, ...] = ()

    def after(self, known: "Noted | None") -> "Noted":
        """This note in place of what was known: who did it stays as it was told until somebody else did."""
        return replace(self, hands=known.hands) if known is not None and not self.hands else self


@dataclass(frozen=True, slots=True)
class NotYet:
    """A stage that had not been begun by a minute, though the plan has it before then."""

    job: str
    stage: str
    by: Minute


@dataclass(frozen=True, slots=True)
class More:
    """What a customer asks for beyond what was planned: so many minutes more of a stage."""

    job: str
    stage: str
    minutes: Stretch


@dataclass(frozen=True, slots=True)
class Sent:
    """A hand who drives the van from a job for kit that was forgotten: when they leave, and are back with it."""

    hand: str
    kit: str
    job: str
    leaves: Minute
    back: Minute


@dataclass(frozen=True, slots=True)
class Behind:
    """Kit that stays at a job until another day: those who are there cannot carry it; ``by`` is when that was said."""

    job: str
    kit: str
    by: Minute


@dataclass(frozen=True, slots=True)
class GivenUpFor:
    """A stage given up as something that was told keeps it from being done: the word by which that is taken back."""

    job: str
    stage: str
    word: str


@dataclass(frozen=True, slots=True)
class Over:
    """A wait that ran, or must run, so many minutes over its most; None where no way to end it was found in time.

    ``out_of_hours`` says that what ends it can no longer keep its own hours, which must not keep it from being ended.
    """

    job: str
    after: str
    before: str
    minutes: Stretch | None
    out_of_hours: bool = False


@dataclass(frozen=True)
class Progress:
    """What is said of the day at minute ``at``.

    ``dropped`` are stages given up for today (job, stage), ``not_yet`` those not begun although it was their time,
    ``not_up`` those whose covers still lie; ``arrived`` maps a job to when the van got, or will get, there; ``gone`` a
    hand to when they went home, ``back`` to when they are there (who came late, or is away to fetch something). It
    rains from ``rain`` to ``rain_until``. ``lacking`` is kit that is broken or was forgotten, ``run_out`` material that
    is used up, ``nobody_in`` jobs whose house is shut, each with the minute from which that is over, None where not
    today. By ``fetches`` the van is away for such kit. ``no_supply`` are supplies that are not there after all (job,
    "tap"). ``behind`` is kit that stays where it stands. ``more`` is asked for; ``over`` are waits that cannot be kept,
    ``promised`` the minutes by which a promise to a job cannot, None where it is given up, as no way was found to keep
    it at all. Up to minute ``settled`` the plan is itself the record: it was made on the day, then, from what had been
    noted before. ``said`` is when something else than a stage was told last. ``given_up_for`` says of what is dropped
    what it was dropped for.
    """

    at: Minute
    noted: tuple[Noted, ...] = ()
    dropped: tuple[tuple[str, str], ...] = ()
    arrived: dict[str, Minute] = field(default_factory=dict)
    gone: dict[str, Minute] = field(default_factory=dict)
    rain: Minute | None = None
    settled: Minute = 0
    rain_until: Minute | None = None
    back: dict[str, Minute] = field(default_factory=dict)
    lacking: dict[str, Minute | None] = field(default_factory=dict)
    run_out: dict[str, Minute | None] = field(default_factory=dict)
    nobody_in: dict[str, Minute | None] = field(default_factory=dict)
    no_supply: tuple[tuple[str, str], ...] = ()
    not_yet: tuple[NotYet, ...] = ()
    more: tuple[More, ...] = ()
    over: tuple[Over, ...] = ()
    promised: dict[str, Stretch | None] = field(default_factory=dict)
    said: Minute = 0
    not_up: tuple[NotYet, ...] = ()
    fetches: tuple[Sent, ...] = ()
    behind: tuple[Behind, ...] = ()
    given_up_for: tuple[GivenUpFor, ...] = ()

    def __hash__(self) -> int:
        """By what has no tables in it; equal records have it equal."""
        return hash((self.at, self.noted, self.dropped, self.settled))

    @property
    def is_under_way(self) -> bool:
        """Whether anything has been said of the day."""
        return self != NOTHING_TOLD

    @property
    def now(self) -> int | None:
        """The minute at which it was said; None while nothing has been."""
        return self.at if self.is_under_way else None

    def stops_at(self, hand: str) -> int | None:
        """When a hand stopped what they did by the plan that there is: gone home, or away on a fetch; else None."""
        left = [x.leaves for x in self.fetches if x.hand == hand and x.leaves >= self.settled]
        return min([*left, *(m for h, m in self.gone.items() if h == hand)], default=None)

    def comes_at(self, hand: str) -> int:
        """From when on a hand is there who was told to come later; 0 of others, and of who is away on a fetch."""
        return 0 if self.is_fetching(hand) else self.back.get(hand, 0)

    def is_fetching(self, hand: str) -> bool:
        """Whether a hand who is away until they are back drives for kit."""
        return any((x.hand, x.back) == (hand, self.back.get(hand)) for x in self.fetches)

    def of(self, work: Work) -> Noted | None:
        """What was noted of a planned stage."""
        return self.of_stage(work.job, work.stage)

    def of_stage(self, job: str, stage: str) -> Noted | None:
        """What was noted of a stage; of one told to have begun in the minute in which it ended, when is not known."""
        note = next((n for n in self.noted if (n.job, n.stage) == (job, stage)), None)
        took_no_time = note is not None and note.start is not None and note.start == note.end
        return replace(note, start=None) if note is not None and took_no_time else note

    def begun(self, plan: Plan, job: str, stage: str) -> Noted | None:
        """What is known of a stage that was begun: by a note, else by the plan, its own record until it was made."""
        note, work = self.of_stage(job, stage), plan.work(job, stage)
        if note is not None or work is None or work.start >= min(self.at, plan.since or 0):
            return note
        return Noted(job, stage, work.start, work.end if work.end <= self.at else None)

    def is_not_yet(self, work: Work) -> bool:
        """Whether a planned stage is known not to have been begun in its time, or by now, whatever its time."""
        stage = (work.job, work.stage)
        is_noted = self.of(work) is not None
        return not is_noted and any(
            (n.job, n.stage) == stage and (work.start < n.by or n.by == self.at) for n in self.not_yet
        )

    # --- told one after the other -------------------------------------------------------------------------------

    def with_note(self, note: Noted) -> "Progress":
        """With a note of a stage in place of an earlier one; it is no later than now, so it is at least then now."""
        stage = (note.job, note.stage)
        others = tuple(n for n in self.noted if (n.job, n.stage) != stage)
        told = [minute for minute in (note.start, note.end) if minute is not None]
        not_yet = tuple(n for n in self.not_yet if (n.job, n.stage) != stage)
        known = self.of_stage(*stage)
        return replace(self, at=max(self.at, *told, 0), noted=(*others, note.after(known)), not_yet=not_yet)

    def without(self, job: str, stage: str) -> "Progress":
        """With a stage given up for today."""
        return replace(self, dropped=tuple(dict.fromkeys((*self.dropped, (job, stage)))))

    def kept_on(self, job: str, stage: str) -> "Progress":
        """With a stage that is not given up after all, nor what it takes off said to be off without it."""
        here, note = (job, stage), self.of_stage(job, stage)
        is_off = here in self.dropped and note is not None and (note.start, note.part) == (None, None)
        return replace(
            self,
            dropped=tuple(x for x in self.dropped if x != here),
            noted=tuple(n for n in self.noted if not is_off or (n.job, n.stage) != here),
            given_up_for=tuple(x for x in self.given_up_for if (x.job, x.stage) != here),
        )

    def with_not_yet(self, job: str, stage: str) -> "Progress":
        """With a stage that has not been begun by now, whatever was noted of it."""
        noted = tuple(n for n in self.noted if (n.job, n.stage) != (job, stage))
        others = tuple(n for n in self.not_yet if (n.job, n.stage) != (job, stage))
        return replace(self, noted=noted, not_yet=(*others, NotYet(job, stage, self.at)))

    def with_not_up(self, job: str, stage: str) -> "Progress":
        """With a stage whose covers have not been taken up by now."""
        others = tuple(n for n in self.not_up if (n.job, n.stage) != (job, stage))
        return replace(self, not_up=(*others, NotYet(job, stage, self.at)))

    def is_not_up(self, job: str, stage: str, taken_up: int) -> bool:
        """Whether the covers of a stage are known still to have lain after a plan has them taken up at a minute."""
        return any((n.job, n.stage) == (job, stage) and taken_up < n.by for n in self.not_up)

    def with_more(self, more: More) -> "Progress":
        """With more asked for of a stage, in place of what was before."""
        others = tuple(x for x in self.more if (x.job, x.stage) != (more.job, more.stage))
        return replace(self, more=(*others, more))

    def taken_back(self, job: str, stage: str) -> "Progress":
        """With nothing said of a stage any more: it may be earlier than it seemed."""
        here = (job, stage)
        noted = tuple(n for n in self.noted if (n.job, n.stage) != here)
        told = [minute for n in noted for minute in (n.start, n.end) if minute is not None]
        return replace(
            self.kept_on(*here),
            at=max([self.said, *told, *(n.by for n in self.not_yet)]),
            noted=noted,
            not_yet=tuple(n for n in self.not_yet if (n.job, n.stage) != here),
            not_up=tuple(n for n in self.not_up if (n.job, n.stage) != here),
            more=tuple(m for m in self.more if (m.job, m.stage) != here),
        )

    def with_behind(self, job: str, kit: str) -> "Progress":
        """With kit that stays at a job from now on; once said, it stays as it was."""
        known = {(x.job, x.kit) for x in self.behind}
        return self if (job, kit) in known else replace(self, behind=(*self.behind, Behind(job, kit, self.at)))

    def all_stays(self, kit: str, day: Day) -> bool:
        """Whether all that is owned of a kit stays at jobs until another day."""
        own = day.kit[kit].own if kit in day.kit else 0
        return own <= sum(x.kit == kit for x in self.behind)

    def told_at(self, minute: int, change: Callable[["Progress"], "Progress"]) -> "Progress":
        """With something else that is told at a minute."""
        return change(replace(self, at=max(self.at, minute), said=max(self.said, minute)))

    def as_told(self) -> "Progress":
        """Only what a person said: without what was found not to hold any more."""
        return replace(self, over=(), promised={})

    def since(self, settled: int) -> "Progress":
        """The same of a plan that was made anew at a minute, and is itself the record up to then."""
        return replace(self, settled=settled if settled <= self.at else 0)

    def with_later(self, later: "Progress") -> "Progress":
        """This record, its plan kept, and what is said later of that plan: the later word holds."""
        said = {(n.job, n.stage): n for n in self.noted}
        for n in later.noted:
            known = said.get((n.job, n.stage))
            start = known.start if n.start is None and known is not None else n.start
            if start is not None and n.end is not None and start > n.end:
                start = n.start
            said[n.job, n.stage] = replace(n, start=start).after(known)
        more = {(m.job, m.stage): m for m in (*self.more, *later.more)}
        return Progress(
            at=later.at,
            noted=tuple(said.values()),
            dropped=tuple(dict.fromkeys((*self.dropped, *later.dropped))),
            arrived=self.arrived | later.arrived,
            gone=self.gone | later.gone,
            rain=self.rain if later.rain is None else later.rain,
            rain_until=self.rain_until if later.rain is None else later.rain_until,
            settled=max(self.at, later.settled),
            back=self.back | later.back,
            lacking=self.lacking | later.lacking,
            run_out=self.run_out | later.run_out,
            nobody_in=self.nobody_in | later.nobody_in,
            no_supply=tuple(dict.fromkeys((*self.no_supply, *later.no_supply))),
            not_yet=tuple({(n.job, n.stage): n for n in (*self.not_yet, *later.not_yet)}.values()),
            not_up=tuple({(n.job, n.stage): n for n in (*self.not_up, *later.not_up)}.values()),
            more=tuple(more.values()),
            fetches=(*(x for x in self.fetches if x.kit not in {y.kit for y in later.fetches}), *later.fetches),
            said=max(self.said, later.said),
            behind=tuple(({(x.job, x.kit): x for x in (*later.behind, *self.behind)}).values()),
            given_up_for=tuple(dict.fromkeys((*self.given_up_for, *later.given_up_for))),
        )


NOTHING_TOLD = Progress(0)


class ProgressError(ValueError):
    """A record that cannot be read, or that does not go with its day and plan; the text says why."""

    is_told = True


def check_progress(day: Day, plan: Plan, progress: Progress) -> None:
    """See that a record goes with its day and plan.

    Raises `ProgressError` when it names a stage, job or hand that is not there, or a time that is still to come.
    """
    if progress.at < progress.settled:
        since = show_clock(progress.settled)
        raise ProgressError(f"the plan was made anew at {since}; it cannot be {show_clock(progress.at)} now")
    for noted in progress.noted:
        name = f"'{noted.job}.{noted.stage}'"
        if (noted.job, noted.stage) in progress.dropped:
            continue
        if plan.work(noted.job, noted.stage) is None:
            raise ProgressError(f"the plan has no stage {name}; plan the day again, then note it")
        check_not_to_come(noted, progress.at, name)
        if any(minute is not None and minute < day.start - EARLY for minute in (noted.start, noted.end)):
            start, soonest = show_clock(day.start), show_clock(max(0, day.start - EARLY))
            raise ProgressError(f"{name} cannot have begun or ended before {soonest}: the day starts at {start}")
        if noted.start is not None and noted.end is not None and noted.end < noted.start:
            raise ProgressError(f"{name} cannot end before it begins")
        if noted.part is not None and noted.end is None:
            raise ProgressError(f"{name} is half done; say since when it was left so")
    for job in progress.arrived:
        if job in day.jobs and all(visit.job != job for visit in plan.visits):
            raise ProgressError(f"the plan does not go to '{job}'")
    stages = [*progress.dropped, *((n.job, n.stage) for n in (*progress.not_yet, *progress.not_up))]
    stages += [(m.job, m.stage) for m in progress.more]
    for job, stage in stages:
        if job not in day.jobs or stage not in day.jobs[job].stages:
            raise ProgressError(f"the day has no stage '{job}.{stage}'")
    _known(day.jobs, "job", progress.arrived, progress.nobody_in, progress.promised)
    _known(day.jobs, "job", [job for job, _ in progress.no_supply])
    _known(day.jobs, "job", [*(x.job for x in progress.fetches), *(x.job for x in progress.behind)])
    _known(day.hands, "hand", progress.gone, progress.back, [fetch.hand for fetch in progress.fetches])
    _known(day.hands, "hand", [hand for noted in progress.noted for hand in noted.hands])
    _known(day.kit, "kit", progress.lacking, [*(x.kit for x in progress.fetches), *(x.kit for x in progress.behind)])
    _known(day.materials, "material", progress.run_out)


def corrected(progress: Progress, plan: Plan, job: str, stage: str, now: int | None) -> Progress:
    """The record without what was told of a stage.

    Parameters
    ----------
    progress
        The record.
    plan
        The plan by which the day went. Where it was made as if the stage was begun, the stage is not begun yet: else
        the record would not be that of its plan.
    job, stage
        The stage.
    now
        The minute up to which the day has gone in any case; None where nobody knows: it is then as late as what else
        was told says.

    Returns
    -------
    Progress
        The record of what is left.
    """
    back = progress.taken_back(job, stage)
    back = replace(back, at=max(back.at, now or 0))
    work = plan.work(job, stage)
    is_begun = work is not None and work.start < min(back.at, plan.since or 0)
    return back.with_not_yet(job, stage) if is_begun else back


def check_not_to_come(noted: Noted, now: int, name: str) -> None:
    """See that a note of a stage says no time that is still to come.

    Parameters
    ----------
    noted
        The note.
    now
        The minute that it is on that day.
    name
        What the stage is called where it is told, in quotation marks.

    Raises
    ------
    ProgressError
        When it does; the text offers what is likely meant: now.
    """
    late = max(minute for minute in (noted.start, noted.end, 0) if minute is not None)
    if late > now:
        wrong = f"{name} cannot have begun or ended at {show_clock(late)}: it is {show_clock(now)} now"
        raise ProgressError(f"{wrong}; if it just has, say {show_clock(now)}")


def _known(known: Collection[str], what: str, *told: Collection[str]) -> None:
    for name in (name for table in told for name in table):
        if name not in known:
            raise ProgressError(f"the day has no {what} '{name}'")
