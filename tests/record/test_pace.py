"""Own pace against the closed form, a brute-force posterior, and simulated crews whose true pace is known."""

import math
import random
from statistics import fmean

import pytest

from planner.record.pace import (
    JOB_SPREAD,
    LEAST_CREW_SPREAD,
    LEAST_JOB_SPREAD,
    WILD,
    Pace,
    crew_spread,
    job_spread,
    learn,
)
from planner.trade.rates import Spread

SHIPPED = Spread(34, 40, 58)
ALIKE = [1.10, 1.22, 1.31, 1.18, 1.05, 1.27]
"""Six jobs near each other: none is wild, so that the closed form holds."""


def closed_form(ratios: list[float], tau: float, sigma: float) -> tuple[float, float]:
    """Mean and sd of the posterior as BDA3 (Gelman et al.), equation 2.12, has them: precisions add."""
    n, mean = len(ratios), fmean(math.log(r) for r in ratios)
    precision = 1 / tau**2 + n / sigma**2
    return (n / sigma**2 * mean + 1 / tau**2 * 0.0) / precision, precision**-0.5


def test_no_jobs_give_the_shipped_pace_exactly() -> None:
    pace = learn([], SHIPPED, "washer", "green")
    assert (pace.factor, pace.rate_factor, pace.jobs_factor, pace.jobs_behind, pace.weight) == (1, 1, 1, 0, 0)
    assert pace.own == SHIPPED
    assert pace.factor_low < 1 < pace.factor_high


def test_the_shipped_spread_is_what_crews_differ_by() -> None:
    """With no jobs, 90 % of crews lie between low and high, when these lie evenly about the middle."""
    even = Spread(40 / 1.3, 40, 40 * 1.3)
    pace = learn([], even)
    assert pace.factor_high == pytest.approx(1.3, rel=1e-3)
    assert pace.factor_low == pytest.approx(1 / 1.3, rel=1e-3)


@pytest.mark.parametrize("ratios", [[1.2], [0.9, 1.1], ALIKE, [r**-1 for r in ALIKE]])
def test_closed_form(ratios: list[float]) -> None:
    pace = learn(ratios, SHIPPED)
    tau, sigma = math.log(58 / 34) / (2 * 1.644854), job_spread([math.log(r) for r in ratios])
    mean, sd = closed_form(ratios, tau, sigma)
    assert max(abs(math.log(r) - mean) for r in ratios) < WILD * sigma, (
        "the case is meant to hold no wild job"
    )
    assert math.log(pace.factor) == pytest.approx(mean, abs=1e-5)
    assert math.log(pace.factor_low) == pytest.approx(mean - 1.644854 * sd, abs=1e-4)
    assert math.log(pace.factor_high) == pytest.approx(mean + 1.644854 * sd, abs=1e-4)
    assert pace.jobs_factor == pytest.approx(math.prod(ratios) ** (1 / len(ratios)))
    assert pace.weight == pytest.approx(mean / fmean(math.log(r) for r in ratios), rel=1e-4)


def test_brute_force_posterior() -> None:
    """The posterior summed over a fine grid of theta, prior times likelihood, with no algebra."""
    sigma, tau = job_spread([math.log(r) for r in ALIKE]), crew_spread(SHIPPED)
    grid = [i / 20_000 for i in range(-30_000, 30_001)]
    density = [
        math.exp(-((t / tau) ** 2) / 2 - sum(((math.log(r) - t) / sigma) ** 2 for r in ALIKE) / 2)
        for t in grid
    ]
    total = sum(density)
    mean = sum(t * d for t, d in zip(grid, density, strict=True)) / total
    assert math.log(learn(ALIKE, SHIPPED).factor) == pytest.approx(mean, abs=1e-6)


@pytest.mark.parametrize("wild", [[30.0], [1.1, 1.2, 20.0], [0.02, 0.9, 1.3, 1.1], [3.0, 0.3, 5.0, 1.0]])
def test_wild_jobs_against_a_search_for_the_least_loss(wild: list[float]) -> None:
    """Huber (1964): square loss to k sd, straight beyond, plus the prior's; least by ternary search."""
    logs = [math.log(r) for r in wild]
    sigma, tau = job_spread(logs), crew_spread(SHIPPED)

    def loss(theta: float) -> float:
        residuals = [abs(y - theta) / sigma for y in logs]
        return (theta / tau) ** 2 / 2 + sum(
            r * r / 2 if r <= WILD else WILD * (r - WILD / 2) for r in residuals
        )

    low, high = -5.0, 5.0
    while high - low > 1e-9:
        third = (high - low) / 3
        low, high = (low, high - third) if loss(low + third) < loss(high - third) else (low + third, high)
    assert math.log(learn(wild, SHIPPED).factor) == pytest.approx(low, abs=1e-6)


