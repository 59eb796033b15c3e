"""What work on a surface stands on, goes over and runs down to."""

from collections.abc import Callable, Iterator

from planner.day import Day, Job, Stage
from planner.day.stage_kinds import LADDER, RUNS_DOWN, STAYS_PUT

At = Callable[[tuple[str, str]], int]


def footprint(job: Job, stage: Stage) -> set[str]:
    """The surfaces that are stood on or passed over while a stage runs."""
    own = job.surfaces[stage.surface]
    under = passed(job, (*own.worked_from, *own.over, *stage.lies_on))
    return ({stage.surface} if own.stood_on else set()) | under


def passed(job: Job, surfaces: tuple[str, ...]) -> set[str]:
    """These surfaces, and all that one goes over to get to them."""
    found: set[str] = set()
    waiting = list(surfaces)
    while waiting:
        key = waiting.pop()
        if key not in found:
            found.add(key)
            waiting.extend(job.surfaces[key].over)
    return found


def below(job: Job) -> dict[str, set[str]]:
    """For each surface those that its run-off and what falls from it come to, in the end; itself left out."""
    levels = _levels(job)
    under: dict[str, set[str]] = {}
    for key, surface in job.surfaces.items():
        under[key] = set(surface.drains_to) | (set() if surface.stood_on else set(surface.worked_from))
        under[key] |= {
            k for k, other in job.surfaces.items() if other.ground == surface.ground and levels[k] < levels[key]
        }
    for middle in under:  # Warshall's closure
        for start in under:
            if middle in under[start]:
                under[start] |= under[middle]
    return {key: reached - {key} for key, reached in under.items()}


def _levels(job: Job) -> dict[str, int]:
    """How high surfaces are: paving, a wall of which bits fall, a fascia, a gutter that is cleared."""
    dirty = {stage.surface for stage in job.stages.values() if "dirt" in stage.nuisances}
    found = {}
    for key, surface in job.surfaces.items():
        if surface.high:
            found[key] = 3 if key in dirty else 2
        else:
            found[key] = int(surface.high is None and key in dirty and not surface.stood_on)
    return found


def harm(job: Job, under: dict[str, set[str]], maker: str, spoiled_by: frozenset[str], surface: str) -> bool:
    """Whether a stage makes something that spoils what lies on a surface, and that comes to it."""
    stage = job.stages[maker]
    if surface in stage.spares:
        return False
    made = stage.nuisances & spoiled_by
    if surface == stage.surface:
        return bool(made)
    same_ground = job.surfaces[surface].ground == job.surfaces[stage.surface].ground
    falls = surface in under[stage.surface]
    return any((falls and n in RUNS_DOWN) or (same_ground and n not in STAYS_PUT) for n in made)


def comes_down(job: Job, under: dict[str, set[str]], maker: str, surface: str) -> bool:
    """Whether something runs or falls from another surface onto one, and so takes off or dilutes what was put on."""
    stage = job.stages[maker]
    return surface in under[stage.surface] - set(stage.spares) and bool(stage.nuisances & RUNS_DOWN)


def waited_for(j: str, job: Job, s: str, at: At) -> tuple[int | None, ...]:
    """The stages with which the waits after a stage end; None for one that lasts for good."""
    waits = [w for w in job.waits if w.after == s and w.kind != "order"]
    return tuple(None if w.before is None else at((j, w.before)) for w in waits)


def fresh_until(j: str, job: Job, s: str, at: At) -> tuple[int | None, ...]:
    """The stages with which what a stage leaves is no longer fresh; None for good."""
    if job.stages[s].fresh_for is not None:
        return ()
    return waited_for(j, job, s, at) or (None,)


def taken(day: Day, stage: Stage) -> set[str]:
    """All kit that a stage may take."""
    return {k for method in stage.methods.values() for k in day.kit_closure(method.kit)}


def foot_of_ladder(job: Job, under: dict[str, set[str]], stage: Stage) -> set[str]:
    """On what a ladder for a stage stands: what is worked from there, else what lies below."""
    own = job.surfaces[stage.surface]
    return footprint(job, stage) if own.stood_on or own.worked_from else under[stage.surface]


def timed_ladders(day: Day, job: Job) -> Iterator[tuple[str, str, list[str]]]:
    """Ladders that take time to put up and away, each with a ground and all that takes it there."""
    yield from timed_kit(day, job, LADDER)


def timed_kit(day: Day, job: Job, tag: str) -> Iterator[tuple[str, str, list[str]]]:
    """Kit with a tag that takes time to put up and away, each with a ground and all that takes it there.

    What is up or down in no time is in nobody's way.
    """
    for k in [k for k, kit in day.kit.items() if tag in kit.tags and kit.set_up and kit.pack_down]:
        takers: dict[str, list[str]] = {}
        for s in [s for s, stage in job.stages.items() if k in taken(day, stage)]:
            takers.setdefault(job.ground_of(s), []).append(s)
        yield from ((k, g, takers[g]) for g in sorted(takers))
