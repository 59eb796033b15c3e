"""The solver on its lead: what it says when it breaks down itself, and that a fault of ours is heard."""

import pytest
from ortools.sat.python import cp_model

from planner.engine.ranking import Budget
from planner.engine.solver import solver_within


def _model() -> cp_model.CpModel:
    model = cp_model.CpModel()
    model.minimize(model.new_int_var(3, 9, "x"))
    return model


@pytest.mark.parametrize(("words", "is_ours"), [("absl::container_internal::raw_hash_map<>::at", False), ("3", True)])
def test_a_solver_that_breaks_down_has_found_nothing(
    words: str, is_ours: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The words are those of a real breakdown, met once in some thousand days that had two seconds each."""
    solve, asked = cp_model.CpSolver.solve, list[cp_model.CpModel]()

    def breaks_down(solver: cp_model.CpSolver, model: cp_model.CpModel, watch: object = None) -> object:
        asked.append(model)
        if len(asked) == 1:
            raise IndexError(words)
        return solve(solver, model)

    monkeypatch.setattr(cp_model.CpSolver, "solve", breaks_down)
    solver = solver_within(Budget(5.0), 5.0)
    if is_ours:
        with pytest.raises(IndexError, match="3"):
            solver.solve(_model())
        return
    assert solver.solve(_model()) == cp_model.UNKNOWN
    assert solver.best_objective_bound <= 3
    assert solver.response_proto.deterministic_time < 0.01
    assert solver.solve(_model()) == cp_model.OPTIMAL
    assert solver.best_objective_bound == 3
