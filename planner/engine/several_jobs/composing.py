"""A plan put together from those of its jobs: an order, each plan moved to its time, and the break put in."""

import itertools
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache

from planner.day import Break, Day
from planner.plan.checker import broken_rules
from planner.plan.coming_and_going import coming_and_going
from planner.plan.legs import legs
from planner.plan.plan import Drive, Plan, Rest

FEW_JOBS = 6
"""Of so many jobs every order is looked at; of more, orders are bettered by moving one job at a time."""

LATE_WEIGHT = 100
"""A minute past a window or a promise counts as so many minutes of the round."""

MOST_PAUSES = 12
"""Minutes at which a pause of all is tried for the break; where none of these keeps all rules, hardly any would."""

MOST_SHORT_PAUSES = 8
"""Of pauses that are shorter than a break so many are tried before, the shortest first."""

MOST_IN_PART = 3
"""Of plans in which something else than that is owed yet so many are gone on with."""

RULE_OF_BREAKS = 11
"""The rule of a plan that asks for breaks and meals."""

PlanInPlace = Callable[[Day], Plan | None]
"""Plans a day of one job that begins where and when the one before ended."""


class Composing:
    """Puts a day together from ``own``, the plan of each job as a day of its own.

    Where such a plan, moved to the time at which its job comes to stand, breaks a rule of the clock, the job is planned
    anew in its place by ``plan_in_place``.
    """

    def __init__(
        self,
        day: Day,
        own: Mapping[str, Plan],
        plan_in_place: PlanInPlace,
        is_stopped: Callable[[], bool] = lambda: False,
    ) -> None:
        self.day, self.own, self.plan_in_place, self.is_stopped = day, own, plan_in_place, is_stopped
        self.drive_minutes = cache(day.drive_minutes)  # asked for every two places in very many orders
        self.minutes = {job: plan.visits[0].depart - plan.visits[0].arrive for job, plan in own.items()}

    def plan(self) -> Plan | None:
        """The composed plan; None when some job has no plan where it comes to stand, or a break no place."""
        joined = self.joined()
        return None if joined is None else with_breaks(self.day, joined, self.is_stopped)

    def joined(self) -> Plan | None:
        """The plan without its breaks; None when some job has no plan where it comes to stand."""
        parts: list[Plan] = []
        here, now = self.day.van.starts_at, self.day.start
        for job in self.order():
            part = None if self.is_stopped() else self._part(job, here, now)
            if part is None:
                return None
            parts.append(part)
            here, now = self.day.jobs[job].place, part.visits[0].depart
        return _joined(self.day, parts)

    def order(self) -> Sequence[str]:
        """The order of jobs that costs least: driving, waiting for windows, lateness."""
        jobs = list(self.day.jobs)
        if len(jobs) <= FEW_JOBS:
            return min(itertools.permutations(jobs), key=self._cost)
        best = sorted(jobs, key=lambda j: (self.day.jobs[j].done_by or 10_000, jobs.index(j)))
        bettered = True
        while bettered:
            moved = (_moved(best, n, m) for n in range(len(best)) for m in range(len(best)))
            other = min(moved, key=self._cost)
            bettered = self._cost(other) < self._cost(best)
            best = other if bettered else best
        return best

    def _cost(self, order: Sequence[str]) -> int:
        here, now, late = self.day.van.starts_at, self.day.start, 0
        for key in order:
            job = self.day.jobs[key]
            now += self.drive_minutes(here, job.place)
            if job.arrive is not None:
                now = max(now, job.arrive[0])
                late += max(0, now - job.arrive[1])
            now += self.minutes[key]
            late += max(0, now - job.done_by) if job.done_by is not None else 0
            here = job.place
        return now + self.drive_minutes(here, self.day.van.ends_at) + LATE_WEIGHT * late

    def _part(self, job: str, here: str, now: int) -> Plan | None:
        """The job's own plan moved to its time, or one planned there; driven to from ``here``."""
        place, own = self.day.jobs[job], self.own[job]
        minutes = self.drive_minutes(here, place.place)
        arrive = now + minutes if place.arrive is None else max(now + minutes, place.arrive[0])
        part = moved(own, arrive - own.visits[0].arrive)
        drives = (
            Drive(here, place.place, arrive - minutes, arrive),
            Drive(place.place, place.place, part.visits[0].depart, part.visits[0].depart),
        )
        part = replace(part, drives=drives)
        in_place = self._in_place(job, here, now)
        if not broken_rules(in_place, part):
            return part
        return self.plan_in_place(in_place)

    def _in_place(self, job: str, here: str, now: int) -> Day:
        """The day with one job only, begun at ``here`` and ended at the job, without breaks."""
        one = self.day.jobs[job].model_copy(update={"visits": 1})
        return self.day.model_copy(
            update={
                "jobs": {job: one},
                "van": self.day.van.model_copy(update={"starts_at": here, "ends_at": one.place}),
                "start": now,
                "fixed_start": self.day.fixed_start and now == self.day.start,
                "rest": None,
                "meal": None,
                "hands": {h: hand.model_copy(update={"rest": None}) for h, hand in self.day.hands.items()},
            }
        )


