"""What binds a plan by containers that stages share, kit that is set up in turn, and ladders, as facts of a day: which
stages, and what would help."""

from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from planner.day import Day
from planner.day.changes import with_kit, with_stage
from planner.day.drawn_together import shared_containers
from planner.day.names import called, listed, stage_name
from planner.day.stage_kinds import LADDER, LADDER_WINDIEST

StillImpossible = Callable[[Day], bool]
"""Whether a changed day is known to have no plan either."""


@dataclass(frozen=True)
class Fact:
    """A fact of the day in words, and the day without it.

    One that says much can be ``narrowed`` to what of it is needed: the day without the rest, and the words for it.
    """

    words: str
    without: Callable[[Day], Day]
    narrowed: Callable[[Day, StillImpossible], tuple[Day, tuple[str, ...]]] | None = None


def kit_facts(day: Day) -> Iterator[Fact]:
    """Each material that stages share, each piece of kit that waits for another to be set up, and the ladders."""
    yield from _shared(day)
    yield from _in_turn(day)
    yield from _lifted_together(day)
    yield from _ladders(day)


def _shared(day: Day) -> Iterator[Fact]:
    where = defaultdict(list)
    for one in shared_containers(day):
        where[one.material].append(f"{one.count} for {names_of(day, [(one.job, s) for s in one.stages])}")
    for key, told in where.items():
        words = f"all of '{called(day.materials[key], key)}' that stages share is there before the first of them"
        helps = "more time before that one, or for each its own (shared = false)"
        yield Fact(f"{words}: {'; '.join(told)}; {helps}", partial(_each_its_own, key=key))


def _in_turn(day: Day) -> Iterator[Fact]:
    for key, piece in day.kit.items():
        before = [other for other in day.kit_closure((key,)) if other != key and day.kit[other].set_up]
        users = [(j, s) for j, s, x in day.stages() for m in x.methods.values() if key in day.kit_closure(m.kit)]
        if piece.set_up and before and users:
            firsts = " and ".join(f"'{called(day.kit[other], other)}'" for other in before)
            words = f"'{called(piece, key)}' is set up for {names_of(day, users)} once {firsts} stands there"
            helps = "more time before it, or kit that needs nothing first"
            yield Fact(f"{words}; {helps}", partial(_at_once, key=key))


def _lifted_together(day: Day) -> Iterator[Fact]:
    """Kit that takes several hands to carry, in and out: on a day under way some of them may have gone home."""
    used = {key for _, _, x in day.stages() for m in x.methods.values() for key in day.kit_closure(m.kit)}
    for key, piece in day.kit.items():
        if piece.lift > 1 and piece.load and key in used:
            words = f"it takes {piece.lift} hands to carry '{called(piece, key)}', in and out again"
            alone = {"lift": 1, "load": 0.0, "mass": None}
            yield Fact(words, partial(with_kit, kit=key, changes=alone))


def _ladders(day: Day) -> Iterator[Fact]:
    up = [(j, s) for j, s, stage in day.stages() if day.is_from_ladder(stage)]
    if up:
        words = f"nobody works below the ladder of {names_of(day, up)}, and none goes over or stands on what is wet"
        yield Fact(f"{words}; another order, or work from the ground, would help", _without_ladders)


def names_of(day: Day, stages: list[tuple[str, str]]) -> str:
    """Stages by their names, each once, in quotation marks."""
    return listed(list(dict.fromkeys(f"'{stage_name(day.jobs[j], s)}'" for j, s in stages)))


def _each_its_own(day: Day, key: str) -> Day:
    material = day.materials[key].model_copy(update={"shared": False})
    return day.model_copy(update={"materials": {**day.materials, key: material}})


def _at_once(day: Day, key: str) -> Day:
    """The day on which a piece of kit waits for no other: who uses it sees to all of them."""
    for j, s, stage in day.stages():
        methods = {m: way.model_copy(update={"kit": day.kit_closure(way.kit)}) for m, way in stage.methods.items()}
        day = with_stage(day, j, s, {"methods": methods})
    return with_kit(day, key, {"needs": ()})


def _without_ladders(day: Day) -> Day:
    """The day with no ladder in anybody's way; the wind still keeps people off them: that is the weather's fact."""
    for j, s, stage in day.stages():
        if day.is_from_ladder(stage):
            windiest = LADDER_WINDIEST if stage.windiest is None else stage.windiest
            tags = tuple(t for t in stage.tags if t != LADDER)
            day = with_stage(day, j, s, {"tags": tags, "windiest": windiest})
    kit = {
        k: piece.model_copy(update={"tags": tuple(t for t in piece.tags if t != LADDER)})
        for k, piece in day.kit.items()
    }
    return day.model_copy(update={"kit": kit})
