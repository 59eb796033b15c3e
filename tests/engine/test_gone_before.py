"""What was carried out, eaten or left by now is held against what it came of, not against what is still to come."""

from dataclasses import replace
from typing import Any

from planner.day import Day
from planner.engine import plan_day, plan_rest
from planner.plan.another_day import left_for_another_day
from planner.plan.checker import broken_rules
from planner.plan.plan import Carried, Plan, Rest
from planner.plan.progress import More, Noted, Progress
from tests.plan import worked

SWEPT = (Noted("elm", "treat", 496, 508), Noted("elm", "sweep", 512, 532))


def with_rubble() -> tuple[Day, Plan]:
    """The worked day; sweeping leaves a container of rubble, out by the first crossing, and so does a way to rinse."""
    day, plan = worked.tiny()
    tables = day.model_dump(by_alias=True)
    tables["materials"] = {"rubble": {"mass": 7, "load": 0.5}}
    stages = tables["jobs"]["elm"]["stages"]
    stages["sweep"]["methods"]["broom"]["leaves"] = {"rubble": 1}
    stages["rinse"]["methods"]["scrub"] = {"minutes": 25, "leaves": {"rubble": 1}}
    first = plan.crossings[0]
    first = replace(first, carried_out=(*first.carried_out, Carried("rubble", 1, is_material=True, rest=1.0)))
    return Day.model_validate(tables), replace(plan, crossings=(first, *plan.crossings[1:]))


def test_rubble_that_is_gone_came_of_what_was_done() -> None:
    """It was reckoned as that of the rinse to come, which the file names first: the sweep's was to go out again."""
    day, plan = with_rubble()
    assert broken_rules(day, plan) == []
    result = plan_rest(day, plan, Progress(540, SWEPT, settled=536), seconds=20, workers=1)
    assert result.refused == ()
    assert result.plan is not None
    rinse = result.plan.work("elm", "rinse")
    assert rinse is not None
    out = [x.count for c in result.plan.crossings if c.end > 540 for x in c.carried_out if x.what == "rubble"]
    assert sum(out) == (rinse.method == "scrub")


def test_nobody_works_while_they_eat_though_somebody_else_had_the_meal_of_the_day() -> None:
    """Ash ate before treating, at 08:12, Bo eats from 08:55 to 09:35 and would be the one to sweep."""
    day, plan = worked.tiny()
    tables = day.model_dump(by_alias=True)
    tables["meal"] = {"length": 20, "once_over": 30, "earliest": 480, "latest": 540}
    tables["hands"]["bo"] = {"hours": [480, 900]}
    tables["jobs"]["elm"]["stages"]["sweep"]["by_hand"] = "bo"
    plan = replace(plan, rests=(Rest("ash", 492, 512), Rest("bo", 535, 575)))
    plan = replace(plan, works=tuple(w for w in plan.works if w.stage != "sweep"))
    told = Progress(540, (Noted("elm", "treat", 516, 528),))
    result = plan_rest(Day.model_validate(tables), plan, told, seconds=20, workers=1)
    assert result.refused == ()
    assert result.plan is not None
    sweep = result.plan.work("elm", "sweep")
    assert sweep is not None
    crossing = next(c for c in result.plan.crossings if c.hand == "bo")
    assert crossing.start >= 575


def treated_in_one_go(**dwell: Any) -> Day:
    """The worked day, its wall treated and rinsed from the same end, each patch in 30 to 45 minutes."""
    day, _ = worked.tiny()
    tables = day.model_dump(by_alias=True)
    (wait,) = tables["jobs"]["elm"]["waits"]
    tables["jobs"]["elm"]["waits"] = [wait | {"order": "same", **dwell}]
    return Day.model_validate(tables)


def test_more_of_a_treatment_on_another_day_is_rinsed_as_it_was_put_on() -> None:
    """Three times the wall takes 36 minutes to spray and 45 to rinse: in one go by its order, not in any other.

    The rinse of today takes off what is on; that of another day takes as much longer as there is more to take off.
    """
    day, plan = treated_in_one_go(), worked.tiny()[1]
    told = Progress(plan.home, more=(More("elm", "treat", 36),), dropped=(("elm", "treat-more"),))
    left = left_for_another_day(day, plan, told)
    assert left is not None
    job = left.jobs["elm"]
    assert sum(job.likely_minutes(s, next(iter(job.stages[s].methods))) for s in job.stages if "rinse" in s) == 45
    assert plan_day(left, seconds=20, workers=1).plan is not None


def test_more_of_a_treatment_than_one_pass_can_do_is_in_sections_on_another_day() -> None:
    """From the other end each patch has 15 minutes for both, 5 of them room to begin: 36 and 45 are nine sections."""
    day, plan = treated_in_one_go(order="reversed"), worked.tiny()[1]
    told = Progress(plan.home, more=(More("elm", "treat", 36),), dropped=(("elm", "treat-more"),))
    left = left_for_another_day(day, plan, told)
    assert left is not None
    assert len(left.jobs["elm"].stages) == 2 * 9
    assert plan_day(left, seconds=20, workers=1).plan is not None
