"""Safe places to stop: what of a job may be left for another day without breaking a wait or leaving harm behind."""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass

from planner.day import Day, Job, Wait
from planner.day.following import later_stages, next_stages

Named = tuple[str, str]
"""A job and its stage."""

MOST_STOPS = 20_000
"""Stops that are looked at, the least work first."""


@dataclass(frozen=True)
class Block:
    """Stages that must be done on one day, and the minutes of hands' work they take at the least.

    ``followers`` are the numbers of the blocks that cannot be done before it.
    """

    stages: tuple[Named, ...]
    minutes: int
    followers: frozenset[int]


def holds_overnight(wait: Wait, night: int) -> bool:
    """Whether a wait may run over a night of so many minutes: nothing about it has a most that is shorter.

    A dwell never does, even where no most is written: what dwells is a chemical that has to be rinsed off.
    """
    mosts = [wait.most, *(step.most for step in wait.by_hour)]
    return wait.kind != "dwell" and all(most is None or most >= night for most in mosts)


def blocks_of(day: Day, night: int) -> list[Block]:
    """The stages of a day in blocks that a night must not part, in an order in which followers come later."""
    names = [(j, s) for j, s, _ in day.stages()]
    group = {name: name for name in names}

    def root(name: Named) -> Named:
        while group[name] != name:
            name = group[name]
        return name

    for j, job in day.jobs.items():
        for one, two in kept_together(job, night):
            group[root((j, one))] = root((j, two))
    links = {(j, a): {(j, b) for b in then} for j, job in day.jobs.items() for a, then in next_stages(job).items()}
    merged: dict[Named, list[Named]] = {}
    for name in names:
        merged.setdefault(root(name), []).append(name)
    roots = list(_merge_circles(merged, links))
    number = {name: n for n, stages in enumerate(roots) for name in stages}
    return [
        Block(
            tuple(stages),
            sum(_least(day.jobs[j], s) for j, s in stages),
            frozenset(number[after] for name in stages for after in links[name]) - {n},
        )
        for n, stages in enumerate(roots)
    ]


def kept_together(job: Job, night: int) -> Iterator[Named]:
    """Pairs of stages of a job that must be done on one day."""
    for wait in job.waits:
        if wait.before is not None and not holds_overnight(wait, night):
            yield wait.after, wait.before
        if wait.extended_by is not None:
            yield wait.after, wait.extended_by
    yield from what_must_come_off(job)
    for s, stage in job.stages.items():
        yield from ((s, other) for other in stage.stays_for or ())
        if stage.is_stopped_by_rain:
            yield from ((s, other) for other in _closing(job, s))
        if stage.only_if_needed:
            yield from ((s, other) for other in stage.after)


def what_must_come_off(job: Job) -> Iterator[Named]:
    """Pairs of stages of which the second takes off a chemical that the first puts on."""
    yield from ((wait.after, wait.before) for wait in job.waits if wait.kind == "dwell" and wait.before is not None)
    later = later_stages(job)
    for s, stage in job.stages.items():
        if stage.chemical is not None:
            reached = {stage.surface, *job.surfaces[stage.surface].drains_to}
            for r, rinse in job.stages.items():
                comes_off = rinse.rinses and rinse.surface in reached and r in later[s]
                if comes_off and not _is_for_another_section(job, s, r):
                    yield s, r


def stops(blocks: list[Block]) -> Iterator[tuple[Named, ...]]:
    """What may be left for the second day, the least work first: with each block all that follows it.

    Uniform-cost search over sets that are closed under what follows; each comes once.
    """
    seen: set[frozenset[int]] = {frozenset()}
    waiting: list[tuple[int, tuple[int, ...]]] = [(0, ())]
    for _ in range(MOST_STOPS):
        if not waiting:
            return
        minutes, left = heapq.heappop(waiting)
        if left and len(left) < len(blocks):
            yield tuple(name for n in left for name in blocks[n].stages)
        have = frozenset(left)
        for n, block in enumerate(blocks):
            if n not in have and block.followers <= have and have | {n} not in seen:
                seen.add(have | {n})
                heapq.heappush(waiting, (minutes + block.minutes, tuple(sorted(have | {n}))))


def _closing(job: Job, stage: str) -> Iterator[str]:
    """The stages that finish off what rain would spoil: those next on its surface, unless a wait stands between."""
    waited = {wait.before for wait in job.waits if wait.after == stage}
    for key, other in job.stages.items():
        if stage in other.after and other.surface == job.stages[stage].surface and key not in waited:
            yield key


def _is_for_another_section(job: Job, put_on: str, rinse: str) -> bool:
    """Whether a section of a rinse takes off what another section put on: this one has its own, by its wait."""
    part, other = job.stages[put_on].part, job.stages[rinse].part
    if part is None or other is None:
        return False
    ends = {(w.after, w.before) for w in job.waits if w.before is not None}
    own = {b for a, b in ends if a == put_on and (cut := job.stages[b].part) is not None and cut.of == other.of}
    others = {a for a, b in ends if b == rinse and (cut := job.stages[a].part) is not None and cut.of == part.of}
    return bool(own) and rinse not in own and bool(others)


def _merge_circles(merged: dict[Named, list[Named]], links: dict[Named, set[Named]]) -> Iterator[list[Named]]:
    """Blocks that follow each other in a circle are one: what lies between two stages of one day is done that day."""
    roots = list(merged)
    of = {name: root for root, names in merged.items() for name in names}
    reach = {root: {of[b] for name in merged[root] for b in links[name]} for root in roots}
    for middle in roots:
        for root in roots:
            if middle in reach[root]:
                reach[root] |= reach[middle]
    done: set[Named] = set()
    for root in roots:
        if root not in done:
            circle = [r for r in roots if r == root or (r in reach[root] and root in reach[r])]
            done.update(circle)
            yield [name for r in circle for name in merged[r]]


def _least(job: Job, stage: str) -> int:
    if job.stages[stage].only_if_needed:
        return 0
    return min(job.likely_minutes(stage, m) * method.hands for m, method in job.stages[stage].methods.items())
