"""A stage in two pieces: what of it is done and what is left of it, or what was planned and what is asked for beyond.

The second piece is a stage of its own, after the first, on another section of the surface. Whatever waits for the stage
waits for both; what the stage waited for, both did. What is asked for beyond the plan is not what a wait with a most
ran on: a rinse that was done in time has taken off what was on. What ends the dwell after a stage that is half done, if
it can follow at once, is cut like it: its first piece takes off what is on, its second the rest. A re-wet is of what
is on: the rest keeps its most without. More of what covers is for the second pieces of what it covers for, where there
are any: it was up, and is laid again.
"""

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from planner.day import Day, Job, Method, Stage, Wait
from planner.day.jobs import Part
from planner.day.names import called
from planner.day.waiting import MOST_SECTIONS
from planner.day.without import without_most
from planner.plan.covering import covers_for, laid_again
from planner.plan.progress import More, Noted, Progress
from planner.trade.units import measure

REST, MORE, LATER = "-rest", "-more", "-later"
"""What is added to the key of a stage for that of its second piece; the last where that takes off another's rest."""


def with_pieces(day: Day, progress: Progress) -> Day:
    """The day with the rest of each stage that was left half done, and with what customers ask for beyond the plan."""
    halves = [note for note in progress.noted if note.part is not None]
    for note in sorted(halves, key=lambda n: n.end or 0):  # what is half done of a piece comes after the piece
        if note.job in day.jobs:
            day = day.model_copy(update={"jobs": {**day.jobs, note.job: _with_rest(day.jobs[note.job], note)}})
    for more in progress.more:
        if more.job in day.jobs:
            day = day.model_copy(update={"jobs": {**day.jobs, more.job: _with_more(day.jobs[more.job], more)}})
    for more in progress.more:
        if more.job in day.jobs and more.stage + MORE in day.jobs[more.job].stages:
            job = day.jobs[more.job]
            covers = tuple(key for key in (more.stage, more.stage + REST) if key in job.stages)
            pieces = tuple(key for key in pieces_covered(job, more.stage) if key != more.stage + MORE)
            if pieces:
                again = laid_again(job, covers, more.stage + MORE, pieces)
                day = day.model_copy(update={"jobs": {**day.jobs, more.job: again}})
    return day


def without_gone_pieces(day: Day, progress: Progress) -> Progress:
    """The record with nothing of second pieces that are none any more, as the first is no longer half done.

    ``day`` is as its file says.
    """
    known = {(j, s) for j, s, _ in with_pieces(day, progress).stages()}

    def is_there(job: str, stage: str) -> bool:
        is_piece = first_of(stage) != stage and job in day.jobs and first_of(stage) in day.jobs[job].stages
        return (job, stage) in known or not is_piece

    left = replace(
        progress,
        noted=tuple(n for n in progress.noted if is_there(n.job, n.stage)),
        dropped=tuple(x for x in progress.dropped if is_there(*x)),
        not_yet=tuple(n for n in progress.not_yet if is_there(n.job, n.stage)),
        not_up=tuple(n for n in progress.not_up if is_there(n.job, n.stage)),
        more=tuple(m for m in progress.more if is_there(m.job, m.stage)),
    )
    return left if left == progress else without_gone_pieces(day, left)


def pieces_covered(job: Job, cover: str) -> tuple[str, ...]:
    """The second pieces of stages for which a stage covers: not its own."""
    pieces = [key for key in covers_for(job, cover) if first_of(key) != key and first_of(key) in job.stages]
    return tuple(key for key in pieces if first_of(key) != first_of(cover))


def given_up_with(job: Job, piece: str) -> tuple[str, ...]:
    """A second piece, what takes off nothing but it, and what comes off with that."""
    dwells = [(w.after, w.before) for w in job.waits if w.kind == "dwell" and w.before is not None]
    off = [end for first, end in dwells if first == piece and takes_off_a_rest(job, end)]
    if piece.endswith(MORE):  # of what comes off with the rest it goes by itself
        off = [end for end in off if all(first == piece for first, other in dwells if other == end)]
    return tuple(dict.fromkeys((piece, *(first for first, end in dwells if end in off), *off)))


def with_all_given_up(day: Day, progress: Progress) -> Progress:
    """The record in which what takes off nothing but pieces that are given up is so too; ``day`` has all pieces."""
    gone = set(progress.dropped)
    for j, job in day.jobs.items():
        for end in (key for key in job.stages if takes_off_a_rest(job, key)):
            firsts = [(j, w.after) for w in job.waits if w.kind == "dwell" and w.before == end]
            if firsts and gone.issuperset(firsts) and progress.of_stage(j, end) is None:
                progress = progress.without(j, end)
    return progress


