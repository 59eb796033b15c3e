"""Taking stages out of a job, with all that names them; and what nothing is done with out of a day."""

from collections.abc import Iterable

from planner.day.day import Day
from planner.day.jobs import Job, Wait


def without_stages(job: Job, gone: Iterable[str]) -> Job:
    """The job without some stages: what followed one follows what it followed, and its waits go with it.

    What had to dry, set or cure before a stage must still have done so before what came after it.

    What was quoted keeps its item, though nothing may be left that does it.
    """
    for key in gone:
        job = _without_stage(job, key)
    return job


def _without_stage(job: Job, gone: str) -> Job:
    stages, before = {}, job.stages[gone].after
    for key, stage in job.stages.items():
        if key != gone:
            after = [*_less(stage.after, gone), *(before if gone in stage.after else ())]
            stays = None if stage.stays_for is None else _less(stage.stays_for, gone)
            stages[key] = stage.model_copy(update={"after": tuple(dict.fromkeys(after)), "stays_for": stays})
    waits = tuple(
        wait.model_copy(update={"extended_by": None}) if wait.extended_by == gone else wait
        for wait in job.waits
        if gone not in (wait.after, wait.before)
    )
    followers = [key for key, stage in job.stages.items() if gone in stage.after]
    followers += [w.before for w in job.waits if w.after == gone and w.before is not None]
    waits += tuple(
        without_most(wait).model_copy(update={"before": key, "extended_by": None, "order": None})
        for wait in job.waits
        if wait.before == gone and wait.kind in ("dry", "set", "cure")
        for key in dict.fromkeys(followers)
        if key != wait.after
    )
    quoted = {item: _less(done_by, gone) for item, done_by in job.quoted.items()}
    apart = tuple(pair for pair in job.apart if gone not in pair)
    return job.model_copy(update={"stages": stages, "waits": waits, "quoted": quoted, "apart": apart})


def without_idle_grounds(day: Day) -> Day:
    """The day without the grounds on which nothing lies: nobody goes there, so they bind nothing."""
    jobs = {}
    for key, job in day.jobs.items():
        worked = {surface.ground for surface in job.surfaces.values()}
        grounds = {name: ground for name, ground in job.grounds.items() if name in worked}
        jobs[key] = job if len(grounds) == len(job.grounds) else job.model_copy(update={"grounds": grounds})
    return day.model_copy(update={"jobs": jobs})


def _less(keys: tuple[str, ...], gone: str) -> tuple[str, ...]:
    return tuple(key for key in keys if key != gone)


def without_most(wait: Wait) -> Wait:
    """The wait, which may last as long as it likes."""
    steps = tuple(step.model_copy(update={"most": None}) for step in wait.by_hour)
    return wait.model_copy(update={"most": None, "by_hour": steps})
