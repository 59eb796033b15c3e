"""The solver on its lead: what it says when it breaks down itself, and that a fault of ours is heard."""

import pytest
from ortools.sat.python import cp_model

from planner.engine.ranking import Budget
from planner.engine.solver import solver_within

BROKEN_DOWN = "absl::container_internal::raw_hash_map<>::at"


def _model() -> cp_model.CpModel:
    model = cp_model.CpModel()
    model.minimize(model.new_int_var(3, 9, "x"))
    return model


@pytest.mark.parametrize(
    ("words", "times", "is_ours"),
    [(BROKEN_DOWN, 2, False), (BROKEN_DOWN, 1, False), ("3", 1, True)],
    ids=["also where it makes nothing ready", "while it makes ready", "our own fault"],
)
def test_a_solver_that_breaks_down_is_asked_without_making_ready_and_else_has_found_nothing(
    words: str, times: int, is_ours: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The words are those of a real breakdown, met once in some thousand days, and on day 2247 at every look."""
    solve, asked = cp_model.CpSolver.solve, list[cp_model.CpModel]()

    def breaks_down(solver: cp_model.CpSolver, model: cp_model.CpModel, watch: object = None) -> object:
        asked.append(model)
        if len(asked) <= times:
            raise IndexError(words)
        return solve(solver, model)

    monkeypatch.setattr(cp_model.CpSolver, "solve", breaks_down)
    solver = solver_within(Budget(5.0), 5.0)
    if is_ours:
        with pytest.raises(IndexError, match="3"):
            solver.solve(_model())
        return
    if times > 1:
        assert solver.solve(_model()) == cp_model.UNKNOWN
        assert solver.best_objective_bound <= 3
        assert solver.response_proto.deterministic_time < 0.01
    assert solver.solve(_model()) == cp_model.OPTIMAL
    assert solver.best_objective_bound == 3
