"""What of a plan leans on weather that nobody knows: past the end of a forecast nothing is shut, and nothing dries."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.day import Day, Stage
from planner.plan.plan import Plan
from planner.trade.weather import RainTold, holding


@dataclass(frozen=True, slots=True)
class Leaning:
    """A stage that depends on weather of which the forecast says nothing; ``known_until`` is where it ends."""

    job: str
    stage: str
    known_until: int


def leaning(day: Day, plan: Plan) -> list[Leaning]:
    """The stages that weather can stop, or that follow a wait which hangs on it, past the end of the day's forecast.

    In order of time. None where the day has no forecast, whatever was told of rain: no part of it is planned by one.
    """
    known = (end for _, end, hour in holding(day.weather) if not isinstance(hour, RainTold))
    known_until = max(known, default=None)
    if known_until is None:
        return []
    found = [
        Leaning(job, stage, known_until) for job, stage, until in _dependent(day, plan) if until > known_until
    ]
    return list(dict.fromkeys(found))


def _dependent(day: Day, plan: Plan) -> Iterator[tuple[str, str, int]]:
    """Each stage that weather bears on, with the minute until which it does."""
    for work in sorted(plan.works, key=lambda w: (w.start, w.job, w.stage)):
        stage = day.jobs[work.job].stages[work.stage]
        if _minds_weather(day, stage):
            yield work.job, work.stage, work.end + (stage.dry_after if stage.is_stopped_by_rain else 0)
        for wait in day.jobs[work.job].waits:
            if wait.before == work.stage and wait.weather is not None:
                yield work.job, work.stage, work.start


def _minds_weather(day: Day, stage: Stage) -> bool:
    limits = (stage.coldest, stage.hottest, stage.windiest, stage.above_dew)
    minds_rain = stage.is_stopped_by_rain or stage.dry_for > 0
    return minds_rain or day.is_from_ladder(stage) or any(limit is not None for limit in limits)
