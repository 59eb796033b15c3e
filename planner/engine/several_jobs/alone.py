"""One job of a day alone: as a day of its own, and out of the clock, where it takes the same at any time."""

from dataclasses import replace

from planner.day import Day
from planner.engine.problem import Activity, Hand, Job, Lag, Problem, Rest

BY_THE_CLOCK: dict[type, frozenset[str]] = {
    Problem: frozenset(
        {"origin", "opens", "finish", "fixed_start", "spells"}
        | {"is_underway", "standing", "laid", "watered", "inside", "walking_out", "begun_visits"}
    ),
    Activity: frozenset({"earliest", "latest", "start", "shut"}),
    Lag: frozenset({"steps"}),
    Hand: frozenset({"earliest", "latest", "rest", "meal", "shaken"}),
    Job: frozenset({"arrive", "done_by", "visits"}),
    Rest: frozenset({"once_over", "within", "soonest", "earliest", "latest"}),
}
"""What of a problem binds by the clock, by the day's length or by other jobs: a job out of the clock keeps none of it.

Whoever adds a field to the problem adds it here, and to `out_of_the_clock`, if it does; a test asks.
"""


def alone(day: Day, job: str) -> Day:
    """The day with one job only, in one visit; the van starts and ends at its place, and no break or meal is owed."""
    place = day.jobs[job].place
    return day.model_copy(
        update={
            "jobs": {job: day.jobs[job].model_copy(update={"visits": 1})},
            "van": day.van.model_copy(update={"starts_at": place, "ends_at": place}),
            "rest": None,
            "meal": None,
            "hands": {h: hand.model_copy(update={"rest": None}) for h, hand in day.hands.items()},
        }
    )


def out_of_the_clock(problem: Problem) -> Problem:
    """A relaxation that holds at every time of the day: no windows, hours, light, weather, breaks or latest finish.

    Every plan of the day, cut down to what is done at this job in one visit and moved to the day's start, is a plan of
    it. Bounds by the hour are the loosest of all hours. As it can be moved, it leaves at once.
    """
    return replace(
        problem,
        activities=tuple(replace(a, earliest=0, latest=None, start=None, shut=()) for a in problem.activities),
        lags=tuple(_at_any_hour(lag) for lag in problem.lags),
        hands=tuple(replace(h, earliest=0, latest=problem.horizon, rest=None, meal=None) for h in problem.hands),
        jobs=tuple(replace(j, visits=1, arrive=None, done_by=None) for j in problem.jobs),
        spells=(),
        opens=problem.origin,
        finish=None,
        fixed_start=True,
    )


def with_the_van_away(problem: Problem) -> Problem:
    """A relaxation in which the van may be away for nothing while a wait runs: no wait has a least.

    Take a plan that comes back to a job, and cut the time between its visits out. All that is done keeps its order and
    its length; what happens in the visits happens in one; waits only grow shorter, which no most forbids. So the
    minutes and crossings of all visits together are those of a plan of this problem, or more. What is to stay away for
    so many minutes after something keeps the order, and no more than that.
    """
    lags = (lag if lag.least is None else replace(lag, least=min(0, lag.least)) for lag in problem.lags)
    return replace(
        problem,
        lags=tuple(lags),
        closed=tuple(x if x.minutes is None else replace(x, minutes=0) for x in problem.closed),
        spoiling=tuple(replace(x, minutes=0) for x in problem.spoiling),
        wetted=tuple(replace(x, minutes=0) for x in problem.wetted),
        slippery=tuple(replace(x, minutes=0) for x in problem.slippery),
        beneath=tuple(replace(x, minutes=0) for x in problem.beneath),
    )


def _at_any_hour(lag: Lag) -> Lag:
    """A lag with the loosest bounds of any hour."""
    leasts = [lag.least, *(least for _, least, _ in lag.steps)]
    mosts = [lag.most, *(most for _, _, most in lag.steps)]
    known_least = [x for x in leasts if x is not None]
    known_most = [x for x in mosts if x is not None]
    return replace(
        lag,
        least=min(known_least) if len(known_least) == len(leasts) else None,
        most=max(known_most) if len(known_most) == len(mosts) else None,
        steps=(),
    )
