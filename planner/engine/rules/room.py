"""Room: what a plan leaves before each most, each promise and each closing hour, against what slow stages would eat.

Every moment that must not come too late is *guarded*: its last minute, and from when on slowness counts (a wait is
counted from where it begins, a time of the clock from the morning). What stages done in between by one hand take longer
on a slow day, summed, is the margin that a guarded moment asks for; what is missing of it is short. The sum is what
stages that are all slow together take; stages that are not are done sooner.

Where a day says how sure it is to be, that nothing is short is a rule; else what is short is made least, by
`planner.engine.last_word`.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.engine.problem import Lag
from planner.engine.rules.order import always_before
from planner.engine.rules.route import first_with_work
from planner.engine.variables import Expr, Task, Variables


def obey(v: Variables) -> None:
    """State the rule of this page."""
    keep_room(v)


def keep_room(v: Variables) -> None:
    """On a day that says how sure it is to be, no moment that must not come too late is short of room.

    Once it is under way, what was slow may have eaten the room: then it is only made least.
    """
    if not may_be_short(v):
        for guarded in guarded_moments(v):
            for short in _short(v, guarded):
                v.model.add(short == 0)


@dataclass(frozen=True)
class Guarded:
    """A moment that must not come after ``last``, where all of ``given`` hold.

    Slowness counts from ``since`` on (None: from the morning). ``sooner`` are activities that are surely over by then
    and have begun since, ``never`` those that surely are not. ``of`` is the activity whose hands come late, if it is
    one.
    """

    name: str
    at: Expr
    last: Expr
    since: Expr | None = None
    given: tuple[Expr, ...] = ()
    sooner: frozenset[int] = frozenset()
    never: frozenset[int] = frozenset()
    of: int | None = None


def may_be_short(v: Variables) -> bool:
    """Whether room is wished for only; where it is a rule, nothing is short."""
    return not v.problem.keeps_room or v.problem.is_underway


def shortfall(v: Variables) -> Expr:
    """The minutes that are missing of all margins together."""
    return sum(short for guarded in guarded_moments(v) for short in _short(v, guarded))


def guarded_moments(v: Variables) -> Iterator[Guarded]:
    """Every most, promise and closing hour that slow stages could make the plan miss."""
    before = always_before(v)
    for n, lag in enumerate(v.problem.lags):
        if lag.has_most and lag.extended_by is None:
            yield from _mosts(v, lag, n, before)
        elif lag.most is not None and lag.extended_by is not None and not lag.steps:
            yield _after_a_re_wet(v, lag, n, lag.extended_by)
    slow = sum(max(mode.slow for mode in activity.modes) for activity in v.problem.activities)
    near = v.end_of_time + slow
    for n, visit in enumerate(v.visits):
        job = v.problem.jobs[visit.job]
        own = frozenset(
            a for a, task in enumerate(v.activities) if _job_of(v, a) == visit.job and task.present is v.true
        )
        present = () if visit.present is v.true else (visit.present,)
        if job.done_by is not None and job.done_by < near:
            sooner = own if job.visits == 1 else frozenset()
            yield Guarded(f"promise {n}", visit.depart, job.done_by, given=present, sooner=sooner)
        if job.arrive is not None and job.arrive[1] < near and (visit.number == 0 or not v.problem.is_underway):
            first = () if v.problem.is_underway else tuple(first_with_work(v, n))
            yield Guarded(f"window {n}", visit.arrive, job.arrive[1], given=first, never=own)
    for a, task in enumerate(v.activities):
        sooner = frozenset({a, *before[a]})
        never = frozenset(c for c in range(len(v.activities)) if a in before[c])
        for start, end in v.problem.activities[a].shut:
            if v.opens < start < near:
                over = v.literal(f"{task.name} over by {start}")
                v.model.add(task.start >= end).only_enforce_if(~over)
                given = (over,) if task.present is v.true else (over, task.present)
                yield Guarded(f"shut {a} {start}", task.end, start, None, given, sooner, never, a)


def _mosts(v: Variables, lag: Lag, n: int, before: list[set[int]]) -> Iterator[Guarded]:
    """The moment after which a wait has lasted too long, by each of its steps that has a most."""
    first, second = v.activities[lag.first], v.activities[lag.second]
    since = first.start if lag.from_start else first.end
    at = second.end if lag.to_end else second.start
    present = tuple(x.present for x in (first, second) if x.present is not v.true)
    sooner = frozenset([lag.first] * lag.from_start + [lag.second] * lag.to_end)
    sooner |= frozenset(c for c in before[lag.second] if lag.first in before[c])
    never = frozenset({lag.first, lag.second} | before[lag.first]) - sooner
    never |= frozenset(c for c in range(len(v.activities)) if lag.second in before[c])
    bounds = [(v.opens, lag.most), *((step, most) for step, _, most in lag.steps)]
    for m, (_, most) in enumerate(bounds):
        if most is not None:
            given = (*present, *_in_force(v, lag, first, [step for step, _ in bounds], m))
            yield Guarded(f"most {n}.{m}", at, since + most, since, given, sooner, never, lag.second)


def _after_a_re_wet(v: Variables, lag: Lag, n: int, rewet: int) -> Guarded:
    """The moment after which a wait has lasted too long since its re-wet; where that is not needed there is room."""
    again, second = v.activities[rewet], v.activities[lag.second]
    since = again.start if lag.from_start else again.end
    at = second.end if lag.to_end else second.start
    given = tuple(x.present for x in (v.activities[lag.first], second, again) if x.present is not v.true)
    never = frozenset({lag.first, *(() if lag.from_start else (rewet,)), *(() if lag.to_end else (lag.second,))})
    return Guarded(f"re-wet {n}", at, since + (lag.most or 0), since, given, never=never, of=lag.second)


def _in_force(v: Variables, lag: Lag, first: Task, begins: list[int], m: int) -> Iterator[Expr]:
    """Literals that are true together where a step of a wait holds; free to be false where it does not."""
    origin = first.start if lag.from_start else first.end
    earliest, latest = (first.start, first.end) if lag.patchwise else (origin, origin)
    if m:
        reached = v.literal(f"{first.name} comes to {begins[m]}")
        v.model.add(latest < begins[m]).only_enforce_if(~reached)
        yield reached
    if m + 1 < len(begins):
        not_past = v.literal(f"{first.name} is not past {begins[m + 1]}")
        v.model.add(earliest >= begins[m + 1]).only_enforce_if(~not_past)
        yield not_past


def _short(v: Variables, guarded: Guarded) -> Iterator[Expr]:
    """What is missing before one moment: the most that is missing for any hand."""
    activities = v.problem.activities
    counted = {}
    for c, task in enumerate(v.activities):
        if c not in guarded.never and any(mode.slow for mode in activities[c].modes):
            counted[c] = v.true if c in guarded.sooner and task.present is v.true else _between(v, guarded, c)
    most = sum(max(mode.slow for mode in activities[c].modes) for c in counted)
    if not most:
        return
    short = v.model.new_int_var(0, most, f"short before {guarded.name}")
    for h in range(len(v.problem.hands)):
        needed = sum(_slowness(v, c, between, h) for c, between in counted.items())
        given = list(guarded.given)
        does = v.true if guarded.of is None else v.activities[guarded.of].hands.get(h, v.true)
        given += [] if does is v.true else [does]
        v.model.add(short >= needed - guarded.last + guarded.at).only_enforce_if(given)
    yield short


def _between(v: Variables, guarded: Guarded, c: int) -> Expr:
    """Whether an activity lies between the minute from which slowness counts and the guarded moment."""
    task = v.activities[c]
    between, later = v.literal(f"{task.name} counts before {guarded.name}"), v.literal("later")
    v.model.add(task.end > guarded.at).only_enforce_if(later)
    ways = [between, later]
    if guarded.since is not None:
        sooner = v.literal("sooner")
        v.model.add(task.start < guarded.since).only_enforce_if(sooner)
        ways.append(sooner)
    v.model.add_bool_or(ways if task.present is v.true else [*ways, ~task.present])
    return between


def _slowness(v: Variables, c: int, between: Expr, h: int) -> Expr:
    """The minutes by which an activity takes longer on a slow day, where it lies between and this hand does it."""
    modes, chosen = v.problem.activities[c].modes, v.modes[c]
    does = v.activities[c].hands.get(h, v.true)
    if len(modes) == 1 and does is v.activities[c].present:
        return modes[0].slow * between
    if between is v.true and does is v.activities[c].present:
        return sum(mode.slow * x for mode, x in zip(modes, chosen, strict=True))
    minutes = v.model.new_int_var(0, max(mode.slow for mode in modes), "slow minutes")
    for mode, x in zip(modes, chosen, strict=True):
        v.model.add(minutes >= mode.slow).only_enforce_if([y for y in (between, x, does) if y is not v.true])
    return minutes


def _job_of(v: Variables, a: int) -> int | None:
    ground = v.problem.activities[a].ground
    return None if ground is None else v.problem.grounds[ground].job