def takes_off_a_rest(job: Job, key: str) -> bool:
    """Whether a stage is the piece of another that takes off the rest of a treatment, or what is more of it."""
    return key.endswith(LATER) and key.removesuffix(LATER) in job.stages


def first_of(key: str) -> str:
    """The stage of which a key is a piece; itself where it is none."""
    return re.sub(f"({REST}|{MORE}|{LATER})+$", "", key)


def part_done(job: Job, stage: str, text: str) -> float | None:
    """The part of a stage that a text says: "18 of 24 m2", "18 m2" of its measure, "40 %"; None where it is none."""
    said, surface = job.stages[stage], job.surfaces[job.stages[stage].surface]
    try:
        if found := re.fullmatch(r"\s*([\d.]+)\s*%\s*", text):
            part = float(found[1]) / 100
        elif found := re.fullmatch(r"\s*([\d.]+)\s*(?:m2|m)?\s*(?:of|/)\s*([\d.]+)\s*(?:m2|m)?\s*", text):
            part = float(found[1]) / float(found[2])
        elif text.strip().endswith("m2") and (area := said.area or surface.area):
            part = measure(text, "m2") / area
        elif text.strip().endswith("m") and (run := said.run or surface.run):
            part = measure(text, "m") / run
        else:
            return None
    except (ValueError, ZeroDivisionError):
        return None
    return part if 0 < part < 1 else None


def _with_rest(job: Job, note: Noted) -> Job:
    """The job with a stage as far as it is done, and the rest of it as another."""
    stage = job.stages.get(note.stage)
    if stage is None or note.part is None or note.stage + REST in job.stages:
        return job
    left = 1 - note.part
    minutes = {
        m: math.ceil(job.likely_minutes(note.stage, m) * left - 1e-9) if note.rest is None else note.rest
        for m in stage.methods
    }
    rest = _piece(job, note.stage, left, minutes).model_copy(
        update={"name": f"{called(stage, note.stage)}, the rest", "part": _section(stage, note.stage, 2)}
    )
    methods = {m: _less_used(way, rest.methods[m]) for m, way in stage.methods.items()}
    done = stage.model_copy(update={"methods": methods, "part": _section(stage, note.stage, 1)})
    done = done.model_copy(update=measured(job, stage, note.part))
    cut = _beside(job.model_copy(update={"stages": {**job.stages, note.stage: done}}), note.stage, REST, rest)
    for end in _may_come_off_at_once(job, note.stage):
        cut = _taken_off_in_pieces(cut, note.stage, end, note.part, [w for w in job.waits if w.before == end])
    return cut


def _may_come_off_at_once(job: Job, first: str) -> Iterator[str]:
    """What ends a dwell with a most after a stage, on the same surface, nothing but a re-wet being done in between."""
    before = [(a, key) for key, stage in job.stages.items() for a in stage.after]
    before += [(w.after, w.before) for w in job.waits if w.before is not None]
    for wait in job.waits:
        has_most = any(most is not None for most in (wait.most, *(step.most for step in wait.by_hour)))
        end = wait.before
        if wait.after != first or end is None or wait.kind != "dwell" or not has_most:
            continue
        between = {b for a, b in before if a == first} - {end, wait.extended_by}
        for _ in job.stages:
            between |= {b for a, b in before if a in between}
        is_free = end not in between and end + LATER not in job.stages
        if is_free and job.stages[end].surface == job.stages[first].surface:
            yield end


def _taken_off_in_pieces(job: Job, first: str, end: str, part: float, waits: list[Wait]) -> Job:
    """The job in which what ends the dwell after ``first`` is in two pieces as that is: each takes off its own.

    ``waits`` are those before ``end`` as they were before anything was cut: piece by piece their order is as it was.
    """
    stage, rest, later = job.stages[end], first + REST, end + LATER
    likely = {m: job.likely_minutes(end, m) for m in stage.methods}
    minutes = {m: math.ceil(n * part - 1e-9) for m, n in likely.items()}
    ways = {m: part_of(way, part, minutes[m]) for m, way in stage.methods.items()}
    piece = _piece(job, end, 1 - part, {m: max(min(1, n), n - minutes[m]) for m, n in likely.items()})
    second = piece.model_copy(
        update={
            "name": f"{called(stage, end)}, the rest",
            "part": _section(stage, end, 2),
            "methods": {m: _with_uses(way, _less_used(stage.methods[m], ways[m])) for m, way in piece.methods.items()},
        }
    )
    one = {"name": f"{called(stage, end)}, the first part", "part": _section(stage, end, 1), "methods": ways}
    one |= {"after": tuple(x for x in stage.after if x != rest), **measured(job, stage, part)}
    stages = {**job.stages, end: stage.model_copy(update=one)}
    for again in {w.extended_by for w in waits if w.after == first and w.extended_by}:  # it need not wait for the rest
        wetted = stages[again]
        stages[again] = wetted.model_copy(update={"after": tuple(x for x in wetted.after if x != rest)})
    cut = _beside(job.model_copy(update={"stages": stages}), end, LATER, second)
    others = [w for w in cut.waits if w.after not in (first, rest) or w.before not in (end, later)]
    own = [w for w in waits if w.after == first]
    own += [w.model_copy(update={"after": rest, "before": later, "extended_by": None}) for w in own]
    return cut.model_copy(update={"waits": (*others, *own)})


