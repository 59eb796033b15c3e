"""The least help: the shortest stretch of one extra hand that makes a day fit, or saves an hour."""

import math
import threading
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from planner.day import Day, Hand
from planner.engine import plan_day
from planner.fit.errands import Errand
from planner.fit.least_work import least_work
from planner.fit.side_by_side import WORKERS, Done, SideBySide, planned
from planner.fit.trade_off import A_CROSSING_ABOVE_ALL
from planner.plan.measures import latest_finish, measure
from planner.plan.plan import Plan
from planner.trade.units import show_clock, show_minutes

HELPER = "second-hand"
"""The key of the extra hand in the changed day."""

STEP = 30
"""Minutes between the times from and to which help is thought of."""

FIRST_SHARE = 0.25
"""Part of the time that the first question may take: whether help for the whole day does it at all."""

LEAST_SECONDS = 2.0
"""What it takes to settle most stretches on a small day; a shorter share would settle none."""

Span = tuple[int, int]
"""From and to, in minutes of the day."""

Answer = Literal["yes", "no", "unknown"]

Asking = Callable[[list[Span]], Iterable[tuple[Span, Answer, Plan | None]]]
"""Asks about stretches of help; gives each with its answer, and the plan where it is yes."""


@dataclass(frozen=True)
class Stretch:
    """A stretch of help that reaches the goal, and the plan with it."""

    start: int
    end: int
    plan: Plan

    @property
    def paid(self) -> int:
        """The minutes for which the hand is booked."""
        return self.end - self.start


@dataclass(frozen=True)
class Help:
    """The least help that is home by ``goal``.

    ``stretch`` is None when not even a hand for the whole day does it. ``is_proven`` says that every shorter stretch on
    the grid is known not to do; otherwise ``unknown`` counts those that could not be settled in time. ``wages`` is what
    the help costs and ``saved`` what the minutes it saves the others are worth, by the hourly figures of the day; both
    are 0 when it has none. ``fewest_crossings`` is the least found with that help.
    """

    goal: int
    saves: int
    stretch: Stretch | None
    is_proven: bool
    unknown: int = 0
    step: int = STEP
    wages: float = 0.0
    saved: float = 0.0
    fewest_crossings: int | None = None

    @property
    def sentence(self) -> str:
        """From when to when, at what cost."""
        if self.stretch is None:
            known = "Not even a second hand for the whole day" if self.is_proven else "No second hand was found that"
            return f"{known} has the van home by {show_clock(self.goal)}."
        s = self.stretch
        if not s.paid:
            return f"No help is needed: planned anew, the van is home at {show_clock(s.plan.home)}."
        cost = f", {self.wages:.2f} in wages" if self.wages else ""
        words = f"A second hand from {show_clock(s.start)} to {show_clock(s.end)} ({show_minutes(s.paid)}{cost})"
        unknown = "1 shorter stretch is" if self.unknown == 1 else f"{self.unknown} shorter stretches are"
        proof = "no shorter stretch does" if self.is_proven else f"{unknown} not settled"
        return f"{words} has the van home at {show_clock(s.plan.home)}; {proof}."

    def rows(self) -> list[tuple[str, str]]:
        """Everything worth telling, as what and how much."""
        if self.stretch is None:
            return [("help", self.sentence)]
        s = self.stretch
        rows = [
            ("from", show_clock(s.start)),
            ("to", show_clock(s.end)),
            ("paid", show_minutes(s.paid)),
            ("home", show_clock(s.plan.home)),
            ("saves the others", show_minutes(self.saves)),
        ]
        if self.wages:
            rows += [("wages", f"{self.wages:.2f}"), ("worth of the time saved", f"{self.saved:.2f}")]
        if self.fewest_crossings is not None:
            rows.append(("fewest restricted crossings with that help", str(self.fewest_crossings)))
        return rows


def with_helper(day: Day, start: int, end: int) -> Day:
    """A day with one more hand who meets us at the job and is paid from ``start`` to ``end``."""
    cost = next(iter(day.hands.values())).cost_per_hour
    helper = Hand(name="Second hand", own_transport=True, hours=(start, end), cost_per_hour=cost)
    return day.model_copy(update={"hands": {**day.hands, HELPER: helper}})


def least_help(
    day: Day,
    plan: Plan,
    *,
    save: int | None = None,
    step: int = STEP,
    seconds: float = 60.0,
    each: float | None = None,
    count: int | None = None,
    stop: threading.Event | None = None,
    on_done: Callable[[int, int, Done], None] | None = None,
) -> Help:
    """The shortest stretch of one extra hand that reaches a goal, by exact search on a grid of times.

    More help never harms: what is reached with a stretch is reached with every longer one around it. So for each
    beginning, in turn, only the stretch one step shorter than the best so far is asked about; a plan that uses less of
    it than was offered shortens the best at once. Stretches too short for the work that is missing are not asked about.

    Parameters
    ----------
    day, plan
        The day and its plan without help.
    save
        Minutes to be home sooner than the plan; when it is left out the goal is the latest finish, or an hour sooner
        where the day fits already.
    step
        Minutes between the times of the grid.
    seconds, each
        For all of it, and for one stretch at the most.
    count, stop, on_done
        How many processes, an event that ends the search, and who hears how far it is.
    """
    goal = latest_finish(day) if save is None and plan.home > latest_finish(day) else plan.home - (save or 60)
    asked = day.model_copy(update={"finish": goal})
    search = _Search(asked, plan, step, _begin(day, step), _last(day, plan, step))
    limit = each if each is not None else max(LEAST_SECONDS, seconds / max(1, len(search.beginnings())))
    with SideBySide(count, stop) as processes:

        def ask(spans: list[Span]) -> Iterator[tuple[Span, Answer, Plan | None]]:
            answer: Answer
            longest = limit if search.best is not None else max(limit, FIRST_SHARE * seconds)
            tasks = [
                Errand(f"help {show_clock(a)}-{show_clock(b)}", reaches, (asked, a, b, longest, plan)) for a, b in spans
            ]
            for span, done in zip(spans, processes.run(tasks, seconds=longest, on_done=on_done), strict=True):
                answer, found = done.value or ("unknown", None)
                yield span, answer, found

        search.run(ask, processes.count)
        if search.best is None:
            return Help(goal, 0, None, search.unknown == 0, search.unknown, step)
        best = search.best
        dear = with_helper(asked, best.start, best.end).model_copy(update={"crossing_price": A_CROSSING_ABOVE_ALL})
        task = Errand("fewest crossings", planned, (dear, limit, None, best.plan))
        fewest = processes.run([task], seconds=limit, on_done=on_done)[0].value
    return _priced(day, plan, search, best, goal, fewest)


