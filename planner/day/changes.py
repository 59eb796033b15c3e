"""A day with one thing about it changed; the day itself stays as it is."""

from collections.abc import Mapping

from planner.day.day import Day

Changes = Mapping[str, object]
"""New values for some of a thing's own words."""


def with_job(day: Day, job: str, changes: Changes) -> Day:
    """A day with one job changed."""
    return day.model_copy(update={"jobs": {**day.jobs, job: day.jobs[job].model_copy(update=changes)}})


def with_stage(day: Day, job: str, stage: str, changes: Changes) -> Day:
    """A day with one stage changed.

    Parameters
    ----------
    day, job, stage
        The day, and the keys of a job and of its stage.
    changes
        New values for some of its own words.
    """
    stages = day.jobs[job].stages
    return with_job(day, job, {"stages": {**stages, stage: stages[stage].model_copy(update=changes)}})


def with_ground(day: Day, job: str, ground: str, changes: Changes) -> Day:
    """A day with one ground changed.

    Parameters
    ----------
    day, job, ground
        The day, and the keys of a job and of its ground.
    changes
        New values for some of its own words.
    """
    grounds = day.jobs[job].grounds
    return with_job(day, job, {"grounds": {**grounds, ground: grounds[ground].model_copy(update=changes)}})


def with_kit(day: Day, kit: str, changes: Changes) -> Day:
    """A day with one piece of kit changed."""
    return day.model_copy(update={"kit": {**day.kit, kit: day.kit[kit].model_copy(update=changes)}})


def with_hand(day: Day, hand: str, changes: Changes) -> Day:
    """A day with one hand changed."""
    return day.model_copy(update={"hands": {**day.hands, hand: day.hands[hand].model_copy(update=changes)}})
