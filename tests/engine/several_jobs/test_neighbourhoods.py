"""Pieces of a plan planned anew: what is held is what nobody asks anew, and of all that is open nothing is held.

The worked day (`tests.plan.worked.tiny`): treated 496 to 508, then swept and rinsed; the sprayer, with which nothing
more is done, still stands on the ground at 515.
"""

import pytest

from planner.engine.ranking import Budget
from planner.engine.several_jobs import neighbourhoods
from planner.engine.several_jobs.neighbourhoods import Neighbourhoods, hold
from planner.engine.solving import Solution, Solving
from planner.engine.underway.replanning import Underway
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
