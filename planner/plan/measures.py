"""The numbers by which plans are told apart: minutes home, restricted crossings, set-ups, idle and waiting minutes."""

from collections import Counter
from dataclasses import dataclass

from planner.day import Day
from planner.day.names import Names
from planner.plan.legs import legs
from planner.plan.plan import Plan
from planner.plan.waits import planned_waits
from planner.trade.units import show_clock


@dataclass(frozen=True, slots=True)
class Measures:
    """All in minutes, or counts.

    ``minutes_home`` runs from the day's earliest start to home; ``overrun`` is how far home lies past the latest
    finish; ``waiting`` is the sum of the waits' spans between two stages, ``unfilled`` the part of it (each minute
    counted once) in which no hand does anything at all.
    """

    minutes_home: int
    overrun: int
    restricted_crossings: int
    crossings: int
    set_ups: int
    waiting: int
    unfilled: int
    value: int


def latest_finish(day: Day) -> int:
    """The minute by which the van should be home: the day's finish, or the end of a rider's hours if sooner."""
    ends = [day.hours_of(key)[1] for key, hand in day.hands.items() if not hand.own_transport]
    return min([day.finish, *ends])


def by_whose_hours(day: Day) -> str:
    """A sentence, with a blank before it, on the riders whose hours end before the day does; empty where none do."""
    until = latest_finish(day)
    if until == day.finish:
        return ""
    hours = {key: day.hours_of(key) for key, hand in day.hands.items() if not hand.own_transport}
    since = max(day.start, *(begin for begin, _ in hours.values()))
    binding = [key for key, (begin, end) in hours.items() if end == until or begin == since > day.start]
    who = " and ".join(Names(day).hand(key) for key in binding)
    rides = "rides" if len(binding) == 1 else "ride"
    out = f"from {show_clock(since)} to {show_clock(until)} only"
    return f" The van is out {out}: the hours of {who}, who {rides} in it."


def measure(day: Day, plan: Plan) -> Measures:
    """All measures of a plan for its day."""
    restricted = [c for c in plan.crossings if day.jobs[c.job].grounds[c.ground].way_in.restricted]
    minutes_home = plan.home - day.start
    spans = [(w.begins, w.ends) for w in planned_waits(day, plan) if w.second is not None and w.wait.kind != "order"]
    return Measures(
        minutes_home=minutes_home,
        overrun=max(0, plan.home - latest_finish(day)),
        restricted_crossings=len(restricted),
        crossings=len(plan.crossings),
        set_ups=sum(c.what == "set up" for c in plan.chores),
        waiting=sum(end - start for start, end in spans),
        unfilled=_uncovered(spans, busy_spans(day, plan)),
        value=minutes_home + day.crossing_price * len(restricted),
    )


def busy_spans(day: Day, plan: Plan) -> list[tuple[int, int]]:
    """Every span in which some hand works, sets up, walks, drives or rests."""
    spans = [(x.start, x.end) for group in (plan.works, plan.chores, plan.rests, plan.drives) for x in group]
    spans += [(x.leaves, x.back) for x in plan.fetches]
    return spans + [leg for crossing in plan.crossings for leg in legs(day, crossing)]


def _uncovered(spans: list[tuple[int, int]], covers: list[tuple[int, int]]) -> int:
    """Minutes that lie in some span and in no cover."""
    inside = {minute for start, end in spans for minute in range(start, end)}
    return len(inside - {minute for start, end in covers for minute in range(start, end)})


def longest_row(plan: Plan, since: int | None = None) -> int:
    """The most crossings of one hand to one ground in one visit; on a day under way, of those not over by then."""
    left = (c for c in plan.crossings if since is None or c.end > since)
    rows = Counter((c.job, c.visit, c.ground, c.hand) for c in left)
    return max(rows.values(), default=0)


def most_stays(plan: Plan, since: int | None = None) -> int:
    """How often one kit comes to one ground, at the most; on a day under way, of the stays not over by then."""
    left = (s for s in plan.stays if since is None or s.carried_out > since)
    return max(Counter((s.job, s.ground, s.kit) for s in left).values(), default=1)
