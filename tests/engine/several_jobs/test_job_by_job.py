"""Bounds and plans job by job against the exact search over tiny days."""

import threading
from dataclasses import replace
from itertools import pairwise

import pytest

from planner.engine import plan_day
from planner.engine.build import build
from planner.engine.ranking import Budget
from planner.engine.serial.careful import checked_serial_plan
from planner.engine.several_jobs.composing import moved, with_breaks
from planner.engine.several_jobs.job_by_job import JobByJob, Purpose, Turn
from planner.plan.checker import broken_rules
from planner.plan.measures import measure
from planner.plan.plan import Plan
from tests.benchmarks.recipe_days import recipe_day
from tests.engine.bruteforce import best_value
from tests.engine.exactness import disagreement
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


def test_the_first_plan_put_together_is_better_than_one_thing_after_another(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a hundred and twenty stages at eight houses: one house planned well, the others as they would be anyway."""
    day, stop, plans = recipe_day(120, 8, 2), threading.Event(), list[Plan]()

    def first(plan: Plan) -> bool:
        plans.append(plan)
        stop.set()
        return True

    problem = build(day)
    monkeypatch.setattr("planner.engine.several_jobs.job_by_job.LEAST_SECONDS", 0.1)  # as soon as it has any plan
    JobByJob(day, problem, Budget(20, 1, deterministic=True), lambda alone, budget: None, first, stop).run()
    serial = checked_serial_plan(day, problem)
    assert serial is not None
    assert len(plans) == 1
    assert broken_rules(day, plans[0]) == []
    assert measure(day, plans[0]).value < measure(day, serial).value


def test_a_core_takes_what_needs_it_most_and_no_job_is_left_out() -> None:
    """Each job is looked at before any is bettered, the largest first; nothing is begun once all are proven."""
    day, seen = tiny(TWO_JOBS[0]), list[tuple[str, Purpose]]()

    class Watched(JobByJob):
        def _do(self, turn: Turn) -> None:
            assert not turn.job.is_proven
            seen.append((turn.job.job, turn.work))
            super()._do(turn)

    by_job = Watched(day, build(day), Budget(20, 1), lambda alone, budget: None, lambda plan: True)
    by_job.run()
    looks = [job.job for job in sorted(by_job.jobs, key=lambda job: -len(job.problem.activities))]
    assert seen[: len(looks)] == [(job, Purpose.LOOK) for job in looks]
    assert all(job.is_proven for job in by_job.jobs)


def test_what_is_known_is_never_given_up_for_something_worse() -> None:
    """Each plan that is given out is better than the one before; from the best, no time at all gives it again."""
    day, values = tiny(TWO_JOBS[1]), list[int]()

    def tell(plan: Plan) -> None:
        values.append(measure(day, plan).value)

    best = plan_day(day, seconds=5, deterministic=True, on_better=tell).plan
    assert best is not None
    assert len(values) > 1
    assert all(later < sooner for sooner, later in pairwise(values))
    assert measure(day, best).value == values[-1]
    again = plan_day(day, seconds=0.01, previous=best).plan
    assert again is not None
    assert measure(day, again).value == values[-1]


@pytest.mark.parametrize("seed", [27, 70, 83, 91])
def test_one_job_with_ways_of_both_kinds_is_planned_by_itself_first(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Tiny days with a restricted way and another, taken for middling: they are worth what the exact search says."""
    begun: list[str] = []
    run = JobByJob.run

    def noted(by_job: JobByJob) -> None:
        begun.extend(job.job for job in by_job.jobs)
        run(by_job)

    monkeypatch.setattr("planner.engine.problem.MIDDLING", 0)
    monkeypatch.setattr(JobByJob, "run", noted)
    day = tiny(seed)
    assert disagreement(day) is None
    assert begun == list(day.jobs)
