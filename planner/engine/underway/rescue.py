"""Waits with a most that run now: whether each can still be kept, and by how little it must run over if it cannot."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from planner.day import Day
from planner.day.names import called, stage_name
from planner.engine.hints import Hint, give
from planner.engine.index import Index
from planner.engine.problem import Lag, Problem
from planner.engine.solving import Solution
from planner.engine.underway.old_choices import keep_choices, most_in_a_row, without_who_goes
from planner.engine.underway.rest_models import RestModels
from planner.engine.variables import Expr, Variables
from planner.plan.past import NOT_YET
from planner.plan.plan import Plan
from planner.plan.progress import Over
from planner.plan.went import without_own_hours
from planner.trade.units import MINUTES_IN_A_DAY, show_clock, show_minutes

FIRST_SECONDS = 8.0
"""How long is spent at the most on keeping the old plan as it was, only later; it is mostly done at once."""

RESCUE_SECONDS = 4.0
"""How long is spent on finding how late the first rinse can be, when a running dwell cannot be kept."""

OTHERS_SECONDS = 2.0
"""How long is spent on the choices of those who stay, of which the soonest home is wanted, not any."""


@dataclass(frozen=True, slots=True)
class _Way:
    """A way to look for the least lateness: whose choices are kept, so long at the most, with so many slots in a row.

    ``keeps`` is "all", "who stays" (asked only while nothing is known, and for the soonest home besides), or "none".
    ``with_trips`` keeps kit and trips as well; ``more_in_a_row`` are slots beyond those of the plan, None for all there
    can be; ``before_all_else`` puts whatever need not come before the ends of the waits after them.
    """

    keeps: str
    seconds: float
    more_in_a_row: int | None
    with_trips: bool = False
    before_all_else: bool = False


WAYS = (
    _Way("all", FIRST_SECONDS, 0, with_trips=True),
    _Way("who stays", OTHERS_SECONDS, 0, with_trips=True),
    _Way("who stays", OTHERS_SECONDS, 1),
    _Way("none", RESCUE_SECONDS, 1, before_all_else=True),
    _Way("none", RESCUE_SECONDS, None),
)
"""In this order; the last two go on from the best before."""


@dataclass(frozen=True)
class Running:
    """A wait with a most that runs now, or will when what is under way is over.

    ``lags`` are its lags, each with the minute from which it counts and its most, ``runs`` whether it does so now,
    ``begin_by`` is when its second stage must begin at the latest, by its quickest method, for all of them to be kept.
    """

    lags: tuple[tuple[Lag, int, int], ...]
    begin_by: int
    runs: bool

    @property
    def lag(self) -> Lag:
        """One of them: all lie between the same stages."""
        return self.lags[0][0]


@dataclass(frozen=True)
class Rescue:
    """By how much each running wait that cannot be kept must run over, words on each that runs, and how that is done.

    Of the words those on what cannot be kept come first, the wait that is over first before the others.
    """

    over: tuple[Over, ...] = ()
    words: tuple[str, ...] = ()
    found: Solution | None = None


def running_over(models: RestModels) -> Rescue:
    """What the waits that run ask for; nothing where none does."""
    day, problem = models.day, without_promises(models.problem_of(models.day))
    running = list(_running(models, problem))
    if not running:
        return Rescue()
    stages, found = Index.of(day).stages, []
    words: dict[int, tuple[int, bool, int, str]] = {}  # by stage, of two waits that end with it the one that is worse
    least, solution = _least_lateness(models, problem, running)
    late = set[tuple[str, str]]()
    if solution is None and (ends := {stages[wait.lag.second] for wait in running if _has_own_hours(day, wait)}):
        freely = _whenever(models, ends)
        problem = without_promises(freely.problem_of(freely.day))
        running = list(_running(freely, problem))
        least, solution = _least_lateness(freely, problem, running)
        late = set() if solution is None else {x for x in ends if _is_out_of_hours(day, models.rest_of(solution), x)}
    for wait, over in zip(running, least, strict=True):
        (job, after), (_, before) = stages[_counted_from(day, wait.lag)], stages[wait.lag.second]
        is_late = (job, before) in late
        if wait.runs or over != 0 or is_late:
            is_kept, worse = over == 0 and not is_late, 10**6 if over is None else over
            said = (-worse, is_kept, wait.begin_by, _urgent_words(day, wait, over, is_late=is_late))
            words[wait.lag.second] = min(said, words.get(wait.lag.second, said))
        if over != 0 or is_late:
            found.append(Over(job, after, before, over, is_late))
    in_order = sorted((is_kept, by, said) for _, is_kept, by, said in words.values())
    return Rescue(tuple(found), tuple(said for *_, said in in_order), solution)


def _has_own_hours(day: Day, wait: Running) -> bool:
    """Whether what ends a wait must be over by an hour of its own, or start at one."""
    job, stage = Index.of(day).stages[wait.lag.second]
    work = day.jobs[job].stages[stage]
    return work.not_after is not None or work.starts_at is not None


def _is_out_of_hours(day: Day, rest: Plan, end: tuple[str, str]) -> bool:
    """Whether a stage is done outside its own hours."""
    work, stage = rest.work(*end), day.jobs[end[0]].stages[end[1]]
    if work is None:
        return False
    is_moved = stage.starts_at is not None and work.start != stage.starts_at
    return is_moved or (stage.not_after is not None and work.end > stage.not_after)


def _whenever(models: RestModels, ends: set[tuple[str, str]]) -> RestModels:
    """The models with these stages done after their own hours too: what is on must come off."""
    day = models.day
    for end in ends:
        day = without_own_hours(day, *end)
    return replace(models, day=day)


def without_promises(problem: Problem) -> Problem:
    """The problem without times that were promised: what harms comes before them."""
    return replace(problem, jobs=tuple(replace(job, arrive=None, done_by=None) for job in problem.jobs))


def _running(models: RestModels, problem: Problem) -> Iterator[Running]:
    stages, past = Index.of(models.day).stages, models.past
    found: dict[tuple[int, int], list[tuple[Lag, int, int]]] = {}
    for lag in problem.lags:
        first = past.plan.work(*stages[lag.first])
        if first is None or past.is_begun(*stages[lag.second]):
            continue
        end = first.end if first.end < NOT_YET else first.start + problem.activities[lag.first].modes[0].minutes
        _, most = lag.bounds(first.start, end)
        if most is not None:
            began = first.start if lag.from_start else end
            found.setdefault((lag.first, lag.second), []).append((lag, began, most))
    for (begun, second), lags in found.items():
        quickest = min(mode.minutes for mode in problem.activities[second].modes)
        begin_by = min(began + most - (quickest if lag.to_end else 0) for lag, began, most in lags)
        yield Running(tuple(lags), begin_by, past.is_done(*stages[begun]))


def _counted_from(day: Day, lag: Lag) -> int:
    """The stage after which the day's wait stands that a lag is of: a re-wet counts for the stage it wets again."""
    stages = Index.of(day).stages
    job, first = stages[lag.first]
    after = next((w.after for w in day.jobs[job].waits if w.extended_by == first), first)
    return stages.index((job, after))


