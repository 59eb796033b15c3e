"""What is left of a day under way, as a day of its own: the same hands, van and kit, the work that was not done."""

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from math import ceil
from typing import TypeVar

from planner.day import Day, Job, Method, Stage
from planner.day.jobs import Part
from planner.day.names import Names, called
from planner.day.rewetting import without_needless_rewets
from planner.day.rinsing_out import with_rinsing_out
from planner.day.sections import in_sections
from planner.day.waiting import MOST_SECTIONS, Wait
from planner.day.without import without_stages
from planner.plan.pieces import MORE, REST, first_of, measured, part_of, takes_off_a_rest, with_pieces
from planner.plan.plan import Plan
from planner.plan.progress import Progress
from planner.plan.went import with_what_stays
from planner.trade.units import MINUTES_IN_A_DAY

Number = TypeVar("Number", int, float)

SECTION = r", section \d+ of \d+$"
"""How the name of a section ends."""

PIECE = r"(, (the rest|more of it|the first part)(, section \d+ of \d+)?)+$"
"""How the name of a piece ends."""


def left_for_another_day(day: Day, plan: Plan, progress: Progress) -> Day | None:
    """The work that a plan, its past with real times, does not do, as a day on the next date; None where there is none.

    What takes off a treatment that is left is left as well, for as much of it, though it is done today of the rest.
    Both go over the surface in the order that the day says, and where there is more of them than one pass can do in
    time they are in sections of their own. What waits for something that was done today waits no longer than it has
    to, and may begin with the day where that is over by then. Windows, promises and the forecast were today's. Kit
    that stayed at a job is said there.
    """
    whole = with_what_stays(with_pieces(day, progress), progress)
    jobs = {}
    for key, job in whole.jobs.items():
        left = [s for s, stage in job.stages.items() if _is_left(plan, progress, key, s, stage)]
        if left and any(not job.stages[s].only_if_needed for s in left):
            again = _taken_off_again(job, left, _shares(day.jobs[key], key, progress), day.jobs[key])
            afresh = {s for s in job.stages if again.stages[s] is not job.stages[s]}
            in_it = {rest for s in afresh for rest in _rests(job, s)}
            left = [s for s in job.stages if s in {*left, *afresh} - in_it]
            jobs[key] = _in_its_own_order(_what_is_left(again, key, left, plan), day.jobs[key])
    if not jobs:
        return None
    title = f"Left of {day.title or day.date}"
    changes = {"jobs": jobs, "date": day.date + dt.timedelta(days=1), "weather": (), "title": title}
    begun = with_rinsing_out(_of_no_forecast(day.model_copy(update=changes), day))  # all as its file is read
    cut = in_sections(without_needless_rewets(begun))
    return cut.model_copy(update={"jobs": {key: _plainly_named(job, day.jobs[key]) for key, job in cut.jobs.items()}})


def _of_no_forecast(left: Day, day: Day) -> Day:
    """The day with none of the bounds by the hour that came of the forecast of another day."""
    if not day.weather:
        return left
    jobs = {}
    for key, job in left.jobs.items():
        waits = tuple(w.model_copy(update={"by_hour": ()}) if w.weather is not None else w for w in job.waits)
        jobs[key] = job.model_copy(update={"waits": waits})
    return left.model_copy(update={"jobs": jobs})


def what_it_takes(day: Day) -> tuple[str, ...]:
    """Kit and materials that a day takes by the first method of each stage, in words, each once."""
    names, kit, uses = Names(day), dict[str, None](), dict[str, int]()
    for _, _, stage in day.stages():
        method = next(iter(stage.methods.values()))
        kit |= dict.fromkeys(day.kit_closure(method.kit))
        for key, count in method.uses.items():
            uses[key] = uses.get(key, 0) + count
    return (*(names.kit(key) for key in kit), *(f"{n} x {names.material(key)}" for key, n in uses.items() if n))


def _is_left(plan: Plan, progress: Progress, job: str, key: str, stage: Stage) -> bool:
    """Whether a stage is still to do: not in the plan, or begun and given up with nobody knowing how far it was."""
    note = progress.of_stage(job, key)
    is_broken_off = (job, key) in progress.dropped and (note is None or note.part is None)
    return plan.work(job, key) is None or is_broken_off


