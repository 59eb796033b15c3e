"""The verdict: fits, tight or does not fit, by how much, and why."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from planner.day import Day
from planner.fit.chain import chain
from planner.fit.least_work import least_work
from planner.fit.risk import play_out
from planner.plan.measures import latest_finish
from planner.plan.plan import Plan
from planner.plan.remarks import remarks
from planner.trade.units import show_clock, show_minutes

if TYPE_CHECKING:
    from planner.fit.risk import Risk

LATE_TOO_OFTEN = 0.2
"""A day that fits on likely times is tight when it is late more often than this: one day out of five."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """A word, the minutes to spare (below 0: missing), one sentence, and the reason behind it (may be empty)."""

    word: Literal["fits", "tight", "does not fit"]
    spare: int
    sentence: str
    reason: str = ""


def verdict(day: Day, plan: Plan, risk: "Risk | None" = None) -> Verdict:
    """Whether a planned day fits; where it might be tight and no ``risk`` is given, its plan is played out here."""
    spare = latest_finish(day) - plan.home
    besides = remarks(day, plan)
    if spare < 0:
        words = f"Does not fit by {show_minutes(-spare)}{why_not(day, plan)}.{besides}"
        return Verdict("does not fit", spare, words, _carries(day, plan))
    if risk is None and _may_be_late(day, plan, spare):
        risk = play_out(day, plan)
    if risk is not None and risk.late > LATE_TOO_OFTEN:
        often = f"late in {100 * risk.late:.0f} days of 100"
        words = f"Tight: {show_minutes(spare)} spare on likely times, but {often}; 80 % of days end by"
        return Verdict("tight", spare, f"{words} {show_clock(risk.home_80)}.{besides}", _carries(day, plan))
    return Verdict("fits", spare, f"Fits with {show_minutes(spare)} spare.{besides}", _carries(day, plan))


def _may_be_late(day: Day, plan: Plan, spare: int) -> bool:
    """Whether the slowest of all days could be late; a gate that shuts can make it later than its stages are slow."""
    spreads = [day.jobs[w.job].minutes(w.stage, w.method) for w in plan.works]
    return sum(spread.high - spread.likely for spread in spreads) > spare / 2


def _carries(day: Day, plan: Plan) -> str:
    return chain(day, plan).sentence


def why_not(day: Day, plan: Plan) -> str:
    """Whether another plan could fit, as far as that is proven: the end of a sentence on how much it misses."""
    hands = "one hand" if len(day.hands) == 1 else f"{len(day.hands)} hands"
    least, latest = least_work(day), latest_finish(day)
    if day.start + least.minutes > latest:
        return f", and cannot for {hands}: {least.words}, and there are {show_minutes(latest - day.start)}"
    proof = plan.proof
    if proof is None or proof.overrun_bound <= 0:
        return ", as far as found: that no plan would is not proven"
    if proof.overrun_bound >= proof.overrun:
        return f", and no plan for {hands} is home sooner (proven)"
    return f", and cannot for {hands}: every plan misses by at least {show_minutes(proof.overrun_bound)} (proven)"