def _urgent_words(day: Day, wait: Running, over: int | None, *, is_late: bool) -> str:
    """What to do about a wait that runs; where what ends it ``is_late``, its own hours are said to be past."""
    job, stage = Index.of(day).stages[wait.lag.second]
    name = f"{called(day.jobs[job], job)}: '{stage_name(day.jobs[job], stage)}'"
    if is_late:
        name += " is done though its own hours are past:"
        return f"{name} it {_in_time(wait, over)} {_meanwhile(day, wait) if over else ''}".rstrip()
    if over is None:
        by = show_clock(wait.begin_by)
        return f"{name} must begin by {by}, and no way to do so was found in time. See to it first."
    if over:
        late = f"{name} cannot begin by {show_clock(wait.begin_by)}: {show_minutes(over)} too late at the soonest."
        return f"{late} {_meanwhile(day, wait)}"
    if wait.lag.extended_by is not None:
        return f"{name} must begin by {show_clock(wait.begin_by)}, or be wetted again by then."
    return f"{name} must begin by {show_clock(wait.begin_by)}."


def _in_time(wait: Running, over: int | None) -> str:
    by = show_clock(wait.begin_by)
    return f"cannot begin by {by}: {show_minutes(over)} too late at the soonest." if over else f"must begin by {by}."


