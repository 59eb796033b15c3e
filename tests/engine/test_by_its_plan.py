"""The rest of a day that went by its plan keeps the rules of the day itself: days on which a rule was let go."""

import random
from typing import Any

import pytest

from planner.day import Day
from planner.engine import plan_day, plan_rest
from planner.plan.past import past_of
from planner.plan.plan import Plan
from planner.plan.progress import Noted, Progress
from tests.days import at_elm
from tests.engine.by_its_plan import instants, slips
from tests.engine.planned_samples import planned_sample
from tests.engine.random_days import small, tiny

SECONDS = 5.0
"""More than a tiny day needs."""


def planned(day: Day, seconds: float = SECONDS) -> Plan:
    """A day's plan."""
    plan = plan_day(day, seconds=seconds, workers=1, deterministic=True).plan
    assert plan is not None
    return plan


def none_slip(day: Day, plan: Plan, at: int, *, all_of_it: bool, seconds: float = SECONDS) -> None:
    """Nothing is wrong with the rest from a minute on."""
    assert list(slips(day, plan, at, all_of_it=all_of_it, seconds=seconds, deterministic=True)) == []


def at_the_front(stages: dict[str, Any], *, job: dict[str, Any] | None = None, **tables: Any) -> Day:
    """A day of one job by an open way, from eight to six."""
    grounds = {"front": {"way_in": {"minutes": 0}}}
    surfaces = {"path": {"ground": "front"}, "step": {"ground": "front"}}
    told = {"grounds": grounds, "surfaces": surfaces, "stages": stages, **(job or {})}
    return Day.model_validate(at_elm(told, **{"start": 480, "finish": 1080, **tables}))


def by_hand(minutes: int, hands: int = 1, **more: Any) -> dict[str, Any]:
    """A stage on the path."""
    return {"surface": "path", "methods": {"hand": {"minutes": minutes, "hands": hands}}, **more}


@pytest.mark.parametrize("part", [0.2, 0.6, 0.9])
@pytest.mark.parametrize("name", ["salts_above_a_drive", "top_down", "dry_wood", "out_again", "tight_dwell"])
def test_the_days_that_are_shipped(name: str, part: float) -> None:
    """A flush has wetted the joints for the sand to come, sheets lie until the coat: common practice, no source."""
    day, result = planned_sample(name)
    assert result.plan is not None
    at = round(result.plan.leaves + part * (result.plan.home - result.plan.leaves))
    for all_of_it in (True, False):
        none_slip(day, result.plan, at, all_of_it=all_of_it, seconds=1.0)


@pytest.mark.parametrize("number", [4, 30, 35, 78])
def test_random_days(number: int) -> None:
    """At random minutes, those at which something begins or ends before others."""
    day = (tiny, small)[number % 2](100_000 + number)
    plan = planned(day, 1.0)
    for at in random.Random(number).sample(instants(plan), 2):
        for all_of_it in (True, False):
            none_slip(day, plan, at, all_of_it=all_of_it, seconds=2.0)


def test_leaving_comes_after_what_is_over() -> None:
    """A sweep of 20 minutes, and ten for leaving: a minute after it is over nine are still to come."""
    day = at_the_front({"sweep": by_hand(20)}, job={"leaving": 10})
    plan = planned(day)
    swept = plan.works[0].end
    rest = plan_rest(day, plan, Progress(swept + 1, settled=swept + 1), seconds=SECONDS, workers=1).plan
    assert rest is not None
    assert rest.visits[0].depart == swept + 10


def test_a_break_is_owed_however_soon_it_is_due() -> None:
    """Who is out for five minutes more than six hours has a break, also when told a quarter of an hour before these are
    over, and there are ten minutes of work left (Working Time Regulations 1998, reg. 12)."""
    day = at_the_front({"sweep": by_hand(335), "scrub": by_hand(10, after=["sweep"])})
    plan = planned(day)
    assert len(plan.rests) == 1
    none_slip(day, plan, plan.works[0].end, all_of_it=True)


