"""Kit that was never there has not been set up or packed down, and what is being packed down is gone through with."""

import random
from dataclasses import replace
from typing import Any

import pytest

from planner.day import Day
from planner.engine import plan_day
from planner.plan.doubts import with_likely
from planner.plan.plan import Plan
from planner.plan.progress import More, Noted, Progress
from planner.plan.went import day_as_it_went
from tests.engine.random_days import small
from tests.engine.test_under_way_rules import made, planned, rest

SPRAYER = {"sprayer": {"load": 0.5, "rinse_out": 4}}
"""Kit that is used as it comes, and takes a while to be rinsed out."""


def sprayed(*, is_open: bool, **changes: Any) -> Day:
    """A treatment and its rinse on a path, by an open way or not."""
    treat = {"surface": "path", "chemical": "acid", "methods": {"spray": {"minutes": 5, "kit": ["sprayer"]}}}
    rinse = {"kind": "rinse", "surface": "path", "rinses": True, "methods": {"hose": {"minutes": 20}}}
    wait = {"after": "treat", "before": "rinse", "kind": "dwell", "least": 10, "closes": False}
    way = {"minutes": 0} if is_open else {"minutes": 2, "restricted": True}
    grounds = {"rear": {"supplies": {"tap": 1}, "way_in": way}}
    return made({"treat": treat, "rinse": rinse}, kit=SPRAYER, job={"waits": [wait], "grounds": grounds}, **changes)


@pytest.mark.parametrize("is_open", [True, False])
def test_kit_that_was_never_there_was_not_packed_down_by_the_clock(*, is_open: bool) -> None:
    """By an open way the sprayer comes with the treatment: when that is given up after all, nobody has rinsed it out,
    though it was time for it; what more of the treatment takes is rinsed out once. Behind a gate it was carried in."""
    day = sprayed(is_open=is_open)
    plan = planned(day)
    rinsed = next(c for c in plan.chores if c.what == "pack down")
    for at in (rinsed.start + 2, rinsed.end + 1):
        told = Progress(at, more=(More("elm", "treat", 8),), said=at).without("elm", "treat")
        told = replace(told, at=at)
        _, past = day_as_it_went(day, plan, told)
        assert [c.kit for c in past.plan.chores] == ["sprayer"] * (not is_open)
        assert {(c.kit, c.stay) for c in past.plan.chores} == {(s.kit, s.number) for s in past.plan.stays}
        _, new = rest(day, plan, with_likely(day, plan, told))
        more = new.work("elm", "treat-more")
        assert more is not None
        assert sum((c.kit, c.stay) in more.stays for c in new.chores) == 1


@pytest.mark.parametrize("is_open", [True, False])
def test_kit_that_is_being_packed_down_is_and_then_serves_again(*, is_open: bool) -> None:
    """More of the treatment is asked for while its sprayer is rinsed out, or then: it lies there until used again."""
    day = sprayed(is_open=is_open)
    first = planned(day)
    treat = first.work("elm", "treat")
    assert treat is not None
    done = Progress(treat.end, (Noted("elm", "treat", treat.start, treat.end),))
    _, plan = rest(day, first, done)
    rinsed = next(c for c in plan.chores if c.what == "pack down")
    for at in (rinsed.start + 2, rinsed.end):
        told = replace(done, at=at, said=at, settled=done.at, more=(More("elm", "treat", 8),))
        _, past = day_as_it_went(day, plan, told)
        assert past.plan.chores == (rinsed,)
        _, new = rest(day, plan, told)
        more = new.work("elm", "treat-more")
        assert more is not None
        assert rinsed in new.chores
        assert more.start >= rinsed.end
        assert set(more.stays).isdisjoint({("sprayer", rinsed.stay)})
        follows = next(s.follows for s in new.stays if (s.kit, s.number) in more.stays)
        assert follows == (None if is_open else rinsed.stay)


def is_all_there(day: Day, plan: Plan, told: Progress) -> bool:
    """Whether all kit that was set up or packed down in the past of a record was there."""
    _, past = day_as_it_went(day, plan, told)
    there = {s.key for s in past.plan.stays}
    return all((c.job, c.ground, c.kit, c.stay) in there for c in past.plan.chores if c.kit is not None)


@pytest.mark.parametrize("seed", range(15))
def test_whatever_is_given_up_the_past_has_no_chores_on_kit_that_never_came(seed: int) -> None:
    """Of a small day some stages are given up, or told not to have been begun, others told as the plan has them."""
    day, rng = small(seed), random.Random(seed)
    plan = plan_day(day, seconds=0.3, workers=1, deterministic=True).plan
    if plan is None:
        return
    for _ in range(60):
        at = rng.randint(plan.leaves, plan.home)
        told = Progress(at)
        for work in (w for w in plan.works if w.start < at):
            what = rng.random()
            if what < 0.3:
                told = told.without(work.job, work.stage)
            elif what < 0.5:
                told = told.with_not_yet(work.job, work.stage)
            elif what < 0.7:
                told = told.with_note(Noted(work.job, work.stage, work.start, work.end if work.end <= at else None))
        assert is_all_there(day, plan, replace(told, at=at)), told


@pytest.mark.parametrize("seed", range(4))
def test_nobody_begins_two_crossings_in_one_minute_whatever_is_told_late(seed: int) -> None:
    """What only a later stage needed came first as planned, where it came and there was time: a walk in for the filling
    was made before that for the rinse, though the rinse was told and no more than that of the filling."""
    day, rng = small(seed), random.Random(seed)
    plan = plan_day(day, seconds=0.3, workers=1, deterministic=True).plan
    assert plan is not None
    for _ in range(150):
        at, slip = rng.randint(plan.leaves, plan.home + 60), rng.choice((5, 15, 40))
        told = Progress(at)
        for work in (w for w in plan.works if w.start + slip < at and rng.random() < 0.5):
            end = work.end + slip
            told = told.with_note(Noted(work.job, work.stage, work.start + slip, end if end <= at else None))
        _, past = day_as_it_went(day, plan, replace(told, at=at))
        begun = [(c.hand, c.start) for c in past.plan.crossings]
        assert len(begun) == len(set(begun)), told


@pytest.mark.parametrize("seed", [83, 0, 3])
def test_no_kit_goes_before_it_came_whatever_is_given_up_of_a_day_told_late(seed: int) -> None:
    """What a hand did inside a crossing is over before they walk out, also where that walk takes what only a stage that
    was given up needed, and another brought."""
    day, rng = small(100_000 + seed), random.Random(seed)
    plan = plan_day(day, seconds=0.3, workers=1, deterministic=True).plan
    assert plan is not None
    for _ in range(150):
        at, slip = rng.randint(plan.leaves, plan.home + 60), rng.choice((5, 15, 40))
        told = Progress(at)
        for work in (w for w in plan.works if w.start + slip < at):
            what, end = rng.random(), work.end + slip
            if what < 0.2:
                told = told.without(work.job, work.stage)
            elif what < 0.7:
                told = told.with_note(Noted(work.job, work.stage, work.start + slip, end if end <= at else None))
        _, past = day_as_it_went(day, plan, replace(told, at=at))
        assert all(s.carried_in <= s.carried_out for s in past.plan.stays), told
