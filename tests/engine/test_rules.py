"""Every rule of the engine is needed: with it a day's plans pass the checker, without it they do not.

Some days were found by `python -m tests.engine.leave_out`, some are written for one rule each
(`tests.engine.rule_days`); the checker is the second opinion.
"""

import pytest

from planner.day import Day
from tests.engine import rule_days
from tests.engine.leave_out import ALLOWS, IMPLIED, MAKERS, WITNESSES, day_for, left_out, planned, refused, rules


def home(day: Day) -> int:
    """When the van is home by the best plan that is found."""
    plan = planned(day).plan
    assert plan is not None
    return plan.drives[-1].end


def test_every_rule_has_a_day_that_shows_what_it_is_for() -> None:
    told = [*WITNESSES, *rule_days.DAYS, *IMPLIED, *ALLOWS]
    assert sorted(told) == sorted(rules())


@pytest.mark.parametrize(("kind", "number"), sorted(set(WITNESSES.values())))
def test_with_all_rules_nothing_is_refused(kind: str, number: int) -> None:
    assert refused(MAKERS[kind](number)) == ()


@pytest.mark.parametrize("rule", [*WITNESSES, *rule_days.DAYS])
def test_without_the_rule_a_plan_is_refused(rule: str) -> None:
    day = day_for(rule)
    if rule in rule_days.DAYS:
        assert refused(day) == ()
    with left_out(*rules()[rule]):
        assert refused(day)


def test_without_wheels_along_the_best_plan_is_missed() -> None:
    """Home at 550 with the truck shared, by hand; without it only the careful order is left, at 560."""
    day = rule_days.one_truck()
    assert home(day) == 550
    with left_out(*rules()["carrying.roll"]):
        assert home(day) > 550
