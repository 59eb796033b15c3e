"""The order in which a careful person would take jobs and stages one after another."""

import itertools

from planner.engine.problem import Closed, Lag, Mode, Problem

LARGE_LAG = 14 * 24 * 60
"""Minutes, longer than any wait."""


def serial_orders(problem: Problem) -> list[list[tuple[int, list[int]]]]:
    """Jobs by their windows and promises, each with its stages in file order as far as the rules allow; the best first.

    A stage that follows another after a wait comes straight after it; whatever else it needs comes before both. Where
    something must come in between, only waits that have a most tie two together; and what is tied so is woven into one
    another, as sections are. None at all where the rules go round in a circle.
    """
    jobs = sorted(range(len(problem.jobs)), key=lambda j: (_due(problem, j), j))
    before = _before(problem)
    found: list[list[tuple[int, list[int]]]] = [[], [], []]
    for j in jobs:
        stages = [
            a
            for a, activity in enumerate(problem.activities)
            if activity.ground is not None and problem.grounds[activity.ground].job == j and not activity.optional
        ]
        ways = [_stages(problem, stages, before, only_tight=only_tight) for only_tight in (False, True)]
        ways.append(_by_deadline(problem, stages, before))
        orders = [way for way in ways if way is not None]
        if not orders:
            return []
        for n, order in enumerate(found):
            if stages:
                order.append((j, orders[min(n, len(orders) - 1)]))
    return [order for n, order in enumerate(found) if order not in found[:n]]


def _due(problem: Problem, j: int) -> int:
    job = problem.jobs[j]
    ends = [problem.horizon]
    if job.arrive is not None:
        ends.append(job.arrive[1])
    if job.done_by is not None:
        ends.append(job.done_by)
    return min(ends)


def _before(problem: Problem) -> dict[int, set[int]]:
    """What must come wholly before each activity: lags, and what would be barred or spoiled for good."""
    before: dict[int, set[int]] = {a: set() for a in range(len(problem.activities))}
    for lag in problem.lags:
        before[lag.second].add(lag.first)
    for closed in problem.closed:
        if closed.until is None:
            before[closed.first] |= set(closed.activities)
    for spoiling in problem.spoiling:
        if None in spoiling.until or spoiling.minutes:
            before[spoiling.spoiled].add(spoiling.maker)
    for cleaned in problem.cleaned:
        before[max(cleaned.cleaners)].add(cleaned.maker)
    for kept in problem.kept:
        for until in kept.until:
            before[until].add(kept.activity)
    for wetted in problem.wetted:
        if wetted.dry not in before[wetted.wet]:
            before[wetted.dry].add(wetted.wet)
    for closed in problem.closed:
        for a in _what_lies_behind(problem, closed):
            if not _follows(before, a, {closed.first}):
                before[closed.first].add(a)
    for kept in problem.kept:
        for under in kept.under:  # nothing is done under a cover: before it comes, or after it
            tied = _tied(problem, under)
            if not any(_follows(before, a, {kept.activity, *kept.until}) for a in tied):
                before[kept.activity].add(under)
            else:
                before[under] |= {until for until in kept.until if not _follows(before, until, {under})}
    return before


def _what_lies_behind(problem: Problem, closed: Closed) -> list[int]:
    """What is done behind a surface, by ways that go over it and are shut for a time once it is worked."""
    here = problem.activities[closed.first].ground
    if not (closed.from_start and closed.minutes) or here in closed.ways:
        return []
    return [a for a, activity in enumerate(problem.activities) if activity.ground in closed.ways]


def _tied(problem: Problem, a: int) -> list[int]:
    """An activity and those that must follow it soon, by waits that have a most, and those that must follow them."""
    found = [a]
    for first in found:
        found += [lag.second for lag in problem.lags if lag.first == first and lag.has_most and lag.second not in found]
    return found


def _follows(before: dict[int, set[int]], a: int, firsts: set[int]) -> bool:
    """Whether an activity comes after any of some others, straight or through more."""
    seen, waiting = set[int](), [a]
    while waiting:
        for other in before[waiting.pop()] - seen:
            seen.add(other)
            waiting.append(other)
    return not seen.isdisjoint(firsts)


