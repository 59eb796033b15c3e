"""Where the engine once read a rule more loosely than the checker: now nothing it finds is refused."""

from typing import Any

from planner.day import Day
from planner.engine import Result, plan_day
from tests.plan.worked import pair_tables


def planned(tables: dict[str, Any], seconds: float = 3) -> Result:
    return plan_day(Day.model_validate(tables), seconds=seconds)


def test_an_open_way_over_a_drying_surface_is_not_walked() -> None:
    tables = pair_tables()
    elm = tables["jobs"]["elm"]
    elm["waits"] = [{"after": "compact", "before": "seal", "kind": "dry", "least": 30}]
    elm["grounds"]["front"]["way_in"]["over"] = ["patio"]
    result = planned(tables)
    assert result.plan is not None
    assert result.refused == ()
    hosing, compact, seal = (result.plan.work("elm", s) for s in ("hose-down", "compact", "seal"))
    assert hosing is not None
    assert compact is not None
    assert seal is not None
    kit_there = [(c.start, c.end) for c in result.plan.chores if c.ground == "front"]
    for start, end in [*kit_there, (hosing.start, hosing.end)]:
        assert end <= compact.end or start >= seal.start


def test_a_way_in_over_what_lies_behind_a_drying_surface_is_not_walked() -> None:
    tables = pair_tables()
    elm = tables["jobs"]["elm"]
    elm["surfaces"]["gate"] = {"ground": "rear"}
    elm["surfaces"]["patio"]["over"] = ["gate"]
    elm["grounds"]["rear"]["way_in"]["over"] = ["patio"]
    elm["stages"]["paint-gate"] = {"surface": "gate", "methods": {"brush": {"minutes": 5}}}
    elm["waits"] = [{"after": "paint-gate", "before": "seal", "kind": "dry", "least": 30}]
    result = planned(tables)
    assert result.plan is not None
    assert result.refused == ()
    painted, seal = result.plan.work("elm", "paint-gate"), result.plan.work("elm", "seal")
    assert painted is not None
    assert seal is not None
    for crossing in result.plan.crossings:  # three minutes each way
        for start, end in ((crossing.start, crossing.start + 3), (crossing.end - 3, crossing.end)):
            assert end <= painted.end or start >= seal.start


def test_run_off_of_a_rinse_does_not_clear_a_surface_that_was_treated() -> None:
    """Acid on the wall drains over the patio, which is to be bleached: rinsing the wall alone is not enough."""
    tables = pair_tables()
    stages = tables["jobs"]["elm"]["stages"]
    stages["bleach"]["surface"] = "patio"
    refused = planned(tables, seconds=60)
    assert refused.plan is None
    assert any("rinse" in fact for fact in refused.conflict)
    stages["rinse"]["surface"] = "patio"
    assert planned(tables).plan is not None
