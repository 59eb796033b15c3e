"""What is asked when no more is asked than whether a day fits, and how that is answered."""

from dataclasses import dataclass
from typing import Literal

Answer = Literal["yes", "no", "unknown"]


@dataclass(frozen=True)
class Attending:
    """What is asked of a hand with their own transport: to be there for no more than ``most`` steps of a grid.

    The grid begins at minute ``begin``, and goes on by ``step`` minutes. Where a number is ``sought``, the fewest steps
    are looked for, down to that.
    """

    hand: str
    begin: int
    step: int
    most: int
    sought: int | None = None
