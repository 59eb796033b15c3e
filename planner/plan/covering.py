"""What covers for which stages: sheets stay until these are over, and are laid again for more of these."""

from planner.day import Job


def covers_for(job: Job, key: str) -> tuple[str, ...]:
    """The stages until whose end the kit of a stage stays: those it names, or all later ones on what it covers."""
    stage = job.stages[key]
    if stage.stays_for is not None:
        return stage.stays_for
    if not stage.covers:
        return ()
    later = {key}
    for _ in job.stages:
        later |= {k for k, other in job.stages.items() if later & set(other.after)}
        later |= {w.before for w in job.waits if w.before is not None and w.after in later}
    return tuple(k for k in job.stages if k in later - {key} and job.stages[k].surface == stage.surface)


def laid_again(job: Job, covers: tuple[str, ...], again: str, pieces: tuple[str, ...]) -> Job:
    """The job in which what ``covers`` laid is laid ``again`` for second pieces of stages, and not for the first."""
    stages = dict(job.stages)
    for cover in covers:
        first = tuple(key for key in covers_for(job, cover) if key not in (*pieces, again))
        stages[cover] = stages[cover].model_copy(update={"stays_for": first})
        for key in first:
            after = tuple(x for x in stages[key].after if x != again)
            stages[key] = stages[key].model_copy(update={"after": after})
    stages[again] = stages[again].model_copy(update={"stays_for": pieces})
    return job.model_copy(update={"stages": stages})
