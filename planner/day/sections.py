"""Surfaces that are worked in sections, where one pass cannot keep what each of their patches may wait."""

from collections.abc import Iterable, Iterator
from math import ceil

from planner.day.checks.reach import hindrances
from planner.day.day import Day
from planner.day.jobs import Job, Method, Part, Stage
from planner.day.waiting import Wait
from planner.trade.visits import usual_room_to_begin

Cuts = dict[str, Part]
"""For each stage of a job that is cut, its last section."""

Group = list[Wait]
"""Waits whose stages are cut together."""


def in_sections(day: Day) -> Day:
    """The day with every stage in sections that one pass cannot do in time; the day itself where there is none.

    Each section is a stage of its own with its share of measure, minutes and material, and comes after the one before
    it. Waits between stages that are cut together hold for each section; all others for the first or the last.
    """
    jobs = {key: cut for key, job in day.jobs.items() if (cut := _cut(day, key)) is not job}
    return day.model_copy(update={"jobs": day.jobs | jobs}) if jobs else day


def least_sections(
    first: int, second: int, least: int, most: int | None, order: str | None, room: int = 0
) -> int | None:
    """The fewest equal sections in which two stages of so many minutes can keep the bounds; None where none can.

    Let the stages take a and b minutes in all, so a/n and b/n in each of n sections, and let g >= 0 minutes lie between
    the two in a section. In the same order its patches wait from a/n + g to g + b/n, in this or the other direction:
    both ends lie within least and most for some g just when the longer, max(a, b)/n, is at most the most (g = 0 leaves
    the most room) and the two differ by no more than the most is above the least, |a - b|/n <= most - least (g then
    lifts the shorter to the least). In any other order they wait from g to a/n + g + b/n: just when
    (a + b)/n <= most - least, with g = least. Each says n >= some quotient; the least n is the greatest of them rounded
    up. Where minutes are whole, a section has a/n rounded up or down, the long ones first; in b they come first in the
    same order and last in others. Then the longest section, the largest difference and the largest sum are the
    quotients by n rounded up, and a whole number bounds them just when it bounds the quotients: nothing changes.

    All g that hold lie between two: in the same order between the larger of 0 and least - min(a, b)/n, and most -
    max(a, b)/n; in others between least and most - (a + b)/n. So the second stage has room to begin in, of so many
    minutes, just when some g holds with the most so much smaller.

    Parameters
    ----------
    first, second
        Minutes of the stages as wholes.
    least, most
        Bounds of the wait between them, in minutes; no most is None.
    order
        As in `Wait.order`; None asks nothing of a patch.
    room
        From the first minute in which the second stage may begin to the last, at the least.
    """
    if most is None or order is None:
        return 1
    most -= room
    apart = most - least
    needs = [(max(first, second), most), (abs(first - second), apart)] if order == "same" else [(first + second, apart)]
    if any(bound < 0 or (minutes > 0 and bound == 0) for minutes, bound in needs):
        return None
    return max([1, *(ceil(minutes / bound) for minutes, bound in needs if minutes)])


def sections_of(day: Day, job: str, wait: Wait) -> int | None:
    """The sections in which some methods at hand keep a wait; None where they cannot, or it asks for too many.

    They are the fewest that leave the usual room to begin in, as far as sections are allowed and take longer than that
    room: in the fewest that hold at all what ends the wait must often begin in one minute, and on the day the wait runs
    over. Where no number leaves it they are the fewest that hold.

    Of the methods of a stage those count that one hand can do, if there are any: who helps may not be there all day.
    Where the bounds change with the hour, the most sections that some hour asks for count, as far as it can be held.
    On a day that says how sure it is to be, they are reckoned with the minutes of so many days.
    """
    if wait.before is None or wait.order is None:
        return 1
    limit = 1 if day.jobs[job].stages[wait.after].part else wait.sections
    bounds = [(wait.least, wait.most)]
    hours = [(step.least, step.most) for step in wait.by_hour if step.since < day.finish]
    held = [_within(limit, day, job, wait, *found) for found in (hours or bounds)]
    known = [n for n in held if n is not None]
    if not known and hours and wait.weather:  # by the forecast it cannot begin at any hour: on another day it may
        known = [n for n in (_within(limit, day, job, wait, *bounds[0]),) if n is not None]
    return max(known, default=None)


