"""With crossings left out every plan is still one, and what is refuted is never what there is."""

from dataclasses import replace
from types import SimpleNamespace

import pytest
from ortools.sat.python import cp_model

from planner.day import Day
from planner.engine.bounds import with_tolls, without_ways
from planner.engine.build import build
from planner.engine.hints import Hint
from planner.engine.problem import Problem
from planner.engine.ranking import Budget, Score
from planner.engine.rules import obey_all
from planner.engine.serial.careful import serial_plan
from planner.engine.several_jobs.alone import alone, out_of_the_clock
from planner.engine.several_jobs.refuting import Refuting
from planner.engine.variables import Caps, Variables
from planner.plan.checker import broken_rules
from planner.plan.measures import longest_row, measure
from planner.plan.plan import Plan
from tests.engine.bruteforce import best_value
from tests.engine.random_days import small, tiny

PLANNED = (small(1), *(tiny(n) for n in (2, 3, 6, 7, 10, 809, 817, 819, 1005, 1410)))
"""Days of which most have ways with crossings, some water that comes in cans, sheets, ladders and wheels."""

ALONE = (2, 3, 6, 10)
"""Tiny days of one job without windows that the exact search gets through soon."""


def fits(day: Day, plan: Plan, problem: Problem) -> bool:
    """Whether stages done by the same hands, in the same way and at the same times make a plan, no later home."""
    v = Variables(problem, Caps(None, longest_row(plan), plan.home))
    obey_all(v)
    said = Hint(day, plan, v).said
    for task, modes in zip(v.activities, v.modes, strict=True):
        for choice in (task.start, *task.hands.values(), *modes, *task.visits.values()):
            index = getattr(choice, "index", -1)
            if index in said:
                v.model.add(choice == said[index])
    v.model.add(v.crossings(restricted=True) <= measure(day, plan).restricted_crossings)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return solver.solve(v.model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)


def test_every_plan_is_one_with_crossings_left_out() -> None:
    seen = 0
    for day in PLANNED:
        problem = build(day)
        plan = serial_plan(day, problem)
        if plan is None or broken_rules(day, plan) or not any(ground.slots for ground in problem.grounds):
            continue
        left_out = [with_tolls(problem, restricted=every) for every in (True, False)]
        for less in (*left_out, without_ways(problem)):
            assert fits(day, plan, less)
            seen += 1
    assert seen >= 24  # three for each day


def test_tolls_of_more_than_the_way_are_noticed() -> None:
    """The check above can fail: legs of an hour where the plan takes minutes."""
    day = small(0)
    problem = with_tolls(build(day), restricted=True)
    plan = serial_plan(day, build(day))
    assert plan is not None
    assert any(ground.toll for ground in problem.grounds)
    longer = replace(problem, grounds=tuple(replace(g, toll=60 if g.toll else 0) for g in problem.grounds))
    assert not fits(day, plan, longer)


@pytest.mark.parametrize("seed", ALONE)
def test_all_that_is_less_than_the_best_is_refuted_and_no_more(seed: int) -> None:
    """From a plan that is worse by far it ends at the best value, as the exact search has it."""
    day = tiny(seed)
    (job,) = day.jobs
    one = alone(day, job)
    problem = out_of_the_clock(build(one))
    exact = best_value(one).value
    assert exact is not None
    known = Score(0, exact + 20, 1)
    refuting = Refuting(problem, Budget(seconds=60, deterministic=True), known=known)
    refuting.raise_bound(60)
    assert refuting.best is not None
    assert refuting.bound == refuting.best.value(problem.price) == exact


def test_a_question_that_was_begun_goes_on_beyond_its_turn_but_not_beyond_the_end(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Else long ones are cut short by every turn, and are asked the same way for the same time for ever."""
    refuting = Refuting(out_of_the_clock(build(tiny(2))), Budget(seconds=60, workers=1), known=Score(0, 900, 1))
    taken: list[float] = []

    def in_vain(_: Variables, seconds: float, **__: object) -> tuple[SimpleNamespace, cp_model.CpSolverStatus]:
        taken.append(seconds)
        return SimpleNamespace(best_objective_bound=0), cp_model.UNKNOWN

    monkeypatch.setattr(refuting, "solve", in_vain)
    first = refuting.any.seconds
    for _ in range(2):  # each way
        refuting.must_stop = iter((False, True)).__next__  # type: ignore[method-assign]
        refuting.raise_bound(refuting.clock() + first / 10)
    assert taken == [first, first]
    assert refuting.any.seconds > first
    refuting.must_stop = iter((False, True)).__next__  # type: ignore[method-assign]
    refuting.raise_bound(refuting.clock() + first / 10, refuting.clock() + first / 5)
    assert taken[-1] <= first / 5
