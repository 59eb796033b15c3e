"""The trade-off: every useful pair of minutes home and restricted crossings, proven where it is proven."""

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from planner.day import Day
from planner.fit.changes import without_latest_finish
from planner.fit.errands import Errand
from planner.fit.side_by_side import Done, SideBySide, planned, share
from planner.plan.measures import measure
from planner.plan.plan import Plan
from planner.trade.units import show_clock, show_minutes

A_CROSSING_ABOVE_ALL = 10_000
"""Minutes that a crossing is worth when nothing but the number of crossings matters."""


@dataclass(frozen=True)
class Point:
    """The soonest found to be home with so many restricted crossings; ``bound`` is a lower bound on those minutes."""

    minutes: int
    crossings: int
    bound: int
    plan: Plan

    @property
    def is_proven(self) -> bool:
        """Whether no plan with so few crossings is home sooner."""
        return self.minutes <= self.bound


@dataclass(frozen=True)
class TradeOffs:
    """No point is beaten by another in both numbers; from the fewest crossings to the fewest minutes."""

    points: tuple[Point, ...]
    trips: str = "trips by the restricted way in"
    start: int = 0

    @property
    def sentence(self) -> str:
        """What the fewest crossings cost against the soonest home."""
        if len(self.points) < 2:
            words = "There is nothing to trade: the soonest home also has the fewest"
            return f"{words} {self.trips}." if self.points else "No plan was found in the time given."
        return f"{_cost(self.points[0], self.points[-1], self.trips)}."

    def rows(self) -> list[tuple[str, str, str, str]]:
        """Each point as crossings, when home, what it costs against the next, and whether it is proven."""
        costs = [_cost(less, more, self.trips) for less, more in pairwise(self.points)]
        return [
            (
                str(point.crossings),
                show_clock(self.start + point.minutes),
                cost,
                "proven" if point.is_proven else f"no plan before {show_clock(self.start + point.bound)}",
            )
            for point, cost in zip(self.points, [*costs, ""], strict=True)
        ]


_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def _cost(less: Point, more: Point, trips: str) -> str:
    count, minutes = more.crossings - less.crossings, less.minutes - more.minutes
    word = _NUMBERS[count] if count < len(_NUMBERS) else str(count)
    one = trips.replace("trips", "trip", 1) if count == 1 else trips
    return f"{word} fewer {one} {'costs' if count == 1 else 'cost'} {show_minutes(minutes)}"


def trade_off(
    day: Day,
    *,
    seconds: float = 60.0,
    count: int | None = None,
    stop: threading.Event | None = None,
    on_done: Callable[[int, int, Done], None] | None = None,
) -> TradeOffs:
    """The non-dominated pairs of minutes home and restricted crossings.

    Its two ends are planned first, each with one of the two numbers above all else; then every number of crossings
    between them, side by side. A latest finish plays no part in it.

    Parameters
    ----------
    day
        The day.
    seconds
        For all of it.
    count, stop
        How many processes at once, and an event that ends it with what there is.
    on_done
        Called as the plans come, with how many are done of how many.
    """
    free = without_latest_finish(day).model_copy(update={"crossing_price": 0})
    dear = free.model_copy(update={"crossing_price": A_CROSSING_ABOVE_ALL})
    with SideBySide(count, stop) as processes:
        each = share(seconds / 2, 2, processes.count)
        ends = [Errand("soonest", planned, (free, each)), Errand("fewest", planned, (dear, each))]
        plans = [done.value for done in processes.run(ends, seconds=each, on_done=on_done)]
        if None not in plans:
            numbers = [measure(day, plan).restricted_crossings for plan in plans]
            between = range(max(1, numbers[1]), numbers[0])
            each = share(seconds / 2, len(between), processes.count)
            tasks = [Errand(f"at most {n}", planned, (free, each, n)) for n in between]
            plans += [done.value for done in processes.run(tasks, seconds=each, on_done=on_done)]
    points = [_point(day, plan) for plan in plans if plan is not None]
    return TradeOffs(undominated(points), _trips(day), day.start)


def _point(day: Day, plan: Plan) -> Point:
    """A plan as a point. With a price the bound is on both, so that it holds for minutes only when it is met."""
    found, proof = measure(day, plan), plan.proof
    bound = 0
    if proof is not None:
        priced = proof.value > proof.minutes
        bound = (proof.minutes if proof.is_best else 0) if priced else proof.bound
    return Point(found.minutes_home, found.restricted_crossings, min(bound, found.minutes_home), plan)


def undominated(points: Sequence[Point]) -> tuple[Point, ...]:
    """The points that no other beats, from the fewest crossings on; of equal ones the better proven."""
    best: list[Point] = []
    for point in sorted(points, key=lambda p: (p.crossings, p.minutes, -p.bound)):
        if not best or point.minutes < best[-1].minutes:
            best.append(point)
    return tuple(best)


def _trips(day: Day) -> str:
    ways = {g.way_in.through for job in day.jobs.values() for g in job.grounds.values() if g.way_in.restricted}
    through = next(iter(ways)) if len(ways) == 1 else ""
    return f"trips through {through}" if through else "trips by a restricted way in"
