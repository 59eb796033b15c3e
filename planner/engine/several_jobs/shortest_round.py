"""What every day with these jobs takes at the least: the shortest round, with what each job takes at the least."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from planner.engine.problem import Problem

MOST_STOPS = 10
"""Rounds of more stops are not looked through one by one: their driving is bounded without order or windows."""

NEVER = 10**6
"""Minutes that no round takes: the value where there is none, or none is known."""


@dataclass(frozen=True, slots=True)
class Least:
    """Lower bounds on what is done at one job, wherever in the day: each holds alone.

    ``value`` is on minutes there plus the price of restricted crossings, ``minutes`` on the minutes, ``crossings`` on
    the crossings. ``away`` and ``minutes_away`` are the first two for all visits together where the van comes back,
    None where it may not. ``resting[k]`` is on the value when at least k + 1 hands have their break there.
    """

    value: int
    minutes: int
    crossings: int = 0
    away: int | None = None
    minutes_away: int | None = None
    resting: tuple[int, ...] = ()

    def value_with(self, resting: int) -> int:
        """The bound on the value when so many hands have their break there; one that is not known is the one below."""
        known = [self.value, *self.resting]
        return max(known[: resting + 1])


@dataclass(frozen=True, slots=True)
class _State:
    """Where a round has come to: stops made, jobs begun whose second visit is to come, breaks had, the last job."""

    done: int
    open: int
    rested: int
    last: int


@dataclass
class ShortestRound:
    """Lower bounds on a whole day, from lower bounds on its jobs.

    Take any plan. Of a job done in one visit, what is done there lies between arrival and departure, as all that
    happens at a job does, also what hands with their own transport do. It is a plan of that job alone, moved in time:
    its minutes and crossings are not below the job's bounds. Of a job done in several visits the same holds for them
    together, by the problem in which the van may be away (`alone.with_the_van_away`). Between visits the van drives; a
    drive takes no less than the shortest way over other places, and with such ways leaving a visit out makes no round
    longer, so two visits stand for any larger number. Hence, going along the round, the value so far (minutes since
    the origin, and the price of the crossings so far) is

    * after a drive, at least what it was before and the drive;
    * on arrival at a job's first visit, at least what the window's opening and the crossings of the jobs before make;
    * after a visit, more by at least the value at that job. Of a job done in two visits all of it is counted at the
      first: what is yet to come of it comes on top of any waiting for a window between.

    Minutes alone are bounded in the same way, but counted at the second of two visits; where they come to a window
    after it has closed, or past a promise, no plan goes that way. Where the day is surely longer than a break may wait,
    each hand that rides has its break in one of the visits; jobs then count with what they take when so many hands rest
    there. The least over all orders, all choices of what is done in two visits and of where hands rest is found by
    going through the sets of stops made (Held and Karp 1962), keeping for each set and last stop the least value and
    the least minutes, which together bound more loosely than any one round, and so hold for all.
    """

    problem: Problem
    jobs: Sequence[Least]
    sure_breaks: int = 0
    out: list[int] = field(init=False)
    between: list[list[int]] = field(init=False)
    back: list[int] = field(init=False)

    def __post_init__(self) -> None:
        self.out, self.between, self.back = _shortest_ways(self.problem)

    @property
    def stops(self) -> int:
        """The most stops of a round that is looked at."""
        return sum(1 + (job.away is not None) for job in self.jobs)

    def least(self) -> tuple[int, int]:
        """Lower bounds on the value and on the minutes home of every plan; `NEVER` where no order keeps the windows."""
        if self.stops > MOST_STOPS:
            return self._without_order()
        opens = self.problem.opens - self.problem.origin
        reached = {_State(0, 0, 0, -1): (opens, opens)}
        every = (1 << len(self.jobs)) - 1
        best = (NEVER, NEVER)
        while reached:
            onward: dict[_State, tuple[int, int]] = {}
            for state, (value, minutes) in reached.items():
                if state.done == every and not state.open and state.rested == self.sure_breaks:
                    home = self.back[state.last]
                    best = min(best[0], value + home), min(best[1], minutes + home)
                for after, found in self._next(state, value, minutes):
                    known = onward.get(after, found)
                    onward[after] = min(known[0], found[0]), min(known[1], found[1])
            reached = onward
        return best

    def _next(self, state: _State, value: int, minutes: int) -> list[tuple[_State, tuple[int, int]]]:
        """The stops that may come next, with least value and minutes after them."""
        onward = []
        for j, job in enumerate(self.jobs):
            bit = 1 << j
            if j == state.last:
                continue
            drive = self.out[j] if state.last < 0 else self.between[state.last][j]
            if not state.done & bit:
                arrived = self._arrived(j, state.done & ~state.open, value + drive, minutes + drive)
                if arrived is None:
                    continue
                for resting in range(self.sure_breaks - state.rested + 1):
                    after = _State(state.done | bit, state.open, state.rested + resting, j)
                    there = arrived[0] + job.value_with(resting), arrived[1] + job.minutes
                    if self._keeps_promise(j, there[1]):
                        onward.append((after, there))
                if job.away is not None and job.minutes_away is not None:
                    for resting in range(self.sure_breaks - state.rested + 1):
                        after = _State(state.done | bit, state.open | bit, state.rested + resting, j)
                        onward.append((after, (arrived[0] + job.away, arrived[1])))
            elif state.open & bit:
                after = _State(state.done, state.open & ~bit, state.rested, j)
                left = minutes + drive + (job.minutes_away or 0)
                if self._keeps_promise(j, left):
                    onward.append((after, (value + drive, left)))
        return onward

    def _arrived(self, j: int, done: int, value: int, minutes: int) -> tuple[int, int] | None:
        """Value and minutes on arrival at a job's first visit; None when its window has closed."""
        window, origin = self.problem.jobs[j].arrive, self.problem.origin
        if window is not None:
            if origin + minutes > window[1]:
                return None
            minutes = max(minutes, window[0] - origin)
        crossings = sum(job.crossings for k, job in enumerate(self.jobs) if done >> k & 1)
        return max(value, minutes + self.problem.price * crossings), minutes

    def _keeps_promise(self, j: int, minutes: int) -> bool:
        done_by = self.problem.jobs[j].done_by
        return done_by is None or self.problem.origin + minutes <= done_by

    def _without_order(self) -> tuple[int, int]:
        """Each job is reached from somewhere, and the last leads home; no window or break is counted."""
        count = range(len(self.jobs))
        arriving = (min([self.out[j], *(self.between[k][j] for k in count if k != j)]) for j in count)
        driving = min(self.back) + sum(arriving)
        opens = self.problem.opens - self.problem.origin
        values = sum(min(job.value, job.value if job.away is None else job.away) for job in self.jobs)
        away = (job.minutes if job.minutes_away is None else job.minutes_away for job in self.jobs)
        minutes = sum(min(job.minutes, other) for job, other in zip(self.jobs, away, strict=True))
        return opens + driving + values, opens + driving + minutes


def _shortest_ways(problem: Problem) -> tuple[list[int], list[list[int]], list[int]]:
    """Drives by the shortest way over the other places of the day (Floyd 1962)."""
    count, route = len(problem.jobs), problem.route
    if route is None:
        return [0] * count, [[0] * count for _ in range(count)], [0] * count
    between = [list(row) for row in route.between]
    for k in range(count):
        for a in range(count):
            for b in range(count):
                between[a][b] = min(between[a][b], between[a][k] + between[k][b])
    out = [min(route.out[j], *(route.out[k] + between[k][j] for k in range(count))) for j in range(count)]
    back = [min(route.back[j], *(between[j][k] + route.back[k] for k in range(count))) for j in range(count)]
    return out, between, back