def minutes_at_hand(day: Day, job: str, stage: str, share: float | None = None) -> list[int]:
    """The minutes that a stage takes as a whole, by each method that is at hand; see `sections_of`.

    The likely ones, or those in which it is done in a share of all days.
    """
    of, work = day.jobs[job], day.jobs[job].stages[stage]
    ground = of.ground_of(stage)
    here = ("jobs", job, "stages", stage, "methods")
    usable = {
        key: method
        for key, method in work.methods.items()
        if not list(hindrances(day, of.grounds[ground], ground, method, (*here, key)))
    } or dict(work.methods)
    fewest = min(method.hands for method in usable.values())
    taken = [key for key, method in usable.items() if method.hands == fewest]
    if share is None:
        return [of.likely_minutes(stage, key) for key in taken]
    return [max(of.likely_minutes(stage, key), ceil(of.minutes(stage, key).within(share) - 1e-6)) for key in taken]


def _within(limit: int, day: Day, job: str, wait: Wait, least: int, most: int | None) -> int | None:
    """The sections, of so many allowed, that keep bounds; see `sections_of`."""
    needed = _for_bounds(day, job, wait, least, most)
    if needed is None or needed > limit:
        return None
    assert wait.before is not None
    room = usual_room_to_begin()
    wanted = _for_bounds(day, job, wait, least, most, day.sure, room) or needed
    if room:
        wanted = min(wanted, max(min(minutes_at_hand(day, job, end)) for end in (wait.after, wait.before)) // room)
    return min(limit, max(needed, wanted))


def _for_bounds(
    day: Day, job: str, wait: Wait, least: int, most: int | None, share: float | None = None, room: int = 0
) -> int | None:
    """The fewest sections that keep bounds, with such room, where stages take the minutes of so many days."""
    assert wait.before is not None
    pairs = [
        (first, second)
        for first in minutes_at_hand(day, job, wait.after, share)
        for second in minutes_at_hand(day, job, wait.before, share)
    ]
    found = [least_sections(*pair, least, most, wait.order, room) for pair in pairs]
    if wait.label is not None and wait.extended_by is not None:
        again = min(minutes_at_hand(day, job, wait.extended_by, share))  # each patch once: it is wet for as long again
        found += [_wetted_again(wait, first, again, second, least, most, room) for first, second in pairs]
    return min((n for n in found if n is not None), default=None)


def _wetted_again(
    wait: Wait, first: int, again: int, second: int, least: int, most: int | None, room: int
) -> int | None:
    """The fewest sections in which a wait can be kept with its re-wet, and within the most of its label.

    Of n sections the two gaps of a patch, to the re-wet and from it, are each at most the most, and together at least
    the least: in the same order they lose what the stages differ by, (|a - r| + |b - r|)/n <= 2 most - least; in any
    other what they take, (a + r + b)/n <= 2 most - least.
    """
    each = [
        least_sections(first, again, 0, most, wait.order, room),
        least_sections(again, second, 0, most, wait.order, room),
        least_sections(first, second, least, wait.most, wait.order, room),
    ]
    if most is not None:
        lost = abs(first - again) + abs(second - again) if wait.order == "same" else first + again + second
        apart = 2 * (most - room) - least
        each.append(None if apart < 0 or (lost and not apart) else ceil(lost / apart) if lost else 1)
    known = [n for n in each if n is not None]
    return max(known) if len(known) == len(each) else None


def _cut(day: Day, key: str) -> Job:
    """A job with its stages in sections."""
    job = day.jobs[key]
    counts = {i: sections_of(day, key, wait) or 1 for i, wait in enumerate(job.waits) if _asks(job, wait)}
    together = {i for i, count in counts.items() if count > 1}
    while True:
        groups = _groups([job.waits[i] for i in sorted(together)])
        found = [max(counts[job.waits.index(wait)] for wait in group) for group in groups]
        cut = {end for group in groups for wait in group for end in _ends(wait)}
        more = {i for i in counts if i not in together and _ends(job.waits[i]) <= cut}  # both in sections: in the same
        more |= {
            i
            for i in counts
            for group, count in zip(groups, found, strict=True)
            if i not in together and _must_join(day, key, job.waits[i], group, count)
        }
        if not more:
            break
        together |= more
    cuts: Cuts = {}
    for group, count in zip(groups, found, strict=True):
        for stage, late in _late(group).items():
            cuts[stage] = Part(of=stage, number=count, count=count, late=late)
    return _with_sections(job, cuts, groups) if cuts else job


def _asks(job: Job, wait: Wait) -> bool:
    """Whether a wait has a most for every patch, and its stages are not sections already."""
    has_most = wait.most is not None or any(step.most is not None for step in wait.by_hour)
    return wait.order is not None and wait.before is not None and has_most and job.stages[wait.after].part is None


def _groups(waits: Iterable[Wait]) -> list[Group]:
    """Waits that share stages, in groups: what one must do in sections all do."""
    groups: list[Group] = []
    for wait in waits:
        mine = [group for group in groups if any(_ends(wait) & _ends(other) for other in group)]
        groups = [group for group in groups if group not in mine]
        groups.append([*(other for group in mine for other in group), wait])
    return groups


def _must_join(day: Day, job: str, wait: Wait, group: Group, count: int) -> bool:
    """Whether a wait, of one stage that is cut and one that is not, cannot be kept unless that is cut as well.

    It is kept from the first section to the last, with all that is cut along with them done between.
    """
    cut = {end for other in group for end in _ends(other)}
    if len(_ends(wait) & cut) == 0 or wait.most is None:
        return len(_ends(wait) & cut) > 0
    between = sum(min(minutes_at_hand(day, job, stage)) for stage in cut)
    rest = sum(min(minutes_at_hand(day, job, stage)) for stage in _ends(wait) - cut)
    return between * (count - 1) // count + rest > wait.most


def _ends(wait: Wait) -> set[str]:
    return {stage for stage in (wait.after, wait.before, wait.extended_by) if stage is not None}


def _late(group: list[Wait]) -> dict[str, bool]:
    """The stages of a group, and whether their long sections come last: turned about by every order but the same."""
    late: dict[str, bool] = {group[0].after: False}
    left = list(group)
    while left:
        wait = next(w for w in left if _ends(w) & set(late))
        left.remove(wait)
        turned = wait.order != "same"
        if wait.after not in late:
            late[wait.after] = late[wait.before] != turned if wait.before in late else False
        for other in (wait.before, wait.extended_by):
            if other is not None:
                late.setdefault(other, late[wait.after] != turned)
    return late


def _with_sections(job: Job, cuts: Cuts, groups: list[Group]) -> Job:
    stages: dict[str, Stage] = {}
    for key, stage in job.stages.items():
        if key in cuts:
            stages |= {_key(job, key, n): _section(job, key, n, cuts, groups) for n in range(1, cuts[key].count + 1)}
        else:
            after = tuple(_last(job, other, cuts) for other in stage.after)
            stages[key] = stage.model_copy(update={"after": after})
    for key, stage in stages.items():
        if stage.stays_for is not None:
            until = tuple(_last(job, other, cuts) for other in stage.stays_for)
            stages[key] = stage.model_copy(update={"stays_for": until})
    quoted = {item: tuple(x for s in done_by for x in _keys(job, s, cuts)) for item, done_by in job.quoted.items()}
    apart = tuple((a, b) for one, two in job.apart for a in _keys(job, one, cuts) for b in _keys(job, two, cuts))
    waits = tuple(cut for wait in job.waits for cut in _waits(job, wait, cuts, groups))
    return job.model_copy(update={"stages": stages, "waits": waits, "quoted": quoted, "apart": apart})


def _key(job: Job, stage: str, number: int) -> str:
    """The key of a section: that of its stage with its number, told apart from what is there."""
    mark = "_"
    while f"{stage}{mark}{number}" in job.stages:
        mark += "_"
    return f"{stage}{mark}{number}"


def _keys(job: Job, stage: str, cuts: Cuts) -> Iterator[str]:
    """The sections of a stage; the stage itself where it is not cut."""
    if stage in cuts:
        yield from (_key(job, stage, n) for n in range(1, cuts[stage].count + 1))
    else:
        yield stage


def _last(job: Job, stage: str, cuts: Cuts) -> str:
    return list(_keys(job, stage, cuts))[-1]


def _section(job: Job, key: str, number: int, cuts: Cuts, groups: list[Group]) -> Stage:
    """One section of a stage, with its share of all that can be shared."""
    stage, surface = job.stages[key], job.surfaces[job.stages[key].surface]
    count = cuts[key].count
    area = surface.area if stage.area is None else stage.area
    run = surface.run if stage.run is None else stage.run
    together = [x for x in stage.after if _are_cut_together(groups, key, x)]
    after = [_key(job, x, number) for x in together]
    if number == 1:
        after += [_last(job, x, cuts) for x in stage.after if x not in together]
    else:
        after.append(_key(job, key, number - 1))
    called = stage.name or (stage.kind[:1].upper() + stage.kind[1:] if stage.kind != "work" else key)
    changes: dict[str, object] = {
        "part": cuts[key].model_copy(update={"number": number}),
        "name": f"{called}, section {number} of {count}",
        "area": None if area is None else area / count,
        "run": None if run is None else run / count,
        "after": tuple(after),
        "methods": {name: _share(method, number, count) for name, method in stage.methods.items()},
    }
    if number > 1:
        changes |= {"starts_at": None, "consumables": (), "mixing": ""}
    return stage.model_copy(update=changes)


def _are_cut_together(groups: list[Group], one: str, other: str) -> bool:
    return any({one, other} <= {end for wait in group for end in _ends(wait)} for group in groups)


def _share(method: Method, number: int, count: int) -> Method:
    """A method for one section: whole containers, opened as they are needed, so that they come right in all."""
    uses = {key: _sooner(n, number, count) for key, n in method.uses.items()}
    changes: dict[str, object] = {
        "uses": uses,
        "expected": {key: n / count for key, n in method.expected.items()},
        "leaves": {key: n / count for key, n in method.leaves.items()},
        "draws": None if method.draws is None else method.draws / count,
    }
    if number > 1:
        changes["consumables"] = ()
    return method.model_copy(update=changes)


def _sooner(containers: int, number: int, count: int) -> int:
    """How many more containers than before must be there for so many sections to be done."""
    return ceil(containers * number / count) - ceil(containers * (number - 1) / count)


def _waits(job: Job, wait: Wait, cuts: Cuts, groups: list[Group]) -> Iterable[Wait]:
    """A wait as it holds for sections: for each, or from the first to the last of what is cut at one end alone."""
    ends = _ends(wait)
    if not ends & set(cuts):
        return [wait]
    if wait.before is None:
        return [wait.model_copy(update={"after": key}) for key in _keys(job, wait.after, cuts)]
    if wait.order is not None and _are_cut_together(groups, wait.after, wait.before):
        return [
            wait.model_copy(
                update={
                    "after": _key(job, wait.after, n),
                    "before": _key(job, wait.before, n),
                    "extended_by": None if wait.extended_by is None else _key(job, wait.extended_by, n),
                }
            )
            for n in range(1, cuts[wait.after].count + 1)
        ]
    after, before = list(_keys(job, wait.after, cuts)), list(_keys(job, wait.before, cuts))
    if wait.order is None:
        return [wait.model_copy(update={"after": after[-1], "before": before[0]})]
    steps = tuple(step.model_copy(update={"most": None}) for step in wait.by_hour)
    least = {"after": after[-1], "before": before[0], "order": "any", "most": None, "by_hour": steps}
    if wait.most is None:
        return [wait.model_copy(update=least)]
    most = {"after": after[0], "before": before[-1], "kind": "order", "closes": False, "least": 0}
    return [*([wait.model_copy(update=least)] if wait.least else []), wait.model_copy(update=most)]
