"""Why there is no plan: a small set of the day's own facts that cannot hold together.

A deletion filter (Chinneck and Dravnieks, ORSA Journal on Computing 3:157, 1991): each fact in turn is left out, some
at once first; if there is still no plan, it was not needed and stays out. What remains cannot be made smaller by
leaving out any one fact, as far as the solver could decide in its time.
"""

import threading
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import partial
from itertools import groupby, islice

from ortools.sat.python import cp_model

from planner.day import Day, Job, Stage, Wait
from planner.day.changes import Changes, with_ground, with_hand, with_job, with_kit, with_stage
from planner.day.names import called, stage_name
from planner.day.stage_kinds import FEET
from planner.day.without import without_most
from planner.engine.bounds import certain_chores, shortest_driving
from planner.engine.build import build
from planner.engine.facts_told import as_wholes
from planner.engine.fresh_facts import mixing_words, reachings
from planner.engine.kit_facts import Fact, kit_facts
from planner.engine.order_alone import has_no_order
from planner.engine.problem import Problem
from planner.engine.ranking import Budget
from planner.engine.rules import obey_all
from planner.engine.serial.careful import checked_serial_plan
from planner.engine.solver import solver_within
from planner.engine.variables import Caps, Variables
from planner.engine.weather_facts import drying_fact, weather_fact
from planner.plan.went import NEVER_OWED
from planner.trade.units import show_clock, show_minutes

SECONDS_A_TRY = 3.0
"""A fact that is not settled in so long stays: the set may then be larger than need be, and is true all the same."""

UNTRIED = "(there was no time to try whether all of these are needed: given longer, they may be fewer)"
"""What is said with facts that may be more than need be."""

AT_A_TIME = 8
"""So many facts are left out together first."""

LATE_SECONDS = 1.0
"""How long after its time the filter may still go on: the day was proven to have no plan, and why is the answer."""

NO_LIMIT = 1000.0
"""Armfuls that nobody reaches in a trip."""


def is_impossible(day: Day, budget: Budget, stop: threading.Event | None = None) -> bool | None:
    """Whether a day is known to have no plan at all; None where that was not known in time."""
    problem = build(day)
    if checked_serial_plan(day, problem) is not None:
        return False
    v = Variables(problem, Caps())
    obey_all(v)
    solver = solver_within(budget, budget.seconds, stop)
    return said_of(solver.solve(v.model))


def said_of(status: cp_model.CpSolverStatus) -> bool | None:
    """Whether what the solver was asked cannot be; None where it does not know."""
    return None if status == cp_model.UNKNOWN else bool(status == cp_model.INFEASIBLE)


IsImpossible = Callable[[Day, Budget, threading.Event | None], bool | None]


def _by_order(problem_of: Callable[[Day], Problem]) -> IsImpossible:
    """A day that has no order by itself is asked for its order only, whatever of it is left out."""
    return lambda day, _, stop: has_no_order(problem_of(day), stop)