def _shares(job: Job, key: str, progress: Progress) -> dict[str, float]:
    """What part of its stage each second piece is: what is asked for beyond it may be more than the whole."""
    shares = {n.stage + REST: 1 - n.part for n in progress.noted if n.job == key and n.part is not None}
    for more in progress.more:
        if more.job == key and more.stage in job.stages:
            likely = min(job.likely_minutes(more.stage, m) for m in job.stages[more.stage].methods)
            shares[more.stage + MORE] = more.minutes / max(likely, 1)
    return shares


def _taken_off_again(job: Job, left: list[str], shares: dict[str, float], before: Job) -> Job:
    """The job in which what takes off a treatment that is left, and is done today, is as much of it as that is left.

    Of several treatments that it takes off, it is as much as the most that is left of one. What was cut today takes
    what it took ``before``, and no more: what is left of it by itself is done with it.
    """
    stages = dict(job.stages)
    taken_off: dict[str, list[str]] = {}
    for wait in job.waits:
        if wait.kind == "dwell" and wait.after in left and wait.before is not None and wait.before not in left:
            taken_off.setdefault(wait.before, []).append(wait.after)
    for done, firsts in taken_off.items():
        share = 1.0 if takes_off_a_rest(job, done) else max(shares.get(first, 1.0) for first in firsts)
        whole = before if done in before.stages else job
        stage = whole.stages[done]
        methods = {}
        for m, way in stage.methods.items():
            likely = whole.likely_minutes(done, m)
            again = ceil(likely * share - 1e-9)
            rest = sum(job.likely_minutes(key, m) for key in _rests(job, done) if key in left)
            minutes = min(again + rest, max(again, likely))
            methods[m] = part_of(way, minutes / max(likely, 1), minutes)
        changes = {"methods": methods, "part": None, **measured(whole, stage, min(share, 1.0))}
        stages[done] = job.stages[done].model_copy(update=changes)
    return job.model_copy(update={"stages": stages})


def _rests(job: Job, key: str) -> Iterator[str]:
    """The rest of a stage that was left half done, the rest of that, and so on."""
    while (key := key + REST) in job.stages:
        yield key


def _what_is_left(job: Job, name: str, left: list[str], plan: Plan) -> Job:
    """A job with the stages that are left, as a job that has not begun: more of a stage is done with it."""
    begin_by = {s: _soonest(job, name, s, plan) for s in left}
    with_it = {s for s in left if s + MORE in left}
    more = {s + MORE for s in with_it}
    kept = without_stages(job, [s for s in job.stages if s not in left or s in more])
    named = {wait.extended_by for wait in kept.waits}
    kept = without_stages(kept, [s for s, stage in kept.stages.items() if stage.only_if_needed and s not in named])
    stages = {}
    for key, stage in kept.stages.items():
        methods = _with_own_minutes(job, key)
        if key in with_it:
            longer = {m: job.likely_minutes(key + MORE, m) for m in methods}
            methods = {m: _with_more(way, job.stages[key + MORE].methods[m], longer[m]) for m, way in methods.items()}
        free = {"part": None, "starts_at": None, "not_after": None, "not_before": begin_by[key], "by_hand": None}
        stages[key] = stage.model_copy(update={"methods": methods, **free})
    return kept.model_copy(
        update={
            "stages": stages,
            "arrive": None,
            "done_by": None,
            "quoted": {item: done_by for item, done_by in kept.quoted.items() if done_by},
        }
    )


def _in_its_own_order(job: Job, before: Job) -> Job:
    """The job, begun afresh: what waits in any order only as it was cut today goes in the order of ``before``."""
    order = {(w.after, w.before, w.kind): w.order for w in before.waits}

    def afresh(wait: Wait) -> Wait:
        ends = (first_of(wait.after), None if wait.before is None else first_of(wait.before), wait.kind)
        return wait.model_copy(update={"order": order.get(ends, wait.order), "sections": MOST_SECTIONS})

    return job.model_copy(update={"waits": tuple(afresh(w) if w.order is not None else w for w in job.waits)})


