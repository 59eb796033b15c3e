"""A day that went by its plan: told just what the plan says, the rest of it is as good a plan of the day itself."""

from collections.abc import Iterator
from dataclasses import replace

from planner.day import Day
from planner.engine import plan_rest
from planner.plan.checker import broken_rules
from planner.plan.doubts import asked_of, with_likely
from planner.plan.measures import measure
from planner.plan.plan import Plan
from planner.plan.progress import NOTHING_TOLD, Noted, Progress
from planner.plan.went import day_as_it_went, with_what_cannot_hold
from planner.trade.units import show_clock

BY_THE_CLOCK = (10, 11)
"""Rules that ask for something by the clock: hours, promises, breaks."""


def told_by_its_plan(day: Day, plan: Plan, at: int, *, all_of_it: bool, since: Progress) -> Progress:
    """The record of a day of which nothing has slipped by the minute ``at``, ``since`` its plan was made on the day.

    Either all that happened is known, as where the plan is its own record, or only the stages are told: what their
    hands do after the last of them is then still to come, though the clock says that it is over.
    """
    if all_of_it:
        under_way = [(n, plan.work(n.job, n.stage)) for n in since.noted if n.end is None]
        over = tuple(replace(n, end=w.end) for n, w in under_way if w is not None and w.end <= at)
        return with_likely(day, plan, since.as_told().with_later(Progress(at, over, settled=at, said=at)))
    begun = [w for w in plan.works if w.start < at]
    noted = (Noted(w.job, w.stage, w.start, w.end if w.end <= at else None) for w in begun)
    return with_likely(day, plan, Progress(at, tuple(noted), said=at))


def instants(plan: Plan) -> list[int]:
    """The minutes at which something begins or ends, the minute before and the one after: there most can go wrong."""
    spans = [(x.start, x.end) for group in (plan.drives, plan.works, plan.chores, plan.rests) for x in group]
    spans += [(c.start, c.end) for c in plan.crossings]
    near = {at + n for span in spans for at in span for n in (-1, 0, 1)}
    return sorted(at for at in near if plan.leaves < at < plan.home)


def answered_otherwise(day: Day, plan: Plan, *, every: int = 61) -> Iterator[str]:
    """Where a day of which nothing is told has another past once all that is asked was answered as is likely: nowhere.

    It is looked at ``every`` so many minutes. What is asked goes by the clock alone, and what is likely is that the day
    went by its plan.
    """
    for minute in range(plan.leaves + 7, plan.home, every):
        told, at = Progress(minute), show_clock(minute)
        answered = with_likely(day, plan, told)
        _, by_clock = day_as_it_went(day, plan, told)
        _, by_word = day_as_it_went(day, plan, answered)
        if {(n.job, n.stage) for n in answered.noted} != set(by_clock.assumed):
            yield f"at {at} other stages are noted than the clock has done"
        if by_word.plan != by_clock.plan:
            yield f"at {at} the past by the answers is not that by the clock"
        yield from (f"at {at} still asked: {doubt.words}" for doubt in asked_of(day, plan, answered))


def slips(
    day: Day,
    plan: Plan,
    at: int,
    *,
    all_of_it: bool,
    seconds: float,
    deterministic: bool = False,
    since: Progress = NOTHING_TOLD,
    went: Day | None = None,
) -> Iterator[str]:
    """What is wrong with the rest of a day that went by its plan until ``at``: nothing, where all is well.

    It keeps the rules of the day itself from its morning on, not only of the day as it holds from then on; but for how
    sure the day is to be, as what is done can be slow no more, and where only stages are told it is later, so that
    what is asked by the clock may not be kept; when kit was seen to between them is a guess, so that of what is over by
    then nothing is asked. It is home no sooner than a plan that is proven best,
    which a rule let go would make possible; and, where all is told, no later than going on as planned would be, but for
    floor sheets just being lifted, which is begun anew.

    Of a plan that was itself made on the day, ``since`` is its record and ``went`` the day as it went by then.
    """
    told = told_by_its_plan(day, plan, at, all_of_it=all_of_it, since=since)
    result = plan_rest(day, plan, told, seconds=seconds, workers=1, deterministic=deterministic)
    yield from (f"refused: {text}" for text in result.refused)
    if result.plan is None:
        yield f"no rest: {result.summary()}"
        return
    held_to = (went or day).model_copy(update={"sure": None})
    if result.progress is not None and not all_of_it:
        held_to = with_what_cannot_hold(held_to, result.progress)
    for broken in broken_rules(held_to, replace(result.plan, since=since.now)):
        is_guessed = broken.until is not None and broken.until <= at
        if all_of_it or not (is_guessed or broken.rule in BY_THE_CLOCK):
            yield f"rule {broken.rule}: {broken.text}"
    (before, value), (after, other) = _worth(held_to, plan), _worth(held_to, result.plan)
    anew = max([0, *(at - c.start for c in plan.chores if c.what == "lift" and c.start < at < c.end)])
    if all_of_it and (max(0, after - anew), other - anew) > (before, value):
        yield f"a rest of {other} +{after} instead of {value} +{before}, going on as planned"
    is_best = plan.proof is not None and plan.proof.is_best and day.sure is None
    if is_best and (after, other) < (before, value):
        yield f"a rest of {other} +{after}, and {value} +{before} was proven best"


def _worth(day: Day, plan: Plan) -> tuple[int, int]:
    """Minutes past the latest finish, and value: the less the better."""
    found = measure(day, plan)
    return found.overrun, found.value
