"""What the stages of a day share: a slow day is slow all day, a slow hand is slow at everything.

Each stage's minutes follow its own PERT distribution (a beta distribution; Malcolm, Roseboom, Clark and Fazar,
Operations Research 7(5), 1959). What ties them together is a Gaussian copula with common factors: the place of a stage
in its own distribution is ``Phi(z)`` with

    z = sqrt(day) D + sqrt(hand) H + sqrt(job) J + sqrt(1 - day - hand - job) E

where D is drawn once for the day, H for each hand, J for each job and E for each stage, all standard normal. So two
stages of one day are correlated by ``day``, those of one hand and one job by ``day + hand + job`` (on the normal
scale), and each alone is as it was. (R. B. Nelsen, "An Introduction to Copulas", 2nd ed., section 2.3; the factors are
those of a random effects model: S. R. Searle, G. Casella and C. E. McCulloch, "Variance Components", 1992.)
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, TypeAlias

from planner.trade.rates import Spread

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Minutes: TypeAlias = NDArray[np.float64]

SAME_TIME = 1e-6
"""Minutes by which two times may differ and still be the same."""

MOST_SHARED = 0.9
"""No more of the variance than this is taken to be shared: something is always a stage's own."""

FARTHEST, STEPS = 5.0, 1201
"""The table of a distribution goes this many standard deviations to either side, in so many steps."""


@dataclass(frozen=True, slots=True)
class Shared:
    """The parts of the variance that stages of one day, one hand and one job have in common; 0 to 1, in all below 1.

    Raises
    ------
    ValueError
        When a part is negative or not a number, or together they leave nothing to the stage itself.
    """

    day: float
    hand: float
    job: float
    days_behind: int = 0

    def __post_init__(self) -> None:
        parts = (self.day, self.hand, self.job)
        if not all(math.isfinite(part) and part >= 0 for part in parts) or sum(parts) > 1:
            raise ValueError(f"shared parts are at least 0 and together at most 1, not {parts}")

    @property
    def own(self) -> float:
        """What is left to each stage alone."""
        return 1.0 - self.day - self.hand - self.job

    @property
    def words(self) -> str:
        """Where the parts come from, for a reader."""
        part = f"{100 * (self.day + self.hand + self.job):.0f} %"
        if self.days_behind:
            return f"stages of one day, hand and job share {part} of their spread, by {self.days_behind} days of yours"
        return f"stages of one day, hand and job are taken to share {part} of their spread: common practice, no source"


USUAL = Shared(day=0.25, hand=0.10, job=0.15)
"""Until a user's own record says otherwise: half of what makes a stage slow makes its neighbours slow as well, the most
of it the day (weather, traffic, a bad start). Common practice, no source."""


class Draws:
    """The draws of one set of plays: each factor is drawn once and shared by whatever has it in common.

    Parameters
    ----------
    shared
        How much is in common.
    plays
        How many days.
    seed
        Equal seeds give equal draws, in whatever order they are asked for: each factor has a stream of its own.
    """

    def __init__(self, shared: Shared, plays: int, seed: int) -> None:
        import numpy as np

        self.np, self.shared, self.plays = np, shared, plays
        self._random = np.random.default_rng(seed)
        self._factors: dict[tuple[str, str], Minutes] = {}

    def minutes(self, spread: Spread | None, planned: int, *, hands: tuple[str, ...], job: str) -> "Minutes":
        """So many draws of the minutes of one stage of a job, done by these hands together."""
        if spread is None or spread.high - spread.low < SAME_TIME:
            return self.np.full(self.plays, float(planned if spread is None else spread.likely))
        wide = spread.high - spread.low
        rising = round((spread.likely - spread.low) / wide, 6)
        return spread.low + wide * place_in(rising, self._place(hands, job))

    def _place(self, hands: tuple[str, ...], job: str) -> "Minutes":
        """How far from the middle a stage comes, in standard deviations."""
        root, shared = self.np.sqrt, self.shared
        place: Minutes = root(max(0.0, shared.own)) * self._normal()
        if shared.day:
            place += root(shared.day) * self._factor("day", "")
        if shared.job:
            place += root(shared.job) * self._factor("job", job)
        if shared.hand and hands:
            # the mean of several hands' factors, brought back to variance 1, so that the stage alone is as it was
            crew = sum(self._factor("hand", hand) for hand in hands)
            place += root(shared.hand / len(hands)) * crew
        elif shared.hand:
            place += root(shared.hand) * self._normal()
        return place

    def _factor(self, what: str, whose: str) -> "Minutes":
        key = (what, whose)
        if key not in self._factors:
            self._factors[key] = self._normal()
        return self._factors[key]

    def _normal(self) -> "Minutes":
        drawn: Minutes = self._random.standard_normal(self.plays)
        return drawn


def place_in(rising: float, normal: "Minutes") -> "Minutes":
    """The place in PERT's distribution on [0, 1], whose likely value is ``rising``, that a normal value stands for."""
    import numpy as np

    at, value = _table(rising)
    placed: Minutes = np.interp(normal, at, value)
    return placed


@lru_cache(maxsize=256)
def _table(rising: float) -> "tuple[Minutes, Minutes]":
    """Normal values from -`FARTHEST` to `FARTHEST`, and for each the quantile of the beta distribution at its chance.

    The distribution function is the integral of its density by the trapezoidal rule, which is exact to five digits with
    so many steps, since PERT's densities are zero at both ends or fall from one.
    """
    import numpy as np

    p, q = 1 + 4 * rising, 5 - 4 * rising
    x = (1 - np.cos(np.linspace(0.0, np.pi, 4001))) / 2  # closer where the density is steep: at the ends
    density = x ** (p - 1) * (1 - x) ** (q - 1)
    chance = np.concatenate([[0.0], np.cumsum((density[1:] + density[:-1]) / 2 * np.diff(x))])
    chance /= chance[-1]
    at = np.linspace(-FARTHEST, FARTHEST, STEPS)
    wanted = np.array([0.5 * math.erfc(-z / math.sqrt(2)) for z in at])
    return at, np.interp(wanted, chance, x)
