"""The least help: the shortest stretch of one extra hand that makes a day fit, or saves an hour."""

import math
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field

from planner.day import Day, Hand
from planner.engine import Answer, Attending, fits_in_time
from planner.fit.errands import Errand
from planner.fit.least_work import least_work
from planner.fit.side_by_side import Done, SideBySide, planned, planned_near
from planner.fit.trade_off import A_CROSSING_ABOVE_ALL
from planner.plan.measures import latest_finish, measure
from planner.plan.plan import Plan
from planner.trade.units import show_clock, show_minutes

HELPER = "second-hand"
"""The key of the extra hand in the changed day."""

STEP = 30
"""Minutes between the times from and to which help is thought of."""

FIRST_SHARE = 0.4
"""Part of the time in which a short stretch is looked for, before any is proven too short."""

LEAST_SECONDS = 2.0
"""What it takes to settle most questions on a small day; a shorter share would settle none."""

ROOM_FOR = ((1,), (4,))
"""Crossings beyond those needed, of which each process thinks while a short stretch is looked for."""

Span = tuple[int, int]
"""From and to, in minutes of the day."""

Beginnings = tuple[int, int]
"""The first and the last of some minutes of the grid at which help may begin."""

Asking = Callable[[list[Beginnings], int], Iterable[tuple[Beginnings, Answer, Plan | None]]]
"""Asks whether help of so many minutes does, begun between two times; gives each answer, with the plan of a yes."""


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
    the grid is known not to do, whenever it begins; otherwise that is known of those below ``least``. ``wages`` is what
    the help costs and ``saved`` what the minutes it saves the others are worth, by the hourly figures of the day; both
    are 0 when it has none. ``fewest_crossings`` is the least found with that help.
    """

    goal: int
    saves: int
    stretch: Stretch | None
    is_proven: bool
    least: int = 0
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
        proof = "no shorter stretch does" if self.is_proven else "no shorter one was found"
        if not self.is_proven and self.least > self.step:
            proof = f"less than {show_minutes(self.least)} does not, and what lies between is not settled"
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
    count: int | None = None,
    stop: threading.Event | None = None,
    on_done: Callable[[int, int, Done], None] | None = None,
) -> Help:
    """The shortest stretch of one extra hand that reaches a goal, by exact search on a grid of times.

    Whether a day fits at all is asked, no more. First the shortest stretch that a plan can be found for, whenever it
    begins. Then whether one step less does: of all beginnings at once, and where that is not settled in time, of halves
    of them, down to each alone. A plan found so is the best from there on.

    Parameters
    ----------
    day, plan
        The day and its plan without help.
    save
        Minutes to be home sooner than the plan; when it is left out the goal is the latest finish, or an hour sooner
        where the day fits already.
    step
        Minutes between the times of the grid.
    seconds
        For all of it.
    count, stop, on_done
        How many processes, an event that ends the search, and who hears how far it is.
    """
    goal = goal_of(day, plan, save)
    asked = day.model_copy(update={"finish": goal})
    search = _Search(asked, step, _begin(day, step), last_on_grid(day, plan, step))
    until = time.monotonic() + seconds
    told: list[Done] = []

    def hear(_: int, __: int, done: Done) -> None:
        told.append(done)
        if on_done is not None:
            on_done(len(told), len(told) + 1, done)

    with SideBySide(count, stop) as processes:

        def run(errands: list[Errand], longest: float) -> list[Done]:
            return processes.run(errands, seconds=longest, on_done=hear)

        def ask(beginnings: list[Beginnings], paid: int) -> Iterator[tuple[Beginnings, Answer, Plan | None]]:
            longest = max(LEAST_SECONDS, (until - time.monotonic()) / 2)
            helped = [(first, last + paid, paid // step) for first, last in beginnings]
            errands = [
                Errand(f"{show_minutes(paid)} from {show_clock(a)} to {show_clock(b)}", reaches,
                       (asked, a, b, longest, plan, step, most))
                for a, b, most in helped
            ]  # fmt: skip
            for which, done in zip(beginnings, run(errands, longest), strict=True):
                yield which, *_answered(done)

        first = FIRST_SHARE * seconds
        shortest = search.shortest // step
        looking = [
            Errand("a short stretch", sought, (asked, search.begin, search.end, first, plan, step, shortest, room))
            for room in ROOM_FOR
        ]
        search.hear_of_all([_answered(done) for done in run(looking, first)])
        if search.best is None and not search.is_impossible:
            longest = max(LEAST_SECONDS, (until - time.monotonic()) / 2)
            search.hear_of_one(run([search.near(plan, longest)], longest)[0].value)
        search.run(ask, until)
        if search.best is None:
            return Help(goal, 0, None, search.is_impossible, step=step)
        fewest = None
        if any(g.way_in.restricted for job in day.jobs.values() for g in job.grounds.values()):
            best, left = search.best, max(LEAST_SECONDS, until - time.monotonic())
            dear = with_helper(asked, best.start, best.end).model_copy(update={"crossing_price": A_CROSSING_ABOVE_ALL})
            fewest = run([Errand("fewest crossings", planned, (dear, min(left, 4.0), None, best.plan))], left)[0].value
    proven = search.best.paid <= search.least
    return priced(day, plan, search.best, goal, is_proven=proven, least=search.least, step=step, fewest=fewest)


def goal_of(day: Day, plan: Plan, save: int | None) -> int:
    """The minute to be home by: so many sooner than a plan, or else the latest finish, or an hour where it fits."""
    finish = latest_finish(day)
    return finish if save is None and plan.home > finish else plan.home - (save or 60)


def used(span: Span, plan: Plan, step: int) -> Stretch:
    """The part of a stretch of help that a plan really uses, out to the grid; none of it where nobody comes."""
    there = [a for a in plan.attendances if a.hand == HELPER and a.leave > a.arrive]
    if not there:
        return Stretch(span[0], span[0], plan)
    start = min(a.arrive for a in there) // step * step
    end = math.ceil(max(a.leave for a in there) / step) * step
    return Stretch(max(span[0], start), min(span[1], end), plan)


def _answered(done: Done) -> tuple[Answer, Plan | None]:
    """What an errand answered; one that failed settles nothing."""
    answer: tuple[Answer, Plan | None] = done.value or ("unknown", None)
    return answer


def _begin(day: Day, step: int) -> int:
    """The grid starts at the step at or before the day's start."""
    return day.start // step * step


