"""What stages share, held to closed forms, and the chances told of a day, held to a simulated year."""

import datetime as dt
import math
from statistics import NormalDist

import numpy as np
import pytest

from planner.engine import first_plan
from planner.fit.chance import USUAL, Draws, Shared, place_in
from planner.fit.risk import play_out
from planner.record.shared import ENOUGH_DAYS, shared_in
from planner.record.timings import Timing
from planner.trade.rates import Spread
from tests.fit.small_days import ALONE, eighty_of_hundred, open_day

PLAYS = 40_000
WIDE = Spread(30.0, 60.0, 120.0)


def ranks(values: np.ndarray) -> np.ndarray:
    """The rank of each value, from 0."""
    order = np.empty(len(values))
    order[np.argsort(values)] = np.arange(len(values))
    return order


def rank_correlation(one: np.ndarray, other: np.ndarray) -> float:
    """Spearman's: the product-moment correlation of the ranks."""
    return float(np.corrcoef(ranks(one), ranks(other))[0, 1])


def of_normal(correlation: float) -> float:
    """Spearman's correlation of two normal variables, and so of all that rises with them: 6/pi asin(r/2).

    W. H. Kruskal, "Ordinal measures of association", Journal of the American Statistical Association 53 (1958) 814-861.
    """
    return 6 / math.pi * math.asin(correlation / 2)


@pytest.mark.parametrize(
    ("one", "other", "common"),
    [
        ((("ash",), "elm"), (("ash",), "elm"), ("day", "hand", "job")),
        ((("ash",), "elm"), (("elm",), "elm"), ("day", "job")),
        ((("ash",), "elm"), (("ash",), "larch"), ("day", "hand")),
        ((("ash",), "elm"), (("elm",), "larch"), ("day",)),
    ],
)
def test_two_stages_are_alike_by_what_they_share(one, other, common) -> None:
    shared = Shared(day=0.3, hand=0.2, job=0.25)
    draws = Draws(shared, PLAYS, seed=3)
    first = draws.minutes(WIDE, 60, hands=one[0], job=one[1])
    second = draws.minutes(Spread(10.0, 12.0, 40.0), 12, hands=other[0], job=other[1])
    expected = of_normal(sum(getattr(shared, part) for part in common))
    assert rank_correlation(first, second) == pytest.approx(expected, abs=0.02)  # four standard errors of 1/sqrt(plays)


def test_with_nothing_shared_stages_are_independent() -> None:
    draws = Draws(ALONE, PLAYS, seed=5)
    first, second = (draws.minutes(WIDE, 60, hands=("ash",), job="elm") for _ in range(2))
    assert rank_correlation(first, second) == pytest.approx(0.0, abs=0.02)


@pytest.mark.parametrize("shared", [ALONE, USUAL, Shared(day=1.0, hand=0.0, job=0.0)])
def test_a_stage_alone_keeps_its_own_distribution(shared: Shared) -> None:
    """Mean (low + 4 likely + high) / 6, variance (mean - low)(high - mean) / 7: the beta distribution behind PERT."""
    drawn = Draws(shared, PLAYS, seed=1).minutes(WIDE, 60, hands=("ash", "elm"), job="elm")
    mean = (WIDE.low + 4 * WIDE.likely + WIDE.high) / 6
    deviation = math.sqrt((mean - WIDE.low) * (WIDE.high - mean) / 7)
    assert drawn.mean() == pytest.approx(mean, abs=4 * deviation / PLAYS**0.5)
    assert drawn.std() == pytest.approx(deviation, rel=0.02)
    assert drawn.min() >= WIDE.low
    assert drawn.max() <= WIDE.high


@pytest.mark.parametrize("rising", [0.0, 0.5, 1.0])
def test_quantiles_are_those_of_the_beta_distribution(rising: float) -> None:
    """Beta(1, 5) has F(x) = 1 - (1 - x)^5, Beta(5, 1) has x^5, Beta(3, 3) has x^3 (10 - 15 x + 6 x^2)."""
    forms = {0.0: lambda x: 1 - (1 - x) ** 5, 0.5: lambda x: x**3 * (10 - 15 * x + 6 * x * x), 1.0: lambda x: x**5}
    for chance in (0.01, 0.1, 0.5, 0.8, 0.99):
        placed = float(place_in(rising, np.array([NormalDist().inv_cdf(chance)]))[0])
        assert forms[rising](placed) == pytest.approx(chance, abs=5e-4)


def test_a_slow_day_is_slow_all_day() -> None:
    """All shared by the day, n equal stages are one long stage: deviations add up, not variances."""
    stages = {k: {"minutes": 60, "spread": (0.5, 1.0, 2.0)} for k in "abcd"}
    day = open_day(stages)
    plan = first_plan(day)
    assert plan is not None
    mean = 60 * (0.5 + 4 + 2) / 6
    alone = math.sqrt((mean - 30) * (120 - mean) / 7)
    together = play_out(day, plan, plays=PLAYS, shared=Shared(day=1.0, hand=0.0, job=0.0))
    apart = play_out(day, plan, plays=PLAYS, shared=ALONE)
    assert together.home_deviation == pytest.approx(4 * alone, rel=0.02)
    assert apart.home_deviation == pytest.approx(2 * alone, rel=0.02)
    assert together.home_mean == pytest.approx(apart.home_mean, abs=8 * alone / PLAYS**0.5 * 4)


