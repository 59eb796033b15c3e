"""The plan that a day went by, kept for what is left of it: the same hands, methods, kit and crossings, only later.

It is the first plan of the rest, found at once; from there the search goes on.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from planner.day import Day
from planner.engine.hints import Hint, give
from planner.engine.variables import Expr, Variables
from planner.plan.past import NOT_YET, Past
from planner.plan.plan import Chore, Crossing, Plan, Rest, Stay, StayKey, Work
from planner.plan.progress import Progress


def what_is_left(day: Day, plan: Plan, past: Past, progress: Progress) -> Plan:
    """The part of a plan that is not over, at its old times, its stays numbered as in the problem of a day under way.

    What a hand who has gone was to do is left out: others have to.
    """
    known = {(j, s) for j, s, _ in day.stages()}
    here = [h for h in day.hands if h not in progress.gone]
    works = [w for w in plan.works if (w.job, w.stage) in known and not past.is_done(w.job, w.stage)]
    crossings = list(_crossings_left(plan, past, progress.at))
    numbers = _numbers(day, plan, past, works)
    return replace(
        plan,
        works=tuple(_with_numbers(day, w, numbers) for w in works if set(w.hands) <= set(here)),
        crossings=tuple(c for c in crossings if c.hand in here),
        stays=tuple(
            replace(
                s,
                number=numbers[s.key],
                follows=None if s.follows is None else numbers.get((s.job, s.ground, s.kit, s.follows)),
            )
            for s in plan.stays
            if s.key in numbers
        ),
        chores=tuple(c for c in _chores_left(plan, past, progress, numbers) if set(c.hands) <= set(here)),
        rests=tuple(_rests_left(plan, past, here)),
        attendances=(),
    )


def _rests_left(plan: Plan, past: Past, here: list[str]) -> Iterator[Rest]:
    had = {(r.hand, r.end - r.start) for r in past.plan.rests}
    return (r for r in plan.rests if (r.hand, r.end - r.start) not in had and r.hand in here)


def _crossings_left(plan: Plan, past: Past, now: int) -> Iterator[Crossing]:
    """Crossings not over; one begun has nothing left to bring in, one on its way out takes what it took."""
    begun: dict[tuple[str, str, int, str], list[Crossing]] = {}
    for c in past.plan.crossings:
        begun.setdefault((c.job, c.ground, c.visit, c.hand), []).append(c)
    for c in sorted(plan.crossings, key=lambda c: c.start):
        done = begun.get((c.job, c.ground, c.visit, c.hand), [])
        if not done:
            yield c
        elif (known := done.pop(0)).end > now:
            yield replace(c, carried_in=(), carried_out=c.carried_out if known.end == NOT_YET else ())


def _numbers(day: Day, plan: Plan, past: Past, works: Iterable[Work]) -> dict[StayKey, int]:
    """The numbers, among what is left, of the stays that stand or that a stage still to come will use."""
    used = {(w.job, day.jobs[w.job].ground_of(w.stage), kit, number) for w in works for kit, number in w.stays}
    begun = {s.key: s for s in past.plan.stays}
    numbers: dict[StayKey, int] = {}
    counts: dict[tuple[str, str, str], int] = {}

    def number(stay: Stay) -> None:
        place = (stay.job, stay.ground, stay.kit)
        counts[place] = counts.get(place, 0) + 1
        numbers[*place, stay.number] = counts[place]

    for stay in past.plan.stays:
        if stay.carried_out == NOT_YET:
            number(stay)
    for stay in sorted(plan.stays, key=lambda s: s.carried_in):
        key = stay.key
        if key not in begun and key in used:
            number(stay)
    return numbers


def _with_numbers(day: Day, work: Work, numbers: dict[StayKey, int]) -> Work:
    ground = day.jobs[work.job].ground_of(work.stage)
    stays = tuple((kit, numbers.get((work.job, ground, kit, number), 0)) for kit, number in work.stays)
    return replace(work, stays=stays)


def _chores_left(plan: Plan, past: Past, progress: Progress, numbers: dict[StayKey, int]) -> Iterator[Chore]:
    done = {(c.what, c.job, c.visit, c.ground, c.kit, c.stay) for c in past.plan.chores if c.end <= progress.at}
    for c in plan.chores:
        if (c.what, c.job, c.visit, c.ground, c.kit, c.stay) in done:
            continue
        if c.kit is None or c.stay is None:
            yield c
        elif (c.job, c.ground, c.kit, c.stay) in numbers:
            yield replace(c, stay=numbers[c.job, c.ground, c.kit, c.stay])


def without_who_goes(day: Day, left: Plan) -> Plan:
    """The same without what those with their own transport still do: later, it may run past their hours."""
    going = {h for h, hand in day.hands.items() if hand.own_transport}
    return replace(
        left,
        works=tuple(w for w in left.works if not going & set(w.hands)),
        crossings=tuple(c for c in left.crossings if c.hand not in going),
        chores=tuple(c for c in left.chores if not going & set(c.hands)),
        rests=tuple(r for r in left.rests if r.hand not in going),
    )


def most_in_a_row(left: Plan) -> int:
    """The most crossings that a hand makes to one ground in one visit."""
    rows = Counter((c.job, c.ground, c.visit, c.hand) for c in left.crossings)
    return max(rows.values(), default=1)


def keep_choices(v: Variables, day: Day, left: Plan, *, kit_too: bool) -> None:
    """Bind a model to what a plan chooses, as far as it speaks: visits, hands, methods, and each hand's order.

    With ``kit_too`` crossings and stays are bound as well. Times stay free.
    """
    said = Hint(day, left, v).said
    tasks = v.all_tasks() if kit_too else v.activities
    choices: list[Expr] = [c for chosen in v.modes for c in chosen]
    for task in tasks:
        choices += [task.present, *task.hands.values(), *task.visits.values()]
    if kit_too:
        choices += [slot.present for slot in v.slots] + [x for task in tasks for x in task.slots.values()]
        for stay in v.stays:
            choices += [stay.present, *stay.visits.values(), *stay.used_by.values()]
            choices += [*stay.came_by.values(), *stay.left_by.values(), *stay.follows.values()]
    for index in sorted({choice.index for choice in choices if choice.index in said}):
        v.model.add(v.model.get_int_var_from_proto_index(index) == said[index])
    for h in range(len(v.problem.hands)):
        own = [t for t in tasks if h in t.hands and t.start.index in said]
        own = [t for t in own if t.hands[h] is t.present or said.get(t.hands[h].index, 0)]
        for one, other in pairwise(sorted(own, key=lambda t: said[t.start.index])):
            given = [x for x in (one.present, other.present) if x is not v.true]
            v.model.add(one.end <= other.start).only_enforce_if(given)
    give(v, said)
