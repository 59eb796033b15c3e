"""One thing in a plan that hands do, with its real times as they become known."""

import math
from dataclasses import dataclass, field

from planner.plan.plan import Chore, Crossing, Drive, Rest, Work
from planner.plan.progress import Noted

NOT_YET = 10**6
"""Stands for the end of what is still under way."""

VAN = ""
"""Stands among the hands for the van itself: it drives one way at a time."""

HURRIED = 0.5
"""In less than this part of its time a stage is likely not to have been done at all (common practice, no source)."""


@dataclass(eq=False)
class Happening:
    """One thing in the plan that hands do, with its real times as they become known.

    ``by_clock`` is whether nothing but the clock says that it has happened. ``takes_too_soon`` is whether it takes away
    what stages need that were not done in their turn; a walk out goes without that (``leaves_in``). ``covers_still``
    are the stages whose covers it takes up, though what they cover for is still to come: it is held back, and has not
    happened, unless the van has left. ``there_by`` is what shows that the kit of a chore was there, as it brought it,
    set it up or used it: where none of that has happened, neither has the chore.
    ``passed`` is what its hands may have left for later, as only later stages needed it; it serves one that began at
    ``begun``, and what of ``passed`` there was time for before that came first, as planned. ``entered`` are the walks
    in between which and the walks out it was done. ``is_given_up`` is whether it is a stage that was given up for
    today, ``is_broken_off`` whether that was under way, and only the plan's own record says when: that gives way to
    what was noted. ``is_on_what_stays`` is whether it is a chore on kit behind a way in that nobody carries out by the
    plan.
    """

    item: Work | Chore | Rest | Drive | Crossing
    kind: str
    hands: tuple[str, ...]
    start: int
    end: int
    note: Noted | None = None
    settled: bool = False
    is_given_up: bool = False
    is_broken_off: bool = False
    is_on_what_stays: bool = False
    happened: bool = False
    by_clock: bool = False
    covers_still: tuple[str, ...] = ()
    is_held_back: bool = False
    takes_too_soon: bool = False
    leaves_in: frozenset[str] = frozenset()
    crossings: tuple[Crossing, ...] = ()
    needs: list["Happening"] = field(default_factory=list)
    follows: list["Happening"] = field(default_factory=list)
    there_by: list["Happening"] | None = None
    passed: list["Happening"] = field(default_factory=list)
    begun: int = NOT_YET
    entered: list["Happening"] = field(default_factory=list)

    @property
    def minutes(self) -> int:
        return self.end - self.start

    @property
    def makes_ready(self) -> int:
        """The minutes that it takes before the stages it serves begin: none of a stage itself."""
        return 0 if isinstance(self.item, Work) else self.minutes

    @property
    def shortest(self) -> int:
        """The fewest minutes in which it is likely to have been done at all."""
        return math.ceil(HURRIED * (self.item.end - self.item.start))

    @property
    def is_fixed(self) -> bool:
        """Whether its times are recorded."""
        return self.note is not None or self.settled

    @property
    def is_of_what_never_came(self) -> bool:
        """Whether it is a chore on kit that nothing that has happened brought, set up or used."""
        return self.there_by is not None and not any(d.happened for d in self.there_by)
