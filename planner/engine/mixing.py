"""Chemicals that must never meet: which stages open them, where both come, and what rinses the one off first."""

from collections.abc import Callable, Iterator
from itertools import combinations

from planner.day import Day, Job, Stage
from planner.day.following import later_stages
from planner.engine.between import Spoiling, Unmixable
from planner.engine.reach import below
from planner.trade.chemicals import chemicals


def unmixable(day: Day, at: Callable[[tuple[str, str]], int]) -> Iterator[Unmixable]:
    """Each two stages whose chemicals must never meet, once for each surface that both reach."""
    for j, job in day.jobs.items():
        later = later_stages(job)
        for x, y in never_meeting(job):
            one, other = job.stages[x], job.stages[y]
            off = [tuple(at((j, s)) for s in _rinses_off(job, a, later[a] - later[b])) for a, b in ((x, y), (y, x))]
            for surface in where_they_meet(job, x, y):
                rinses = tuple(
                    at((j, s))
                    for s, stage in job.stages.items()
                    if stage.rinses and _clears(job, s, surface, one, other)
                    if not job.is_other_section(s, x) and not job.is_other_section(s, y)
                )
                yield Unmixable(at((j, x)), at((j, y)), rinses, *off)


def drifting(day: Day, at: Callable[[tuple[str, str]], int]) -> Iterator[Spoiling]:
    """Chemicals that must never meet, put on beside each other: none while the other is, or dwells, as mist drifts."""
    for j, job in day.jobs.items():
        for pair in beside_each_other(job):
            for x, y in (pair, pair[::-1]):
                dwells = (w.before for w in job.waits if w.after == y and w.kind == "dwell" and w.before is not None)
                yield Spoiling(at((j, x)), at((j, y)), tuple(at((j, s)) for s in dwells if s != x))


def never_meeting(job: Job) -> Iterator[tuple[str, str]]:
    """Each two stages of a job whose chemicals must never meet, and would."""
    yield from (pair for pair in _clashing(job) if where_they_meet(job, *pair))


def beside_each_other(job: Job) -> Iterator[tuple[str, str]]:
    """Each two stages of a ground whose chemicals must never meet, and come to no surface both."""
    for x, y in _clashing(job):
        if job.ground_of(x) == job.ground_of(y) and not where_they_meet(job, x, y):
            yield x, y


def _clashing(job: Job) -> Iterator[tuple[str, str]]:
    keys = [s for s, stage in job.stages.items() if stage.chemical]
    table = chemicals() if len(keys) > 1 else None
    for x, y in combinations(keys, 2):
        if table is not None and not table.may_meet(job.stages[x].chemical or "", job.stages[y].chemical or ""):
            yield x, y


def where_they_meet(job: Job, x: str, y: str) -> list[str]:
    """The surfaces that what either of two stages puts on comes to."""
    return sorted(_wetted(job, x) & _wetted(job, y))


def _rinses_off(job: Job, treated: str, later: set[str]) -> Iterator[str]:
    """The stages, of those that come later, that rinse what one has treated: its own section of it."""
    surface = job.stages[treated].surface
    rinses = (s for s, stage in job.stages.items() if stage.rinses and stage.surface == surface)
    yield from (s for s in rinses if s in later and not job.is_other_section(s, treated))


def _clears(job: Job, rinse: str, surface: str, one: Stage, other: Stage) -> bool:
    """Whether a rinse clears a surface: one that was treated itself only by a rinse of it, not by another's run-off."""
    if surface in (one.surface, other.surface):
        return job.stages[rinse].surface == surface
    return surface in _wetted(job, rinse)


def _wetted(job: Job, stage: str) -> set[str]:
    """What a stage wets: its surface, and all that its run-off comes to in the end."""
    surface = job.stages[stage].surface
    return {surface, *below(job)[surface]}
