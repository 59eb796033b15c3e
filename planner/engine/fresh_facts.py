"""What keeps fresh and finished work whole, as facts of a day: what may not follow what, and what would help."""

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from planner.day import Day, Job
from planner.day.names import called, listed, stage_name
from planner.engine import fresh
from planner.engine.mixing import beside_each_other, never_meeting, where_they_meet
from planner.trade.units import show_minutes


class Reaching(NamedTuple):
    """That what a stage makes reaches a surface where it would do harm, in words; it would not if it spared that."""

    stage: str
    surface: str
    words: str


def reachings(day: Day, j: str) -> Iterator[Reaching]:
    """Each stage of a job with each surface that it may not reach at any time, and what would help."""
    alone = day.model_copy(update={"jobs": {j: day.jobs[j]}})
    job, keys = day.jobs[j], list(day.jobs[j].stages)

    def at(stage: tuple[str, str]) -> int:
        return keys.index(stage[1])

    why: defaultdict[tuple[str, str], dict[str, list[str]]] = defaultdict(dict)

    def told(maker: str, surface: str, does: str, *stages: str, then: str = "") -> None:
        names = why[maker, surface].setdefault(f"{does} {{}}{then}", [])
        names += [name for stage in stages if (name := f"'{stage_name(job, stage)}'") not in names]

    for spoiling in fresh.spoiling(alone, at):
        maker, spoiled = keys[spoiling.maker], keys[spoiling.spoiled]
        told(maker, job.stages[spoiled].surface, "would spoil", spoiled, then=" while fresh or waiting")
    for cleaned in fresh.cleaned(alone, at):
        cleaners = [keys[n] for n in cleaned.cleaners]
        does = "would run, fall or settle on what"
        told(keys[cleaned.maker], job.stages[cleaners[0]].surface, does, *cleaners, then=" left clean")
    for dusty in fresh.dusty(job):
        for surface in sorted(dusty.where):
            told(dusty.wet, surface, "would wet the dust of", dusty.grind)
    for wetted in fresh.wetted(alone, at):
        wet, dry = keys[wetted.wet], keys[wetted.dry]
        told(wet, job.stages[dry].surface, "would wet what", dry, then=f" needs dry for {show_minutes(wetted.minutes)}")
    for (stage, surface), reasons in why.items():
        covered = f'cover it and say spares = ["{surface}"] there'
        helps = f"another order, another day, or {covered}"
        spoils = "; ".join(does.format(listed(names)) for does, names in reasons.items())
        words = f"'{stage_name(job, stage)}' {spoils}, on '{called(job.surfaces[surface], surface)}'; {helps}"
        yield Reaching(stage, surface, words)


def mixing_words(job: Job) -> str:
    """That chemicals of a job must never meet, in words: of which stages, where, and what would help; empty if none."""
    told = []
    if pairs := list(never_meeting(job)):
        met = {surface for x, y in pairs for surface in where_they_meet(job, x, y)}
        where = listed([f"'{called(job.surfaces[key], key)}'" for key in sorted(met)])
        how = f"must never meet on {where}: a rinse between, the last of the first over before the second is opened"
        told.append(f"{_both(job, pairs)} {how}; another day, or a rinse more, would help")
    if pairs := list(beside_each_other(job)):
        how = "must never meet, and mist drifts: none is put on while the other is, or dwells, on the same ground"
        told.append(f"{_both(job, pairs)} {how}; another day would help")
    return "; ".join(told)


def _both(job: Job, pairs: list[tuple[str, str]]) -> str:
    return ", ".join(dict.fromkeys(f"'{stage_name(job, x)}' and '{stage_name(job, y)}'" for x, y in pairs))