def conflict_of(
    day: Day,
    budget: Budget,
    stop: threading.Event | None = None,
    is_impossible: IsImpossible = is_impossible,
    problem_of: Callable[[Day], Problem] = build,
    *,
    by_order: bool = False,
) -> tuple[str, ...]:
    """A small set of facts, in words, under which the day has no plan; the work itself comes last.

    Parameters
    ----------
    day : Day
        A day that has no plan.
    budget : Budget
        Workers and seed, and how long it takes, about; each try has a few seconds of its own.
    stop : threading.Event, optional
        Ends the search for a smaller set, as the end of its time does; what is left then may be larger than needed.
    is_impossible : callable, optional
        Whether a changed day, with these workers and seed and in this time, is known to have no plan; None: not known.
    problem_of : callable, optional
        The problem of a day.
    by_order : bool
        Whether even the order of its work alone cannot be: the facts are then those of that.
    """
    if by_order:  # a model of the whole day may be undecided for each fact that is left out
        is_impossible = _by_order(problem_of)
    kept: list[Fact] = []
    until = time.monotonic() + budget.seconds + LATE_SECONDS
    untried, work = False, budget.seconds + LATE_SECONDS  # what is left of the work where time is measured by it

    def still(freed: Day) -> bool:
        nonlocal untried, work
        left = work if budget.deterministic else until - time.monotonic()
        if left <= 0 or (stop is not None and stop.is_set()):
            untried = True
            return False
        tried = min(SECONDS_A_TRY, left)
        answer = is_impossible(freed, replace(budget, seconds=tried), stop)
        work -= tried if answer is None else 0  # one that was not settled took all of it
        return bool(answer)

    batches = []
    for some in _batched(facts(day)):
        freed = _freed(day, some)
        if still(freed):
            day = freed
        else:
            batches.append(some)
    for some in batches:
        for fact in some:
            freed = fact.without(day)
            if len(some) > 1 and still(freed):
                day = freed
            else:
                kept.append(fact)
    words: list[str] = []
    for fact in kept:  # what can be narrowed is so last, as that takes many tries: by now each is a small one
        if fact.narrowed is None:
            words.append(fact.words)
        else:
            day, narrower = fact.narrowed(day, still)
            words += narrower
    return (*as_wholes(words), *([UNTRIED] if untried else []), _work_in_words(problem_of(day)))


def _batched(some: Iterable[Fact]) -> Iterator[tuple[Fact, ...]]:
    """A few facts at a time, of which most often none is needed; what can be narrowed is by itself."""
    for can_be_narrowed, alike in groupby(some, key=lambda fact: fact.narrowed is not None):
        rest = iter(alike)
        while batch := tuple(islice(rest, 1 if can_be_narrowed else AT_A_TIME)):
            yield batch


def _freed(day: Day, some: Iterable[Fact]) -> Day:
    for fact in some:
        day = fact.without(day)
    return day


def _work_in_words(problem: Problem) -> str:
    """How much is to be done, on a day under way of what is left, and by when at the very latest."""
    left = [a for a in problem.activities if a.ground is not None and not a.optional]
    work = sum(min(mode.minutes * mode.hands for mode in a.modes) for a in left)
    hands = "one hand" if len(problem.hands) == 1 else f"{len(problem.hands)} hands"
    besides = {"setting up and packing down": certain_chores(problem)}
    if not problem.is_underway:
        besides["driving"] = shortest_driving(problem)
    least = " and ".join(f"{show_minutes(minutes)} of {what}" for what, minutes in besides.items() if minutes)
    beside = f", beside that {least} at the least" if least else ""
    latest = show_clock(problem.horizon)
    return f"{show_minutes(work)} of hands-on work for {hands}{beside}, home by {latest} at the very latest"


def facts(day: Day) -> Iterator[Fact]:
    """Every fact of a day that could be given up, the least essential first."""
    for j, job in day.jobs.items():
        yield from _nuisances(day, j, job)
        for n, wait in enumerate(job.waits):
            yield from _waits(j, job, n, wait)
        for s, stage in job.stages.items():
            yield from _stage(j, job, s, stage)
    yield from kit_facts(day)
    if day.sure is not None:
        words = f"promises, windows and waits are kept in {day.how_sure}"
        yield Fact(words, lambda d: d.model_copy(update={"sure": None}))
    yield from weather_fact(day)
    if not day.lights:
        yield Fact("no outside work in the dark without lights", lambda d: d.model_copy(update={"lights": True}))
    for h, hand in day.hands.items():
        if hand.hours is not None:
            start, end = hand.hours
            until = f" to {show_clock(end)}" if hand.own_transport else ""
            words = f"{called(hand, h)} works from {show_clock(start)}{until}"
            yield Fact(words, partial(with_hand, hand=h, changes={"hours": (0, 48 * 60)}))
    if any(kit.vibration for kit in day.kit.values()):
        still = {k: kit.model_copy(update={"vibration": None}) for k, kit in day.kit.items()}
        yield Fact("no hand takes more vibration than the limit value", lambda d: d.model_copy(update={"kit": still}))
    if day.rest is not None:
        yield Fact("the break that is owed", lambda d: d.model_copy(update={"rest": None}))
    yield from _own_breaks(day)
    if day.meal is not None:
        yield Fact("the meal of a long day", lambda d: d.model_copy(update={"meal": None}))
    yield from _loads(day)
    yield from _owned(day)
    for j, job in day.jobs.items():
        yield from _site(j, job, is_alone=len(day.jobs) == 1)
    if day.fixed_start:
        words = f"the van leaves at {show_clock(day.start)} exactly"
        yield Fact(words, lambda d: d.model_copy(update={"fixed_start": False}))
    yield Fact(
        f"the van leaves at {show_clock(day.start)} at the earliest",
        lambda d: d.model_copy(update={"start": 0}),
    )
    for j, job in day.jobs.items():
        yield from _promises(j, job)


