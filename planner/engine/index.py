"""Which key of a day each index of its problem stands for: the same, whatever the keys are and wherever tables stand.

The order of jobs and stages in a file is a wish of whoever wrote it, and is kept. That of hands, kit, materials and
grounds is not: they go by where they are used first and by what they are. So a day with other keys, or with its tables
in another order, is the same problem, number for number. Only twins, which nothing tells apart but their keys, may
change places.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property

from planner.day import Day
from planner.day.jobs import Method

Uses = dict[str, list[tuple[int, ...]]]
"""For each key, where it is used: numbers of stage and method, and how many."""


@dataclass(frozen=True)
class Index:
    """Which key of the day each index of the problem stands for."""

    jobs: tuple[str, ...]
    hands: tuple[str, ...]
    kit: tuple[str, ...]
    materials: tuple[str, ...]
    grounds: tuple[tuple[str, str], ...]
    stages: tuple[tuple[str, str], ...]
    surfaces: tuple[tuple[str, str], ...]

    @cached_property
    def number_of(self) -> dict[tuple[str, str], int]:
        """The activity of each stage: looked up, as it is asked for every two stages of a job."""
        return {stage: n for n, stage in enumerate(self.stages)}

    @classmethod
    def of(cls, day: Day) -> "Index":
        """The index of a day."""
        return cls(
            tuple(day.jobs),
            tuple(_hands(day)),
            tuple(_in_order(day.kit, _uses(day, lambda way: _kit_of(day, way)), lambda key: _kit_is(day, key))),
            tuple(_in_order(day.materials, _uses(day, _material_of), lambda key: day.materials[key].model_dump_json())),
            tuple((j, g) for j in day.jobs for g in _grounds(day, j)),
            tuple((j, s) for j, s, _ in day.stages()),
            tuple(dict.fromkeys((j, stage.surface) for j, _, stage in day.stages())),
        )


def _in_order(keys: Iterable[str], uses: Uses, what_it_is: Callable[[str], str]) -> list[str]:
    """Keys by their first use, then by all of their uses, then by what they are; what is never used comes last."""
    return sorted(keys, key=lambda key: (key not in uses, uses.get(key, []), what_it_is(key)))


def _uses(day: Day, of: Callable[[Method], Iterable[tuple[str, int]]]) -> Uses:
    uses: Uses = {}
    for a, (_, _, stage) in enumerate(day.stages()):
        for m, way in enumerate(stage.methods.values()):
            for key, count in of(way):
                uses.setdefault(key, []).append((a, m, count))
    return uses


def _kit_of(day: Day, way: Method) -> list[tuple[str, int]]:
    """The kit of a method; what is only needed by that comes after it."""
    return [(key, int(key not in way.kit)) for key in day.kit_closure(way.kit)]


def _material_of(way: Method) -> list[tuple[str, int]]:
    return [*way.uses.items(), *((key, -1) for key in way.leaves)]


def _kit_is(day: Day, key: str) -> str:
    return day.kit[key].model_dump_json(exclude={"needs"})


def _hands(day: Day) -> list[str]:
    """Hands that ride first, then by their hours and by all else that they are; their names come last."""
    given: dict[str, list[int]] = {key: [] for key in day.hands}
    for a, (_, _, stage) in enumerate(day.stages()):
        if stage.by_hand in given:
            given[stage.by_hand].append(a)

    def what(key: str) -> tuple[bool, tuple[int, int], list[int], str, str]:
        hand = day.hands[key]
        own = hand.model_dump_json(exclude={"name", "hours", "own_transport"})
        return hand.own_transport, day.hours_of(key), given[key], own, hand.name

    return sorted(day.hands, key=what)


def _grounds(day: Day, job: str) -> list[str]:
    """The grounds of a job by the first of its stages on each, then by what they are."""
    first: dict[str, int] = {}
    for a, stage in enumerate(day.jobs[job].stages):
        first.setdefault(day.jobs[job].ground_of(stage), a)
    grounds = day.jobs[job].grounds
    return sorted(grounds, key=lambda g: (g not in first, first.get(g, 0), grounds[g].name))