def _moved(order: Sequence[str], n: int, m: int) -> list[str]:
    """The order with its n-th job moved to place m."""
    others = [*order[:n], *order[n + 1 :]]
    return [*others[:m], order[n], *others[m:]]


def moved(plan: Plan, by: int) -> Plan:
    """A plan so many minutes later."""
    return paused(plan, -(10**6), by)


def paused(plan: Plan, at: int, minutes: int) -> Plan:
    """A plan in which all that begins at a minute or later does so many minutes later."""

    followed = plan.followed

    def on(minute: int) -> int:
        return minute + minutes if minute >= at else minute

    def over(minute: int) -> int:
        return minute + minutes if minute > at else minute

    return replace(
        plan,
        drives=tuple(replace(x, start=on(x.start), end=over(x.end)) for x in plan.drives),
        visits=tuple(replace(x, arrive=over(x.arrive), depart=on(x.depart)) for x in plan.visits),
        works=tuple(replace(x, start=on(x.start), end=over(x.end)) for x in plan.works),
        crossings=tuple(replace(x, start=on(x.start), end=over(x.end)) for x in plan.crossings),
        stays=tuple(
            replace(x, carried_in=on(x.carried_in), carried_out=(on if x.key in followed else over)(x.carried_out))
            for x in plan.stays
        ),
        chores=tuple(replace(x, start=on(x.start), end=over(x.end)) for x in plan.chores),
        rests=tuple(replace(x, start=on(x.start), end=over(x.end)) for x in plan.rests),
        attendances=tuple(replace(x, arrive=over(x.arrive), leave=on(x.leave)) for x in plan.attendances),
    )


def _joined(day: Day, parts: Sequence[Plan]) -> Plan:
    """Plans of single jobs, each begun where the one before ended, as one; each visit lasts until the next drive."""
    drives = [part.drives[0] for part in parts]
    last = parts[-1].visits[0].depart
    place, end = drives[-1].to_place, day.van.ends_at
    drives.append(Drive(place, end, last, last + day.drive_minutes(place, end)))
    visits = [replace(part.visits[0], depart=leaving.start) for part, leaving in zip(parts, drives[1:], strict=True)]
    return Plan(
        drives=tuple(drives),
        visits=tuple(visits),
        works=tuple(x for part in parts for x in part.works),
        crossings=tuple(x for part in parts for x in part.crossings),
        stays=tuple(x for part in parts for x in part.stays),
        chores=tuple(x for part in parts for x in part.chores),
        rests=tuple(x for part in parts for x in part.rests),
        attendances=tuple(x for part in parts for x in part.attendances),
    )


# --- breaks -------------------------------------------------------------------------------------------------------


