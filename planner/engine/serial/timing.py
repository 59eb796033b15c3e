"""When each duty of the serial order is done: as early as the order, the waits and the clock allow."""

from itertools import takewhile

from planner.engine.problem import Lag, Problem
from planner.engine.serial.duties import Duty, riders

MOST_SHIFTS = 200
"""How often the times are worked out again with a stage begun later, before the serial order is given up."""

LAST_MINUTE = 48 * 60
"""One thing after another may run into the night and the next day: it is what others are compared with."""


class Pacing:
    """Gives the duties their times, and finds the break and the meal where they are owed.

    ``rests`` are when all who owe one have it: start and length in minutes.
    """

    def __init__(self, problem: Problem, duties: list[Duty]) -> None:
        self.problem, self.duties = problem, duties
        self.riders = riders(problem)
        self.rests: list[tuple[int, int]] = []
        self._before: dict[int, list[Lag]] = {}
        for lag in problem.lags:
            self._before.setdefault(lag.second, []).append(lag)
        self._with_a_most = [lag for lag in problem.lags if lag.has_most]

    def fits(self) -> bool:
        """Give all times; whether no most is broken. A break and a meal are put in where they are owed."""
        if self._is_too_much_between():
            return False
        breaks = [rest for h in self.riders if (rest := self.problem.hands[h].rest) is not None]
        meals = [meal for h in self.riders if (meal := self.problem.hands[h].meal) is not None]
        for with_meal in (False, True):
            for with_break in (False, True):
                if not self._time(with_break=with_break, with_meal=with_meal):
                    return False
                span = self.duties[-1].end - self.duties[0].start
                if all(span <= rest.once_over for rest in breaks):
                    break
            if all(span <= meal.once_over for meal in meals):
                break
        return True

    def _is_too_much_between(self) -> bool:
        """Whether what is done between two stages alone takes longer than the most from one to the other."""
        at: dict[int, int] = {}
        before = [0]
        for n, duty in enumerate(self.duties):
            before.append(before[-1] + duty.minutes)
            if duty.activity is not None:
                at[duty.activity] = n
        for lag in self._with_a_most:
            mosts = [lag.most, *(most for _, _, most in lag.steps)]
            if lag.first in at and lag.second in at and None not in mosts:
                begin = at[lag.first] + (not lag.from_start)
                end = at[lag.second] + lag.to_end
                if before[end] - before[begin] > max(most for most in mosts if most is not None):
                    return True
        return False

    def _time(self, *, with_break: bool, with_meal: bool) -> bool:
        """Earliest times for the duties in their order; a most that is broken begins its first stage later."""
        not_before: dict[int, int] = {}
        for _ in range(MOST_SHIFTS):
            self._pass_forward(not_before, with_break=with_break, with_meal=with_meal)
            done = {d.activity: d for d in self.duties if d.activity is not None}
            late = False
            for lag in self._with_a_most:
                if lag.first in done and lag.second in done:
                    first, second = done[lag.first], done[lag.second]
                    most = lag.bounds(first.start, first.end)[1]
                    over = 0 if most is None else _target(lag, second) - _origin(lag, first) - most
                    if over > 0:
                        not_before[lag.first] = first.start + over
                        late = True
            if not late:
                return all(d.end <= LAST_MINUTE for d in self.duties)
        return False

    def _pass_forward(self, not_before: dict[int, int], *, with_break: bool, with_meal: bool) -> None:
        opens = self.problem.opens
        first = self.duties[0]
        job = self.problem.jobs[first.job or 0]
        if job.arrive is not None and not self.problem.fixed_start:
            opens = max(opens, job.arrive[0] - first.minutes)
        now = opens
        self.rests = []
        owed = self._owed(opens, with_break=with_break, with_meal=with_meal)
        done: dict[int, Duty] = {}
        for n, duty in enumerate(self.duties):
            start = self._earliest(duty, now, not_before, done)
            while owed and duty.what not in ("drive", "arrive"):
                on_the_way = list(takewhile(lambda after: after.what in ("drive", "arrive"), self.duties[n + 1 :]))
                is_last = n + 1 + len(on_the_way) == len(self.duties)
                busy_until = start + duty.minutes + sum(after.minutes for after in on_the_way)
                length, soonest, latest = owed[0]
                begin = max(now, soonest)
                if begin + length > start and busy_until <= latest and not is_last:
                    break
                self.rests.append((begin, length))  # in an idle stretch, or before what would make it too late
                owed, now = owed[1:], begin + length
                start = self._earliest(duty, max(start, now), not_before, done)
            duty.start = start
            now = duty.end
            if duty.activity is not None:
                done[duty.activity] = duty

    def _earliest(self, duty: Duty, now: int, not_before: dict[int, int], done: dict[int, Duty]) -> int:
        if duty.what == "drive" and duty.job is not None:
            arrive = self.problem.jobs[duty.job].arrive
            return now if arrive is None else max(now, arrive[0] - duty.minutes)
        if duty.activity is None:
            return now
        activity = self.problem.activities[duty.activity]
        start = max(now, not_before.get(duty.activity, 0), activity.earliest, activity.start or 0)
        for lag in self._before.get(duty.activity, ()):
            if lag.first in done:
                first = done[lag.first]
                least = lag.bounds(first.start, first.end)[0]
                if least is not None:
                    start = max(start, _origin(lag, first) + least - (duty.minutes if lag.to_end else 0))
        for wetted in self.problem.wetted:
            if wetted.dry == duty.activity and wetted.wet in done:
                start = max(start, done[wetted.wet].end + wetted.minutes)
        for shut_from, shut_to in sorted(activity.shut):
            if start < shut_to and start + duty.minutes > shut_from:
                start = shut_to
        return start

    def _owed(self, opens: int, *, with_break: bool, with_meal: bool) -> list[tuple[int, int, int]]:
        """Length, soonest and latest begin of the break and the meal, in their order; one, where it can be both."""
        breaks = [rest for h in self.riders if (rest := self.problem.hands[h].rest) is not None and with_break]
        meals = [meal for h in self.riders if (meal := self.problem.hands[h].meal) is not None and with_meal]
        owed = []
        if breaks:
            soonest, latest = max(rest.soonest for rest in breaks), min(rest.within for rest in breaks)
            owed.append((max(rest.length for rest in breaks), opens + soonest, opens + latest))
        if meals:
            earliest, latest = max(meal.earliest for meal in meals), min(meal.latest for meal in meals)
            owed.append((max(meal.length for meal in meals), earliest, latest))
        both = tuple(zip(*owed, strict=True))
        if len(owed) == 2 and max(both[1]) <= min(both[2]):
            return [(max(both[0]), max(both[1]), min(both[2]))]
        return sorted(owed, key=lambda one: one[1])


def _origin(lag: Lag, duty: Duty) -> int:
    """The minute from which a lag counts."""
    return duty.start if lag.from_start else duty.end


def _target(lag: Lag, duty: Duty) -> int:
    """The minute to which it counts."""
    return duty.end if lag.to_end else duty.start
