"""A day and its plan laid side by side, with the few plain questions that every rule asks of them."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple, Protocol, TypeVar

from planner.day import Day, Stage, Surface, WayIn
from planner.day.names import called
from planner.day.stage_kinds import LADDER
from planner.plan.legs import legs
from planner.plan.plan import Attendance, Chore, Crossing, Plan, Stay, Visit, Work
from planner.plan.rules.below import Below, lies_below
from planner.trade.units import show_clock

FOREVER = 10**9
"""Later than every minute of a plan: until when a cure runs."""


@dataclass(frozen=True, slots=True)
class BrokenRule:
    """One breach of a rule by a plan.

    Attributes
    ----------
    rule
        Which of the thirteen rules, 1 to 13.
    text
        What is wrong, in the words of the day.
    job
        The key of the job it happens at, if at one.
    minute
        When it begins, in minutes after midnight; None for what has no time (a stage left out).
    until
        When it is over: what is over before now can no longer be changed.
    """

    rule: int
    text: str
    job: str | None = None
    minute: int | None = None
    until: int | None = None

    def __str__(self) -> str:
        return f"rule {self.rule}: {self.text}"


Breaches = Iterator[BrokenRule]


class Busy(NamedTuple):
    """Something that keeps a hand busy from one minute to another."""

    start: int
    end: int
    words: str
    job: str | None


class Spanning(Protocol):
    """Whatever runs from one minute to another."""

    @property
    def start(self) -> int:
        """When it begins."""

    @property
    def end(self) -> int:
        """When it is over."""


_ChoreOf = tuple[str, str, str, str | None, int | None]
"""What is done, and the job, ground, kit and number of the stay it is done to."""

Span = TypeVar("Span", bound=Spanning)


def overlap(start: int, end: int, other_start: int, other_end: int) -> bool:
    """Whether two spans share a minute; spans that only touch do not.

    Nor does one of no minutes with any: no work of a day takes none (that is a fault of its file), but on a day under
    way what is told to be off by now, sooner than it could have been rinsed, did so in no minute.
    """
    return max(start, other_start) < min(end, other_end)


def lasts_into(start: int, end: int, opens: int, closes: int) -> bool:
    """Whether a span shares a minute with one that bars it, or goes on over the moment of one of no minutes."""
    return overlap(start, end, opens, closes) or start < opens == closes < end


def pairs_at_once(spans: Iterable[Span]) -> Iterator[tuple[Span, Span]]:
    """Every two that share time, the one that begins first before the other."""
    in_order = sorted(spans, key=lambda span: span.start)
    for n, one in enumerate(in_order):
        for other in in_order[n + 1 :]:
            if other.start >= one.end:  # so do all that come after it
                break
            if overlap(one.start, one.end, other.start, other.end):
                yield one, other


class DayAndPlan:
    """A plan read beside its day; made only once the plan is known to be well formed.

    What is asked for by its keys again and again is looked up in a table, so that a day of hundreds of stages is
    checked in a second; that the keys are each there once is part of being well formed.
    """

    def __init__(self, day: Day, plan: Plan) -> None:
        self.day, self.plan = day, plan
        self.drives = sorted(plan.drives, key=lambda d: (d.start, d.end))
        self.visits = sorted(plan.visits, key=lambda v: (v.arrive, v.depart))
        self.riders = [key for key, hand in day.hands.items() if not hand.own_transport]
        self.walkers = [key for key, hand in day.hands.items() if hand.own_transport]
        self._below: dict[str, Below] = {}
        self._takers: dict[tuple[str, str, str], list[str]] = {}
        self._works = {(w.job, w.stage): w for w in plan.works}
        self._visits = {(v.job, v.number): v for v in plan.visits}
        self._stays = {s.key: s for s in plan.stays}
        self._followed = plan.followed
        self._works_on: defaultdict[tuple[str, str], list[Work]] = defaultdict(list)
        for work in plan.works:
            self._works_on[work.job, self.ground(work)].append(work)
        self._chores: defaultdict[_ChoreOf, list[Chore]] = defaultdict(list)
        for chore in plan.chores:
            self._chores[chore.what, chore.job, chore.ground, chore.kit, chore.stay].append(chore)

    def below(self, job: str) -> Below:
        """What lies below each surface of a job."""
        if job not in self._below:
            self._below[job] = lies_below(self.day.jobs[job])
        return self._below[job]

    def work(self, job: str, stage: str) -> Work | None:
        """Where a stage stands in the plan; None for one left out."""
        return self._works.get((job, stage))

    def works_on(self, job: str, ground: str) -> list[Work]:
        """The works on one ground."""
        return self._works_on[job, ground]

    def stage(self, work: Work) -> Stage:
        """The stage that a work does."""
        return self.day.jobs[work.job].stages[work.stage]

    def surface(self, work: Work) -> Surface:
        """The surface that a work is done on."""
        return self.day.jobs[work.job].surfaces[self.stage(work).surface]

    def ground(self, work: Work) -> str:
        """The key of the ground on which a work is done."""
        return self.day.jobs[work.job].ground_of(work.stage)

    def way_in(self, job: str, ground: str) -> WayIn:
        """How that ground is reached."""
        return self.day.jobs[job].grounds[ground].way_in

    def visit(self, job: str, number: int) -> Visit:
        """The visit of that number to that job."""
        return self._visits[job, number]

    def kit_needed(self, work: Work) -> tuple[str, ...]:
        """All kit that a work takes: its method's, and what that needs."""
        return self.day.kit_closure(self.stage(work).methods[work.method].kit)

    def stages_that_take(self, job: str, ground: str, kit: str) -> list[str]:
        """The stages on a ground of which some method takes a kit, or what needs it."""
        if (job, ground, kit) not in self._takers:
            of = self.day.jobs[job]
            ways = {s: stage.methods.values() for s, stage in of.stages.items() if of.ground_of(s) == ground}
            takers = [s for s, some in ways.items() if any(kit in self.day.kit_closure(m.kit) for m in some)]
            self._takers[job, ground, kit] = takers
        return self._takers[job, ground, kit]

    def is_up_a_ladder(self, work: Work) -> bool:
        """Whether the day has a work done from a ladder, or has one among the kit of its methods."""
        stage = self.stage(work)
        tags = set(stage.tags)
        for method in stage.methods.values():
            for key in self.day.kit_closure(method.kit):
                tags.update(self.day.kit[key].tags)
        return LADDER in tags

    def stays_of(self, work: Work) -> list[Stay]:
        """The stays that a work names, as far as they exist on its ground."""
        named = [(work.job, self.ground(work), kit, number) for kit, number in dict.fromkeys(work.stays)]
        return [self._stays[key] for key in named if key in self._stays]

    def stay(self, job: str, ground: str, kit: str, number: int) -> Stay | None:
        """The stay of that number."""
        return self._stays.get((job, ground, kit, number))

    def stays_at(self, job: str, ground: str, kit: str) -> list[Stay]:
        """All stays of a kit on a ground."""
        return [s for s in self.plan.stays if (s.job, s.ground, s.kit) == (job, ground, kit)]

    def is_followed(self, stay: Stay) -> bool:
        """Whether a stay's kit lies there, packed down, until another stay of it begins."""
        return stay.key in self._followed

    def chores_of(self, stay: Stay, what: str) -> list[Chore]:
        """The chores that set a stay's kit up, or pack it down."""
        return self._chores[what, stay.job, stay.ground, stay.kit, stay.number]

    def crossings_of(self, hand: str) -> list[Crossing]:
        """The crossings that one hand makes."""
        return [c for c in self.plan.crossings if c.hand == hand]

    def attendances_of(self, hand: str) -> list[Attendance]:
        """When a hand with their own transport is where, in order of time."""
        return sorted((a for a in self.plan.attendances if a.hand == hand), key=lambda a: a.arrive)

    def legs(self, crossing: Crossing) -> tuple[tuple[int, int], tuple[int, int]]:
        """The spans of a crossing's way in and way out."""
        return legs(self.day, crossing)

    def were_begun(self, one: int, other: int) -> bool:
        """Whether two that began in these minutes were both under way when the rest was planned: neither could wait."""
        return self.plan.since is not None and max(one, other) < self.plan.since

    def wait_spans(self, job: str, stage: str) -> list[tuple[int, int]]:
        """The spans of all waits (mere order left out) that follow a planned stage; a cure runs for ever."""
        spans = []
        first = self.work(job, stage)
        for wait in self.day.jobs[job].waits:
            if first is None or wait.after != stage or wait.kind == "order":
                continue
            second = self.work(job, wait.before) if wait.before else None
            if wait.before is None:
                spans.append((first.end, FOREVER))
            elif second is not None:
                spans.append((first.end, second.start))
        return spans

    def words(self, work: Work) -> str:
        """A work in the words of the day."""
        return f"{stage_words(self.day, work.job, work.stage)} ({span_words(work.start, work.end)})"


