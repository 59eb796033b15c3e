"""The numbers by which plans are told apart: minutes home, restricted crossings, set-ups, idle and waiting minutes."""

from dataclasses import dataclass

from planner.day import Day, Wait
from planner.plan.plan import Plan


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


def measure(day: Day, plan: Plan) -> Measures:
    """All measures of a plan for its day."""
    restricted = [c for c in plan.crossings if day.jobs[c.job].grounds[c.ground].way_in.restricted]
    minutes_home = plan.home - day.start
    spans = [(start, end) for _, _, start, end in waits_run(day, plan)]
    return Measures(
        minutes_home=minutes_home,
        overrun=max(0, plan.home - latest_finish(day)),
        restricted_crossings=len(restricted),
        crossings=len(plan.crossings),
        set_ups=sum(c.what == "set up" for c in plan.chores),
        waiting=sum(end - start for start, end in spans),
        unfilled=_uncovered(spans, _busy_spans(day, plan)),
        value=minutes_home + day.crossing_price * len(restricted),
    )


def waits_run(day: Day, plan: Plan) -> list[tuple[str, Wait, int, int]]:
    """Each wait between two planned stages (order alone left out) as (job, wait, begins, ends)."""
    runs = []
    for key, job in day.jobs.items():
        for wait in job.waits:
            first = plan.work(key, wait.after)
            second = plan.work(key, wait.before) if wait.before else None
            if first and second and wait.kind != "order":
                runs.append((key, wait, first.end, second.start))
    return runs


def _busy_spans(day: Day, plan: Plan) -> list[tuple[int, int]]:
    """Every span in which some hand works, sets up, walks, drives or rests."""
    spans = [(x.start, x.end) for group in (plan.works, plan.chores, plan.rests, plan.drives) for x in group]
    for c in plan.crossings:
        walk = day.jobs[c.job].grounds[c.ground].way_in.minutes
        spans += [(c.start, c.start + walk), (c.end - walk, c.end)]
    return spans


def _uncovered(spans: list[tuple[int, int]], covers: list[tuple[int, int]]) -> int:
    """Minutes that lie in some span and in no cover."""
    inside = {minute for start, end in spans for minute in range(start, end)}
    return len(inside - {minute for start, end in covers for minute in range(start, end)})