def _with_uses(way: Method, used: Method) -> Method:
    return way.model_copy(update={"uses": used.uses, "expected": used.expected, "leaves": used.leaves})


def _with_more(job: Job, more: More) -> Job:
    """The job with more of a stage, after it."""
    stage = job.stages.get(more.stage)
    if stage is None or more.stage + MORE in job.stages:
        return job
    likely = min(job.likely_minutes(more.stage, m) for m in stage.methods)
    piece = _piece(job, more.stage, more.minutes / max(likely, 1), dict.fromkeys(stage.methods, more.minutes))
    rest = tuple(key for key in (more.stage + REST,) if key in job.stages)
    part = _section(stage, more.stage, 2).model_copy(update={"number": MOST_SECTIONS, "count": MOST_SECTIONS})
    changes = {"name": f"{called(stage, more.stage)}, more of it", "quoted": False, "part": part}
    changes["after"] = (*piece.after, *rest)
    planned = stage if stage.part is not None else stage.model_copy(update={"part": _section(stage, more.stage, 1)})
    job = job.model_copy(update={"stages": {**job.stages, more.stage: planned}})
    whole = job
    job = _beside(job, more.stage, MORE, piece.model_copy(update=changes), before=_all_before(job, rest))
    job = _off_with_the_rest(job, more.stage)
    for end in () if rest else _may_come_off_at_once(whole, more.stage):
        job = _taken_off_by_itself(job, whole, more.stage, end, more.minutes / max(likely, 1))
    return job


def _taken_off_by_itself(job: Job, whole: Job, first: str, end: str, part: float) -> Job:
    """The job in which what is put on beyond the plan, so large a part of ``first``, is taken off by itself.

    What ends the dwell of what is on waits for nothing of it, and keeps its bounds as in ``whole``, without it.
    """
    more, later = first + MORE, end + LATER
    stage = job.stages[end]
    minutes = {m: max(1, math.ceil(whole.likely_minutes(end, m) * part - 1e-9)) for m in stage.methods}
    piece = _piece(whole, end, part, minutes)
    named = {"name": f"{called(stage, end)}, of what is more", "quoted": False, "part": _section(stage, end, 2)}
    freed = {"after": tuple(x for x in stage.after if x != more), "part": _section(stage, end, 1)}
    job = job.model_copy(update={"stages": {**job.stages, end: stage.model_copy(update=freed)}})
    job = _beside(job, end, LATER, piece.model_copy(update=named))
    own = [w for w in whole.waits if (w.after, w.before) == (first, end)]
    own += [w.model_copy(update={"after": more, "before": later, "extended_by": None}) for w in own]
    others = [w for w in job.waits if w.after not in (first, more) or w.before not in (end, later)]
    return job.model_copy(update={"waits": (*others, *own)})


def _all_before(job: Job, stages: tuple[str, ...]) -> tuple[str, ...]:
    """Some stages and all that they come after."""
    found = list(stages)
    for key in found:
        found += [x for x in job.stages[key].after if x not in found]
    return tuple(found)


def _off_with_the_rest(job: Job, first: str) -> Job:
    """The job in which what is put on beyond the plan comes off with the rest of it, where that has a piece for it."""
    more, stages = first + MORE, dict(job.stages)
    ends = {end for end in stages for w in job.waits if (w.after, w.before) == (first + REST, end + LATER)}
    for end in ends:
        after = tuple(x for x in stages[end].after if x != more)
        stages[end] = stages[end].model_copy(update={"after": after})
    waits = tuple(
        w.model_copy(update={"before": f"{w.before}{LATER}"}) if w.after == more and w.before in ends else w
        for w in job.waits
    )
    return job.model_copy(update={"stages": stages, "waits": waits})


