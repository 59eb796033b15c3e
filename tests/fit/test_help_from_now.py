"""Who could still come on a day under way, against all stretches of the grid from now on."""

from dataclasses import replace

import pytest

from planner.day import Day
from planner.engine import plan_day, plan_rest
from planner.fit.help_from_now import help_from_now
from planner.fit.second_hand import HELPER, with_helper
from planner.plan.checker import broken_rules
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan
from planner.plan.progress import Noted, Progress
from planner.plan.went import day_as_it_went
from tests.fit.small_days import open_day

STEP = 30


def slipped(minutes: int, finish: int = 720) -> tuple[Day, Plan, Progress, Plan]:
    """The first of three stages took so many minutes more: the day, its plan, what was told, and the rest."""
    day = open_day({"a": 40, "b": 80, "c": 50}, finish=finish)
    plan = plan_day(day, seconds=2).plan
    assert plan is not None
    first = min(plan.works, key=lambda work: work.start)
    end = first.end + minutes
    told = Progress(end, (Noted(first.job, first.stage, first.start, end),), said=end)
    rest = plan_rest(day, plan, told, seconds=2).plan
    assert rest is not None
    return day, plan, told, rest


def shortest_by_trying_all(day: Day, plan: Plan, told: Progress, last: int) -> int | None:
    """The shortest stretch from now on with which the rest is home in time."""
    fitting = []
    grid = range((told.at // STEP + 1) * STEP, last + 1, STEP)
    for start in grid:
        for end in (e for e in grid if e > start):
            rest = plan_rest(with_helper(day, start, end), plan, told, seconds=2).plan
            if rest is not None and rest.home <= latest_finish(day):
                fitting.append(end - start)
    return min(fitting, default=None)


def test_a_rest_that_is_late_fits_with_the_shortest_help_from_now_on() -> None:
    day, plan, told, rest = slipped(60)
    assert rest.home > latest_finish(day)
    found = help_from_now(day, plan, told, rest, seconds=20)
    assert found.stretch is not None
    assert found.stretch.start > told.at
    assert found.stretch.plan.home <= latest_finish(day)
    last = -(-max(rest.home, latest_finish(day)) // STEP) * STEP
    assert found.stretch.paid == shortest_by_trying_all(day, plan, told, last)


def test_its_plan_keeps_what_was_and_every_rule() -> None:
    day, plan, told, rest = slipped(60)
    found = help_from_now(day, plan, told, rest, seconds=20)
    assert found.stretch is not None
    with_help = found.stretch.plan
    helped = with_helper(day, found.stretch.start, found.stretch.end)
    went, _ = day_as_it_went(helped, with_help, replace(told, settled=told.at))
    assert broken_rules(went, with_help, since=told.at) == []
    (first,) = told.noted
    assert with_help.work(first.job, first.stage) == rest.work(first.job, first.stage)
    theirs = [work for work in with_help.works if HELPER in work.hands]
    assert theirs
    assert all(work.start >= told.at for work in theirs)


def test_what_no_help_can_mend_says_that_none_was_found() -> None:
    day, plan, told, rest = slipped(200)
    found = help_from_now(day, plan, told, rest, seconds=8)
    assert found.stretch is None
    assert found.sentence == "No second hand was found that has the van home by 12:00."


def test_a_rest_that_is_nearly_over_is_asked_for_no_hour_that_is_past() -> None:
    day, plan, told, _ = slipped(10)
    last = max(plan.works, key=lambda work: work.start)
    noted = tuple(Noted(w.job, w.stage, w.start, w.end if w is not last else None) for w in plan.works)
    late = replace(told, at=last.end - 20, noted=noted, said=last.end - 20)
    rest = plan_rest(day, plan, late, seconds=2).plan
    assert rest is not None
    assert rest.home - late.at < 60
    assert late.at < help_from_now(day, plan, late, rest, seconds=4).goal < rest.home


@pytest.mark.parametrize("save", [None, 30])
def test_a_rest_that_fits_is_asked_for_an_hour_or_what_is_wanted(save: int | None) -> None:
    day, plan, told, rest = slipped(10)
    assert rest.home <= latest_finish(day)
    found = help_from_now(day, plan, told, rest, save=save, seconds=10)
    assert found.goal == rest.home - (save or 60)
    assert found.stretch is None or found.stretch.plan.home <= found.goal