def test_a_break_that_is_overdue_is_still_had() -> None:
    """Out for six hours and ten minutes without one, as a stage took longer, and two hours' work is left."""
    day = at_the_front({"sweep": by_hand(200), "scrub": by_hand(120, after=["sweep"])})
    plan = planned(day)
    late = Progress(plan.leaves + 370, (Noted("elm", "sweep", plan.leaves + 10, plan.leaves + 370),))
    rest = plan_rest(day, plan, late, seconds=SECONDS, workers=1).plan
    assert rest is not None
    assert [r.end - r.start for r in rest.rests] == [20]


def test_who_had_no_meal_has_one_where_another_had_it() -> None:
    """Ash eats while Bo works, then Bo: told in between, Bo's meal is still to come."""
    meal = {"length": 20, "once_over": 60, "earliest": 540, "latest": 600}
    stages = {"sweep": by_hand(60, by_hand="ash"), "scrub": by_hand(60, by_hand="bo") | {"surface": "step"}}
    day = at_the_front(stages, hands={"ash": {}, "bo": {}}, meal=meal)
    plan = planned(day)
    first, second = sorted(plan.rests, key=lambda rest: rest.start)
    at = first.end if first.end <= second.start else first.end + 1
    rest = plan_rest(day, plan, Progress(at, settled=at), seconds=SECONDS, workers=1).plan
    assert rest is not None
    assert {r.hand for r in rest.rests} == {"ash", "bo"}


def test_nobody_wets_again_what_is_off() -> None:
    """The dwell is over, the rinse done: the re-wet that was only for need is no stage of the rest."""
    stages = {
        "treat": by_hand(10, kind="treat"),
        "rewet": by_hand(3, only_if_needed=True),
        "rinse": by_hand(10, rinses=True),
        "sweep": by_hand(20, after=["rinse"]),
    }
    waits = [{"after": "treat", "before": "rinse", "kind": "dwell", "least": 10, "most": 30, "extended_by": "rewet"}]
    day = at_the_front(stages, job={"waits": waits})
    plan = planned(day)
    rinse = plan.work("elm", "rinse")
    assert rinse is not None
    result = plan_rest(day, plan, Progress(rinse.end, settled=rinse.end), seconds=SECONDS, workers=1)
    assert result.day is not None
    assert "rewet" not in result.day.jobs["elm"].stages


def over(plan: Plan, at: int) -> set[object]:
    """All that was over by a minute."""
    return {x for group in (plan.drives, plan.works, plan.chores, plan.rests) for x in group if x.end <= at}


@pytest.mark.parametrize("name", ["three_jobs_two_hands", "out_again", "wash_and_return", "100071", "200043", "200047"])
def test_what_a_plan_itself_records_was_as_it_says(name: str) -> None:
    """A plan made on the day is the record of what was before: nothing in it is moved, whenever it is read."""
    if name.isdigit():
        day = small(int(name))
        plan = planned(day, 2.0)
    else:
        day, result = planned_sample(name)
        assert result.plan is not None
        plan = result.plan
    for at in instants(plan):
        past = past_of(day, plan, Progress(at, settled=at)).plan
        assert over(past, at) == over(plan, at)


def test_leaving_comes_after_arriving_where_all_is_given_up() -> None:
    """The van is there for two minutes when the only stage is given up: arriving takes five, leaving ten."""
    day = at_the_front({"sweep": by_hand(20), "scrub": by_hand(20)}, job={"arriving": 5, "leaving": 10})
    plan = planned(day)
    at = plan.visits[0].arrive + 2
    told = Progress(at, settled=at, said=at).without("elm", "sweep").without("elm", "scrub")
    result = plan_rest(day, plan, told, seconds=SECONDS, workers=1)
    assert result.refused == ()
    assert result.plan is not None
    assert result.plan.visits[0].depart >= plan.visits[0].arrive + 15