def _own_breaks(day: Day) -> Iterator[Fact]:
    """The breaks of hands that have their own, as all have who are owed one on a day under way."""
    for h, hand in day.hands.items():
        if hand.rest is not None and hand.rest.length and hand.rest.once_over < NEVER_OWED:
            own = hand.rest
            words = f"the break of {called(hand, h)}, {show_minutes(own.length)}"
            words += "" if own.earliest is None else f", not before {show_clock(own.earliest)}"
            words += "" if own.latest is None else f", begun by {show_clock(own.latest)}"
            never = own.model_copy(update={"once_over": NEVER_OWED})
            yield Fact(words, partial(with_hand, hand=h, changes={"rest": never}))


def _loads(day: Day) -> Iterator[Fact]:
    if any(kit.mass for kit in day.kit.values()) or any(material.mass for material in day.materials.values()):
        yield Fact("nobody carries more than they lift", _without_masses)
    if any(method.uses or method.leaves for _, _, s in day.stages() for method in s.methods.values()):
        yield Fact("material is brought, and it and what the work leaves go out again", _with_nothing_to_take)


def _owned(day: Day) -> Iterator[Fact]:
    """Kit of which there is less than stages that take it."""
    used = [k for _, _, s in day.stages() for m in s.methods.values() for k in day.kit_closure(m.kit)]
    for key, kit in day.kit.items():
        if kit.own < used.count(key):
            words = f"{kit.own} of '{called(kit, key)}' {'is' if kit.own == 1 else 'are'} owned"
            yield Fact(words, partial(with_kit, kit=key, changes={"own": used.count(key)}))


def _site(j: str, job: Job, *, is_alone: bool) -> Iterator[Fact]:
    """What a site gives and lets through: taps and sockets, loads on its ways in, visits to it."""
    name = called(job, j)
    for g, ground in job.grounds.items():
        where = f"{name}, {called(ground, g)}"
        for supply, there in ground.supplies.items():
            enough = {**ground.supplies, supply: there + len(job.stages)}
            words = f"{where}: {there} {supply}"
            yield Fact(words, partial(with_ground, job=j, ground=g, changes={"supplies": enough}))
        way = ground.way_in
        if not way.is_open:
            armfuls = "armful" if way.load_limit == 1 else "armfuls"
            words = f"{where}: at most {way.load_limit:g} {armfuls} a trip"
            wide = way.model_copy(update={"load_limit": NO_LIMIT})
            yield Fact(words, partial(with_ground, job=j, ground=g, changes={"way_in": wide}))
        if way.over:
            gone_over = " and ".join(f"'{called(job.surfaces[key], key)}'" for key in way.over)
            words = f"{where}: nobody walks over {gone_over} while that is worked, waits, or is fresh or wet"
            around = way.model_copy(update={"over": ()})
            yield Fact(words, partial(with_ground, job=j, ground=g, changes={"way_in": around}))
    if not is_alone:
        words = f"{name}: no more than {job.visits} {'visit' if job.visits == 1 else 'visits'}"
        yield Fact(words, lambda d: with_job(d, j, {"visits": job.visits + 1}))


