"""Before any rule is read: every key in the plan is known, every span runs forward, nothing is there twice.

A plan that fails here cannot be read further. Each fault bears the number of the rule that its subject belongs to.
"""

from collections import Counter
from collections.abc import Hashable, Iterable, Iterator
from typing import TypeVar

from planner.day import Day
from planner.plan.plan import Carried, Crossing, Plan
from planner.plan.rules.day_and_plan import Breaches, BrokenRule
from planner.trade.units import show_clock

Key = TypeVar("Key", bound=Hashable)


def faults_of_form(day: Day, plan: Plan) -> Breaches:
    """All that keeps a plan from being read at all."""
    yield from _unknown_keys(day, plan)
    yield from _backward_spans(plan)
    yield from _doubles(plan)


def _unknown_keys(day: Day, plan: Plan) -> Breaches:
    visits = {(v.job, v.number) for v in plan.visits}
    for drive in plan.drives:
        for place in (drive.from_place, drive.to_place):
            if place not in day.places:
                yield _fault(12, f"the van drives to or from '{place}', which the day does not know")
    for visit in plan.visits:
        if visit.job not in day.jobs:
            yield _fault(12, f"the van visits the job '{visit.job}', which the day does not know")
    for a in plan.attendances:
        yield from _hands_known(day, 2, (a.hand,), "an attendance")
        yield from _visit_known(visits, 2, a.job, a.visit, "an attendance")
    for rest in plan.rests:
        yield from _hands_known(day, 11, (rest.hand,), "a break")
    for fetch in plan.fetches:
        yield from _hands_known(day, 12, (fetch.hand,), "a fetch")
        if fetch.job not in day.jobs or fetch.kit not in day.kit or fetch.place not in day.places:
            yield _fault(12, f"a fetch for '{fetch.kit}' from '{fetch.job}', which the day does not know")
    for work in plan.works:
        words = f"the work '{work.stage}'"
        yield from _hands_known(day, 1, work.hands, words)
        yield from _visit_known(visits, 1, work.job, work.visit, words)
        job = day.jobs.get(work.job)
        if job is None or work.stage not in job.stages:
            yield _fault(1, f"the plan works the stage '{work.stage}' of '{work.job}', which the day does not know")
        elif work.method not in job.stages[work.stage].methods:
            yield _fault(1, f"'{work.stage}' is done by the method '{work.method}', which it does not have", work.job)
    for crossing in plan.crossings:
        yield from _crossing_known(day, visits, crossing)
    for stay in plan.stays:
        words = f"the stay of '{stay.kit}'"
        if stay.kit not in day.kit:
            yield _fault(4, f"the plan takes the kit '{stay.kit}', which the day does not know", stay.job)
        yield from _ground_known(day, 4, stay.job, stay.ground, words)
        yield from _visit_known(visits, 4, stay.job, stay.visit_in, words)
        yield from _visit_known(visits, 4, stay.job, stay.visit_out, words)
    stays = {s.key for s in plan.stays}
    for chore in plan.chores:
        words = f"the chore '{chore.what}'"
        rule = 6 if chore.what in ("lay", "lift") else 4
        yield from _hands_known(day, rule, chore.hands, words)
        yield from _ground_known(day, rule, chore.job, chore.ground, words)
        yield from _visit_known(visits, rule, chore.job, chore.visit, words)
        if chore.what not in ("set up", "pack down", "lay", "lift"):
            yield _fault(4, f"{words} is none that a plan knows", chore.job)
        elif rule == 4 and (chore.job, chore.ground, chore.kit, chore.stay) not in stays:
            yield _fault(4, f"{words} names a stay of '{chore.kit}' that is not in the plan", chore.job)


