"""A day made easier: a way in, a method, a stage or a job otherwise, to be planned and compared."""

from collections.abc import Iterable

from planner.day import Day, without
from planner.day.changes import Changes, with_ground, with_stage
from planner.day.words import LATEST

FREE_WAY = {"minutes": 1, "restricted": False, "through": "", "protection": "none", "over": ()}
"""What a side access makes of a way in: a minute from the van, nobody's house, no floor to protect."""


def with_way_in(day: Day, job: str, ground: str, changes: Changes) -> Day:
    """A day with one way in changed."""
    way_in = day.jobs[job].grounds[ground].way_in.model_copy(update=changes)
    return with_ground(day, job, ground, {"way_in": way_in})


def with_free_ways(day: Day, job: str) -> Day:
    """A day on which every way in of a job that needs crossings is a side access."""
    for ground, place in day.jobs[job].grounds.items():
        if not place.way_in.is_open:
            day = with_way_in(day, job, ground, dict(FREE_WAY))
    return day


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