def _promises(j: str, job: Job) -> Iterator[Fact]:
    name = called(job, j)
    for start, end in job.quiet:
        words = f"{name}: quiet from {show_clock(start)} to {show_clock(end)}"
        if start == 0:
            words = f"{name}: quiet until {show_clock(end)}"
        yield Fact(words, partial(_without_quiet, j=j, span=(start, end)))
    if job.arrive is not None:
        words = f"{name}: arrival between {show_clock(job.arrive[0])} and {show_clock(job.arrive[1])}"
        yield Fact(words, lambda d: with_job(d, j, {"arrive": None}))
    if job.arriving or job.leaving:
        words = f"{name}: {show_minutes(job.arriving)} for arriving and {show_minutes(job.leaving)} for leaving"
        yield Fact(words, lambda d: with_job(d, j, {"arriving": 0, "leaving": 0}))
    if job.done_by is not None:
        yield Fact(
            f"{name}: promised done by {show_clock(job.done_by)}",
            lambda d: with_job(d, j, {"done_by": None}),
        )


def _nuisances(day: Day, j: str, job: Job) -> Iterator[Fact]:
    for stage, surface, why in reachings(day, j):
        yield Fact(f"{called(job, j)}: {why}", partial(_sparing, j=j, s=stage, surface=surface))
    if any(FEET in stage.spoiled_while_fresh_by for stage in job.stages.values()):
        words = f"{called(job, j)}: nobody stands on fresh work, or walks over it"
        yield Fact(words, partial(_trodden_on, j=j))
    if any(stage.covers or stage.stays_for for stage in job.stages.values()):
        words = f"{called(job, j)}: sheets and covers stay until what they are for is over"
        yield Fact(words, lambda d: _with_stages(d, j, {"stays_for": ()}))
    for s, cover in job.stages.items():
        if cover.lies_on:
            where = " and ".join(f"'{called(job.surfaces[key], key)}'" for key in cover.lies_on)
            words = f"{called(job, j)}: nothing is worked on {where} while what '{stage_name(job, s)}' lays lies there"
            yield Fact(words, partial(with_stage, job=j, stage=s, changes={"lies_on": ()}))
    if job.apart:
        yield Fact(f"{called(job, j)}: stages that must not share time", lambda d: with_job(d, j, {"apart": ()}))
    if words := mixing_words(job):
        yield Fact(f"{called(job, j)}: {words}", lambda d: _with_stages(d, j, {"chemical": None}))


def _waits(j: str, job: Job, n: int, wait: Wait) -> Iterator[Fact]:
    first = stage_name(job, wait.after)
    second = "" if wait.before is None else stage_name(job, wait.before)
    span = f"between '{first}' and '{second}'" if second else f"after '{first}'"
    if wait.order is not None:
        span += " for every patch"
    if wait.closes_surface or wait.keep_clear:
        surface = job.stages[wait.after].surface
        words = f"{called(job, j)}: {called(job.surfaces[surface], surface)} kept clear {span}"
        open_again = {"closes": False, "keep_clear": False}
        yield Fact(words, partial(_with_wait, j=j, n=n, change=lambda w: w.model_copy(update=open_again)))
    yield from drying_fact(j, job, n, wait)
    own = wait if wait.weather is None else wait.model_copy(update={"by_hour": ()})  # the rest is the forecast's
    mosts = [most for most in (own.most, *(step.most for step in own.by_hour)) if most is not None]
    if mosts:
        words = f"{called(job, j)}: at most {_by_the_hour(mosts)} {span}"
        yield Fact(words, partial(_with_wait, j=j, n=n, change=_without_own_most))
    # the least of a wait that no stage ends binds nothing: what it closes is closed for good
    leasts = [own.least, *(step.least for step in own.by_hour)]
    if wait.before is not None and any(leasts):
        words = f"{called(job, j)}: at least {_by_the_hour(leasts)} {span}"
        yield Fact(words, partial(_with_wait, j=j, n=n, change=_without_own_least))