def last_on_grid(day: Day, plan: Plan, step: int) -> int:
    """The grid ends at the step at or after the latest finish, or the hour of coming home where that is later."""
    return math.ceil(max(plan.home, latest_finish(day)) / step) * step


@dataclass
class _Search:
    """The search over stretches on the grid, apart from how it is asked about them.

    ``least`` is the shortest that is not known to be too short, whenever it begins.
    """

    day: Day
    step: int
    begin: int
    end: int
    best: Stretch | None = None
    is_impossible: bool = False
    shortest: int = field(init=False)
    least: int = field(init=False)

    def __post_init__(self) -> None:
        self.shortest = self.least = _shortest_that_could_do(self.day, self.step)

    def hear_of_all(self, answers: list[tuple[Answer, Plan | None]]) -> None:
        """What became of help for the whole day."""
        self.is_impossible = any(answer == "no" for answer, _ in answers)
        for _, plan in answers:
            self._hear_of(plan, (self.begin, self.end))

    def near(self, plan: Plan, seconds: float) -> Errand:
        """To plan the day with help for all of it from the plan without, as a remedy is."""
        helped = with_helper(self.day, self.begin, self.end)
        return Errand("the whole day", planned_near, (helped, seconds, plan))

    def hear_of_one(self, plan: Plan | None) -> None:
        """What became of that, which may be late."""
        if plan is not None and plan.home <= self.day.finish:
            self._hear_of(plan, (self.begin, self.end))

    def run(self, ask: Asking, until: float) -> None:
        """Settle whether shorter stretches do, until none does, none is settled any more, or the time is over."""
        open_at = self.end
        while self.best is not None and self.best.paid > self.least and time.monotonic() < until:
            longest = min(self.best.paid, open_at) - self.step
            paid = longest if open_at > self.best.paid else (self.least + longest) // 2 // self.step * self.step
            paid = max(paid, self.least)
            if paid >= open_at:
                return
            settled = self._settle(ask, paid, until)
            if settled == "no":
                self.least = paid + self.step
            elif settled == "unknown":
                open_at = paid

    def _settle(self, ask: Asking, paid: int, until: float) -> Answer:
        """Whether some stretch of so many minutes does."""
        waiting, unsettled = [(self.begin, self.end - paid)], False
        while waiting and time.monotonic() < until:
            asked, waiting = waiting[:2], waiting[2:]
            for (first, last), answer, plan in ask(asked, paid):
                if answer == "yes" and plan is not None:
                    self._hear_of(plan, (first, last + paid))
                    if self.best is not None and self.best.paid <= paid:
                        return "yes"
                if answer == "no":
                    continue
                if first == last:
                    unsettled = True
                else:
                    middle = first + (last - first) // 2 // self.step * self.step
                    waiting += [(first, middle), (middle + self.step, last)]
        return "unknown" if unsettled or waiting else "no"

    def _hear_of(self, plan: Plan | None, span: Span) -> None:
        """A plan with help, of which the part that it really uses counts."""
        if plan is not None:
            found = used(span, plan, self.step)
            if self.best is None or found.paid < self.best.paid:
                self.best = found


