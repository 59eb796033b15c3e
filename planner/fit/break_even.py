"""From what area on a method pays, by planning the job again with it and without it at several areas."""

import math
import threading
from dataclasses import dataclass

from planner.day import Day
from planner.day.changes import with_stage
from planner.day.names import called
from planner.fit.changes import with_methods
from planner.fit.errands import Errand
from planner.fit.side_by_side import SideBySide, planned
from planner.plan.measures import measure
from planner.plan.plan import Plan


@dataclass(frozen=True, slots=True)
class Weighed:
    """At an area (or run): the value of the best plan found with the method alone, and with all others but it.

    A value is minutes home and the price of the restricted crossings. None where no plan was found.
    """

    measure: float
    with_it: int | None
    without_it: int | None

    @property
    def pays(self) -> bool:
        """Whether the plan with the method is better."""
        return self.with_it is not None and (self.without_it is None or self.with_it < self.without_it)


@dataclass(frozen=True)
class BreakEven:
    """``least`` is the smallest measure found at which the method pays; ``below`` the largest found at which not.

    ``least`` is None when it pays nowhere in the range, ``below`` None when it pays everywhere in it.
    """

    method: str
    stage: str
    unit: str
    least: float | None
    below: float | None
    weighed: tuple[Weighed, ...]

    @property
    def sentence(self) -> str:
        """From what measure on the method pays."""
        words = f"For '{self.stage}', {self.method}"
        if self.least is None:
            return f"{words} does not pay up to {self.weighed[-1].measure:g} {self.unit}."
        if self.below is None:
            return f"{words} pays from {self.least:g} {self.unit} on, and perhaps below."
        return f"{words} pays from about {self.least:g} {self.unit} on, and not at {self.below:g} {self.unit}."

    def rows(self) -> list[tuple[str, str, str]]:
        """Each measure planned: how much, the value with the method, the value without it."""

        def words(value: int | None) -> str:
            return "none" if value is None else str(value)

        return [(f"{w.measure:g} {self.unit}", words(w.with_it), words(w.without_it)) for w in self.weighed]


def break_even(
    day: Day,
    job: str,
    stage: str,
    method: str,
    *,
    low: float = 2.0,
    high: float = 100.0,
    step: float = 2.0,
    seconds: float = 60.0,
    count: int | None = None,
    stop: threading.Event | None = None,
) -> BreakEven:
    """Halve the range of areas until the smallest at which a method pays on this job is known to a step.

    The measure is the area of the stage, or its run where the method goes by that; the rest of the day stays as it is.
    A quicker method that takes more fetching gains with every square metre, so there is one point from which it pays.

    Parameters
    ----------
    day, job, stage, method
        The method in question, among at least one other that the stage may be done by.
    low, high, step
        The range, and how finely it is searched; in m2, or m for a run.
    seconds
        For all of it.
    count, stop
        How many processes at once, and an event that ends it.

    Raises
    ------
    KeyError
        When there is no such job, stage or method.
    ValueError
        When the stage has no other method, or the range is none.
    """
    work = day.jobs[job].stages[stage]
    way = work.methods[method]
    others = [m for m in work.methods if m != method]
    if not others:
        raise ValueError(f"stage '{stage}' has no other method than '{method}'; give it one to compare with")
    if not 0 < low < high or step <= 0:
        raise ValueError(f"from {low:g} to {high:g} by {step:g} is no range; it must rise from above 0")
    rates = [m.rate for m in work.methods.values() if m.rate is not None]
    unit = way.rate.unit if way.rate is not None else (rates[0].unit if rates else "m2")
    field = "area" if unit == "m2" else "run"
    steps = math.ceil((high - low) / step)
    each = seconds / (2 + math.ceil(math.log2(max(2, steps))))
    found: dict[int, Weighed] = {}
    with SideBySide(count, stop) as processes:

        def weigh(number: int) -> Weighed:
            measured = min(high, low + number * step)
            changed = with_stage(day, job, stage, {field: measured})
            sides = [with_methods(changed, job, stage, names) for names in ([method], others)]
            share = each * min(1.0, processes.count / 2)
            tasks = [Errand(f"{measured:g} {unit}", planned, (side, share)) for side in sides]
            values = [
                _value(side, done.value) for side, done in zip(sides, processes.run(tasks, seconds=share), strict=True)
            ]
            found[number] = Weighed(measured, *values)
            return found[number]

        first, last = 0, steps
        if not weigh(last).pays:
            first = last + 1
        elif weigh(first).pays:
            last = first
        while last - first > 1:
            middle = (first + last) // 2
            if weigh(middle).pays:
                last = middle
            else:
                first = middle
    weighed = tuple(found[n] for n in sorted(found))
    paying, not_paying = [w.measure for w in weighed if w.pays], [w.measure for w in weighed if not w.pays]
    least, most = min(paying, default=None), max(not_paying, default=None)
    return BreakEven(called(way, method), called(work, stage), unit, least, most, weighed)


def _value(day: Day, plan: Plan | None) -> int | None:
    return None if plan is None else measure(day, plan).value
