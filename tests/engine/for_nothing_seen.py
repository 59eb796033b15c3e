"""What a plan does for nothing, looked for by hand: each thing undone, and the checker asked whether that holds.

Apart from the engine, which takes it out: only what can be undone in one line is looked for here.
"""

from collections.abc import Iterator
from dataclasses import replace

from planner.day import Day
from planner.plan.checker import broken_rules
from planner.plan.plan import Attendance, Plan, Stay, Work
from planner.trade.units import show_clock


def done_for_nothing(day: Day, plan: Plan) -> list[str]:
    """What of a plan could be left out, in words."""
    hands = [*_waits_for_work(day, plan), *_stays_after_work(day, plan), *_walks_out_and_in(day, plan)]
    return [*hands, *_goes_to_come_again(day, plan)]


def _spans(plan: Plan, hand: str, job: str) -> list[tuple[int, int]]:
    """All that a hand does at a job, but for breaks."""
    done = [(x.start, x.end) for x in (*plan.works, *plan.chores) if hand in x.hands and x.job == job]
    return done + [(c.start, c.end) for c in plan.crossings if c.hand == hand and c.job == job]


def _waits_for_work(day: Day, plan: Plan) -> Iterator[str]:
    for n, there in enumerate(plan.attendances):
        spans = [start for start, _ in _spans(plan, there.hand, there.job) if start >= there.arrive]
        later = replace(there, arrive=min([*spans, there.leave]))
        if later != there and not broken_rules(day, _attending(plan, n, later)):
            yield f"{there.hand} comes at {show_clock(there.arrive)}, and could at {show_clock(later.arrive)}"


def _stays_after_work(day: Day, plan: Plan) -> Iterator[str]:
    for n, there in enumerate(plan.attendances):
        spans = [end for _, end in _spans(plan, there.hand, there.job) if end <= there.leave]
        sooner = replace(there, leave=max([*spans, there.arrive]))
        if sooner != there and not broken_rules(day, _attending(plan, n, sooner)):
            yield f"{there.hand} goes at {show_clock(there.leave)}, and could at {show_clock(sooner.leave)}"


def _walks_out_and_in(day: Day, plan: Plan) -> Iterator[str]:
    """One hand's crossings of one way, each with the next that begins after it: nothing is carried between the two."""
    for one in plan.crossings:
        later = [c for c in plan.crossings if c.hand == one.hand and c.start >= one.end]
        other = min(later, key=lambda c: c.start, default=None)
        if other is None or one.carried_out or other.carried_in or (one.job, one.ground) != (other.job, other.ground):
            continue
        stays = replace(one, end=other.end, carried_out=other.carried_out, wheels=one.wheels or other.wheels)
        crossings = tuple(stays if c == one else c for c in plan.crossings if c != other)
        if not broken_rules(day, replace(plan, crossings=crossings)):
            yield f"{one.hand} walks out at {show_clock(one.end)} with nothing, and in again with nothing"


def _attending(plan: Plan, n: int, there: Attendance) -> Plan:
    changed = list(plan.attendances)
    changed[n] = there
    return replace(plan, attendances=tuple(changed))


def _goes_to_come_again(day: Day, plan: Plan) -> Iterator[str]:
    """By open ways, where nothing is carried but by the chores: two stays without the chores between them."""
    for one in plan.stays:
        for other in plan.stays:
            same = (other.job, other.ground, other.kit) == (one.job, one.ground, one.kit)
            same = same and other.carried_in >= one.carried_out  # else two of a kit are there at once
            is_open = day.jobs[one.job].grounds[one.ground].way_in.is_open
            if (
                same
                and is_open
                and other.number == one.number + 1
                and not broken_rules(day, _standing(plan, one, other))
            ):
                yield f"{one.kit} goes at {show_clock(one.carried_out)} to come again at {show_clock(other.carried_in)}"


def _standing(plan: Plan, one: Stay, other: Stay) -> Plan:
    at = (one.job, one.ground, one.kit)
    between = ((one.number, "pack down"), (other.number, "set up"))
    chores = [c for c in plan.chores if (c.job, c.ground, c.kit) != at or (c.stay, c.what) not in between]
    stays = [
        replace(s, carried_out=other.carried_out, visit_out=other.visit_out) if s == one else s for s in plan.stays
    ]

    def work(work: Work) -> Work:
        served = work.job == one.job and one.carried_in <= work.start and work.end <= other.carried_out
        named = ((k, one.number if served and k == one.kit else n) for k, n in work.stays)
        return replace(work, stays=tuple(named))

    return replace(
        plan,
        stays=tuple(s for s in stays if s != other),
        chores=tuple(
            replace(c, stay=one.number) if (c.job, c.ground, c.kit, c.stay) == (*at, other.number) else c
            for c in chores
        ),
        works=tuple(map(work, plan.works)),
    )
