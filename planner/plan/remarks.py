"""What is said of a plan beside whether it fits: by whose hours it goes, how sure it is, what of it nobody knows."""

from collections.abc import Sequence

from planner.day import Day
from planner.day.names import Names
from planner.plan.measures import by_whose_hours
from planner.plan.plan import Plan
from planner.plan.unknown_light import in_the_dark
from planner.plan.unknown_weather import leaning
from planner.plan.waits import in_the_last_minute
from planner.trade.units import show_clock, show_minutes


def remarks(day: Day, plan: Plan) -> str:
    """Sentences, each with a blank before it; the same in a terminal, on paper and in the window."""
    known = by_whose_hours(day) + in_the_last_minute(day, plan) + _kept_surely(day, plan)
    return known + _unknown(day, plan) + _dark(day, plan)


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