def _stages(problem: Problem, stages: list[int], before: dict[int, set[int]], *, only_tight: bool) -> list[int] | None:
    """The stages of a job in order; with ``only_tight`` only waits that have a most tie two together.

    Of several waits after one stage that with a most ties it: what follows the others can wait.
    """
    binding = [lag for lag in problem.lags if lag.binds and (lag.has_most or not only_tight)]
    tied = {lag.first: lag.second for lag in sorted(binding, key=lambda lag: lag.has_most)}
    done: list[int] = []
    doing: set[int] = set()

    def do(a: int) -> bool:
        if a in done or a not in stages:
            return True
        if a in doing:
            return False
        doing.add(a)
        needs = set(before[a])
        chain, at = [a], a
        while at in tied and tied[at] not in chain:
            at = tied[at]
            needs |= before[at] - set(chain)
            chain.append(at)
        ready = all(do(x) for x in sorted(needs - set(chain)))
        for link in chain:
            if ready and link not in done and link in stages:
                done.append(link)
        doing.discard(a)
        return ready

    return done if all(do(a) for a in stages) else None


def _by_deadline(problem: Problem, stages: list[int], before: dict[int, set[int]]) -> list[int] | None:
    """The stages of a job, of those that may come next the one that leads to the nearest most; else the file's first.

    The clock is that of the stages alone, by the first of their modes.
    """
    own = set(stages)
    minutes = {a: problem.activities[a].modes[0].minutes for a in stages}
    leads_to = {a: _leads_to(a, own, before) for a in stages}
    done: dict[int, tuple[int, int]] = {}
    now = 0
    while len(done) < len(stages):
        latest: dict[int, int] = {}
        for lag in problem.lags:
            if lag.has_most and lag.first in done and lag.second in own and lag.second not in done:
                start, end = done[lag.first]
                most = lag.bounds(start, end)[1]
                if most is not None:
                    begins = (start if lag.from_start else end) + most - (minutes[lag.second] if lag.to_end else 0)
                    for a in leads_to[lag.second] - done.keys():
                        latest[a] = min(latest.get(a, begins), begins)
        ready = [a for a in stages if a not in done and before[a] & own <= done.keys()]
        if not ready:
            return None
        following = min(ready, key=lambda a: (latest.get(a, LARGE_LAG), stages.index(a)))
        done[following] = now, now + minutes[following]
        now += minutes[following]
    return list(done)


def _leads_to(a: int, own: set[int], before: dict[int, set[int]]) -> set[int]:
    """A stage and all of its job that must come before it."""
    found, waiting = {a}, [a]
    while waiting:
        more = before[waiting.pop()] & own - found
        found |= more
        waiting.extend(more)
    return found


def modes_in_time(problem: Problem) -> list[Mode]:
    """For each activity the first mode there are hands for, and with which waits that go patch by patch are kept."""
    chosen: dict[int, int] = {}
    pairs = {(x.first, x.second) for x in problem.lags if x.most is not None and (x.from_start or x.to_end)}
    for one, other in sorted(pairs):
        lags = [x for x in problem.lags if (x.first, x.second) == (one, other)]
        ways = itertools.product(_choices(problem, one, chosen), _choices(problem, other, chosen))
        for n, m in sorted(ways, key=sum):
            minutes = problem.activities[one].modes[n].minutes, problem.activities[other].modes[m].minutes
            if _can_hold(lags, *minutes):
                chosen |= {one: n, other: m}
                break
    return [x.modes[chosen.get(a, _choices(problem, a, chosen)[0])] for a, x in enumerate(problem.activities)]


def _choices(problem: Problem, a: int, chosen: dict[int, int]) -> list[int]:
    if a in chosen:
        return [chosen[a]]
    modes = problem.activities[a].modes
    wanted = [max([mode.hands, *(problem.kit[k].lift for k in mode.kit)]) for mode in modes]
    return [m for m, hands in enumerate(wanted) if hands <= len(problem.hands)] or list(range(len(modes)))


def _can_hold(lags: list[Lag], first: int, second: int) -> bool:
    """Whether some time from start to start keeps lags between two activities of so many minutes."""
    soonest, latest = [0], [LARGE_LAG]
    for lag in lags:
        shift = (0 if lag.from_start else first) - (second if lag.to_end else 0)
        if lag.least is not None:
            soonest.append(lag.least + shift)
        if lag.most is not None:
            latest.append(lag.most + shift)
    return max(soonest) <= min(latest)
