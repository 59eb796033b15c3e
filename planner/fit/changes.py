"""A day with one thing about it changed; the day itself stays as it is."""

from collections.abc import Iterable

from planner.day import Day, WayIn, without
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
    """A day without some stages of a job and what they were quoted for; a job left without stages goes too."""
    kept = without.without_stages(day.jobs[job], [s for s in day.jobs[job].stages if s in set(stages)])
    quoted = {item: done_by for item, done_by in kept.quoted.items() if done_by}
    changed = day.model_copy(update={"jobs": {**day.jobs, job: kept.model_copy(update={"quoted": quoted})}})
    return changed if kept.stages else without_job(changed, job)
