"""How plans are ranked, and how long the solver may work. Needs no solver to be loaded."""

from dataclasses import dataclass

LEAST_SECONDS = 0.5
"""No search is begun with less time: in less hardly a model is made, let alone solved; the day is late by that much."""


@dataclass(frozen=True, slots=True)
class Score:
    """The levels by which a plan is judged: minutes of overrun, minutes home, restricted crossings."""

    overrun: int
    minutes: int
    crossings: int

    def value(self, price: int) -> int:
        """Minutes home plus what the restricted crossings are worth."""
        return self.minutes + price * self.crossings

    def rank(self, price: int) -> tuple[int, int]:
        """What is least for the best."""
        return self.overrun, self.value(price)


@dataclass(frozen=True, slots=True)
class Range:
    """From ``least`` to ``most`` restricted crossings (None: any more)."""

    least: int
    most: int | None


@dataclass(frozen=True)
class Budget:
    """How long and how the solver may work.

    ``deterministic`` makes equal runs give equal plans: one worker, and seconds that are the solver's own count of its
    work. ``quick`` asks for a good plan soon, with no proof and no tidying.
    """

    seconds: float = 20.0
    workers: int = 2
    seed: int = 0
    deterministic: bool = False
    quick: bool = False

    @property
    def cores(self) -> int:
        """How many searches go on side by side."""
        return 1 if self.deterministic else max(1, self.workers)
