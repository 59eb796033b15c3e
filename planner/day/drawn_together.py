"""Containers that several stages on a ground draw from: how many are taken for all of them together."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.day.day import Day
from planner.day.jobs import Job, Stage
from planner.trade.filler import containers


@dataclass(frozen=True, slots=True)
class SharedContainers:
    """So many containers of a material are on a ground before the first of the stages that draw from them begins.

    ``sure`` are those of them that are done for certain and draw whichever method they are done by.
    """

    job: str
    ground: str
    material: str
    count: int
    stages: tuple[str, ...]
    sure: tuple[str, ...]


def shared_containers(day: Day) -> Iterator[SharedContainers]:
    """All that are shared, on the grounds to which material is carried in beforehand.

    Stages share where the material says so and two or more of a ground draw from it, one of them for certain. What
    they take is counted for the most that they may use together, with one spare, whichever of them comes first.
    """
    kept = [key for key, material in day.materials.items() if material.shared and not material.water]
    for j, job in day.jobs.items() if kept else ():
        for g, ground in job.grounds.items():
            for key in kept if not ground.way_in.is_open else ():
                found = _shared(job, g, key)
                if found is not None:
                    count, stages, sure = found
                    yield SharedContainers(j, g, key, count, stages, sure)


def shared_counts(day: Day) -> dict[tuple[str, str, str], int]:
    """How many containers are shared, by job, ground and material."""
    return {(x.job, x.ground, x.material): x.count for x in shared_containers(day)}


def _shared(job: Job, ground: str, material: str) -> tuple[int, tuple[str, ...], tuple[str, ...]] | None:
    here = {key: stage for key, stage in job.stages.items() if job.ground_of(key) == ground}
    draw = {key: stage for key, stage in here.items() if any(_drawing(stage, material))}
    sure = tuple(key for key, stage in draw.items() if not stage.only_if_needed and all(_drawing(stage, material)))
    if len(draw) < 2 or not sure:
        return None
    taken = [max(way.uses.get(material, 0) for way in stage.methods.values()) for stage in draw.values()]
    used = sum(
        max(way.expected.get(material, float(way.uses.get(material, 0))) for way in stage.methods.values())
        for stage in draw.values()
    )
    return taken_together(taken, used), tuple(draw), sure


def _drawing(stage: Stage, material: str) -> list[bool]:
    """Of each method of a stage, whether it draws from the material."""
    return [material in way.uses or material in way.expected for way in stage.methods.values()]


def taken_together(taken: Iterable[int], used: float) -> int:
    """The containers that stages take which share them: of what all use, one spare, and no fewer than any takes alone.

    ``taken`` are those of each stage alone, with its spare; ``used`` is what all of them are reckoned to use up.
    """
    each = list(taken)
    return min(sum(each), max(*each, containers(used, 1.0).taken, 0))
