"""Stages told as done before their turn: the past that this makes has nothing in it that only later stages needed."""

import random
from collections.abc import Iterator
from dataclasses import replace

import pytest

from planner.day import Day
from planner.day.names import Names
from planner.engine import first_plan, plan_day, plan_rest
from planner.plan.checker import broken_rules
from planner.plan.doubts import asked_of, with_likely
from planner.plan.past import NOT_YET
from planner.plan.plan import Plan, Work
from planner.plan.progress import Noted, Progress
from planner.plan.went import day_as_it_went
from tests.engine.by_its_plan import answered_otherwise
from tests.engine.edge_days import edge
from tests.engine.planned_samples import planned_sample
from tests.engine.random_days import small
from tests.engine.test_replanning import holds
from tests.plan import worked

Told = tuple[Work, Work, Progress]
"""The stage after which another was done before its turn, that one, and what is told then."""

BETWEEN = 40
"""So many minutes lie between the two: enough to carry in and set up what the second needs."""

SAMPLES = ("by_recipe", "dry_wood", "joints_below_a_wall", "rear_patio", "side_gate", "tight_dwell", "too_much")


def sample(name: str) -> tuple[Day, Plan]:
    """A day that is shipped, and its plan."""
    day, result = planned_sample(name)
    assert result.plan is not None
    return day, result.plan


def jumps(day: Day, plan: Plan) -> Iterator[Told]:
    """All that may be done by one of the same hands before what stands between in the plan."""
    works = sorted(plan.works, key=lambda w: (w.start, w.end))
    for n, first in enumerate(works):
        known = tuple(Noted(w.job, w.stage, w.start, w.end) for w in works[: n + 1] if w.end <= first.end)
        for m in range(n + 2, len(works)):
            then, passed = works[m], works[n + 1 : m]
            if then.job != first.job or then.visit != first.visit or set(then.hands).isdisjoint(first.hands):
                continue
            if any(_is_before(day, w, then) for w in passed):
                continue
            if not _between(plan, first, then):  # all that is passed is by the other hand, or goes on beside the first
                continue
            begun = first.end + BETWEEN
            end = begun + then.end - then.start
            yield first, then, Progress(end, (*known, Noted(then.job, then.stage, begun, end)))


def _between(plan: Plan, first: Work, then: Work) -> list[Work]:
    """What the hands of the second have to do by the plan after the first and before it."""
    return [w for w in plan.works if first.end <= w.start < then.start and not set(w.hands).isdisjoint(then.hands)]


def _is_before(day: Day, one: Work, other: Work) -> bool:
    job = day.jobs[one.job]
    waits = any((w.after, w.before) == (one.stage, other.stage) for w in job.waits)
    return one.job == other.job and (waits or one.stage in job.stages[other.stage].after)


def as_not_begun(day: Day, plan: Plan, progress: Progress) -> Progress:
    """The record, with all that may be answered so not begun yet."""
    while asked := asked_of(day, plan, progress):
        not_yet = [reply for reply in asked[0].replies if reply.words == "Not yet"]
        progress = (not_yet or asked[0].replies)[0].on(progress)
    return progress


def check_past(day: Day, plan: Plan, first: Work, then: Work, progress: Progress) -> None:
    """What must hold of the past that a stage done before its turn makes."""
    told = {(n.job, n.stage) for n in progress.noted}
    answered = as_not_begun(day, plan, progress)
    _, past = day_as_it_went(day, plan, answered)
    begun = {(w.job, w.stage) for w in past.plan.works if set(w.hands) & set(then.hands)}
    assert begun <= told, "nobody said that what stands between was done"
    assert past.plan.leaves >= plan.leaves, "nobody left home before they did"
    first_passed = min(w.start for w in _between(plan, first, then))
    users = {(w.job, *stay) for w in past.plan.works for stay in w.stays}
    for chore in past.plan.chores:
        is_by_then = next(c.start for c in plan.chores if _key(c) == _key(chore)) < first_passed
        is_moved = chore.kit in day.jobs[then.job].stages[then.stage].methods[then.method].kit
        is_used = chore.kit is None or (chore.job, chore.kit, chore.stay) in users
        is_by_others = set(chore.hands).isdisjoint(then.hands)
        assert is_by_then or is_used or is_moved or is_by_others, f"{chore} was for what is still to come"
    for stay in past.plan.stays:
        ended = stay.carried_out < NOT_YET
        later = [w for w in plan.works if (w.job, w.stage) not in told and (stay.kit, stay.number) in w.stays]
        is_for_later = any(w.job == stay.job and day.jobs[w.job].ground_of(w.stage) == stay.ground for w in later)
        is_moved = stay.kit in day.jobs[then.job].stages[then.stage].methods[then.method].kit
        assert not (ended and is_for_later) or is_moved, f"{stay} ended, and is needed where it stood"


def _key(chore: object) -> tuple[object, ...]:
    return tuple(getattr(chore, name) for name in ("what", "job", "ground", "kit", "stay", "visit"))