def _shortest_that_could_do(day: Day, step: int) -> int:
    """No shorter stretch brings enough hands' minutes for the least work there is; on the grid."""
    least = least_work(day)
    there = sum(latest_finish(day) - day.start - least.driving for hand in day.hands)
    return max(step, -(-(least.by_hands - there) // step) * step)


def reaches(
    day: Day,
    start: int,
    end: int,
    seconds: float,
    previous: Plan | None = None,
    step: int = STEP,
    most: int | None = None,
) -> tuple[Answer, Plan | None]:
    """Whether a day fits with a helper there from ``start`` to ``end``, for no more than ``most`` steps of the time."""
    attending = None if most is None else Attending(HELPER, start, step, most)
    helped = with_helper(day, start, end)
    return fits_in_time(helped, seconds=seconds, workers=1, previous=previous, attending=attending)


def sought(
    day: Day, start: int, end: int, seconds: float, previous: Plan, step: int, fewest: int, spares: tuple[int, ...]
) -> tuple[Answer, Plan | None]:
    """A plan with a helper who is there for as few steps as are found between ``start`` and ``end``."""
    attending = Attending(HELPER, start, step, (end - start) // step, sought=fewest)
    helped = with_helper(day, start, end)
    return fits_in_time(
        helped, seconds=seconds, workers=1, previous=previous, attending=attending, spares=spares
    )


def priced(
    day: Day,
    before: Plan,
    best: Stretch,
    goal: int,
    *,
    is_proven: bool = False,
    least: int = 0,
    step: int = STEP,
    fewest: Plan | None = None,
) -> Help:
    """The help of one stretch, with what it costs and saves; ``before`` is the plan without."""
    helped = with_helper(day, best.start, best.end)
    saves = max(0, before.home - best.plan.home)
    per_hour = sum(hand.cost_per_hour for hand in day.hands.values())
    crossings = min(measure(helped, plan).restricted_crossings for plan in (best.plan, fewest) if plan is not None)
    return Help(
        goal,
        saves,
        best,
        is_proven,
        least,
        step,
        wages=best.paid / 60 * helped.hands[HELPER].cost_per_hour,
        saved=saves / 60 * per_hour,
        fewest_crossings=crossings,
    )
