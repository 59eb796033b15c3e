"""Times that were promised to customers: whether each can still be kept, and by how little it must be broken if not."""

from planner.day import Day
from planner.day.names import Names
from planner.engine.problem import Problem
from planner.engine.solving import Solution
from planner.engine.underway.old_choices import keep_choices, most_in_a_row
from planner.engine.underway.rescue import FIRST_SECONDS, RESCUE_SECONDS, without_promises
from planner.engine.underway.rest_models import RestModels
from planner.engine.variables import Expr, Variables
from planner.trade.units import show_clock, show_minutes


def promises_broken(models: RestModels, known: Solution | None) -> tuple[dict[str, int | None], Solution | None]:
    """The jobs of which a promise cannot be kept, each with the minutes it must run over at the least (all together).

    First with the choices of what is ``known`` to end the waits that run, or of the plan that the day went by: where
    that is in time, no more need be asked. Where no way is found at all in the time there is, they are given up
    (None): a promise must not stand in the way of a plan. Besides what is broken comes what does so.
    """
    problem = models.problem_of(models.day)
    promised = [j for j, job in enumerate(problem.jobs) if job.arrive is not None or job.done_by is not None]
    if not promised:
        return {}, known
    free = without_promises(problem)
    rest = models.left if known is None else models.rest_of(known)
    best: dict[str, int] | None = None
    found: Solution | None = None
    for kept in (True, False):
        v = models.model(free, most_in_a_row(rest) if kept else None)
        late = {j: _lateness(v, problem, j) for j in promised}
        v.model.minimize(sum(late.values()))
        if kept:
            keep_choices(v, models.day, rest, kit_too=True)
        elif best is not None:
            v.model.add(sum(late.values()) < sum(best.values()))
        better, _ = models.solve(v, FIRST_SECONDS if kept else RESCUE_SECONDS)
        if better is not None:
            found = better
            best = {problem.jobs[j].name: better.of(x) for j, x in late.items() if better.of(x)}
        if best is not None and not best:
            break
    if best is None:
        return {problem.jobs[j].name: None for j in promised}, found
    return {**best}, found


def promise_words(day: Day, broken: dict[str, int | None]) -> tuple[str, ...]:
    """Whom to ring, and what to say."""
    names, said = Names(day), []
    for key, late in broken.items():
        job = day.jobs[key]
        if late is None:
            said.append(f"Ring {names.customer(key)}: no way was found to keep what was promised.")
            continue
        if job.done_by is not None:
            what = f"promised to be gone by {show_clock(job.done_by)}, now {show_clock(job.done_by + late)}"
        else:
            latest = 0 if job.arrive is None else job.arrive[1]
            what = f"promised to be there by {show_clock(latest)}, now {show_clock(latest + late)}"
        said.append(f"Ring {names.customer(key)}: {what} at the soonest, {show_minutes(late)} late.")
    return tuple(said)


def _lateness(v: Variables, problem: Problem, j: int) -> Expr:
    """By how much the promises of a job are broken."""
    late, job = v.model.new_int_var(0, v.end_of_time, f"late at {j}"), problem.jobs[j]
    for n in v.visits_to(j):
        visit = v.visits[n]
        if job.done_by is not None:
            v.model.add(late >= visit.depart - job.done_by).only_enforce_if(visit.present)
        if job.arrive is not None and visit.number == 0:
            v.model.add(visit.arrive >= job.arrive[0]).only_enforce_if(visit.present)
            v.model.add(late >= visit.arrive - job.arrive[1]).only_enforce_if(visit.present)
    return late
