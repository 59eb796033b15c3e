"""A day with one thing about it changed; the day itself stays as it is."""

from collections.abc import Mapping
from typing import TypeVar

from pydantic import BaseModel

from planner.day.day import Day

Thing = TypeVar("Thing", bound=BaseModel)

Changes = Mapping[str, object]
"""New values for some of a thing's own words."""


def with_job(day: Day, job: str, changes: Changes) -> Day:
    """A day with one job changed."""
    return day.model_copy(update={"jobs": _changed(day.jobs, job, changes)})


def with_stage(day: Day, job: str, stage: str, changes: Changes) -> Day:
    """A day with one stage changed.

    Parameters
    ----------
    day, job, stage
        The day, and the keys of a job and of its stage.
    changes
        New values for some of its own words.
    """
    return with_job(day, job, {"stages": _changed(day.jobs[job].stages, stage, changes)})


def with_ground(day: Day, job: str, ground: str, changes: Changes) -> Day:
    """A day with one ground changed.

    Parameters
    ----------
    day, job, ground
        The day, and the keys of a job and of its ground.
    changes
        New values for some of its own words.
    """
    return with_job(day, job, {"grounds": _changed(day.jobs[job].grounds, ground, changes)})


def with_kit(day: Day, kit: str, changes: Changes) -> Day:
    """A day with one piece of kit changed."""
    return day.model_copy(update={"kit": _changed(day.kit, kit, changes)})


def with_hand(day: Day, hand: str, changes: Changes) -> Day:
    """A day with one hand changed."""
    return day.model_copy(update={"hands": _changed(day.hands, hand, changes)})


def _changed(things: Mapping[str, Thing], key: str, changes: Changes) -> dict[str, Thing]:
    """Things by their keys, one of them changed."""
    return {**things, key: things[key].model_copy(update=changes)}
