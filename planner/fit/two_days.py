"""A day's work split over two days: the safe place to stop with the least left for the second."""

import datetime as dt
import threading
from collections.abc import Callable
from dataclasses import dataclass
from itertools import islice

from planner.day import Day, Wait
from planner.day.changes import with_job, with_stage
from planner.day.names import stage_name
from planner.fit.changes import without_stages
from planner.fit.errands import Errand
from planner.fit.least_work import least_work
from planner.fit.side_by_side import Done, SideBySide, planned
from planner.fit.stops import Named, blocks_of, stops
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan
from planner.trade.units import MINUTES_IN_A_DAY, show_clock, show_minutes

EACH_SECONDS = 8.0
LEAST_SECONDS = 2.0
"""How long one way to split may be planned at the most, and is given at the least."""

ROUNDS = 8
"""How often the time is enough for: each round plans some first days side by side, then the second day of one."""


@dataclass(frozen=True)
class Overnight:
    """A wait that the night is used for: between which stages, how long it lasts at the least, and when it is over.

    ``over`` is a minute of the second day; 0 or less when it is over before that day begins.
    """

    job: str
    wait: Wait
    words: str
    over: int


@dataclass(frozen=True)
class Split:
    """Two days and their plans; both are None, with no stages left, when no safe split fits.

    ``left`` are the stages left for the second day and ``minutes`` the least hands' work in them. ``unsettled`` is how
    many splits with less work on the second day were not settled in time.
    """

    first: Day | None = None
    second: Day | None = None
    plan: Plan | None = None
    second_plan: Plan | None = None
    left: tuple[Named, ...] = ()
    minutes: int = 0
    overnight: tuple[Overnight, ...] = ()
    unsettled: int = 0

    @property
    def sentence(self) -> str:
        """Where to stop, and what is left."""
        if self.plan is None or self.second_plan is None:
            return "No safe place to stop was found that makes both days fit."
        count = f"{len(self.left)} {'stage' if len(self.left) == 1 else 'stages'}"
        night = f"; the night serves {', '.join(o.words for o in self.overnight)}" if self.overnight else ""
        splits = "1 split with less is" if self.unsettled == 1 else f"{self.unsettled} splits with less are"
        proof = f" ({splits} not settled)" if self.unsettled else ""
        homes = f"home at {show_clock(self.plan.home)} and at {show_clock(self.second_plan.home)} the next day"
        return f"Over two days: {count}, {show_minutes(self.minutes)} of work, on the second{proof}, {homes}{night}."

    def rows(self) -> list[tuple[str, str, str, str]]:
        """Each stage as day, what, hands-on minutes, and what it waits for overnight."""
        rows = []
        for number, day, plan in (("first", self.first, self.plan), ("second", self.second, self.second_plan)):
            if day is None or plan is None:
                continue
            for w in sorted(plan.works, key=lambda w: (w.start, w.end)):
                own = [o for o in self.overnight if number == "second" and (o.job, o.wait.before) == (w.job, w.stage)]
                name = stage_name(day.jobs[w.job], w.stage)
                rows.append((number, name, show_minutes(w.end - w.start), ", ".join(o.words for o in own)))
        return rows


