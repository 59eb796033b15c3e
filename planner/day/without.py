"""Taking stages out of a job, with all that names them; and what nothing is done with out of a day."""

from collections.abc import Iterable
from math import ceil

from planner.day.day import Day
from planner.day.jobs import Job, Stage
from planner.day.waiting import Wait


def without_stages(job: Job, gone: Iterable[str]) -> Job:
    """The job without some stages: what followed one follows what it followed, and its waits go with it.

    What had to dry, set or cure before a stage must still have done so before what came after it.

    What was quoted keeps its item, though nothing may be left that does it. Sections that are left have the containers
    that they need, though one that is gone was to bring them.
    """
    left = job
    for key in gone:
        left = _without_stage(left, key)
    stages = dict(left.stages)
    for of in {part.of for key in gone if (part := job.stages[key].part) is not None}:
        stages |= _with_own_containers(_sections(job, of), _sections(left, of))
    return left.model_copy(update={"stages": stages})


def _sections(job: Job, of: str) -> dict[str, Stage]:
    """The sections of a stage."""
    return {key: stage for key, stage in job.stages.items() if stage.part is not None and stage.part.of == of}


def _with_own_containers(cut: dict[str, Stage], left: dict[str, Stage]) -> dict[str, Stage]:
    """The sections of a stage that are left, each opening what is needed for it beyond what those before it open."""
    count = min(stage.part.count for stage in cut.values() if stage.part is not None)
    found: dict[str, Stage] = {}

    def used(sections: dict[str, Stage], way: str, material: str) -> int:
        return sum(x.methods[way].uses.get(material, 0) for x in sections.values() if way in x.methods)

    for number, (key, stage) in enumerate(left.items(), 1):
        methods = {}
        for name, way in stage.methods.items():
            needed = {m: ceil(used(cut, name, m) * min(number, count) / count) for m in way.uses}
            uses = {m: max(0, n - used(found, name, m)) for m, n in needed.items()}
            methods[name] = way.model_copy(update={"uses": uses})
        is_own = stage.part is not None and stage.part.own
        found[key] = stage if is_own else stage.model_copy(update={"methods": methods})
    return found


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
    over = [
        without_most(wait).model_copy(update={"before": key, "extended_by": None, "order": None})
        for wait in job.waits
        if wait.before == gone and wait.kind in ("dry", "set", "cure")
        for key in dict.fromkeys(followers)
        if key != wait.after
    ]
    for wait in over:
        waits = _with_one_between(waits, wait)
    quoted = {item: _less(done_by, gone) for item, done_by in job.quoted.items()}
    apart = tuple(pair for pair in job.apart if gone not in pair)
    return job.model_copy(update={"stages": stages, "waits": waits, "quoted": quoted, "apart": apart})


def _with_one_between(waits: tuple[Wait, ...], more: Wait) -> tuple[Wait, ...]:
    """The waits with one more, which has no most; where there is one between the same stages, that with its least."""
    ends = (more.after, more.before)
    if all((wait.after, wait.before) != ends for wait in waits):
        return (*waits, more)
    longest = max([more.least, *(step.least for step in more.by_hour)])

    def longer(wait: Wait) -> Wait:
        steps = tuple(step.model_copy(update={"least": max(step.least, longest)}) for step in wait.by_hour)
        return wait.model_copy(update={"least": max(wait.least, longest), "by_hour": steps})

    return tuple(longer(wait) if (wait.after, wait.before) == ends else wait for wait in waits)


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
