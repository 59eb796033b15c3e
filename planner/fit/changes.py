"""A day with one thing about it changed; the day itself stays as it is."""

from collections.abc import Iterable

from planner.day import Day, Job, Stage, WayIn
from planner.day.words import LATEST

Changes = dict[str, object]
"""New values for some of a thing's own words."""

FREE_WAY = {"minutes": 1, "restricted": False, "through": "", "protection": "none", "over": ()}
"""What a side access makes of a way in: a minute from the van, nobody's house, no floor to protect."""


def with_job(day: Day, job: str, changes: Changes) -> Day:
    """A day with one job changed."""
    return day.model_copy(update={"jobs": {**day.jobs, job: day.jobs[job].model_copy(update=changes)}})


def with_stage(day: Day, job: str, stage: str, changes: Changes) -> Day:
    """A day with one stage changed."""
    stages = day.jobs[job].stages
    return with_job(day, job, {"stages": {**stages, stage: stages[stage].model_copy(update=changes)}})


def with_way_in(day: Day, job: str, ground: str, changes: Changes) -> Day:
    """A day with one way in changed."""
    grounds = day.jobs[job].grounds
    way_in: WayIn = grounds[ground].way_in.model_copy(update=changes)
    changed = grounds[ground].model_copy(update={"way_in": way_in})
    return with_job(day, job, {"grounds": {**grounds, ground: changed}})


def with_free_ways(day: Day, job: str) -> Day:
    """A day on which every way in of a job that needs crossings is a side access."""
    for ground, place in day.jobs[job].grounds.items():
        if not place.way_in.is_open:
            day = with_way_in(day, job, ground, dict(FREE_WAY))
    return day


def with_kit(day: Day, kit: str, changes: Changes) -> Day:
    """A day with one piece of kit changed."""
    return day.model_copy(update={"kit": {**day.kit, kit: day.kit[kit].model_copy(update=changes)}})


def with_methods(day: Day, job: str, stage: str, methods: Iterable[str]) -> Day:
    """A day on which a stage may be done by some of its methods only."""
    kept = {m: day.jobs[job].stages[stage].methods[m] for m in methods}
    return with_stage(day, job, stage, {"methods": kept})


def without_latest_finish(day: Day) -> Day:
    """A day on which being late costs nothing; riders' hours then end with the clock, other hands keep theirs."""
    hands = {
        key: hand.model_copy(
            update={"hours": day.hours_of(key) if hand.own_transport else (day.hours_of(key)[0], LATEST)}
        )
        for key, hand in day.hands.items()
    }
    return day.model_copy(update={"finish": LATEST, "hands": hands})


def without_job(day: Day, job: str) -> Day:
    """A day without one of its jobs."""
    return day.model_copy(update={"jobs": {key: value for key, value in day.jobs.items() if key != job}})


def without_stages(day: Day, job: str, stages: Iterable[str]) -> Day:
    """A day without some stages of a job, and without all that names them; a job left without stages goes too."""
    gone = set(stages)
    before = day.jobs[job]
    kept = {s: _without(stage, gone) for s, stage in before.stages.items() if s not in gone}
    if not kept:
        return without_job(day, job)
    return with_job(day, job, _without_their_names(before, gone) | {"stages": kept})


def _without(stage: Stage, gone: set[str]) -> Stage:
    stays = None if stage.stays_for is None else tuple(s for s in stage.stays_for if s not in gone)
    return stage.model_copy(update={"after": tuple(a for a in stage.after if a not in gone), "stays_for": stays})


def _without_their_names(job: Job, gone: set[str]) -> Changes:
    """The parts of a job that name stages, those gone left out."""
    quoted = {words: tuple(s for s in stages if s not in gone) for words, stages in job.quoted.items()}
    return {
        "waits": tuple(
            wait.model_copy(update={"extended_by": None if wait.extended_by in gone else wait.extended_by})
            for wait in job.waits
            if wait.after not in gone and wait.before not in gone
        ),
        "apart": tuple(pair for pair in job.apart if not gone & set(pair)),
        "quoted": {words: stages for words, stages in quoted.items() if stages},
    }
