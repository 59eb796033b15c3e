"""The critical chain: what carries the finish, stage by stage, from home back to the start of the day."""

from dataclasses import dataclass

from planner.day import Day
from planner.fit.linking import network_of
from planner.fit.network import Doing, Network, Times, What
from planner.plan.plan import Plan
from planner.plan.rules.day_and_plan import hand_words
from planner.trade.units import show_clock, show_minutes

SORTS: dict[What, str] = {
    "drive": "driving",
    "work": "hands-on work",
    "break": "breaks",
    "in": "carrying",
    "out": "carrying",
    "set up": "setting up and packing down",
    "pack down": "setting up and packing down",
    "lay": "floor protection",
    "lift": "floor protection",
}


@dataclass(frozen=True, slots=True)
class ChainStep:
    """One duty of the chain: nothing after it could be sooner unless it were.

    ``waited`` are the minutes between the end of the step before and its start; ``why`` says what held it until then.
    """

    start: int
    end: int
    sort: str
    words: str
    hands: str
    why: str
    waited: int

    def row(self) -> tuple[str, str, str, str]:
        """Times, what, who, and what it waits for."""
        wait = f" ({show_minutes(self.waited)})" if self.waited > 0 else ""
        return f"{show_clock(self.start)}-{show_clock(self.end)}", self.words, self.hands, self.why + wait


@dataclass(frozen=True)
class Chain:
    """The binding chain in order of time; ``slack`` is how much later the plan is home than its chain makes it."""

    steps: tuple[ChainStep, ...]
    slack: int = 0

    @property
    def home(self) -> int:
        """When its last step ends."""
        return self.steps[-1].end

    def minutes(self) -> dict[str, int]:
        """How long the chain spends with each sort of duty, and waiting, the most first."""
        spent: dict[str, int] = {}
        for step in self.steps:
            spent[step.sort] = spent.get(step.sort, 0) + step.end - step.start
            spent["waiting"] = spent.get("waiting", 0) + step.waited
        return dict(sorted(((k, v) for k, v in spent.items() if v > 0), key=lambda x: -x[1]))

    def waits(self) -> tuple[str, ...]:
        """What the chain waits for where no hand is busy, each once."""
        waited: dict[str, int] = {}
        for step in self.steps:
            waited[step.why] = waited.get(step.why, 0) + step.waited
        return tuple(f"{why} ({show_minutes(minutes)})" for why, minutes in waited.items() if minutes > 0)

    @property
    def sentence(self) -> str:
        """What carries the finish, in one sentence."""
        parts = ", ".join(f"{show_minutes(v)} {k}" for k, v in self.minutes().items())
        waits = f" It waits for: {'; '.join(self.waits())}." if self.waits() else ""
        gaps = f" With its gaps closed the plan is home {show_minutes(self.slack)} sooner." if self.slack else ""
        return f"What carries the finish: {parts}.{waits}{gaps}"

    def rows(self) -> list[tuple[str, str, str, str]]:
        """Each step as times, what, who, and what it waits for."""
        return [step.row() for step in self.steps]


def chain(day: Day, plan: Plan) -> Chain:
    """The critical chain of a plan.

    Walked back from home over a replay of the plan in which each duty comes as soon as it can. Where two things bind a
    start at once, either would do; the hand's own duty before is named first.
    """
    network = network_of(day, plan)
    timing = network.soonest()
    steps, at = [], network.home
    while True:
        before, why = _binding(network, timing, at)
        duty, start = network.duties[at], timing.starts[at]
        waited = 0 if before is None else max(0, start - timing.ends[before])
        hands = " and ".join(hand_words(day, hand) for hand in duty.hands)
        steps.append(ChainStep(start, timing.ends[at], SORTS[duty.what], duty.words, hands, why, waited))
        if before is None:
            break
        at = before
    steps.reverse()
    return Chain(tuple(steps), plan.home - timing.ends[network.home])


def _binding(network: Network, timing: Times, at: int) -> tuple[int | None, str]:
    """The duty that a duty waits for, and why; None where it is a window, a gate or the start of the day.

    A gate still has a duty before it in the chain where one is linked, so that the chain reaches the start of the day.
    """
    duty, start = network.duties[at], timing.starts[at]
    ready = {
        i: link.ready(timing.starts[link.before], timing.ends[link.before], duty.minutes)
        for i, link in enumerate(duty.links)
    }
    for i, link in enumerate(duty.links):
        if ready[i] == start:
            return link.before, link.why
    latest = max(ready, key=lambda i: ready[i], default=None)
    before = None if latest is None else duty.links[latest].before
    return before, _gate(duty, start) or ("the day starts" if before is None else "it is held back as planned")


def _gate(duty: Doing, start: int) -> str:
    """The window or gate that opens at the start of a duty; empty when none does."""
    if duty.not_before is not None and duty.not_before[0] == start:
        return duty.not_before[1]
    return next((f"{shut.why} until {show_clock(shut.end)}" for shut in duty.shut if shut.end == start), "")
