"""A day that says how sure it is to be is planned so, the price is told, and it is as sure as it says."""

from typing import Any

from planner.day import Day
from planner.day.sections import in_sections
from planner.engine import plan_day
from planner.engine.result import Result
from planner.fit.risk import play_out
from planner.fit.verdict import verdict
from tests.day.test_sections import cut_day
from tests.engine.rule_days import sure_of_the_dwell
from tests.trade.conftest import own_values

__all__ = ["own_values"]


def planned(day: Day) -> Result:
    """The best plan, to the proof."""
    return plan_day(day, seconds=60, workers=1)


def less_sure(day: Day, sure: float | None) -> Day:
    """The day with another part of all days in which it is kept."""
    return day.model_copy(update={"sure": sure})


def test_room_is_bought_and_its_price_is_told() -> None:
    """On likely times the sweeping fills the dwell: home at 550. Done after it, the day is 30 minutes longer."""
    day = sure_of_the_dwell()
    plan = planned(day).plan
    assert plan is not None
    assert plan.proof is not None
    assert plan.proof.is_best
    assert (plan.home, planned(less_sure(day, None)).plan.home) == (580, 550)  # type: ignore[union-attr]
    told = "Promises, windows and waits are kept in 9 days of 10, for 30 min later home."
    assert told in verdict(day, plan).sentence


def test_what_is_kept_anyway_costs_nothing() -> None:
    """33.9 minutes of sweeping in half of all days: a most of 34 is kept on the way, and nothing is put off."""
    day = less_sure(sure_of_the_dwell(), 0.5)
    wait = day.jobs["elm"].waits[0].model_copy(update={"most": 34})
    day = day.model_copy(update={"jobs": {"elm": day.jobs["elm"].model_copy(update={"waits": (wait,)})}})
    plan = planned(day).plan
    assert plan is not None
    assert plan.home == 550
    assert "kept in 1 day of 2, at no cost." in verdict(day, plan).sentence


def test_it_is_as_sure_as_it_says() -> None:
    """By play: of ten thousand days a tenth at the most runs over, with two standard errors of 0.3 of a hundredth."""
    day = sure_of_the_dwell()
    sure, likely = planned(day).plan, planned(less_sure(day, None)).plan
    assert sure is not None
    assert likely is not None
    assert max(dwell.chance for dwell in play_out(day, sure).dwells) <= 0.106
    assert max(dwell.chance for dwell in play_out(day, likely).dwells) > 0.106


def test_what_cannot_be_so_sure_says_so() -> None:
    """Sweeping must be done before the rinse, and may take 12 minutes longer than there are."""
    day = sure_of_the_dwell()
    job = day.jobs["elm"]
    sweep, rinse = job.stages["sweep"], job.stages["rinse"]
    stages = {
        **job.stages,
        "sweep": sweep.model_copy(update={"after": ("treat",)}),
        "rinse": rinse.model_copy(update={"after": ("sweep",)}),
    }
    bound = day.model_copy(update={"jobs": {"elm": job.model_copy(update={"stages": stages})}})
    result = planned(bound)
    assert result.plan is None
    assert "promises, windows and waits are kept in 9 days of 10" in result.conflict
    assert planned(less_sure(bound, None)).plan is not None


def test_a_treatment_is_kept_in_more_sections_on_a_day_that_is_to_be_sure(own_values: Any) -> None:
    """With no room to begin a section of a likely day has a minute for all that may be slow: then there is no plan."""
    own_values('[visits.room_to_begin]\nminutes = "0 min"\n')
    likely = cut_day(order="reversed", sections=8)
    for_likely = less_sure(in_sections(likely), 0.9)
    assert planned(for_likely).plan is None
    assert planned(in_sections(less_sure(likely, 0.9))).plan is not None
