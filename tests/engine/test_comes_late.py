"""Who is told to come later has not been there before, unless what is told or the plan's own record shows it.

The plan has Bo come by their own car at 08:10 (490), walk in, and paint from 08:12; Ash sweeps, half an hour.
"""

from dataclasses import replace

import pytest

from planner.plan.past import past_of
from planner.plan.plan import Plan
from planner.plan.progress import Noted, Progress, Sent
from tests.engine.test_under_way_rules import made, planned, rest, with_bo


def who_did(plan: Plan, hand: str) -> list[int]:
    """When a hand began each thing."""
    walks = [c.start for c in plan.crossings if c.hand == hand]
    comes = [a.arrive for a in plan.attendances if a.hand == hand]
    return walks + comes + [x.start for x in (*plan.works, *plan.chores) if hand in x.hands]


def test_of_whom_nothing_was_told_has_not_been_there() -> None:
    day, plan = with_bo()
    told = Progress(500, back={"bo": 520}, said=500)
    past = past_of(day, plan, told).plan
    assert who_did(past, "bo") == []
    assert who_did(past, "ash")
    _, new = rest(day, plan, told)
    assert min(who_did(new, "bo")) == 520


def test_told_afterwards_what_they_have_begun_they_began_since_then() -> None:
    """At 08:50 it is told that Bo came at 08:40: so the paint is under way since they had walked in."""
    day, plan = with_bo()
    past = past_of(day, plan, Progress(530, back={"bo": 520}, said=530)).plan
    assert [(w.start) for w in past.works if w.stage == "paint"] == [522]
    assert min(who_did(past, "bo")) == 520


@pytest.mark.parametrize("shown", [{"noted": (Noted("elm", "paint", 492),)}, {"settled": 495}], ids=["told", "settled"])
def test_who_is_shown_to_have_been_there_is_away_until_then(shown: dict) -> None:  # type: ignore[type-arg]
    day, plan = with_bo()
    told = replace(Progress(500, back={"bo": 520}, said=500), **shown)
    assert min(who_did(past_of(day, plan, told).plan, "bo")) == 490


def test_who_is_away_on_a_fetch_was_there() -> None:
    sent = Sent("bo", "broom", "elm", 498, 520)
    told = Progress(500, back={"bo": 520}, fetches=(sent,), said=500)
    assert told.comes_at("bo") == 0


def test_a_stage_of_two_that_was_done_before_the_other_came_was_done_by_one() -> None:
    """Both are to lift; it is told to be done at 08:30, and that Bo comes at 09:00: Ash did it."""
    lift = {"surface": "path", "methods": {"lift": {"minutes": 20, "hands": 2}}}
    day = made({"lift": lift}, hands={"ash": {}, "bo": {"own_transport": True, "hours": ["08:00", "17:00"]}})
    plan = planned(day)
    (work,) = plan.works
    told = Progress(work.end, (Noted("elm", "lift", work.start, work.end),), back={"bo": 540}, said=work.end)
    past = past_of(day, plan, told).plan
    assert [w.hands for w in past.works] == [("ash",)]
    assert who_did(past, "bo") == []
    _, new = rest(day, plan, told)
    assert new.work("elm", "lift") == past.works[0]


def test_the_van_waits_for_the_only_one_who_drives_it() -> None:
    """At 07:50 (470): Ash, who is alone, comes at 08:30. Told at 08:20 it is the same: the van has not left."""
    day = made({"sweep": {"surface": "path", "methods": {"brush": {"minutes": 10, "kit": ["broom"]}}}})
    plan = planned(day)
    for now in (470, 500):
        _, new = rest(day, plan, Progress(now, back={"ash": 510}, said=now))
        assert new.leaves == 510