@pytest.mark.parametrize("name", SAMPLES)
def test_what_stands_between_is_not_taken_for_done_nor_what_it_needs(name: str) -> None:
    day, plan = sample(name)
    found = list(jumps(day, plan))
    assert found
    for told in found:
        check_past(day, plan, *told)


@pytest.mark.parametrize("name", SAMPLES)
def test_what_is_asked_says_whether_the_clock_asks_or_what_was_told(name: str) -> None:
    day, plan = sample(name)
    works = sorted(plan.works, key=lambda w: w.start)
    told = works[-1]  # and by the clock the day is hardly begun
    at = works[0].end + 1
    asked = asked_of(day, plan, Progress(at, (Noted(told.job, told.stage, at - 1, at),)))
    names = Names(day)
    by_name = {names.stage(w.job, w.stage): w for w in works if w != told}
    seen = 0
    for doubt in (d for d in asked if d.words.endswith("is it done?")):
        work = by_name[doubt.words.split("'")[1]]
        is_due = work.end <= at
        assert ("should be done by now" in doubt.words) == is_due
        assert (f"comes before '{names.stage(told.job, told.stage)}'" in doubt.words) == (not is_due)
        seen += not is_due
    assert seen, "what was told asks of nothing"


def test_the_rest_is_planned_from_there() -> None:
    day, plan = sample("rear_patio")
    *_, (_, _, told) = jumps(day, plan)
    answered = with_likely(day, plan, told)
    holds(day, plan, answered, plan_rest(day, plan, answered, seconds=1.0, workers=1, deterministic=True))


@pytest.mark.parametrize("seed", range(8))
def test_any_stage_of_a_small_day_may_be_told_before_its_turn(seed: int) -> None:
    day = small(seed)
    plan = plan_day(day, seconds=0.5, workers=1, deterministic=True).plan
    found = [] if plan is None else list(jumps(day, plan))
    random.Random(seed).shuffle(found)
    for _, _, told in found[:2]:
        assert plan is not None
        answered = with_likely(day, plan, told)
        holds(day, plan, answered, plan_rest(day, plan, answered, seconds=0.5, workers=1, deterministic=True))


def test_kit_whose_stage_was_not_begun_still_stands_where_the_clock_would_have_it_packed_down() -> None:
    """The worked day at 552, the sweep (512 to 532) not begun: its broom is in the garden, not in the van."""
    day, plan = worked.tiny()
    told = Progress(552, (Noted("elm", "treat", 496, 508),)).with_not_yet("elm", "sweep")
    _, past = day_as_it_went(day, plan, told)
    broom = next(s for s in past.plan.stays if s.kit == "broom")
    assert broom.carried_out == NOT_YET


def test_what_was_set_up_before_another_stage_was_so_though_only_a_later_one_needs_it() -> None:
    """Ash sets the sprayer up (492 to 496), sweeps (496 to 516), and treats four minutes after that (520 to 532).

    Each stage was told to be as planned; nobody sets up in those four minutes what stood there by then.
    """
    day, plan = worked.tiny()
    works = {"sweep": (496, 516), "treat": (520, 532), "rinse": (562, 577)}  # dwelt 30 min, of 30 to 45
    chores = [(492, 496), (532, 536), (556, 562), (577, 582)]
    (first, second), (out, home), (sprayer, broom, washer) = plan.crossings, plan.drives, plan.stays
    plan = replace(
        plan,
        drives=(out, replace(home, start=584, end=594)),
        visits=(replace(plan.visits[0], depart=584),),
        works=tuple(replace(w, start=works[w.stage][0], end=works[w.stage][1]) for w in plan.works),
        chores=tuple(replace(c, start=start, end=end) for c, (start, end) in zip(plan.chores, chores, strict=True)),
        crossings=(replace(first, end=538), replace(second, start=554, end=584)),
        stays=(
            replace(sprayer, carried_out=536),
            replace(broom, carried_out=536),
            replace(washer, carried_in=556, carried_out=582),
        ),
    )
    assert broken_rules(day, plan) == []
    assert list(answered_otherwise(day, plan)) == []
    told = Progress(540, tuple(Noted("elm", stage, *works[stage]) for stage in ("sweep", "treat")))
    _, past = day_as_it_went(day, plan, told)
    assert [(c.start, c.end) for c in past.plan.chores] == [(492, 496), (532, 536)]


@pytest.mark.parametrize("name", SAMPLES)
def test_all_answered_as_likely_the_day_went_by_its_plan(name: str) -> None:
    day, plan = sample(name)
    careful = first_plan(day)
    assert careful is not None
    assert list(answered_otherwise(day, plan, every=23)) == []
    assert list(answered_otherwise(day, careful)) == []


@pytest.mark.parametrize("seed", range(9))
def test_so_it_did_by_any_plan_of_a_random_day(seed: int) -> None:
    day = (small, edge, small)[seed % 3](200_000 + seed)
    found: list[Plan] = []
    plan_day(day, seconds=0.3, workers=1, deterministic=True, on_better=found.append)
    assert found
    assert [words for plan in {found[0], found[-1]} for words in answered_otherwise(day, plan)] == []
