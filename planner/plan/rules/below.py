"""What lies below each surface of a job: what it drains to, is worked from, or stands over from high up."""

from collections.abc import Iterator

from planner.day import Job, Surface

Below = dict[str, frozenset[str]]
"""By surface: those that what runs or falls from it reaches."""


def lies_below(job: Job) -> Below:
    """Of every surface those that what runs or falls from it reaches, and from those in turn; itself left out."""
    dirty = {stage.surface for stage in job.stages.values() if "dirt" in stage.nuisances}
    heights = {key: _height(surface, is_dirty=key in dirty) for key, surface in job.surfaces.items()}
    straight = {key: list(_next_below(job, key, heights)) for key in job.surfaces}
    return {key: _reached(key, straight) for key in job.surfaces}


def _reached(surface: str, straight: dict[str, list[str]]) -> frozenset[str]:
    found: set[str] = set()
    waiting = [surface]
    while waiting:
        new = [key for key in straight[waiting.pop()] if key not in found]
        found.update(new)
        waiting += new
    return frozenset(found - {surface})


def _next_below(job: Job, key: str, heights: dict[str, tuple[bool, bool]]) -> Iterator[str]:
    surface = job.surfaces[key]
    yield from surface.drains_to
    if not surface.stood_on:
        yield from surface.worked_from
    yield from (k for k, s in job.surfaces.items() if s.ground == surface.ground and heights[k] < heights[key])


def _height(surface: Surface, *, is_dirty: bool) -> tuple[bool, bool]:
    """Whether a surface is said to be high up, and whether dirt falls from it: gutter, fascia, wall, paving."""
    return bool(surface.high), is_dirty and surface.high is not False and (bool(surface.high) or not surface.stood_on)
