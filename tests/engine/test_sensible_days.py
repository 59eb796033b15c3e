"""What made a practitioner shake their head at a plan, each by what must not happen; common practice, no source."""

import pytest

from planner.day import Day
from planner.day.sections import in_sections
from planner.engine import plan_day
from planner.plan.plan import Plan
from tests.engine.rule_days import day, stage
from tests.engine.test_fresh_work import day_of


def proven(of: Day) -> Plan:
    """The plan that is shown, proven best."""
    plan = plan_day(of, seconds=60).plan
    assert plan is not None
    assert plan.proof is not None
    assert plan.proof.is_best
    return plan


def test_nothing_light_has_a_trip_of_its_own_that_others_could_have_taken_along() -> None:
    """The slab lifter (0.75 of an armful) goes in with a bag of mortar (0.75): a leg takes 1.5."""
    plan = proven(in_sections(day_of([{"recipe": "relay-sunken-paving", "ground": "rear", "area": "0.5 m2"}])))
    [legs] = [[c.carried_in for c in plan.crossings if any(x.what == "bedding-tools" for x in c.carried_in)]]
    assert len(legs) == 1
    assert sum(x.count for x in legs[0]) >= 2


@pytest.mark.parametrize("longer", ["ash", "bo"])
def test_who_may_work_longer_does_what_is_late(longer: str) -> None:
    """One is off at 09:00, the other at 17:00; a set of two hours puts the last stage past nine: either could do it."""
    hands = {name: {"hours": [480, 1020 if name == longer else 540]} for name in ("ash", "bo")}
    stages = {"bed": stage("patio", 20), "sweep": stage("steps", 20), "lay": stage("patio", 20)}
    wait = {"after": "bed", "before": "lay", "kind": "set", "least": 120}
    plan = proven(day(stages, hands=hands, job={"waits": [wait]}))
    late = [work for work in plan.works if work.end > 540]
    assert [work.stage for work in late] == ["lay"]
    assert late[0].hands == (longer,)
