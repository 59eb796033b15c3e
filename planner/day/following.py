"""What the day's own words put in order: what each stage of a job is followed by."""

from collections.abc import Iterator

from planner.day.jobs import Job


def next_stages(job: Job) -> dict[str, set[str]]:
    """For each stage those that come straight after it, by the stages' own words or by a wait."""
    after: dict[str, set[str]] = {key: set() for key in job.stages}
    for first, second in _arrows(job):
        after[first].add(second)
    return after


def later_stages(job: Job) -> dict[str, set[str]]:
    """For each stage all that the day's own words put after it, straight or through others."""
    later = next_stages(job)
    for middle in later:
        for start in later:
            if middle in later[start]:
                later[start] |= later[middle]
    return later


def _arrows(job: Job) -> Iterator[tuple[str, str]]:
    for key, stage in job.stages.items():
        yield from ((first, key) for first in stage.after)
    yield from ((wait.after, wait.before) for wait in job.waits if wait.before is not None)