def with_breaks(day: Day, plan: Plan, is_stopped: Callable[[], bool] = lambda: False) -> Plan | None:
    """A plan with the breaks or meals that its hands are owed: in idle time, or in one pause, as short as may be.

    Where one rest cannot be both, the one that is sooner over is put in first, the other beside it.
    None where no pause keeps all rules, or where it was stopped before one did; and where the plan lacks more than
    breaks, as room before a promise: with a pause all after it is only later.
    """
    if any(one.rule != RULE_OF_BREAKS for one in broken_rules(day, plan)):
        return None
    in_part = 0
    for found in itertools.takewhile(lambda _: not is_stopped(), _rested(day, plan)):
        broken = broken_rules(day, found)
        if not broken:
            return found
        lacks_another = _had(found) > _had(plan) and bool(_owed(day, found))
        if lacks_another and in_part < MOST_IN_PART and all(one.rule == RULE_OF_BREAKS for one in broken):
            in_part += 1
            whole = with_breaks(day, found, is_stopped)
            if whole is not None:
                return whole
    return None


def _had(plan: Plan) -> int:
    return len(plan.rests)


def _rested(day: Day, plan: Plan) -> Iterator[Plan]:
    """The plan with one rest more for each hand who is owed one: in idle time, then in pauses, the shortest first."""
    idle = tuple(_idle_breaks(day, plan))
    resting = replace(plan, rests=(*plan.rests, *idle))
    yield resting
    owed = _owed(day, plan)
    if not owed:
        return
    pauses = _pauses(day, plan, owed)
    lacking = [hand for hand in owed if all(rest.hand != hand for rest in idle)]
    yield from sorted(_short_pauses(day, resting, lacking, pauses), key=lambda found: found.home)[:MOST_SHORT_PAUSES]
    yield from (_pause_for(day, plan, owed, at) for at in pauses[:MOST_PAUSES])


def _short_pauses(day: Day, plan: Plan, lacking: Sequence[str], pauses: Sequence[int]) -> Iterator[Plan]:
    """The plan with a pause of all at each of these minutes, so long that those who lack a break have it by its end.

    Each begins it once they are idle before the pause, so that much of it is often theirs anyway.
    """
    busy = {hand: sorted([*_busy(day, plan, hand), *_away(day, plan, hand)]) for hand in lacking}
    for at in pauses:
        rests, minutes = [], 0
        for hand in lacking:
            rest, span = _due(day, plan, hand), _out(day, plan, hand)
            assert rest is not None
            assert span is not None
            soonest, latest = _resting_span(span, rest)
            begin = max([soonest, *(end for _, end in busy[hand] if end <= at)])
            again = min((start for start, _ in busy[hand] if start >= at), default=plan.home)
            if begin > min(at, latest):
                break
            rests.append(Rest(hand, begin, begin + rest.length))
            minutes = max(minutes, begin + rest.length - again)
        else:
            later = paused(plan, at, minutes)
            yield replace(later, rests=(*later.rests, *rests))


def _owed(day: Day, plan: Plan) -> list[str]:
    """Hands who are out longer than their break, or their meal, may wait, and lack it yet."""
    return [h for h in day.hands if _due(day, plan, h) is not None]


def _out(day: Day, plan: Plan, hand: str) -> tuple[int, int] | None:
    """From when to when a hand is out: with the van, or from first coming to last going; None for one who is not."""
    if not day.hands[hand].own_transport:
        return plan.leaves, plan.home
    there = [x for x in plan.attendances if x.hand == hand]
    return (min(x.arrive for x in there), max(x.leave for x in there)) if there else None


def _due(day: Day, plan: Plan, hand: str) -> Break | None:
    """What a hand is owed and lacks, break or meal: one that is both, else the one that is sooner over."""
    out, rest, meal = _out(day, plan, hand), day.rest_of(hand), day.meal
    if out is None:
        return None
    span, owed = out[1] - out[0], []
    if rest is not None and rest.length > 0 and span > rest.once_over:
        owed.append(rest)
    if meal is not None and span > meal.once_over:
        hours = {"earliest": meal.earliest, "latest": meal.latest}
        owed.append(Break(length=meal.length, once_over=span, soonest=0, **hours))
    own = [x for x in plan.rests if x.hand == hand]
    lacking = [one for one in owed if not any(_is_taken_by(x, one, out) for x in own)]
    if len(lacking) > 1:
        (soonest, latest), (earliest, last) = (_resting_span(out, one) for one in lacking)
        if max(soonest, earliest) <= min(latest, last):
            length = max(one.length for one in lacking)
            hours = {"earliest": max(soonest, earliest), "latest": min(latest, last)}
            return lacking[0].model_copy(update={"length": length, **hours})
    return min(lacking, key=lambda one: _resting_span(out, one)[1], default=None)


