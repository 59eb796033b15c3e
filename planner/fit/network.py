"""A plan as a network: every duty of it, and what each must wait for when the day goes otherwise than planned.

The order of the plan is kept: each hand does its duties one after another, kit goes from hand to hand as planned, and
of two stages that must not share time the one that is first in the plan stays first.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from planner.day import Wait
from planner.trade.rates import Spread
from planner.trade.weather_gates import Shut

What = Literal["drive", "lay", "in", "set up", "work", "break", "pack down", "out", "lift"]

RANKS: tuple[What, ...] = ("drive", "lay", "in", "set up", "work", "break", "pack down", "out", "lift")
"""The order of duties that take no time at all and fall on one minute."""


@dataclass(frozen=True, slots=True)
class Link:
    """A duty waits for the one numbered ``before``: for its end (or its start) and then for so many minutes more.

    ``wait`` gives the minutes by the time of day at which it begins; otherwise they are ``lag``.
    """

    before: int
    why: str
    lag: int = 0
    wait: Wait | None = None
    from_start: bool = False

    def ready(self, start: int, end: int, minutes: int) -> int:
        """The first minute at which the duty that waits, and takes so many minutes, may start."""
        if self.wait is not None:
            return self.wait.begin_between(start, end, minutes).soonest
        return (start if self.from_start else end) + self.lag


@dataclass(slots=True)
class Doing:
    """Something that hands do, as planned, with the links to what it waits for.

    ``spread`` is how long it may take; None where it always takes the minutes planned. ``not_before`` is a minute with
    its reason; ``shut`` are the spans in which it may not run.
    """

    what: What
    words: str
    start: int
    end: int
    hands: tuple[str, ...]
    job: str | None = None
    visit: int | None = None
    stage: str | None = None
    spread: Spread | None = None
    not_before: tuple[int, str] | None = None
    shut: tuple[Shut, ...] = ()
    links: list[Link] = field(default_factory=list)

    @property
    def minutes(self) -> int:
        """As planned."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Times:
    """The soonest that every duty can start and end when all take the minutes planned."""

    starts: tuple[int, ...]
    ends: tuple[int, ...]


@dataclass(frozen=True)
class Network:
    """Duties in an order in which every link leads backward; the last drive is the one numbered ``home``."""

    duties: tuple[Doing, ...]
    home: int
    leaves: int

    def numbers(self, what: What) -> list[int]:
        """The duties of one sort."""
        return [i for i, duty in enumerate(self.duties) if duty.what == what]

    def work(self, job: str, stage: str) -> int | None:
        """The number of a stage's work; None when it is not in the plan."""
        return next(
            (i for i in self.numbers("work") if (self.duties[i].job, self.duties[i].stage) == (job, stage)), None
        )

    def dwells(self) -> Iterator[tuple[int, int, Wait]]:
        """Each wait that has a most, as (the work it follows or last re-wetted it, the work that ends it, the wait)."""
        for i, duty in enumerate(self.duties):
            for link in duty.links:
                if link.wait is not None and self.has_most(link.wait):
                    again = link.wait.extended_by and duty.job and self.work(duty.job, link.wait.extended_by)
                    yield (again if isinstance(again, int) else link.before), i, link.wait

    @staticmethod
    def has_most(wait: Wait) -> bool:
        """Whether a wait has a most at some time of day."""
        return wait.most is not None or any(step.most is not None for step in wait.by_hour)

    def soonest(self) -> Times:
        """Every duty as soon as it can, but for those that a wait with a most makes hold back as planned."""
        held: set[int] = set()
        while True:
            timing = self._soonest(held)
            late = {
                first
                for first, second, wait in self.dwells()
                if (latest := self._latest(timing, first, second, wait)) is not None and timing.starts[second] > latest
            } - held
            if not late:
                return timing
            held |= late

    def _latest(self, timing: Times, first: int, second: int, wait: Wait) -> int | None:
        """The last minute at which what ends a wait may start."""
        took = timing.ends[second] - timing.starts[second]
        if self.duties[first].stage == wait.extended_by:  # a re-wet, from which the most is counted
            again = timing.starts[first], timing.ends[first]
            put_on = self.work(self.duties[first].job or "", wait.after)
            begun = again if put_on is None else (timing.starts[put_on], timing.ends[put_on])
            return wait.begin_between(*begun, took, again).latest
        return wait.begin_between(timing.starts[first], timing.ends[first], took).latest

    def held(self) -> tuple[int, ...]:
        """Works that are begun no sooner than planned, lest the wait after them outrun its most."""
        timing = self.soonest()
        return tuple(first for first, _, _ in self.dwells() if timing.starts[first] == self.duties[first].start)

    def _soonest(self, held: set[int]) -> Times:
        starts: list[int] = []
        ends: list[int] = []
        for i, duty in enumerate(self.duties):
            ready = [link.ready(starts[link.before], ends[link.before], duty.minutes) for link in duty.links]
            start = max([self.leaves, *ready, *([duty.start] if i in held else [])])
            start = opened(duty, start)
            starts.append(start)
            ends.append(start + duty.minutes)
        return Times(tuple(starts), tuple(ends))


def opened(duty: Doing, start: int) -> int:
    """The first minute from ``start`` on at which a duty of the planned length may run."""
    if duty.not_before is not None:
        start = max(start, duty.not_before[0])
    for shut in duty.shut:
        if start < shut.end and start + duty.minutes > shut.start:
            start = shut.end
    return start
