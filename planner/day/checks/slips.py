"""Slips of the pen that would lose something in silence: an unknown chemical, a caution, a nuisance or kit misspelt."""

from collections.abc import Iterable, Iterator
from contextlib import suppress

from planner.day.day import Day
from planner.day.faults import Fault, Where, nearest, shown
from planner.day.stage_kinds import FEET, RAIN
from planner.trade.cautions import all_cautions
from planner.trade.chemicals import chemicals, listed
from planner.trade.library import library

USUAL_NUISANCES = ("dust", "spray", "dirt", "water", "mist")
"""What work makes that can spoil other work; a day may name others."""


_SLIP = 0.8  # "dusts" is a slip of "dust"; "rust" is another thing


def slips(day: Day) -> Iterator[Fault]:
    """Every chemical that is not known, or may be several; tags, nuisances and idle kit that are nearly a known one."""
    yield from _chemicals(day)
    yield from _idle_kit(day)
    yield from _unclear_materials(day)
    yield from _tags(day)
    nuisances = {*USUAL_NUISANCES, *(name for _, _, stage in day.stages() for name in stage.nuisances), FEET, RAIN}
    for job, key, stage in day.stages():
        for word, known in (("makes", {*USUAL_NUISANCES}), ("spoiled_by", nuisances), ("fresh_to", nuisances)):
            yield from _misspelt(("jobs", job, "stages", key, word), getattr(stage, word) or (), known, "nuisance")


def _misspelt(place: Where, names: Iterable[str], known: Iterable[str], kind: str) -> Iterator[Fault]:
    """A name that is near to a known one was surely meant to be it; any other is the day's own."""
    known = sorted(known)
    for name in names:
        meant = nearest(name, known, _SLIP)
        if meant is not None and name not in known:
            yield Fault(place, None, f"unknown {kind} {shown(name)}", f"did you mean '{meant}'?")


def _chemicals(day: Day) -> Iterator[Fault]:
    named = [(job, key, stage.chemical) for job, key, stage in day.stages() if stage.chemical is not None]
    if not named:
        return
    try:
        table = chemicals()
    except ValueError as fault:  # in what the user added to the table
        yield Fault((), None, str(fault), "put it right there")
        return
    for job, key, chemical in named:
        try:
            table.class_of(chemical)
        except ValueError as fault:
            wrong, _, right = str(fault).partition("; ")
            meant = None if table.is_unclear(chemical) else nearest(chemical, table.names)
            right = f"did you mean '{meant}'?" if meant else right
            yield Fault(("jobs", job, "stages", key, "chemical"), None, wrong, right)


def _unclear_materials(day: Day) -> Iterator[Fault]:
    """What stages take that may be of several classes ("algae remover"), where they do not say which it is."""
    taken = [
        (job, key, material)
        for job, key, stage in day.stages()
        if stage.chemical is None
        for material in dict.fromkeys(m for way in stage.methods.values() for m in (*way.uses, *way.expected))
        if material in day.materials
    ]
    if not taken:
        return
    with suppress(ValueError):  # what is wrong in the user's own table is told where a chemical is named
        table = chemicals()
        for job, key, material in taken:
            name = day.materials[material].name or material
            if may_be := table.may_be(name):
                wrong = f"material {shown(name)} may be {listed(may_be)}, and the stage does not say which"
                right = 'add chemical = "..." with its class, from its label or safety data sheet'
                yield Fault(("jobs", job, "stages", key), None, wrong, right)


def _idle_kit(day: Day) -> Iterator[Fault]:
    """Kit that nothing takes and of which nothing is said, surely meant to be other kit: it would not come along.

    What something is said of may lie idle: it is the day's own, and what took it may be done.
    """
    taken = {key for _, _, stage in day.stages() for way in stage.methods.values() for key in way.kit}
    taken |= {key for kit in day.kit.values() for key in kit.needs}
    with suppress(ValueError):  # what is wrong in the user's own tables is told where they are read
        known = library().kit
        for key, kit in day.kit.items():
            if key not in taken and key not in known and not kit.model_fields_set:
                yield from _misspelt(("kit", key), [key], known, "kit")


def _tags(day: Day) -> Iterator[Fault]:
    tags: list[tuple[Where, tuple[str, ...]]] = [(("kit", key, "tags"), kit.tags) for key, kit in day.kit.items()]
    tags += [(("materials", key, "tags"), material.tags) for key, material in day.materials.items()]
    tags += [(("jobs", key, "hazards"), job.hazards) for key, job in day.jobs.items()]
    tags += [(("jobs", job, "stages", key, "tags"), stage.tags) for job, key, stage in day.stages()]
    if not any(names for _, names in tags):
        return
    try:
        known = [caution.tag for caution in all_cautions()]
    except ValueError as fault:  # in what the user added to the table
        yield Fault((), None, str(fault), "put it right there")
        return
    for place, names in tags:
        yield from _misspelt(place, names, known, "tag")
