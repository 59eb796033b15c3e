"""Pieces of a plan planned anew: what is held is what nobody asks anew, and of all that is open nothing is held.

The worked day (`tests.plan.worked.tiny`): treated 496 to 508, then swept and rinsed; the sprayer, with which nothing
more is done, still stands on the ground at 515.
"""

from types import SimpleNamespace
from typing import cast

import pytest
from ortools.sat.python import cp_model

from planner.engine.hints import start_from
from planner.engine.ranking import Budget, Score
from planner.engine.several_jobs import neighbourhoods
from planner.engine.several_jobs.neighbourhoods import Neighbourhoods, hold, hold_order
from planner.engine.solver import solver_within
from planner.engine.solving import Solution, Solving
from planner.engine.underway.replanning import Underway
from planner.engine.variables import Task, Variables
from planner.plan.progress import Noted, Progress
from tests.plan import worked

BUDGET = Budget(60.0, 1, 0, False)


@pytest.fixture
def underway() -> tuple[Underway, Solution]:
    """The worked day at 515, and its kept order as a solution."""
    outset = Underway(*worked.tiny(), Progress(515, (Noted("elm", "treat", 496, 508),)), BUDGET)
    outset.known()
    assert outset.first is not None
    return outset, outset.first


def test_kit_that_nothing_to_come_uses_goes_out_with_any_trip(underway: tuple[Underway, Solution]) -> None:
    """Of a kept order in which it has a trip of its own, no piece could better that: it is no choice of any stage."""
    outset, known = underway
    v = known.variables
    open_yet = {a for a, activity in enumerate(outset.problem.activities) if activity.start is None}
    sprayer = outset.problem.kit.index(next(k for k in outset.problem.kit if k.name == "sprayer"))
    (stay,) = [s for s in v.stays if s.kit == sprayer and known.of(s.present)]
    goes_with = [trip.index for trip in stay.left_by.values()]
    for free in (open_yet, set(sorted(open_yet)[:1])):
        model = v.model.clone()
        hold(v, model, known, free)
        domains = [[list(m.proto.variables[n].domain) for n in goes_with] for m in (v.model, model)]
        assert [0, 1] in domains[0]
        assert domains[0] == domains[1]


def test_where_all_that_is_open_is_planned_anew_nothing_keeps_its_time(
    underway: tuple[Underway, Solution], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Else a plan would be called the best of all that only is of those that go on as they do."""
    outset, known = underway
    held: list[set[int]] = []
    monkeypatch.setattr(neighbourhoods, "STRETCHES", 1.0)
    monkeypatch.setattr(neighbourhoods, "hold_times", lambda v, model, known, free: held.append(free))
    solving = Solving(outset.problem, BUDGET, adjust=outset.adjust)
    tries = Neighbourhoods(solving, known.variables, known.variables.home)
    solving.outcome.best = known
    tries.sizes[True] = len(tries.open) - 1
    tries._try(known, 10.0)
    assert [len(free) for free in held] == [len(tries.open) - 1]
    tries.sizes[True] = len(tries.open)
    tries._try(known, 10.0)
    assert len(held) == 1


def test_a_solution_is_of_the_variables_of_its_model_alone(underway: tuple[Underway, Solution]) -> None:
    """A try that moves a stretch adds a variable of its own: a try that started from that was no model at all."""
    outset, known = underway
    solving = Solving(outset.problem, BUDGET, adjust=outset.adjust)
    read = solving.read(known.variables, (*known.values, 7))
    assert len(read.values) == len(known.variables.model.proto.variables)
    model = known.variables.model.clone()
    start_from(model, read.values)
    assert model.validate() == ""


def test_a_model_that_is_none_is_an_error_in_the_tests_and_ends_no_search_of_a_user(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Nothing said so before: it looked like a model that has no solution in the time."""
    model = cp_model.CpModel()
    model.proto.solution_hint.vars.extend([3])
    model.proto.solution_hint.values.extend([1])
    with pytest.raises(ValueError, match="hint"):
        solver_within(BUDGET, 1.0).solve(model)
    monkeypatch.delenv("SLACKWATER_STRICT")
    assert solver_within(BUDGET, 1.0).solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE)


@pytest.mark.parametrize(("free", "turned"), [(set(), False), ({1}, True)])
def test_what_is_held_keeps_its_order_and_what_is_free_may_come_between(free: set[int], turned: bool) -> None:
    """Three tasks of ten minutes of one hand: whether the last can come before the middle one goes by what is free."""
    model = cp_model.CpModel()
    tasks = [_task(model, n) for n in range(3)]
    for task, start in zip(tasks, (0, 10, 20), strict=True):
        model.add_hint(task.start, start)
    v = cast(Variables, SimpleNamespace(activities=tasks, stays=[], problem=SimpleNamespace(hands=[None])))
    known = Solution(v, (0, 10, 10, 20, 20, 30), Score(0, 30, 0))
    model.add_no_overlap([task.interval for task in tasks])
    hold_order(v, model, known, free)
    for earlier, later, may in ((0, 1, True), (1, 2, True), (0, 2, True), (2, 1, turned), (2, 0, False)):
        asked = model.clone()
        asked.add(asked.get_int_var_from_proto_index(tasks[earlier].start.index) < tasks[later].start)
        assert (solver_within(BUDGET, 10.0).solve(asked) == cp_model.OPTIMAL) == may


def _task(model: cp_model.CpModel, number: int) -> Task:
    start, end = model.new_int_var(0, 60, f"{number}"), model.new_int_var(0, 60, f"{number} end")
    interval = model.new_interval_var(start, 10, end, f"{number}")
    return Task(f"{number}", None, start, end, 10, 10, 1, interval, hands={0: 1})