def _begin(day: Day, step: int) -> int:
    """The grid starts at the step at or before the day's start."""
    return day.start // step * step


def _last(day: Day, plan: Plan, step: int) -> int:
    return math.ceil(max(plan.home, latest_finish(day)) / step) * step


class _Search:
    """The search over stretches on the grid, apart from how a stretch is asked about."""

    def __init__(self, day: Day, plan: Plan, step: int, begin: int, end: int) -> None:
        self.day, self.step, self.begin, self.end = day, step, begin, end
        self.shortest = _shortest_that_could_do(day, step)
        self.best: Stretch | None = None
        self.refused: list[Span] = []
        self.unsettled: set[int] = set()

    def beginnings(self) -> list[int]:
        """Every minute of the grid at which help may begin."""
        return list(range(self.begin, self.end, self.step))

    def run(self, ask: Asking, at_once: int) -> None:
        """Find the best stretch, asking about so many at once."""
        spans = [(self.begin, self.end)]
        while spans:
            for span, answer, plan in ask(spans):
                if answer == "yes" and plan is not None:
                    found = self._used(span, plan)
                    if self.best is None or found.paid < self.best.paid:
                        self.best = found
                elif answer == "no":
                    self.refused.append(span)
                else:
                    self.unsettled.add(span[0])
            spans = [] if self.best is None else [s for s in self._shorter() if s[0] not in self.unsettled][:at_once]

    @property
    def unknown(self) -> int:
        """How many stretches better than the best could not be settled."""
        return len(self.unsettled) if self.best is None else len(self._shorter())

    def _shorter(self) -> list[Span]:
        """Of each beginning the longest stretch that would be better than the best, those left out that cannot do."""
        assert self.best is not None
        length = self.best.paid - self.step
        if length < self.shortest:
            return []
        spans = [(a, a + length) for a in self.beginnings() if a + length <= self.end]
        return [(a, b) for a, b in spans if not any(c <= a and b <= d for c, d in self.refused)]

    def _used(self, span: Span, plan: Plan) -> Stretch:
        """The part of a stretch that the plan really uses, out to the grid."""
        there = [a for a in plan.attendances if a.hand == HELPER and a.leave > a.arrive]
        if not there:
            return Stretch(span[0], span[0], plan)
        first, last = min(a.arrive for a in there), max(a.leave for a in there)
        start = max(span[0], self.begin + (first - self.begin) // self.step * self.step)
        return Stretch(start, min(span[1], self.begin + -(-(last - self.begin) // self.step) * self.step), plan)


def _shortest_that_could_do(day: Day, step: int) -> int:
    """No shorter stretch brings enough hands' minutes for the least work there is; on the grid."""
    least = least_work(day)
    there = sum(latest_finish(day) - day.start - least.driving for hand in day.hands)
    return max(step, -(-(least.by_hands - there) // step) * step)


def reaches(day: Day, start: int, end: int, seconds: float, previous: Plan | None = None) -> tuple[Answer, Plan | None]:
    """Whether a day fits with a helper there from ``start`` to ``end``; stops as soon as that is known.

    Being home sooner than in time does not matter here, so the first plan that is in time is the answer. The plan
    without help still holds for the day with help, and is where the search begins.
    """
    helped = with_helper(day, start, end)
    enough = threading.Event()

    def hear(plan: Plan) -> None:
        if plan.home <= latest_finish(helped):
            enough.set()

    plan = plan_day(helped, seconds=seconds, workers=WORKERS, previous=previous, on_better=hear, stop=enough).plan
    if plan is None or plan.proof is None:
        return "unknown", None
    if plan.home <= latest_finish(helped):
        return "yes", plan
    return ("no" if plan.proof.overrun_bound > 0 else "unknown"), plan


def _priced(day: Day, before: Plan, search: _Search, best: Stretch, goal: int, fewest: Plan | None) -> Help:
    helped = with_helper(day, best.start, best.end)
    saves = max(0, before.home - best.plan.home)
    per_hour = sum(hand.cost_per_hour for hand in day.hands.values())
    crossings = min(measure(helped, plan).restricted_crossings for plan in (best.plan, fewest) if plan is not None)
    return Help(
        goal,
        saves,
        best,
        search.unknown == 0,
        search.unknown,
        search.step,
        wages=best.paid / 60 * helped.hands[HELPER].cost_per_hour,
        saved=saves / 60 * per_hour,
        fewest_crossings=crossings,
    )
