"""Own pace: how this crew's minutes compare with the shipped ones, learned from its own jobs.

The model. On a logarithmic scale, the crew's long-run ratio of actual to shipped minutes is ``theta``, and
what one job shows is ``y = log(actual / shipped)``:

    theta ~ Normal(0, tau^2)          crews differ from the shipped rate by about its shipped spread
    y     ~ Normal(theta, sigma^2)    jobs of one crew differ from each other

so that after ``n`` jobs ``theta`` has mean ``sum(y) / (n + sigma^2 / tau^2)``: the mean of the jobs, shrunk
toward the shipped rate by the less, the more jobs there are and the more alike they are.

Sources
-------
Shrinkage: B. Efron and C. Morris, "Data analysis using Stein's estimator and its generalizations", Journal of
the American Statistical Association 70 (1975) 311-319; A. Gelman et al., "Bayesian Data Analysis", 3rd ed.,
section 2.5 (normal with known variance) and 2.6 (the scaled inverse chi-squared form of the variance).

One wild job (a stop forgotten on the clock) must not carry the estimate away: residuals beyond ``WILD``
standard deviations count less, by the weights of P. J. Huber, "Robust estimation of a location parameter",
Annals of Mathematical Statistics 35 (1964) 73-101. Where no job is wild this is exactly the formula above.

Low and high as 5th and 95th percentile: J. J. Moder and E. G. Rodgers, "Judgment estimates of the moments of
PERT type distributions", Management Science 15 (1968) B76-B83 (from memory).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, median

from planner.trade.rates import Spread

NINETY_PERCENT = 1.6449
"""Standard deviations from the middle of a normal distribution to its 5th or 95th percentile."""

JOB_SPREAD = 0.25
"""What jobs of one crew are taken to differ by at first, as sd of the log: common practice, no source."""

JOB_SPREAD_WEIGHT = 4
"""How many jobs' worth of evidence `JOB_SPREAD` counts for."""

LEAST_JOB_SPREAD = 0.10
"""Floor of the job-to-job sd: times are noted to about five minutes in an hour, so no jobs are more alike."""

LEAST_CREW_SPREAD = 0.10
"""Floor of the crew-to-crew sd, so that a method shipped with no spread can still be learned."""

WILD = 1.5
"""Residuals beyond this many standard deviations count less."""


@dataclass(frozen=True)
class Pace:
    """Own pace for a method in a condition, to be shown beside the shipped one.

    Attributes
    ----------
    method, condition
        What it is for.
    shipped
        The shipped low, likely and high minutes (of any amount; only their ratios matter).
    jobs_behind
        How many jobs it rests on.
    jobs_factor
        Actual over shipped minutes by those jobs alone (geometric mean); 1 with no jobs.
    factor
        The same shrunk: what to multiply shipped minutes by. Exactly 1 with no jobs.
    factor_low, factor_high
        Between these the crew's long-run factor lies with 90 %.
    weight
        How much the jobs count against the shipped rate, from 0 to 1.
    """

    method: str
    condition: str
    shipped: Spread
    jobs_behind: int
    jobs_factor: float
    factor: float
    factor_low: float
    factor_high: float
    weight: float

    @property
    def rate_factor(self) -> float:
        """What to multiply a shipped rate (amount in an hour) by."""
        return 1.0 / self.factor

    @property
    def own(self) -> Spread:
        """Low, likely and high minutes at own pace."""
        return self.shipped.times(self.factor)


def learn(ratios: Sequence[float], shipped: Spread, method: str = "", condition: str = "") -> Pace:
    """Own pace from the jobs' ratios of actual to shipped minutes; the head of this module tells the model.

    Parameters
    ----------
    ratios
        One for each job, above 0.
    shipped
        The shipped minutes; ``likely`` above 0.

    Raises
    ------
    ValueError
        When a ratio or the likely minutes are not above 0 and finite.
    """
    if not all(math.isfinite(ratio) and ratio > 0 for ratio in (*ratios, shipped.likely)):
        raise ValueError("own pace needs ratios and likely minutes above 0")
    logs = [math.log(ratio) for ratio in ratios]
    crew_variance = crew_spread(shipped) ** 2
    job_variance = job_spread(logs) ** 2
    theta, evidence = _robust_mean(logs, crew_variance, job_variance)
    sd = math.sqrt(1 / (1 / crew_variance + evidence / job_variance))
    return Pace(
        method=method,
        condition=condition,
        shipped=shipped,
        jobs_behind=len(logs),
        jobs_factor=math.exp(fmean(logs)) if logs else 1.0,
        factor=math.exp(theta),
        factor_low=math.exp(theta - NINETY_PERCENT * sd),
        factor_high=math.exp(theta + NINETY_PERCENT * sd),
        weight=evidence / (evidence + job_variance / crew_variance),
    )


def crew_spread(shipped: Spread) -> float:
    """``tau``: sd of the log factor between crews, from the shipped low and high."""
    low = max(shipped.low, shipped.likely / 10)  # a low of 0 minutes has no logarithm
    high = max(shipped.high, low)
    return max(LEAST_CREW_SPREAD, math.log(high / low) / (2 * NINETY_PERCENT))


def job_spread(logs: Sequence[float]) -> float:
    """``sigma``: sd of the log ratio between jobs, from the jobs and the guess that stands in for them.

    Deviations are from the median and count no more than three times the guess, so that one wild job does
    not make all the others worthless.
    """
    if not logs:
        return JOB_SPREAD
    middle, most = median(logs), 3 * JOB_SPREAD
    squares = sum(min(abs(y - middle), most) ** 2 for y in logs)
    variance = (JOB_SPREAD_WEIGHT * JOB_SPREAD**2 + squares) / (JOB_SPREAD_WEIGHT + len(logs) - 1)
    return max(LEAST_JOB_SPREAD, math.sqrt(variance))


def _robust_mean(logs: Sequence[float], crew_variance: float, job_variance: float) -> tuple[float, float]:
    """Posterior mean of ``theta``, and how many whole jobs the jobs count for.

    Weights and mean are found in turn until they agree; the loss is convex, so there is one answer.
    """
    limit = WILD * math.sqrt(job_variance)
    theta, evidence = 0.0, float(len(logs))
    for _ in range(200):
        weights = [min(1.0, limit / abs(y - theta)) if y != theta else 1.0 for y in logs]
        evidence = sum(weights)
        before, theta = (
            theta,
            math.fsum(w * y for w, y in zip(weights, logs, strict=True))
            / (evidence + job_variance / crew_variance),
        )
        if abs(theta - before) < 1e-12:
            break
    return theta, evidence
