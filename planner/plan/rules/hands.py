"""Rule 2, a hand does one thing at a time and where the van is; rule 3, on a ground a hand is inside a crossing."""

from collections.abc import Iterator

from planner.plan.plan import Attendance, Crossing
from planner.plan.rules.day_and_plan import (
    Breaches,
    BrokenRule,
    Busy,
    DayAndPlan,
    ground_words,
    hand_words,
    job_words,
    overlap,
    pairs_at_once,
    span_words,
    stage_words,
)
from planner.trade.units import show_clock, show_minutes


def one_thing_at_a_time(r: DayAndPlan) -> Breaches:
    """Rule 2: stages, chores, legs of crossings, drives and breaks of one hand share no time."""
    for hand in r.day.hands:
        for one, two in pairs_at_once(duties(r, hand)):
            text = f"{hand_words(r.day, hand)} has {one.words} and {two.words} at once"
            yield _during(2, text, one.job or two.job, two.start, min(one.end, two.end))


def crossings_apart(r: DayAndPlan) -> Breaches:
    """Rule 2: a hand is inside one crossing at a time."""
    for hand in r.day.hands:
        for one, two in pairs_at_once(r.crossings_of(hand)):
            text = f"{hand_words(r.day, hand)} is in two crossings at once"
            yield _during(2, text, one.job, two.start, min(one.end, two.end))


def where_the_van_is(r: DayAndPlan) -> Breaches:
    """Rule 2: chores, crossings and breaks lie inside a visit, as the stages do."""
    for chore in r.plan.chores:
        visit = r.visit(chore.job, chore.visit)
        if chore.start < visit.arrive or chore.end > visit.depart:
            text = f"'{chore.what}' on {ground_words(r.day, chore.job, chore.ground)} is outside its visit"
            yield _during(2, text, chore.job, chore.start, chore.end)
    for crossing in r.plan.crossings:
        visit = r.visit(crossing.job, crossing.visit)
        if crossing.start < visit.arrive or crossing.end > visit.depart:
            yield _of_crossing(r, 2, crossing, "is outside its visit")
    for rest in r.plan.rests:
        if not any(v.arrive <= rest.start and rest.end <= v.depart for v in r.visits):
            text = f"the break of {hand_words(r.day, rest.hand)} ({span_words(rest.start, rest.end)}) is in no visit"
            yield _during(2, text, None, rest.start, rest.end)


def own_transport_is_there(r: DayAndPlan) -> Breaches:
    """Rule 2: a hand with their own transport works only while they attend; nobody else has an attendance."""
    for a in r.plan.attendances:
        visit = r.visit(a.job, a.visit)
        if a.hand in r.riders:
            yield _of_attendance(r, a, "though they ride in the van")
        if a.arrive < visit.arrive or a.leave > visit.depart:
            yield _of_attendance(r, a, "outside the van's visit")
    for hand in r.walkers:
        there = r.attendances_of(hand)
        for start, end, job, number, words in _bound_duties(r, hand):
            if not any((a.job, a.visit) == (job, number) and a.arrive <= start and end <= a.leave for a in there):
                yield _during(2, f"{hand_words(r.day, hand)} has {words} while not there", job, start, end)
        for rest in r.plan.rests:
            if rest.hand == hand and not any(a.arrive <= rest.start and rest.end <= a.leave for a in there):
                text = f"the break of {hand_words(r.day, hand)} at {show_clock(rest.start)} is in no attendance"
                yield _during(2, text, None, rest.start, rest.end)


def _bound_duties(r: DayAndPlan, hand: str) -> Iterator[tuple[int, int, str, int, str]]:
    """All that a hand does at a visit, with the job and the visit."""
    yield from ((w.start, w.end, w.job, w.visit, r.words(w)) for w in r.plan.works if hand in w.hands)
    yield from ((c.start, c.end, c.job, c.visit, f"'{c.what}'") for c in r.plan.chores if hand in c.hands)
    yield from ((c.start, c.end, c.job, c.visit, "a crossing") for c in r.crossings_of(hand))


