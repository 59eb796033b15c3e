"""Waits that hang on the weather: their bounds by the hour, from the forecast."""

from functools import partial

from planner.day.day import Day
from planner.day.jobs import Job, Surface
from planner.day.waiting import Step, Wait
from planner.day.words import LATEST
from planner.trade.daylight import sun_strength, town_of
from planner.trade.drying import DryingTime, Strength, all_day_strong, drying_time
from planner.trade.weather import weather_at

USUAL_FILM_MM = 0.5
"""Water left standing on a surface that was washed, in mm: an assumption, common practice with no source."""

_STEP = 60
_QUARTER = 15


def with_weather(day: Day) -> Day:
    """The day with ``by_hour`` filled in every wait that is said to hang on the weather.

    For ``weather = "dry"`` the least becomes the drying time when evaporation is at the slow end of its field
    error, as the work that follows must not meet a wet surface; it is shorter than the file's own least only where
    the surface is `measured`, for a forecast says when the face is dry and not when the stone is. For ``"film"``
    the most becomes the time in which the film could dry at the fast end, if that is sooner than the most that the
    file gives. Where such a step has a most below its least, the wait cannot begin at that time of day.

    Without a forecast, and at times of day that it does not cover, the bounds in the file hold.
    """
    if not day.weather:
        return day
    jobs = {
        key: job.model_copy(
            update={"waits": tuple(_by_weather(day, job, wait) for wait in job.waits)}
        )
        for key, job in day.jobs.items()
        if any(wait.weather for wait in job.waits)
    }
    return day.model_copy(update={"jobs": day.jobs | jobs}) if jobs else day


def drying(day: Day, job: str, wait: Wait, begins: int) -> DryingTime | None:
    """By the forecast, how long the film of a wait takes to dry from this minute on, with the formula's field error.

    Parameters
    ----------
    day, job, wait
        A wait of one of the day's jobs, by the job's key.
    begins
        The minute of the day at which it begins.

    Returns
    -------
    DryingTime or None
        In minutes; None for a wait that does not hang on the weather, and for a minute that the forecast does not
        cover.
    """
    if wait.weather is None or weather_at(day.weather, begins) is None:
        return None
    return _drying_time(day, day.jobs[job], wait, begins)


def _surface(job: Job, wait: Wait) -> Surface:
    return job.surfaces[job.stages[wait.after].surface]


def _drying_time(day: Day, job: Job, wait: Wait, begins: int) -> DryingTime:
    surface = _surface(job, wait)
    film, strength = wait.film or USUAL_FILM_MM, _strength(day, job, surface)
    return drying_time(day.weather, film, begins, shaded=surface.shaded, strength=strength)


def _strength(day: Day, job: Job, surface: Surface) -> Strength:
    """How strong the sun is on a surface: on level ground by its height, there or in the town of the time zone.

    A wall may face a low sun, so it is taken to be strong there all day.
    """
    at = day.places[job.place].at or day.places[day.van.starts_at].at or town_of(day.time_zone)
    if at is None or not surface.stood_on:
        return all_day_strong
    return partial(sun_strength, *at, day.date, day.time_zone)


def _by_weather(day: Day, job: Job, wait: Wait) -> Wait:
    if wait.weather is None:
        return wait
    opens = min(day.start, *(day.hours_of(hand)[0] for hand in day.hands))
    closes = max(day.finish, *(day.hours_of(hand)[1] for hand in day.hands))
    steps: list[Step] = []
    for since in range(opens // _STEP * _STEP, min(closes, LATEST - _STEP) + 1, _STEP):
        step = _step(day, job, wait, since)
        if not steps or (step.least, step.most) != (steps[-1].least, steps[-1].most):
            steps.append(step)
    return wait.model_copy(update={"by_hour": tuple(steps)})


def _step(day: Day, job: Job, wait: Wait, since: int) -> Step:
    """Bounds that are on the safe side for a wait that begins at any minute of the hour."""
    begins = [
        minute for minute in range(since, since + _STEP + 1, _QUARTER) if weather_at(day.weather, minute) is not None
    ]
    if not begins:
        return Step(since=since, least=wait.least, most=wait.most)
    times = [_drying_time(day, job, wait, minute) for minute in begins]
    if wait.weather == "dry":
        least = max(_dry_after(time, since) for time in times)
        least = least if _surface(job, wait).measured else max(least, wait.least)
        return Step(since=since, least=least, most=None if wait.most is None else max(wait.most, least))
    most = min((time.most_dwell for time in times if time.most_dwell is not None), default=None)
    caps = [bound for bound in (most, wait.most) if bound is not None]
    return Step(since=since, least=wait.least, most=min(caps, default=None))


def _dry_after(time: DryingTime, since: int) -> int:
    """Minutes, rounded up to five; to the end of the clock where it does not dry while the forecast lasts."""
    wait = time.cautious_wait
    return LATEST - since if wait is None else -5 * (-wait // 5)