def split_over_two_days(
    day: Day,
    plan: Plan | None = None,
    *,
    next_date: dt.date | None = None,
    seconds: float = 60.0,
    count: int | None = None,
    stop: threading.Event | None = None,
    on_done: Callable[[int, int, Done], None] | None = None,
) -> Split:
    """Split a day at the safe place that leaves the least work for the second.

    No wait is broken: stages that a wait with a most joins stay on one day, as do a treatment and its rinse. A wait
    without a most may run overnight; the stage after it then starts no sooner than the wait is over. Both days start
    and end with the van at home, so all kit is home overnight.

    Parameters
    ----------
    day, plan
        The day as it is, and its plan, if it has one: where the search for the first day begins.
    next_date
        The second day; the day after when left out.
    seconds
        For all of it.
    count, stop, on_done
        How many processes, an event that ends it, and who hears how far it is.
    """
    date = next_date or day.date + dt.timedelta(days=1)
    night = (date - day.date).days * MINUTES_IN_A_DAY - (latest_finish(day) - day.start)
    blocks = blocks_of(day, night)
    each = min(EACH_SECONDS, max(LEAST_SECONDS, seconds / ROUNDS))
    waiting = (left for left in stops(blocks) if _could_fit(first_day(day, left)))
    unsettled = 0
    with SideBySide(count, stop) as processes:
        for _ in range(max(1, int(seconds / (2 * each)))):
            lefts = list(islice(waiting, processes.count))
            firsts = [first_day(day, left) for left in lefts]
            tasks = [
                Errand("a first day", planned, (first, each, None, plan and plan.without_works(left)))
                for first, left in zip(firsts, lefts, strict=True)
            ]
            done = processes.run(tasks, seconds=each, on_done=on_done)
            for left, first, found in zip(lefts, firsts, (one.value for one in done), strict=True):
                if found is None or found.home > latest_finish(first):
                    is_proven = found is not None and found.proof is not None and found.proof.overrun_bound > 0
                    unsettled += not is_proven
                    continue
                second, overnight = second_day(day, left, found, date)
                task = Errand("its second day", planned, (second, each))
                last: Plan | None = processes.run([task], seconds=each, on_done=on_done)[0].value
                if last is not None and last.home <= latest_finish(second):
                    minutes = sum(block.minutes for block in blocks if block.stages[0] in left)
                    return Split(first, second, found, last, left, minutes, overnight, unsettled)
                unsettled += 1
            if len(lefts) < processes.count or (stop is not None and stop.is_set()):
                break
    return Split(unsettled=unsettled)


def first_day(day: Day, left: tuple[Named, ...]) -> Day:
    """The day without what is left; a wait that runs into the night keeps its surface closed to the end of it."""
    for j, job in list(day.jobs.items()):
        gone = {s for key, s in left if key == j}
        if gone:
            crossing = [w for w in job.waits if w.before in gone and w.after not in gone]
            day = without_stages(day, j, gone)
            if j in day.jobs:
                ends = [
                    w.model_copy(update={"before": None, "extended_by": None}) for w in crossing if w.kind != "order"
                ]
                day = with_job(day, j, {"waits": (*day.jobs[j].waits, *ends)})
    return _kit_home(day)


def second_day(day: Day, left: tuple[Named, ...], plan: Plan, date: dt.date) -> tuple[Day, tuple[Overnight, ...]]:
    """The day with only what is left, its waits from the day before counted from the plan of that day."""
    shift = (date - day.date).days * MINUTES_IN_A_DAY
    changed, overnight = day, []
    for j, job in day.jobs.items():
        kept = {s for key, s in left if key == j}
        changed = without_stages(changed, j, set(job.stages) - kept) if kept != set(job.stages) else changed
        for wait in job.waits:
            ended = plan.work(j, wait.after)
            if wait.before not in kept or wait.after in kept or ended is None:
                continue
            over = ended.end + wait.bounds(ended.end)[0] - shift
            changed = _not_before(changed, j, wait.before, over)
            if wait.kind != "order":
                name = stage_name(job, wait.after)
                overnight.append(Overnight(j, wait, f"the {wait.kind} after '{name}'", over))
    return _kit_home(changed.model_copy(update={"date": date, "weather": ()})), tuple(overnight)


def _not_before(day: Day, job: str, stage: str | None, minute: int) -> Day:
    """A stage that starts no sooner than a minute."""
    if stage is None or minute <= 0:
        return day
    begins = max(minute, day.jobs[job].stages[stage].not_before or 0)
    return with_stage(day, job, stage, {"not_before": begins})


def _kit_home(day: Day) -> Day:
    """Nothing stays behind on a ground."""
    return day.model_copy(update={"kit": {k: kit.model_copy(update={"may_stay": False}) for k, kit in day.kit.items()}})


def _could_fit(day: Day) -> bool:
    return day.start + least_work(day).minutes <= latest_finish(day)