def _is_taken_by(taken: Rest, rest: Break, out: tuple[int, int]) -> bool:
    """Whether a rest is the one that is owed to a hand who is out so."""
    soonest, latest = _resting_span(out, rest)
    return taken.end - taken.start >= rest.length and soonest <= taken.start <= latest


def _idle_breaks(day: Day, plan: Plan) -> Iterator[Rest]:
    """For each hand who is owed a break, one in the middle of the day at which it has nothing else to do."""
    for hand in _owed(day, plan):
        rest, span = _due(day, plan, hand), _out(day, plan, hand)
        assert rest is not None
        assert span is not None
        busy = sorted([*_busy(day, plan, hand), *_away(day, plan, hand)])
        soonest, latest = _resting_span(span, rest)
        for (_, end), (start, _) in itertools.pairwise([(0, span[0]), *busy, (span[1], span[1])]):
            begin = max(end, soonest)
            if begin <= latest and begin + rest.length <= start:
                yield Rest(hand, begin, begin + rest.length)
                break


def _resting_span(out: tuple[int, int], rest: Break) -> tuple[int, int]:
    """From when to when a break of one who is out so may begin."""
    soonest, latest = out[0] + rest.soonest, out[0] + rest.begun_within
    return max(soonest, rest.earliest or soonest), min(latest, rest.latest or latest)


def _busy(day: Day, plan: Plan, hand: str) -> Iterator[tuple[int, int]]:
    """Spans in which a hand works, sees to kit, walks, or rides."""
    if not day.hands[hand].own_transport:
        yield from ((drive.start, drive.end) for drive in plan.drives)
    yield from ((x.start, x.end) for x in plan.works if hand in x.hands)
    yield from ((x.start, x.end) for x in plan.chores if hand in x.hands)
    yield from ((x.start, x.end) for x in plan.rests if x.hand == hand)
    for visit in plan.visits:
        yield from ((start, end) for _, start, end in coming_and_going(day, plan, visit))
    for crossing in plan.crossings:
        if crossing.hand == hand:
            yield from legs(day, crossing)


def _away(day: Day, plan: Plan, hand: str) -> Iterator[tuple[int, int]]:
    """Spans in which one with their own transport is on the way from one visit to the next."""
    there = sorted((x.arrive, x.leave) for x in plan.attendances if x.hand == hand)
    yield from ((left, came) for (_, left), (came, _) in itertools.pairwise(there))


def _pauses(day: Day, plan: Plan, owed: Sequence[str]) -> list[int]:
    """Minutes when these may rest and nobody is in the midst of anything, the nearest to the day's middle first."""
    dues = [(_out(day, plan, hand), _due(day, plan, hand)) for hand in owed]
    spans = [_resting_span(out, rest) for out, rest in dues if out is not None and rest is not None]
    soonest, latest = max(first for first, _ in spans), min(last for _, last in spans)
    busy = [span for hand in day.hands for span in _busy(day, plan, hand)]
    ends = sorted({end for _, end in busy})
    middle = (plan.leaves + plan.home) // 2
    still = [at for at in ends if soonest <= at <= latest and not any(start < at < end for start, end in busy)]
    return sorted(still, key=lambda at: abs(at - middle))


def _pause_for(day: Day, plan: Plan, hands: Sequence[str], at: int) -> Plan:
    """The plan with a pause of all at a minute, in which these hands have their break."""
    lengths = {h: rest.length for h in hands if (rest := _due(day, plan, h)) is not None}
    rests = tuple(Rest(h, at, at + minutes) for h, minutes in lengths.items())
    later = paused(plan, at, max(lengths.values(), default=0))
    return replace(later, rests=(*later.rests, *rests))
