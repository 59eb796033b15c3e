"""Project scheduling instances in published formats, and what the three ways of solving them make of each.

The files are read by the `psplib` package. An instance is then a problem of the engine, a model of the general
scheduling library `pyjobshop`, or a plain CP-SAT model as anyone would write it first.
"""

import time
from dataclasses import dataclass

import psplib
import pyjobshop
from ortools.sat.python import cp_model

from planner.engine.problem import Activity, Lag, Mode, Problem, Resource
from planner.engine.ranking import Budget
from planner.engine.search import Search

WORKERS = 2


@dataclass(frozen=True)
class Answer:
    """The makespan found, what is proven of it, and the seconds that took, building the model included."""

    makespan: int | None
    bound: int | None
    status: str
    seconds: float

    @property
    def is_proven(self) -> bool:
        """Whether no more is left to know."""
        return self.status in ("proven", "infeasible")

    @property
    def outcome(self) -> int | str | None:
        """The proven makespan, or that there is none; None while it is not known."""
        return (self.makespan if self.status == "proven" else self.status) if self.is_proven else None


def lags_of(instance: psplib.ProjectInstance) -> list[tuple[int, int, int]]:
    """(i, j, n) for each precedence: start(j) >= start(i) + n, n negative for a maximum lag."""
    lags = []
    for i, activity in enumerate(instance.activities):
        delays = activity.delays or [activity.modes[0].duration] * len(activity.successors)
        lags += [(i, j, n) for j, n in zip(activity.successors, delays, strict=True)]
    return lags


def horizon_of(instance: psplib.ProjectInstance) -> int:
    """A makespan that is enough if any is: each activity as long as it is or as the longest lag after it."""
    longest = [activity.modes[0].duration for activity in instance.activities]
    for i, _, n in lags_of(instance):
        longest[i] = max(longest[i], n)
    return sum(longest)


def as_problem(instance: psplib.ProjectInstance) -> Problem:
    """The instance as the engine's problem."""
    return Problem(
        tuple(
            Activity(
                str(n),
                (
                    Mode(
                        "only",
                        activity.modes[0].duration,
                        demands=tuple((r, q) for r, q in enumerate(activity.modes[0].demands) if q),
                    ),
                ),
            )
            for n, activity in enumerate(instance.activities)
        ),
        horizon=horizon_of(instance),
        lags=tuple(Lag(i, j, n, from_start=True) for i, j, n in lags_of(instance)),
        resources=tuple(Resource(str(r), one.capacity) for r, one in enumerate(instance.resources)),
    )


def by_engine(instance: psplib.ProjectInstance, seconds: float) -> Answer:
    """Solve it as the days are solved."""
    began = time.monotonic()
    outcome = Search(as_problem(instance), Budget(seconds=seconds, workers=WORKERS)).run()
    spent = time.monotonic() - began
    if outcome.best is None:
        return Answer(None, None, "infeasible" if outcome.infeasible else "none found", spent)
    makespan = outcome.best.standing.minutes
    return Answer(makespan, outcome.bound, "proven" if outcome.bound >= makespan else "feasible", spent)


def by_library(instance: psplib.ProjectInstance, seconds: float) -> Answer:
    """Solve it by pyjobshop."""
    began = time.monotonic()
    model = pyjobshop.Model()
    resources = [model.add_renewable(one.capacity) for one in instance.resources]
    tasks = [model.add_task() for _ in instance.activities]
    for task, activity in zip(tasks, instance.activities, strict=True):
        wanted = [(one, q) for one, q in zip(resources, activity.modes[0].demands, strict=True) if q]
        model.add_mode(task, [one for one, _ in wanted], activity.modes[0].duration, [q for _, q in wanted])
    for i, j, n in lags_of(instance):
        model.add_start_before_start(tasks[i], tasks[j], n)
    result = model.solve(time_limit=seconds, display=False, num_workers=WORKERS)
    spent = time.monotonic() - began
    names = {"Optimal": "proven", "Feasible": "feasible", "Infeasible": "infeasible"}
    status = names.get(result.status.value, "none found")
    if status not in ("proven", "feasible"):
        return Answer(None, None, status, spent)
    return Answer(round(result.objective), round(result.lower_bound), status, spent)


def by_plain_model(instance: psplib.ProjectInstance, seconds: float) -> Answer:
    """Solve it by the CP-SAT model that one writes first: starts, lags, one cumulative a resource, least makespan."""
    began = time.monotonic()
    model, latest = cp_model.CpModel(), horizon_of(instance)
    starts = [model.new_int_var(0, latest, f"start {n}") for n in range(len(instance.activities))]
    minutes = [activity.modes[0].duration for activity in instance.activities]
    spans = [model.new_fixed_size_interval_var(s, m, "") for s, m in zip(starts, minutes, strict=True)]
    for i, j, n in lags_of(instance):
        model.add(starts[j] >= starts[i] + n)
    for r, one in enumerate(instance.resources):
        demands = [activity.modes[0].demands[r] for activity in instance.activities]
        model.add_cumulative(spans, demands, one.capacity)
    makespan = model.new_int_var(0, latest, "makespan")
    model.add_max_equality(makespan, [s + m for s, m in zip(starts, minutes, strict=True)])
    model.minimize(makespan)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = WORKERS
    status = solver.solve(model)
    spent = time.monotonic() - began
    if status == cp_model.INFEASIBLE:
        return Answer(None, None, "infeasible", spent)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Answer(None, None, "none found", spent)
    word = "proven" if status == cp_model.OPTIMAL else "feasible"
    return Answer(round(solver.objective_value), round(solver.best_objective_bound), word, spent)
