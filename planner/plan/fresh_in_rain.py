"""Fresh work that lies open when the rain comes: what it is, and what covers it."""

from planner.day import Day, Job
from planner.day.names import Names
from planner.day.stage_kinds import RAIN
from planner.plan.past import NOT_YET, Past
from planner.plan.progress import Progress
from planner.trade.units import show_clock


def fresh_in_rain(day: Day, past: Past, progress: Progress) -> tuple[str, ...]:
    """What is to be covered before the rain that was told, in words; what is over and no longer fresh is left out.

    What has begun is meant: nothing that rain spoils is planned into it. ``day`` is as its file says.
    """
    if progress.rain is None:
        return ()
    rain, names, said = progress.rain, Names(day), []
    for work in past.plan.works:
        job = day.jobs.get(work.job)
        stage = None if job is None else job.stages.get(work.stage)
        if job is None or stage is None:
            continue
        end = progress.at if work.end == NOT_YET else work.end
        if not stage.is_stopped_by_rain or _bears_it_from(job, work.stage, end) <= rain:
            continue
        by = f"before {show_clock(rain)}" if rain > progress.at else "now"
        where = names.surface(work.job, stage.surface)
        what = f"'{names.stage(work.job, work.stage)}' must stay dry"
        said.append(f"{names.job(work.job)}: cover the {where} {by}, {what}: {_cover(day)}.")
    return tuple(dict.fromkeys(said))


def _bears_it_from(job: Job, stage: str, end: int) -> int:
    """From when it bears rain: so long as it says, else when the waits after it are over, else not today."""
    said = job.stages[stage]
    if RAIN not in said.spoiled_while_fresh_by:
        return end + said.dry_after
    if said.fresh_for is not None:
        return end + max(said.fresh_for, said.dry_after)
    least = [w.bounds(end)[0] for w in job.waits if w.after == stage and w.kind != "order"]
    return end + max(least) if least else NOT_YET


def _cover(day: Day) -> str:
    """What there is to cover it with."""
    words = ("sheet", "tarp", "cover", "mask")
    named = {key: f"{key} {kit.name}".lower() for key, kit in day.kit.items()}
    kit = [Names(day).kit(key) for key, name in named.items() if any(word in name for word in words)]
    return " or ".join(kit) if kit else "a sheet on battens, clear of the work, weighed down"
