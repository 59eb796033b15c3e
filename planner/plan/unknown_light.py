"""What of a plan may lie in the dark where nobody said how far north it is: then no hour is shut for want of light."""

from dataclasses import dataclass

from planner.day import Day
from planner.plan.plan import Plan
from planner.trade.daylight import daylight, town_of


@dataclass(frozen=True, slots=True)
class Dark:
    """Stages outside that are likely to lie in the dark, by job and key, and dawn and dusk where the zone's town is."""

    stages: tuple[tuple[str, str], ...]
    dawn: int
    dusk: int


def in_the_dark(day: Day, plan: Plan) -> Dark | None:
    """The stages, in order of time, that are not over by dusk, or begin before dawn, in the town of the time zone.

    That is only a guess, some minutes off, and so binds no plan. None where there are none, where lights are carried,
    and of jobs whose place, or the van's, is on the map: there the light is known, and shuts the hours that it should.
    """
    town = None if day.lights or day.places[day.van.starts_at].at is not None else town_of(day.time_zone)
    if town is None:
        return None
    light = daylight(*town, day.date, day.time_zone)
    found = [
        (work.job, work.stage)
        for work in sorted(plan.works, key=lambda w: (w.start, w.job, w.stage))
        if day.places[day.jobs[work.job].place].at is None
        and day.jobs[work.job].stages[work.stage].outdoors
        and (work.start < light.dawn or work.end > light.dusk)
    ]
    return Dark(tuple(found), light.dawn, light.dusk) if found else None
