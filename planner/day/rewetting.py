"""Re-wets that no forecast asks for: what is treated is misted again only where it would dry before it has dwelt."""

from planner.day.day import Day
from planner.day.jobs import Job
from planner.day.sections import sections_of
from planner.day.waiting import Wait
from planner.day.without import without_stages


def without_needless_rewets(day: Day) -> Day:
    """The day without those re-wets of a film for which there is no need at any hour; the day itself if all are wanted.

    Only the drying of a film is put off by one: the most that the file gives, by the label, runs on.
    """
    jobs = {}
    for key, job in day.jobs.items():
        waits = [w for w in job.waits if w.weather == "film" and w.extended_by is not None]
        needless = [w.extended_by for w in waits if w.extended_by is not None and not _is_needed(day, key, w)]
        wanted = {w.extended_by for w in job.waits if w.extended_by is not None and w not in waits}
        if gone := [stage for stage in dict.fromkeys(needless) if _may_go(job, stage) and stage not in wanted]:
            jobs[key] = without_stages(job, gone)
    return day.model_copy(update={"jobs": day.jobs | jobs}) if jobs else day


def _may_go(job: Job, stage: str) -> bool:
    return job.stages[stage].only_if_needed


def _is_needed(day: Day, job: str, wait: Wait) -> bool:
    """Whether at some hour of the day the film dries before the wait can be kept, in all the sections it may have."""
    hours = [step for step in wait.by_hour if step.since < day.finish]
    alone = wait.model_copy(update={"extended_by": None, "weather": None})
    return any(
        (step.most is not None and step.most < step.least)
        or sections_of(day, job, alone.model_copy(update={"by_hour": (step,)})) is None
        for step in hours
    )
