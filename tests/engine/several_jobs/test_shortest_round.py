"""The bound over rounds against all rounds written out one by one, and against sums worked out by hand."""

import itertools
import random

import pytest

from planner.engine.problem import Job, Problem, Route
from planner.engine.several_jobs.shortest_round import NEVER, Least, ShortestRound


def problem(jobs: list[Job], out: list[int], between: list[list[int]], back: list[int], price: int = 6) -> Problem:
    route = Route(tuple(out), tuple(map(tuple, between)), tuple(back))
    return Problem((), 1500, jobs=tuple(jobs), route=route, origin=480, opens=480, price=price)


def test_by_hand_two_jobs() -> None:
    """Out 10, 50 there, 5 to the other, 40 there, 12 home: 117. The other way 15 (by the first), 40, 5, 50, 11: 121."""
    day = problem([Job("a"), Job("b")], [10, 20], [[0, 5], [5, 0]], [11, 12])
    assert ShortestRound(day, [Least(50, 44), Least(40, 40)]).least() == (117, 111)


def test_by_hand_a_window_that_must_be_waited_for() -> None:
    """The first opens at 09:00, 60 minutes after the start: from there 50, 5, 60 and 12 make 187 that way round. The
    other way: 15 out, 60 there, 5 to the first at 80, while it is open: 50, and 11 home make 141."""
    day = problem([Job("a", arrive=(540, 600)), Job("b")], [10, 15], [[0, 5], [5, 0]], [11, 12])
    assert ShortestRound(day, [Least(50, 50), Least(60, 60)]).least() == (141, 141)
    late = problem([Job("a", arrive=(540, 559)), Job("b")], [10, 15], [[0, 5], [5, 0]], [11, 12])
    assert ShortestRound(late, [Least(50, 50), Least(60, 60)]).least() == (187, 187)


def test_by_hand_windows_that_no_order_keeps() -> None:
    day = problem([Job("a", arrive=(480, 495)), Job("b", arrive=(480, 505))], [10, 20], [[0, 5], [5, 0]], [11, 12])
    assert ShortestRound(day, [Least(50, 50), Least(40, 40)]).least() == (NEVER, NEVER)


def test_by_hand_a_job_that_is_come_back_to() -> None:
    """In one visit 90; in two 30 in all. 10 + 5 + 40 + 5 + 30 + 11 is 101, and a round with one visit 10 + 90 + 5 +
    40 + 12 is 157."""
    day = problem([Job("a", visits=2), Job("b")], [10, 20], [[0, 5], [5, 0]], [11, 12])
    jobs = [Least(90, 90, away=30, minutes_away=30), Least(40, 40)]
    assert ShortestRound(day, jobs).least() == (101, 101)


def test_by_hand_breaks_are_had_where_they_cost_least() -> None:
    """One hand's break takes 20 at the first job and 8 at the second; both hands' 20 and 30: 117 and 20."""
    day = problem([Job("a"), Job("b")], [10, 20], [[0, 5], [5, 0]], [11, 12])
    jobs = [Least(50, 50, resting=(70, 70)), Least(40, 40, resting=(48, 70))]
    assert ShortestRound(day, jobs, sure_breaks=1).least()[0] == 125
    assert ShortestRound(day, jobs, sure_breaks=2).least()[0] == 137


@pytest.mark.parametrize("seed", range(60))
def test_no_round_takes_less(seed: int) -> None:
    """Rounds walked one by one: driving on, waiting for windows, as long at each job as it takes, crossings priced."""
    rng = random.Random(seed)
    count = rng.randint(1, 5)
    between = [[rng.randint(1, 30) if a != b else 0 for b in range(count)] for a in range(count)]
    out, back = ([rng.randint(1, 30) for _ in range(count)] for _ in range(2))
    jobs = []
    for n in range(count):
        opens = 480 + rng.randint(0, 200)
        window = (opens, opens + rng.randint(0, 120)) if rng.random() < 0.4 else None
        jobs.append(Job(f"j{n}", arrive=window, done_by=480 + rng.randint(200, 500) if rng.random() < 0.3 else None))
    there = [(rng.randint(10, 90), rng.randint(0, 4)) for _ in jobs]
    price, best, soonest = 6, NEVER, NEVER
    for order in itertools.permutations(range(count)):
        now, here = 480, None
        for n in order:
            now += out[n] if here is None else between[here][n]
            window, done_by, here = jobs[n].arrive, jobs[n].done_by, n
            if window is not None:
                now = NEVER if now > window[1] else max(now, window[0])
            now += there[n][0]
            now = NEVER if done_by is not None and now > done_by else now
        assert here is not None
        if now < NEVER:
            home = now - 480 + back[here]
            soonest = min(soonest, home)
            best = min(best, home + price * sum(crossings for _, crossings in there))
    least = [Least(minutes + price * crossings, minutes, crossings) for minutes, crossings in there]
    value, minutes = ShortestRound(problem(jobs, out, between, back, price), least).least()
    assert value <= best
    assert minutes <= soonest
