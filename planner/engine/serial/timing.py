"""When each duty of the serial order is done: as early as the order, the waits and the clock allow."""

from planner.engine.problem import Lag, Problem
from planner.engine.serial.duties import Duty, riders

MOST_SHIFTS = 200
"""How often the times are worked out again with a stage begun later, before the serial order is given up."""

LAST_MINUTE = 48 * 60
"""One thing after another may run into the night and the next day: it is what others are compared with."""


class Pacing:
    """Gives the duties their times, and finds the break where one is owed."""

    def __init__(self, problem: Problem, duties: list[Duty]) -> None:
        self.problem, self.duties = problem, duties
        self.riders = riders(problem)
        self.rest: tuple[int, int] | None = None
        self.is_meal = False

    def fits(self) -> bool:
        """Give all times; whether no most is broken. A break is put in where one is owed."""
        for self.is_meal in (False, True):
            for with_rest in (False, True):
                if not self._time(with_rest=with_rest):
                    return False
                span = self.duties[-1].end - self.duties[0].start
                owed = [self.problem.hands[h].rest for h in self.riders]
                if all(rest is None or span <= rest.once_over for rest in owed):
                    break
            meals = [self.problem.hands[h].meal for h in self.riders]
            if all(meal is None or span <= meal.once_over for meal in meals):
                break
        return True

    def _time(self, *, with_rest: bool) -> bool:
        """Earliest times for the duties in their order; a most that is broken begins its first stage later."""
        not_before: dict[int, int] = {}
        for _ in range(MOST_SHIFTS):
            self._pass_forward(not_before, with_rest=with_rest)
            done = {d.activity: d for d in self.duties if d.activity is not None}
            late = False
            for lag in self.problem.lags:
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

    def _pass_forward(self, not_before: dict[int, int], *, with_rest: bool) -> None:
        opens = self.problem.opens
        first = self.duties[0]
        job = self.problem.jobs[first.job or 0]
        if job.arrive is not None and not self.problem.fixed_start:
            opens = max(opens, job.arrive[0] - first.minutes)
        now = opens
        self.rest = None
        done: dict[int, Duty] = {}
        for n, duty in enumerate(self.duties):
            start = self._earliest(duty, now, not_before, done)
            if with_rest and self.rest is None and duty.what not in ("drive", "arrive"):
                after = self.duties[n + 1]
                busy = duty.minutes + (after.minutes if after.what == "drive" else 0)
                start = self._rest_before(start + busy, now, start, opens)
                start = self._earliest(duty, start, not_before, done)
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
        for lag in self.problem.lags:
            if lag.second == duty.activity and lag.first in done:
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

    def _rest_before(self, busy_until: int, now: int, start: int, opens: int) -> int:
        """Rest in an idle stretch if there is one in time, else before the duty that would make it too late."""
        rests = [self.problem.hands[h].rest for h in self.riders]
        length = max(r.length for r in rests if r is not None)
        soonest = max(opens + r.soonest for r in rests if r is not None)
        latest = min(opens + r.once_over for r in rests if r is not None)
        for meal in (self.problem.hands[h].meal for h in self.riders) if self.is_meal else ():
            if meal is not None:  # it is the break too
                length, soonest = max(length, meal.length), max(soonest, meal.earliest)
                latest = min(latest, meal.latest)
        begin = max(now, soonest)
        if begin + length <= start or busy_until > latest:
            self.rest = (begin, length)
            return max(start, begin + length)
        return start


def _origin(lag: Lag, duty: Duty) -> int:
    """The minute from which a lag counts."""
    return duty.start if lag.from_start else duty.end


def _target(lag: Lag, duty: Duty) -> int:
    """The minute to which it counts."""
    return duty.end if lag.to_end else duty.start