def duties(r: DayAndPlan, hand: str) -> list[Busy]:
    """All that keeps a hand busy."""
    found = [Busy(w.start, w.end, stage_words(r.day, w.job, w.stage), w.job) for w in r.plan.works if hand in w.hands]
    found += [
        Busy(c.start, c.end, f"'{c.what} {c.kit or ''}'".replace(" '", "'"), c.job)
        for c in r.plan.chores
        if hand in c.hands
    ]
    for crossing in r.crossings_of(hand):
        where = ground_words(r.day, crossing.job, crossing.ground)
        walk_in, walk_out = r.legs(crossing)
        found += [
            Busy(*walk_in, f"the way in to {where}", crossing.job),
            Busy(*walk_out, f"the way out of {where}", crossing.job),
        ]
    if hand in r.riders:
        found += [Busy(d.start, d.end, f"the drive to '{d.to_place}'", None) for d in r.drives]
    found += [Busy(x.leaves, x.back, f"the fetch for '{x.kit}'", x.job) for x in r.plan.fetches if x.hand == hand]
    return found + [Busy(x.start, x.end, "a break", None) for x in r.plan.rests if x.hand == hand]


def crossings_of_ways_that_need_them(r: DayAndPlan) -> Breaches:
    """Rule 3: a crossing leaves time for both its legs, and an open way in has none."""
    for crossing in r.plan.crossings:
        way_in = r.way_in(crossing.job, crossing.ground)
        if way_in.is_open:
            yield _of_crossing(r, 3, crossing, "is by an open way in, which needs none")
        if crossing.end - crossing.start < 2 * way_in.minutes:
            yield _of_crossing(r, 3, crossing, f"is shorter than {show_minutes(2 * way_in.minutes)} of walking")


def inside_a_crossing(r: DayAndPlan) -> Breaches:
    """Rule 3: who works or sees to kit on a ground has walked in before and walks out after."""
    for job, ground, hand, start, end, words in _on_grounds(r):
        if r.way_in(job, ground).is_open:
            continue
        if not any(
            (c.job, c.ground) == (job, ground) and r.legs(c)[0][1] <= start and end <= r.legs(c)[1][0]
            for c in r.crossings_of(hand)
        ):
            text = f"{hand_words(r.day, hand)} is not on {ground_words(r.day, job, ground)} for {words}"
            yield _during(3, text, job, start, end)


def nothing_elsewhere_meanwhile(r: DayAndPlan) -> Breaches:
    """Rule 3: inside a crossing a hand does nothing on another ground, nor at the van."""
    on_grounds = list(_on_grounds(r))
    for hand in r.day.hands:
        for crossing in r.crossings_of(hand):
            here = (crossing.job, crossing.ground)
            for job, ground, who, start, end, words in on_grounds:
                if who == hand and (job, ground) != here and overlap(crossing.start, crossing.end, start, end):
                    text = (
                        f"{words} falls into the crossing of {hand_words(r.day, hand)} to {ground_words(r.day, *here)}"
                    )
                    yield _during(3, text, job, start, end)
            for chore in r.plan.chores:
                at_van = chore.what in ("lay", "lift") and hand in chore.hands
                if at_van and overlap(crossing.start, crossing.end, chore.start, chore.end):
                    text = f"{hand_words(r.day, hand)} cannot '{chore.what}' sheets from inside a crossing"
                    yield _during(3, text, chore.job, chore.start, chore.end)


def _on_grounds(r: DayAndPlan) -> Iterator[tuple[str, str, str, int, int, str]]:
    """Job, ground, hand, start, end and words of all that is done standing on a ground."""
    for work in r.plan.works:
        for hand in work.hands:
            yield work.job, r.ground(work), hand, work.start, work.end, r.words(work)
    for chore in r.plan.chores:
        if chore.what in ("set up", "pack down"):
            words = f"'{chore.what} {chore.kit}' ({span_words(chore.start, chore.end)})"
            for hand in chore.hands:
                yield chore.job, chore.ground, hand, chore.start, chore.end, words


def _of_crossing(r: DayAndPlan, rule: int, crossing: Crossing, wrong: str) -> BrokenRule:
    span = span_words(crossing.start, crossing.end)
    text = f"the crossing of {hand_words(r.day, crossing.hand)} to {ground_words(r.day, crossing.job, crossing.ground)}"
    return _during(rule, f"{text} ({span}) {wrong}", crossing.job, crossing.start, crossing.end)


def _of_attendance(r: DayAndPlan, a: Attendance, wrong: str) -> BrokenRule:
    text = f"{hand_words(r.day, a.hand)} attends {job_words(r.day, a.job)} from {span_words(a.arrive, a.leave)} {wrong}"
    return _during(2, text, a.job, a.arrive, a.leave)


def _during(rule: int, text: str, job: str | None, start: int, end: int) -> BrokenRule:
    return BrokenRule(rule, text, job, start, end)
