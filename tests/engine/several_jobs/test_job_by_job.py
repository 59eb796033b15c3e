"""Bounds and plans job by job against the exact search over tiny days."""

from dataclasses import replace

import pytest

from planner.engine.build import build
from planner.engine.ranking import Budget
from planner.engine.several_jobs.composing import moved, with_breaks
from planner.engine.several_jobs.job_by_job import JobByJob
from planner.plan.checker import broken_rules
from planner.plan.measures import measure
from planner.plan.plan import Plan
from tests.engine.bruteforce import best_value
from tests.engine.random_days import tiny
from tests.plan.worked import pair, pair_tables

TWO_JOBS = (4, 24, 29, 34, 54, 64)
"""Tiny days of two jobs that the exact search gets through soon."""


@pytest.mark.parametrize("seed", TWO_JOBS)
def test_the_bound_holds_and_the_plan_is_no_better_than_the_best(seed: int) -> None:
    day, plans = tiny(seed), list[Plan]()
    exact = best_value(day).value

    def keep(plan: Plan) -> bool:
        plans.append(plan)
        return not broken_rules(day, plan)

    by_job = JobByJob(day, build(day), Budget(5, 2), lambda alone, budget: None, keep)
    by_job.run()
    if exact is None:
        assert all(broken_rules(day, plan) for plan in plans)
        return
    assert by_job.least.value <= exact
    holding = [plan for plan in plans if not broken_rules(day, plan)]
    assert all(measure(day, plan).value >= exact for plan in holding)


def test_a_plan_moved_is_the_same_plan_later() -> None:
    _, plan = pair()
    later = moved(plan, 25)
    assert (later.leaves, later.home) == (plan.leaves + 25, plan.home + 25)
    assert moved(later, -25) == plan


def test_breaks_that_are_owed_are_put_in_where_all_rules_hold() -> None:
    """Without its break the worked plan breaks a rule; where one is owed after an hour, each hand has it, and the day
    is no longer than by one: both may have theirs at once."""
    tables = pair_tables()
    tables["rest"] = {"length": 15, "once_over": 60, "soonest": 10}
    day, plan = pair(tables)
    plan = replace(plan, rests=())
    assert broken_rules(day, plan) != []
    rested = with_breaks(day, plan)
    assert rested is not None
    assert broken_rules(day, rested) == []
    assert {rest.hand for rest in rested.rests} == set(day.hands)
    assert plan.home <= rested.home <= plan.home + 15