def _by_the_hour(bounds: list[int]) -> str:
    """Minutes that a wait may bind by, from the fewest to the most."""
    one, other = show_minutes(min(bounds)), show_minutes(max(bounds))
    return one if one == other else f"{one} to {other}, by the hour,"


def _stage(j: str, job: Job, s: str, stage: Stage) -> Iterator[Fact]:
    name = f"{called(job, j)}: '{stage_name(job, s)}'"
    if stage.by_hand is not None:
        yield Fact(f"{name} done by {stage.by_hand}", lambda d: with_stage(d, j, s, {"by_hand": None}))
    if stage.after:
        after = " and ".join(f"'{stage_name(job, a)}'" for a in stage.after)
        yield Fact(f"{name} after {after}", lambda d: with_stage(d, j, s, {"after": ()}))
    for field, word in (("starts_at", "at"), ("not_before", "not before"), ("not_after", "not after")):
        minute = getattr(stage, field)
        if minute is not None:
            words = f"{name} {word} {show_clock(minute)}"
            yield Fact(words, partial(with_stage, job=j, stage=s, changes={field: None}))


# --- a day with one thing changed ----------------------------------------------------------------------------------


def _without_quiet(day: Day, j: str, span: tuple[int, int]) -> Day:
    return with_job(day, j, {"quiet": tuple(s for s in day.jobs[j].quiet if s != span)})


def _without_masses(day: Day) -> Day:
    kit = {k: piece.model_copy(update={"mass": None}) for k, piece in day.kit.items()}
    materials = {k: material.model_copy(update={"mass": None}) for k, material in day.materials.items()}
    return day.model_copy(update={"kit": kit, "materials": materials})


def _with_nothing_to_take(day: Day) -> Day:
    """The day without material and waste: nothing is brought, and nothing goes out again."""
    for j, job in day.jobs.items():
        for s, stage in job.stages.items():
            methods = {m: way.model_copy(update={"uses": {}, "leaves": {}}) for m, way in stage.methods.items()}
            day = with_stage(day, j, s, {"methods": methods})
    return day


def _with_stages(day: Day, j: str, changes: Changes) -> Day:
    stages = day.jobs[j].stages
    return with_job(day, j, {"stages": {s: stage.model_copy(update=changes) for s, stage in stages.items()}})


def _sparing(day: Day, j: str, s: str, surface: str) -> Day:
    return with_stage(day, j, s, {"spares": (*day.jobs[j].stages[s].spares, surface)})


def _trodden_on(day: Day, j: str) -> Day:
    for s, stage in day.jobs[j].stages.items():
        day = with_stage(day, j, s, {"fresh_to": tuple(sorted(stage.spoiled_while_fresh_by - {FEET}))})
    return day


def _with_wait(day: Day, j: str, n: int, change: Callable[[Wait], Wait]) -> Day:
    waits = list(day.jobs[j].waits)
    waits[n] = change(waits[n])
    return with_job(day, j, {"waits": tuple(waits)})


def _without_own_most(wait: Wait) -> Wait:
    """The wait, which may last as long as it likes, but for what a forecast makes shorter than the file has it."""
    free = without_most(wait)
    if wait.weather is None or wait.most is None:
        return free
    shorter = (step.most is not None and step.most < wait.most for step in wait.by_hour)
    steps = tuple(own if keeps else none for own, none, keeps in zip(wait.by_hour, free.by_hour, shorter, strict=True))
    return free.model_copy(update={"by_hour": steps})


def _without_own_least(wait: Wait) -> Wait:
    """The wait with no least, at whatever hour it begins, but for what a forecast makes longer; its most stays."""
    steps = tuple(
        step if wait.weather is not None and step.least > wait.least else step.model_copy(update={"least": 0})
        for step in wait.by_hour
    )
    return wait.model_copy(update={"least": 0, "by_hour": steps})
