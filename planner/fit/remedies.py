"""Remedies: every change that would make a day fit or go easier, each planned again and ranked by what it gains."""

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from planner.day import Day
from planner.fit.errands import Errand
from planner.fit.remedy_days import Remedy, remedies_of
from planner.fit.side_by_side import Done, SideBySide, planned_near, share
from planner.plan.measures import latest_finish, measure
from planner.plan.plan import Plan
from planner.trade.units import show_clock, show_minutes

TROUBLE_MONEY = 5.0
"""What one point of trouble weighs, in the money of the day, when gains are ranked: common practice, no source."""

LEAST_SECONDS = 4.0
"""Each remedy gets so long, if it wants it: on a slow machine less shows no gain where there is one."""


@dataclass(frozen=True)
class Tried:
    """A remedy planned, against the plan without it.

    ``minutes`` is how much sooner the van is home and ``crossings`` how many fewer restricted crossings there are
    (below 0: later, more); ``gain`` is both together, by the day's price of a crossing. ``plan`` is None, with the
    reason in ``fault``, when none came of it.
    """

    remedy: Remedy
    plan: Plan | None
    minutes: int = 0
    crossings: int = 0
    gain: int = 0
    fits: bool = False
    fault: str = ""

    @property
    def helps(self) -> bool:
        """Whether the day is better with it, home and crossings taken together."""
        return self.plan is not None and self.gain > 0

    @property
    def worth(self) -> float:
        """Minutes gained for each unit of trouble and money."""
        return self.gain / (self.remedy.trouble + self.remedy.money / TROUBLE_MONEY)

    @property
    def sentence(self) -> str:
        """What comes of it."""
        words = self.remedy.words[:1].upper() + self.remedy.words[1:]
        if self.plan is None:
            return f"{words}: not known; {self.fault}."
        if not self.helps:
            return f"{words}: does not help{self._found() or f' (home {self._home()}{self._crossings()})'}."
        gained = f"home {self._home()}, at {show_clock(self.plan.home)}"
        cost = f", for {self.remedy.money:.2f}" if self.remedy.money else ""
        return f"{words}: {gained}{self._crossings()}{cost}{'; the day then fits' if self.fits else ''}."

    def _home(self) -> str:
        if not self.minutes:
            return "no sooner"
        return f"{show_minutes(abs(self.minutes))} {'sooner' if self.minutes > 0 else 'later'}"

    def _found(self) -> str:
        """How far that is sure, where it is not proven."""
        proof = self.plan.proof if self.plan is not None else None
        return "" if proof is not None and proof.is_best else " as far as was found in the time given"

    def _crossings(self) -> str:
        if not self.crossings:
            return ""
        word = "crossing" if abs(self.crossings) == 1 else "crossings"
        return f", {abs(self.crossings)} restricted {word} {'fewer' if self.crossings > 0 else 'more'}"

    def row(self) -> tuple[str, str, str, str, str]:
        """What, minutes gained, crossings saved, money, and whether the day then fits."""
        if self.plan is None:
            return self.remedy.words, "?", "?", f"{self.remedy.money:.2f}", self.fault
        ending = ("fits" if self.fits else "does not fit") if self.helps else f"does not help{self._found()}"
        return self.remedy.words, str(self.minutes), str(self.crossings), f"{self.remedy.money:.2f}", ending


@dataclass(frozen=True)
class Remedies:
    """All remedies tried, the most worth first, then those that do not help, then those of which nothing is known."""

    tried: tuple[Tried, ...]

    @property
    def sentence(self) -> str:
        """The best of them, and the least troublesome that makes the day fit."""
        helping = [t for t in self.tried if t.helps]
        if not helping:
            return "Nothing that was tried helps."
        fitting = [t for t in helping if t.fits]
        if not fitting:
            return f"No one change makes the day fit; the most worth: {helping[0].sentence}"
        return f"The most worth of those that make the day fit: {fitting[0].sentence}"

    def rows(self) -> list[tuple[str, str, str, str, str]]:
        """Each remedy as what, minutes gained, crossings saved, money, and whether the day then fits."""
        return [t.row() for t in self.tried]


def try_remedies(
    day: Day,
    plan: Plan,
    *,
    remedies: Sequence[Remedy] | None = None,
    seconds: float = 60.0,
    count: int | None = None,
    stop: threading.Event | None = None,
    on_done: Callable[[int, int, Done], None] | None = None,
) -> Remedies:
    """Plan the day again with each remedy, side by side, and rank them.

    Parameters
    ----------
    day, plan
        The day and its plan as it is.
    remedies
        Which to try; all that the day offers when left out.
    seconds
        For all of them together; each is cut off at its share.
    count, stop, on_done
        How many processes, an event that ends it, and who hears how far it is.
    """
    asked = list(remedies_of(day, plan) if remedies is None else remedies)
    with SideBySide(count, stop) as processes:
        each = share(seconds, len(asked), processes.count, least=LEAST_SECONDS)
        tasks = [Errand(remedy.words, planned_near, (remedy.day, each, remedy.start or plan)) for remedy in asked]
        done = processes.run(tasks, seconds=each, on_done=on_done)
    tried = [_weighed(day, plan, remedy, found) for remedy, found in zip(asked, done, strict=True)]
    return Remedies(tuple(sorted(tried, key=_rank)))


def _weighed(day: Day, before: Plan, remedy: Remedy, done: Done) -> Tried:
    plan: Plan | None = done.value
    if plan is None:
        return Tried(remedy, None, fault=done.fault or "no plan was found in the time given")
    crossings = measure(day, before).restricted_crossings - measure(remedy.day, plan).restricted_crossings
    minutes = before.home - plan.home
    gain = minutes + day.crossing_price * crossings
    return Tried(remedy, plan, minutes, crossings, gain, plan.home <= latest_finish(day))


def _rank(tried: Tried) -> tuple[bool, bool, float, int]:
    return tried.plan is None, not tried.helps, -tried.worth, -tried.crossings