def _crossing_known(day: Day, visits: set[tuple[str, int]], crossing: Crossing) -> Breaches:
    words = f"the crossing of {show_clock(crossing.start)}"
    yield from _hands_known(day, 3, (crossing.hand,), words)
    yield from _ground_known(day, 3, crossing.job, crossing.ground, words)
    yield from _visit_known(visits, 3, crossing.job, crossing.visit, words)
    if crossing.wheels is not None and (crossing.wheels not in day.kit or day.kit[crossing.wheels].wheels is None):
        wrong = f"{words} goes with '{crossing.wheels}', which is no sack truck or barrow of the day"
        yield _fault(5, wrong, crossing.job)
    for carried in (*crossing.carried_in, *crossing.carried_out):
        yield from _carried_known(day, carried, crossing.job, words)


def _carried_known(day: Day, carried: Carried, job: str, words: str) -> Breaches:
    known: Iterable[str] = day.materials if carried.is_material else day.kit
    if carried.what not in known:
        yield _fault(5, f"{words} carries '{carried.what}', which the day does not know", job)
    if carried.count < 1 or not 0 < carried.share <= 1:
        yield _fault(5, f"{words} carries {carried.count} of '{carried.what}' by a share of {carried.share:g}", job)


def _hands_known(day: Day, rule: int, hands: tuple[str, ...], words: str) -> Breaches:
    for hand in hands:
        if hand not in day.hands:
            yield _fault(rule, f"{words} is given to '{hand}', who is none of the day's hands")


def _ground_known(day: Day, rule: int, job: str, ground: str, words: str) -> Breaches:
    if job not in day.jobs or ground not in day.jobs[job].grounds:
        yield _fault(rule, f"{words} is on the ground '{ground}' of '{job}', which the day does not know", job)


def _visit_known(visits: set[tuple[str, int]], rule: int, job: str, number: int, words: str) -> Breaches:
    if (job, number) not in visits:
        yield _fault(rule, f"{words} is in visit {number} to '{job}', which the plan does not make", job)


def _backward_spans(plan: Plan) -> Breaches:
    for rule, words, job, start, end in _spans(plan):
        if end < start:
            yield _fault(rule, f"{words} ends at {show_clock(end)}, before it begins at {show_clock(start)}", job)


def _spans(plan: Plan) -> Iterator[tuple[int, str, str | None, int, int]]:
    yield from ((12, "a drive", None, d.start, d.end) for d in plan.drives)
    yield from ((12, "a visit", v.job, v.arrive, v.depart) for v in plan.visits)
    yield from ((12, "a fetch", x.job, x.leaves, x.back) for x in plan.fetches)
    yield from ((2, "an attendance", a.job, a.arrive, a.leave) for a in plan.attendances)
    yield from ((1, f"the work '{w.stage}'", w.job, w.start, w.end) for w in plan.works)
    yield from ((3, "a crossing", c.job, c.start, c.end) for c in plan.crossings)
    yield from ((4, f"the stay of '{s.kit}'", s.job, s.carried_in, s.carried_out) for s in plan.stays)
    yield from ((4, f"the chore '{c.what}'", c.job, c.start, c.end) for c in plan.chores)
    yield from ((11, "a break", None, r.start, r.end) for r in plan.rests)


def _doubles(plan: Plan) -> Breaches:
    for job, number in _twice((v.job, v.number) for v in plan.visits):
        yield _fault(12, f"the plan has two visits {number} to '{job}'", job)
    for job, stage in _twice((w.job, w.stage) for w in plan.works):
        yield _fault(1, f"the plan works '{stage}' more than once", job)
    for job, ground, kit, number in _twice(s.key for s in plan.stays):
        yield _fault(4, f"the plan has two stays {number} of '{kit}' on '{ground}'", job)
    # where a way takes no minutes, a hand may be in and out again within one, and more than once
    for hand, job, start in _twice((c.hand, c.job, c.start) for c in plan.crossings if c.start < c.end):
        yield _fault(3, f"'{hand}' begins two crossings at {show_clock(start)}", job)


def _twice(keys: Iterable[Key]) -> list[Key]:
    return [key for key, count in Counter(keys).items() if count > 1]


def _fault(rule: int, text: str, job: str | None = None) -> BrokenRule:
    return BrokenRule(rule, text, job)