def _piece(job: Job, key: str, part: float, minutes: dict[str, int]) -> Stage:
    """A part of a stage as a stage that follows it."""
    stage = job.stages[key]
    methods = {m: part_of(way, part, minutes[m]) for m, way in stage.methods.items()}
    return stage.model_copy(
        update={
            "methods": methods,
            "after": tuple(dict.fromkeys((*stage.after, key))),
            "starts_at": None,
            "not_before": None,
            **measured(job, stage, part),
        }
    )


def measured(job: Job, stage: Stage, part: float) -> dict[str, float | None]:
    """The measures of a part of a stage."""
    surface = job.surfaces[stage.surface]
    area, run = stage.area or surface.area, stage.run or surface.run
    return {"area": None if area is None else area * part, "run": None if run is None else run * part}


def part_of(way: Method, part: float, minutes: int) -> Method:
    """A method for a part of its work: containers are whole."""
    return way.model_copy(
        update={
            "minutes": minutes,
            "rate": None,
            "factor": 1.0,
            "uses": {m: math.ceil(n * part - 1e-9) for m, n in way.uses.items()},
            "expected": {m: n * part for m, n in way.expected.items()},
            "leaves": {m: n * part for m, n in way.leaves.items()},
            "draws": None if way.draws is None else way.draws * part,
        }
    )


def _less_used(way: Method, rest: Method) -> Method:
    """A method less what the rest of its work will use."""
    return way.model_copy(
        update={
            "uses": {m: n - rest.uses.get(m, 0) for m, n in way.uses.items()},
            "expected": {m: n - rest.expected.get(m, 0.0) for m, n in way.expected.items()},
            "leaves": {m: n - rest.leaves.get(m, 0.0) for m, n in way.leaves.items()},
        }
    )


def _section(stage: Stage, key: str, number: int) -> Part:
    """The section of its surface that a piece is: nobody need keep off the other while it waits."""
    if stage.part is None:
        return Part(of=key, number=number, count=2, own=True)
    place = stage.part.number if number == 1 else min(stage.part.count + 1, MOST_SECTIONS)
    return stage.part.model_copy(update={"number": place, "count": max(place, stage.part.count), "own": True})


def _beside(job: Job, first: str, ending: str, piece: Stage, before: tuple[str, ...] = ()) -> Job:
    """The job with a second piece, for which all holds that holds for the first; ``before`` come before it."""
    second = first + ending
    stages = dict(_followed(job.stages, first, second)) | {key: job.stages[key] for key in before}
    return job.model_copy(
        update={
            "stages": {**stages, second: piece},
            "waits": tuple(_waits(job.waits, first, second, is_beyond=ending == MORE)),
            "apart": tuple(dict.fromkeys((*job.apart, *_pairs(job.apart, first, second)))),
            "quoted": {item: _with(done_by, first, second) for item, done_by in job.quoted.items()},
        }
    )


def _followed(stages: dict[str, Stage], first: str, second: str) -> Iterator[tuple[str, Stage]]:
    for key, stage in stages.items():
        stays = None if stage.stays_for is None else _with(stage.stays_for, first, second)
        yield key, stage.model_copy(update={"after": _with(stage.after, first, second), "stays_for": stays})


def _waits(waits: Iterable[Wait], first: str, second: str, *, is_beyond: bool) -> Iterator[Wait]:
    """The waits, and those of the second piece. A patch may be anywhere in either, so their order is any.

    But what was planned is gone over as planned, though more is asked for. What is beyond the plan is not what the wait
    before the first ran on: it has no most there, and closes nothing until the second, which the first is done in.
    """
    for wait in waits:
        if first not in (wait.after, wait.before):
            yield wait
            continue
        loose = wait if wait.order is None else wait.model_copy(update={"order": "any"})
        yield wait if is_beyond else loose
        ends = {name: second for name in ("after", "before") if getattr(wait, name) == first}
        is_over = is_beyond and wait.before == first
        other = without_most(loose).model_copy(update={"closes": False, "keep_clear": False}) if is_over else loose
        yield other.model_copy(update=ends | {"extended_by": None})


def _pairs(apart: Iterable[tuple[str, str]], first: str, second: str) -> Iterator[tuple[str, str]]:
    for one, other in apart:
        if first in (one, other):
            yield (second, other) if one == first else (one, second)


def _with(keys: tuple[str, ...], first: str, second: str) -> tuple[str, ...]:
    return (*keys, second) if first in keys else keys
