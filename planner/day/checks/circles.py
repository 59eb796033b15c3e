"""Circles in a day: stages that wait for each other, kit that needs itself, surfaces over one another."""

from collections.abc import Iterator, Mapping

from planner.day.day import Day
from planner.day.faults import Fault, Where
from planner.day.jobs import Job

Arrows = dict[str, list[tuple[str, Where]]]
"""From each name to those that it leads to, each with the place in the file that says so."""


def order_faults(day: Day) -> Iterator[Fault]:
    """Every circle that lets nothing be first."""
    needs: Arrows = {k: [(n, ("kit", k, "needs")) for n in kit.needs] for k, kit in day.kit.items()}
    for names, place in _circles(needs):
        yield Fault(place, None, f"kit needs itself: {_told(names)}", "take one of these needs away")
    for key, job in day.jobs.items():
        at: Where = ("jobs", key)
        for names, place in _circles(_stage_arrows(job, at)):
            wrong = f"these stages wait for each other in a circle: {_told(names)}"
            yield Fault(place, None, wrong, "take away one 'after' or one wait among them")
        over: Arrows = {
            name: [(n, (*at, "surfaces", name, "over")) for n in surface.over] for name, surface in job.surfaces.items()
        }
        for names, place in _circles(over):
            wrong = f"these surfaces are reached over each other in a circle: {_told(names)}"
            yield Fault(place, None, wrong, "say which is reached first and take its 'over' away")
        for names, place in _circles(_ground_arrows(job, at)):
            wrong = f"no ground can be reached first: {_told(names)}"
            yield Fault(place, None, wrong, "take away one 'over' of their ways in")


def _stage_arrows(job: Job, at: Where) -> Arrows:
    arrows: Arrows = {name: [] for name in job.stages}
    for name, stage in job.stages.items():
        for first in stage.after:
            arrows[first].append((name, (*at, "stages", name, "after")))
        for later in stage.stays_for or ():
            arrows[name].append((later, (*at, "stages", name, "stays_for")))
    for i, wait in enumerate(job.waits):
        if wait.before is not None:
            arrows[wait.after].append((wait.before, (*at, "waits", i)))
    return arrows


def _ground_arrows(job: Job, at: Where) -> Arrows:
    """A ground leads to the grounds that its way in passes over, itself left out."""
    return {
        name: [
            (job.surfaces[surface].ground, (*at, "grounds", name, "way_in", "over"))
            for surface in ground.way_in.over
            if job.surfaces[surface].ground != name
        ]
        for name, ground in job.grounds.items()
    }


def _told(names: list[str]) -> str:
    return " -> ".join([*names, names[0]])


def _circles(arrows: Mapping[str, list[tuple[str, Where]]]) -> Iterator[tuple[list[str], Where]]:
    """One circle through each arrow that closes one on a walk in depth, with the place of that arrow."""
    done: set[str] = set()
    for start in arrows:
        path: list[str] = []
        waiting: list[tuple[str, int]] = [(start, 0)]
        while waiting:
            name, tried = waiting.pop()
            if tried == 0:
                if name in done:
                    continue
                path.append(name)
            if tried < len(arrows[name]):
                waiting.append((name, tried + 1))
                following, place = arrows[name][tried]
                if following in path:
                    yield path[path.index(following) :], place
                elif following not in done:
                    waiting.append((following, 0))
            else:
                done.add(name)
                path.pop()