def _meanwhile(day: Day, wait: Running) -> str:
    """What to do about what cannot be begun in time: of a dwell what is on stays wet, or comes off by hand."""
    stages = Index.of(day).stages
    (job, first), (_, second) = stages[_counted_from(day, wait.lag)], stages[wait.lag.second]
    place = day.jobs[job]
    if not any((w.after, w.before, w.kind) == (first, second, "dwell") for w in place.waits):
        return "Begin it before all else."
    what = stage_name(place, first)
    return f"Before anything else, keep wet what '{what}' put on, or rinse it off by hand, as the product's label says."


def _least_lateness(
    models: RestModels, problem: Problem, running: list[Running]
) -> tuple[list[int | None], Solution | None]:
    """How many minutes each running wait must run over its most at the least (all together), and what does so.

    First with the choices of the plan that the day went by: where that is in time, no more need be asked. Where they
    cannot be, as it is too late for somebody who goes, with those of the others, first with their kit and trips, then
    with these left open; of these the soonest home, as from there the search goes on. Then with what ends the waits
    before all else, which is a small question; last whatever there is, from the best of the two.
    None for each where no way is found at all in the time there is, or none within a day: it runs as long as it takes.
    """
    free = {id(lag) for wait in running for lag, _, _ in wait.lags}
    endless = replace(problem, lags=tuple(x.endless() if id(x) in free else x for x in problem.lags))
    best: list[int] | None = None
    found, rest = None, models.left
    for way in WAYS:
        is_by_others = way.keeps == "who stays"
        if is_by_others and best is not None:
            continue
        row = None if way.more_in_a_row is None else most_in_a_row(models.left) + way.more_in_a_row
        v = models.model(endless, row)
        over = [_lateness(v, wait) for wait in running]
        v.model.minimize((v.end_of_time + 1) * sum(over) + v.home if is_by_others else sum(over))
        if way.keeps == "none":
            give(v, Hint(models.day, rest, v).said)
        else:
            kept = without_who_goes(models.day, models.left) if is_by_others else models.left
            keep_choices(v, models.day, kept, kit_too=way.with_trips)
        if way.before_all_else:
            _before_all_else(v, running)
        if best is not None:
            v.model.add(sum(over) < sum(best))
        better, _ = models.solve(v, way.seconds)
        if better is not None:
            best, found, rest = [better.of(x) for x in over], better, models.rest_of(better)
        if best is not None and not any(best):
            break
    if best is None:
        return [None] * len(running), found
    return [late if late < MINUTES_IN_A_DAY else None for late in best], found


def _before_all_else(v: Variables, running: list[Running]) -> None:
    """Whatever need not come before the second stages of the waits that run comes after them."""
    ends = {wait.lag.second for wait in running}
    again = {lag.extended_by for wait in running for lag, _, _ in wait.lags} - {None}
    before, waiting = set(ends), list(ends)
    while waiting:
        here = waiting.pop()
        new = {lag.first for lag in v.problem.lags if lag.second == here} - before
        before |= new
        waiting += new
    for a, task in enumerate(v.activities):
        if a not in before and a not in again and v.problem.activities[a].start is None:
            for end in ends:
                v.model.add(task.start >= v.activities[end].end)


def _lateness(v: Variables, wait: Running) -> Expr:
    """By how much a wait runs over its most; a re-wet in time counts anew."""
    late = v.model.new_int_var(0, v.end_of_time, "late")
    second = v.activities[wait.lag.second]
    for lag, began, most in wait.lags:
        reached = second.end if lag.to_end else second.start
        if lag.extended_by is None:
            v.model.add(late >= reached - began - most)
            continue
        again = v.activities[lag.extended_by]
        wetted, counted = (again.end if lag.to_end else again.start), (again.start if lag.from_start else again.end)
        v.model.add(late >= reached - began - most).only_enforce_if(~again.present)
        v.model.add(late >= wetted - began - most).only_enforce_if(again.present)
        v.model.add(late >= reached - counted - most).only_enforce_if(again.present)
        v.model.add(again.end <= second.start).only_enforce_if(again.present)
    return late