def test_spread_between_jobs_closed_form() -> None:
    """BDA3 section 2.6: the guess counts as 4 jobs, the jobs as n - 1."""
    logs = [-0.2, 0.1, 0.0, 0.3, 0.0]
    squares = 0.04 + 0.01 + 0.0 + 0.09 + 0.0  # about the median, 0
    assert job_spread(logs) == pytest.approx(math.sqrt((4 * JOB_SPREAD**2 + squares) / (4 + 5 - 1)))
    assert job_spread([]) == job_spread([0.7]) == JOB_SPREAD
    assert job_spread([0.1] * 1000) == LEAST_JOB_SPREAD


def test_many_jobs_give_the_crews_own_mean() -> None:
    chance = random.Random(3)
    ratios = [math.exp(chance.gauss(math.log(1.6), 0.15)) for _ in range(2000)]
    pace = learn(ratios, SHIPPED)
    assert pace.factor == pytest.approx(1.6, rel=0.01)
    assert pace.weight > 0.99
    assert pace.factor_low < pace.factor < pace.factor_high
    assert pace.factor_high / pace.factor_low < 1.02
    assert pace.own.likely == pytest.approx(40 * pace.factor)


def test_always_between_the_shipped_pace_and_the_jobs() -> None:
    for number in range(1, 7):
        pace = learn(ALIKE[:number], SHIPPED)
        assert 1 < pace.factor < pace.jobs_factor
        assert 0 < pace.weight < 1
    weights = [learn([1.2] * n, SHIPPED).weight for n in range(8)]
    assert weights == sorted(weights)


def test_one_wild_job_barely_moves_it() -> None:
    calm = [0.95, 1.05, 1.0, 1.1, 0.9, 1.0, 1.02, 0.98, 1.0, 1.0]
    before = learn(calm, SHIPPED).factor
    for wild in (8.0, 100.0, 0.01):
        after = learn([*calm, wild], SHIPPED)
        assert abs(math.log(after.factor / before)) < math.log(1.06)
        plain_mean = abs(math.log(after.jobs_factor / before))
        assert abs(math.log(after.factor / before)) < plain_mean / 3


def test_one_wild_first_job_moves_it_no_more_than_a_bad_one() -> None:
    """Its pull is bounded: beyond a point, worse moves it no further."""
    assert learn([50.0], SHIPPED).factor == pytest.approx(learn([5.0], SHIPPED).factor)
    assert learn([50.0], SHIPPED).factor < 1.5


@pytest.mark.parametrize("shipped", [Spread(40, 40, 40), Spread(0, 40, 40), Spread(0, 40, 4000)])
def test_odd_shipped_spreads_still_learn(shipped: Spread) -> None:
    pace = learn([1.3] * 5, shipped)
    assert 1 < pace.factor < 1.3
    assert crew_spread(shipped) >= LEAST_CREW_SPREAD


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_ratios_that_cannot_be_are_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        learn([1.0, bad], SHIPPED)
    with pytest.raises(ValueError, match="above 0"):
        learn([1.0], Spread(0, 0, 1))


def simulated(crews: int, jobs: int) -> list[tuple[float, Pace]]:
    """Crews drawn from the model itself, with their true log factor and what was learned of it."""
    chance, tau, drawn = random.Random(17), crew_spread(SHIPPED), []
    for _ in range(crews):
        theta = chance.gauss(0, tau)
        drawn.append(
            (theta, learn([math.exp(chance.gauss(theta, JOB_SPREAD)) for _ in range(jobs)], SHIPPED))
        )
    return drawn


@pytest.mark.parametrize("jobs", [1, 3, 8])
def test_shrinking_errs_less_than_either_alone(jobs: int) -> None:
    """What Efron and Morris (1975) promise: less squared error than the jobs' mean, and than the prior's."""
    drawn = simulated(3000, jobs)
    shrunk = fmean((math.log(pace.factor) - theta) ** 2 for theta, pace in drawn)
    alone = fmean((math.log(pace.jobs_factor) - theta) ** 2 for theta, pace in drawn)
    shipped = fmean(theta**2 for theta, _ in drawn)
    assert shrunk < 0.9 * alone
    assert shrunk < 0.9 * shipped


@pytest.mark.parametrize("jobs", [0, 2, 8])
def test_the_range_holds_the_true_pace_as_often_as_it_says(jobs: int) -> None:
    drawn = simulated(3000, jobs)
    inside = fmean(math.log(pace.factor_low) <= theta <= math.log(pace.factor_high) for theta, pace in drawn)
    assert 0.87 < inside < 0.93  # 0.90, and five standard errors of a count of 3000 are 0.027