def _plainly_named(job: Job, before: Job) -> Job:
    """The job with each stage called as in ``before``, and what of it is left said once.

    Of what was done in part it is the rest, or more of it. Pieces of one stage are its sections, as nobody need keep
    off one while another waits, and counted where they would be called the same: "Treat, the rest, section 1 of 2".
    """
    wholes: dict[str, list[str]] = {}
    for key, stage in before.stages.items():
        wholes.setdefault(stage.part.of if stage.part else key, []).append(key)
    left = {key: key if stage.part is None else stage.part.of for key, stage in job.stages.items()}
    first = {key: of if of in before.stages else first_of(of) for key, of in left.items()}
    pieces: dict[str, list[str]] = {}
    for key, start in first.items():
        part = before.stages[start].part
        pieces.setdefault(part.of if part else start, []).append(key)
    stages = dict(job.stages)
    for whole, keys in pieces.items():
        names = [_called_plainly(left[key], first[key], before, wholes[whole], set(left.values())) for key in keys]
        for n, (key, name) in enumerate(zip(keys, names, strict=True), 1):
            own = name or re.sub(SECTION, "", job.stages[key].name) or key
            counted = f"{own}, section {n} of {len(keys)}" if len(set(names)) < len(names) else name
            stages[key] = _as_section(job, key, whole, n, len(keys)) if len(keys) > 1 else stages[key]
            stages[key] = stages[key].model_copy(update={"name": counted})
    return job.model_copy(update={"stages": stages})


def _called_plainly(of: str, first: str, before: Job, sections: list[str], left: set[str]) -> str:
    """What a stage that is left is called, uncounted; nothing where nobody gave it a name and it is whole."""
    stage = before.stages[first]
    if of == first and len(sections) == 1:
        return stage.name
    name = re.sub(SECTION, "", stage.name) if stage.part else stage.name
    name = re.sub(PIECE, "", name) or called(stage, first)
    if of.endswith(MORE):
        return f"{name}, more of it"
    return name if of == first and set(sections) <= left else f"{name}, the rest"


def _as_section(job: Job, key: str, whole: str, number: int, count: int) -> Stage:
    """A stage that is left as one of so many sections of the whole, with minutes of its own."""
    most = min(count, MOST_SECTIONS)
    part = Part(of=whole, number=min(number, most), count=most, own=True)
    return job.stages[key].model_copy(update={"methods": _with_own_minutes(job, key), "part": part})


def _with_own_minutes(job: Job, key: str) -> dict[str, Method]:
    """The methods of a stage with the minutes that they take, whatever becomes of its measures."""
    return {
        m: way.model_copy(update={"minutes": job.likely_minutes(key, m), "rate": None, "factor": 1.0})
        for m, way in job.stages[key].methods.items()
    }


def _with_more(way: Method, more: Method, minutes: int) -> Method:
    """A method for its own work and so many minutes more."""
    draws = None if way.draws is None and more.draws is None else (way.draws or 0) + (more.draws or 0)
    return way.model_copy(
        update={
            "minutes": (way.minutes or 0) + minutes,
            "draws": draws,
            "uses": _summed(way.uses, more.uses),
            "expected": _summed(way.expected, more.expected),
            "leaves": _summed(way.leaves, more.leaves),
        }
    )


def _summed(one: Mapping[str, Number], other: Mapping[str, Number]) -> dict[str, Number]:
    return {key: one.get(key, 0) + other.get(key, 0) for key in dict.fromkeys((*one, *other))}


def _soonest(job: Job, name: str, stage: str, plan: Plan) -> int | None:
    """The minute of the next day before which what was done today does not bear a stage; None where it does."""
    minutes = [0]
    for wait in job.waits:
        first = plan.work(name, wait.after)
        if wait.before == stage and first is not None:
            minutes.append(first.end + wait.bounds(first.end)[0] - MINUTES_IN_A_DAY)
    return max(minutes) or None