def are_different_sections(one: Stage, other: Stage) -> bool:
    """Whether two stages are done on sections of the same surface that have nothing in common.

    Pieces of what was begun and left are told apart by their numbers alone, as they are no equal parts.
    """
    a, b = one.part, other.part
    if a is None or b is None or one.surface != other.surface:
        return False
    begins, ends = max((a.number - 1) / a.count, (b.number - 1) / b.count), min(a.number / a.count, b.number / b.count)
    return a.number != b.number and (a.own or b.own or begins > ends - 1e-9)


def stage_words(day: Day, job: str, stage: str) -> str:
    """A stage by name and job."""
    return f"'{called(day.jobs[job].stages[stage], stage)}' at {job_words(day, job)}"


def job_words(day: Day, job: str) -> str:
    """A job by its title."""
    return f"'{called(day.jobs[job], job)}'"


def hand_words(day: Day, hand: str) -> str:
    """A hand by name."""
    return called(day.hands[hand], hand)


def kit_words(day: Day, kit: str) -> str:
    """A piece of kit by name."""
    return f"'{called(day.kit[kit], kit)}'"


def ground_words(day: Day, job: str, ground: str) -> str:
    """A ground by name and job."""
    return f"'{called(day.jobs[job].grounds[ground], ground)}' at {job_words(day, job)}"


def span_words(start: int, end: int) -> str:
    """A span of time for a person: 08:10 to 08:25."""
    return f"{show_clock(start)} to {show_clock(end)}"