def test_the_band_of_home_times_leaves_out_as_many_before_as_after() -> None:
    """One stage with F(x) = 1 - (1 - x)^5 between 60 and 120 minutes: its tenth and ninetieth percentile."""
    day = open_day({"a": {"minutes": 60, "spread": (1.0, 1.0, 2.0)}})
    plan = first_plan(day)
    assert plan is not None
    first, last = eighty_of_hundred(play_out(day, plan, plays=PLAYS))
    assert first == pytest.approx(plan.home + 60 * (1 - 0.9**0.2), abs=1.5)
    assert last == pytest.approx(plan.home + 60 * (1 - 0.1**0.2), abs=1.5)


@pytest.mark.parametrize("parts", [(-0.1, 0, 0), (0.5, 0.5, 0.1), (math.nan, 0, 0)])
def test_parts_that_leave_nothing_are_refused(parts: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="together at most 1"):
        Shared(*parts)


# --- the crew's own record ------------------------------------------------------------------------------------------


def a_year(days: int, *, day: float, job: float, own: float, seed: int, jobs: int = 2, stages: int = 4) -> list[Timing]:
    """Timings of so many days: log ratios with these standard deviations, drawn apart from the code under test."""
    random = np.random.default_rng(seed)
    found = []
    for number in range(days):
        slow = random.normal(0, day)
        for j in range(jobs):
            slower = slow + random.normal(0, job)
            for s in range(stages):
                ratio = math.exp(slower + random.normal(0, own))
                date = dt.date(2027, 1, 1) + dt.timedelta(days=number)
                found.append(Timing(date, f"job {j}", f"stage {s}", "wash", f"way {s}", "", 60.0, 60.0 * ratio))
    return found


def test_with_few_days_the_usual_parts_hold() -> None:
    assert shared_in([]) == USUAL
    assert shared_in(a_year(ENOUGH_DAYS - 1, day=0.9, job=0.0, own=0.1, seed=1)) == USUAL
    alone = [t for t in a_year(60, day=0.9, job=0.0, own=0.1, seed=1) if (t.job, t.stage) == ("job 0", "stage 0")]
    assert shared_in(alone) == USUAL  # one stage a day tells nothing of what is shared


@pytest.mark.parametrize(("day", "job", "own"), [(0.2, 0.1, 0.2), (0.0, 0.0, 0.3), (0.3, 0.0, 0.1), (0.05, 0.2, 0.2)])
def test_the_parts_of_the_variance_are_found_again(day: float, job: float, own: float) -> None:
    """A thousand days drawn from known variances: the estimate is the truth, drawn a little toward the usual."""
    found = shared_in(a_year(1000, day=day, job=job, own=own, seed=11))
    whole = day**2 + job**2 + own**2
    assert found.day == pytest.approx(day**2 / whole, abs=0.06)
    assert found.job == pytest.approx(job**2 / whole, abs=0.06)
    assert found.days_behind == 1000


def test_bands_hold_as_often_as_they_say_in_a_simulated_year() -> None:
    """A crew learns from one year and is told an 80 % band for each day of the next: it holds on 76 to 84 days of 100.

    The year is drawn here, from a day's, a job's and an own part on the normal scale, and by no code under test; the
    place of each stage in its PERT distribution is found by bisection of its closed form, x^3 (10 - 15 x + 6 x^2).
    """
    truth, random = {"day": 0.35, "job": 0.2}, np.random.default_rng(2027)
    own = math.sqrt(1 - sum(truth.values()))
    stages = {k: {"minutes": 50, "spread": (0.6, 1.0, 1.4)} for k in "abcdef"}
    day = open_day(stages)
    plan = first_plan(day)
    assert plan is not None

    def minutes_of(place: float) -> float:
        chance, low, high = NormalDist().cdf(place), 0.0, 1.0
        for _ in range(40):
            middle = (low + high) / 2
            low, high = (middle, high) if middle**3 * (10 - 15 * middle + 6 * middle**2) < chance else (low, middle)
        return 50 * (0.6 + 0.8 * low)

    def a_day() -> list[float]:
        common = math.sqrt(truth["day"]) * random.normal() + math.sqrt(truth["job"]) * random.normal()
        return [minutes_of(common + own * random.normal()) for _ in stages]

    learned = []
    for number in range(250):
        date = dt.date(2026, 1, 1) + dt.timedelta(days=number)
        learned += [Timing(date, "elm", k, "wash", k, "", 50.0, m) for k, m in zip(stages, a_day(), strict=True)]
    shared = shared_in(learned)
    first, last = eighty_of_hundred(play_out(day, plan, shared=shared))
    rest = plan.home - 6 * 50
    days = 1000
    held = sum(first <= math.ceil(rest + sum(a_day())) <= last for _ in range(days))
    assert 0.76 <= held / days <= 0.84
    told_alone = eighty_of_hundred(play_out(day, plan, shared=ALONE))
    held_alone = sum(told_alone[0] <= math.ceil(rest + sum(a_day())) <= told_alone[1] for _ in range(days))
    assert held_alone / days < 0.6  # what it said while every stage was drawn for itself
