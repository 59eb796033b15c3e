"""The verdict: fits, tight or does not fit, by how much, and why."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from planner.day import Day
from planner.day.names import Names
from planner.fit.chain import chain
from planner.fit.least_work import least_work
from planner.fit.risk import play_out
from planner.plan.measures import by_whose_hours, latest_finish
from planner.plan.plan import Plan
from planner.plan.unknown_light import in_the_dark
from planner.plan.unknown_weather import leaning
from planner.plan.waits import in_the_last_minute
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
    unknown = by_whose_hours(day) + in_the_last_minute(day, plan) + _kept_surely(day, plan)
    unknown += _unknown(day, plan) + _dark(day, plan)
    if spare < 0:
        words = f"Does not fit by {show_minutes(-spare)}{why_not(day, plan)}.{unknown}"
        return Verdict("does not fit", spare, words, _carries(day, plan))
    if risk is None and _may_be_late(day, plan, spare):
        risk = play_out(day, plan)
    if risk is not None and risk.late > LATE_TOO_OFTEN:
        often = f"late in {100 * risk.late:.0f} days of 100"
        words = f"Tight: {show_minutes(spare)} spare on likely times, but {often}; 80 % of days end by"
        return Verdict("tight", spare, f"{words} {show_clock(risk.home_80)}.{unknown}", _carries(day, plan))
    return Verdict("fits", spare, f"Fits with {show_minutes(spare)} spare.{unknown}", _carries(day, plan))


def _kept_surely(day: Day, plan: Plan) -> str:
    """On a day that says how sure it is to be: in how many days it keeps what it promises, and what that costs."""
    if day.sure is None or plan.since is not None:
        return ""
    kept, proof = f" Promises, windows and waits are kept in {day.how_sure}", plan.proof
    if proof is None or proof.unsure_minutes is None or proof.unsure_crossings is None:
        return f"{kept}."
    later, more = proof.minutes - proof.unsure_minutes, proof.crossings - proof.unsure_crossings
    costs = [f"{show_minutes(abs(later))} {'later' if later > 0 else 'sooner'} home"] if later else []
    if more:
        words = "restricted crossing" if abs(more) == 1 else "restricted crossings"
        costs.append(f"{abs(more)} {words} {'more' if more > 0 else 'fewer'}")
    return f"{kept}{', for ' + ' and '.join(costs) if costs else ', at no cost'}."


def _unknown(day: Day, plan: Plan) -> str:
    """That the plan leans on hours past the end of its forecast, and with what; empty where it does not."""
    found = leaning(day, plan)
    if not found:
        return ""
    told = _some(day, [(one.job, one.stage) for one in found])
    return f" The weather is not known after {show_clock(found[0].known_until)}: it is taken to hold for {told}."


def _dark(day: Day, plan: Plan) -> str:
    """That work outside may lie in the dark, where the plan does not know; empty where it does or is light."""
    found = in_the_dark(day, plan)
    if found is None:
        return ""
    until, since = show_clock(found.dawn), show_clock(found.dusk)
    town = day.time_zone.rpartition("/")[2].replace("_", " ")
    return (
        f" How far north it is, is not known (no place has its position, at = [53.1, -2.0]): by the sun over {town} it"
        f" is dark until {until} and from {since}, and so for {_some(day, found.stages)}."
    )


def _some(day: Day, stages: Sequence[tuple[str, str]]) -> str:
    """The names of the first three stages, and how many more there are."""
    names = list(dict.fromkeys(f"'{Names(day).stage(job, stage)}'" for job, stage in stages))
    return ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")


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
