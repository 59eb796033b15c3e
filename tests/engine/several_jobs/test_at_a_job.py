"""The best plan of one job is bettered on, whichever model it was found in, and at times with more crossings."""

import pytest

from planner.engine.piece_by_piece import held_in_model
from planner.engine.ranking import Budget
from planner.engine.several_jobs import at_a_job
from planner.engine.several_jobs.at_a_job import SPARE_CROSSINGS, AtAJob
from planner.engine.solving import Solution
from planner.engine.variables import Caps
from tests.benchmarks.recipe_days import recipe_day


@pytest.fixture
def found() -> AtAJob:
    """A house of eight stages with a plan, whichever was found in a short look."""
    job = AtAJob(recipe_day(8, 1, 2, seed=1), "job0", Budget(60.0, 1, 0, deterministic=True))
    job.look_for_plans(job.clock() + 1.0)
    assert job.best is not None
    assert job._restricted()
    return job


@pytest.fixture
def begun(monkeypatch: pytest.MonkeyPatch) -> list[Solution]:
    """The solutions that pieces are planned anew from; nothing better is found from any."""
    seen: list[Solution] = []

    class InVain(at_a_job.Neighbourhoods):
        def better(self, until: float, tries: int | None = None) -> None:
            best = self.solving.outcome.best
            assert best is not None
            assert best.variables is self.v
            seen.append(best)

    monkeypatch.setattr(at_a_job, "Neighbourhoods", InVain)
    return seen


def test_a_plan_that_a_proof_came_upon_is_bettered_too(found: AtAJob, begun: list[Solution]) -> None:
    """It is one of another model: nothing was held from it, and so nothing was tried for the rest of the time."""
    best = found.outcome.best
    assert best is not None
    other = held_in_model(found, Caps(best.standing.crossings + 1, 6, found.problem.horizon))
    assert other is not None
    assert other[0].variables is not best.variables
    found.outcome.best = other[0]
    found.better_piece_by_piece(found.clock() + 1.0)
    (start,) = begun
    assert start.standing == best.standing
    assert found.plan is not None


def test_where_nothing_was_gained_there_is_room_for_more_crossings(found: AtAJob, begun: list[Solution]) -> None:
    """As long as their price alone leaves anything to gain, by what is known of minutes."""
    for _ in range(8):
        found.better_piece_by_piece(found.clock() + 1.0)
    rooms = [start.variables.caps.restricted or 0 for start in begun]
    assert rooms == sorted(rooms)
    assert rooms[1] == rooms[0] + SPARE_CROSSINGS
    best, price = found.best, found.problem.price
    assert best is not None
    assert best.minutes + price * best.crossings - price * rooms[-1] >= found.least.minutes
